"""Where the gauge goes on the head casting: straight-edge and leaf on its faces, height gauge over its height."""

from dataclasses import replace

from witnessmark.draw.extent import around, box
from witnessmark.draw.gasket import EDGE_STATIONS, FaceLine, FaceLook, gasket_face, manifold_face
from witnessmark.draw.lash import gap
from witnessmark.draw.scene import Ask, Scene, caption, height_dimension, listed, painted, taken
from witnessmark.draw.shape import Circle, Drawing, Group, Line, Rect, Shape, flat

_WORDS = (
    "along the inlet edge", "along the exhaust edge", "across the front", "across the rear", "corner to corner",
    "the other diagonal", "along the centre",
)  # fmt: skip
_LINES = dict(zip((*EDGE_STATIONS, "centre"), _WORDS, strict=True))


def gasket(ask: Ask) -> Scene:
    """The face with the line of now painted, and how leaf and straight-edge meet."""
    plan = replace(ask.face, room=268)
    own = [ask.station] if ask.station else []
    lines = [FaceLine(station) for station in dict.fromkeys([*EDGE_STATIONS, *own])]
    look = FaceLook(ask.station, words=False, letters=False, read=_read(ask))
    words = _LINES.get(ask.station, f"line {ask.station}" if ask.station else "six lines")
    name = f"where the straight-edge goes now: {words} of the gasket face"
    return _flat(ask, gasket_face(plan, lines, name, look), words)


def manifold(ask: Ask) -> Scene:
    """A manifold or cover face with its lengthwise lines."""
    lines = [FaceLine(station) for station in ("line-1", "line-2", "line-3")]
    words = ask.station.replace("-", " ") or "three lines"
    name = f"where the straight-edge goes now: {words} of the face"
    look = FaceLook(ask.station, read=_read(ask))
    return _flat(ask, manifold_face(len(ask.face.cylinders), lines, name, look, 240), words)


def _read(ask: Ask) -> tuple[str, ...]:
    return tuple(station for station, value in ask.values.items() if value)


def _flat(ask: Ask, picture: Drawing, words: str) -> Scene:
    left, top, right, low = around(box(shape) for shape in flat(picture.shapes))
    dx, dy = 175 - (left + right) / 2, 24 - top
    base = low + dy + 96
    detail: tuple[Shape, ...] = (
        Rect(30, base - 42, 290, 32, "phantom"), Rect(30, base, 290, 44, "section"),
        Line(30, base, 320, base, "outline"), *gap(120, base - 10, 90, 10), Rect(210, base - 10, 130, 10, "phantom"),
    )  # fmt: skip
    said = caption(12, base + 78, words, "thickest leaf that enters, and the", "thinnest that does not")
    shapes = (Group(picture.shapes, dx, dy), *detail, *said, *taken(ask, 12, base + 150))
    return Scene(shapes, (175, 24 + (low - top) / 2), picture.name)


def head(ask: Ask) -> Scene:
    """Head height at its stations, seen from above and from the side."""
    stations = tuple(f"height-{i}" for i in range(1, 6))
    spots = dict(zip(stations, ((76, 54), (310, 54), (310, 126), (76, 126), (193, 90)), strict=True))
    plan: list[Shape] = [Rect(56, 34, 274, 112, "part", 2.5)]
    for station, (x, y) in spots.items():
        now = station == ask.station
        plan.append(Circle(x, y, 9 if now else 5, "now" if now else "ink"))
        plan += [Circle(x, y, 9, "outline")] if now else []
    x = spots.get(ask.station, (193, 0))[0]
    side = (
        Rect(56, 220, 274, 120, "part"), Line(56, 238, 330, 238, "thin"), Line(10, 340, 344, 340, "outline", 3),
        Line(x, 212, x, 176, "phantom"), Line(x, 176, 344, 176, "phantom"), *painted(x - 12, 212, 24, 8, "bottom"),
        *painted(x - 12, 340, 24, 8, "top"), *height_dimension(30, 220, 340, 56),
    )  # fmt: skip
    short = Ask(ask.station.removeprefix("height-"),
                {key.removeprefix("height-"): value for key, value in ask.values.items()})  # fmt: skip
    rows = listed(12, 446, short, ("1", "2", "3")), listed(180, 446, short, ("4", "5"))
    words = caption(12, 388, "head height", "gasket face on the plate, upper face read")
    return Scene((*plan, *side, *words, *rows[0], *rows[1]), (193, 90),
                 "where the height gauge goes now: gasket face to upper face")  # fmt: skip
