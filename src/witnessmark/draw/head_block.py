"""Where the gauge goes on the head casting: straight-edge and leaf on its faces, height gauge over its height."""

from witnessmark.draw.extent import around, box
from witnessmark.draw.gasket import FaceLine, FaceLook, gasket_face, manifold_face
from witnessmark.draw.lash import gap
from witnessmark.draw.scene import Ask, Scene, caption, height_dimension, listed, painted, taken
from witnessmark.draw.shape import Circle, Drawing, Group, Line, Rect, Shape, flat

_LINES = {"inlet-edge": "along the inlet edge", "exhaust-edge": "along the exhaust edge",
          "front-end": "across the front", "rear-end": "across the rear", "diagonal-1": "corner to corner", "diagonal-2": "the other diagonal",
          "centre": "along the centre"}  # fmt: skip


def gasket(ask: Ask) -> Scene:
    """The face with the line of now painted, and how leaf and straight-edge meet."""
    plan = type(ask.face)(ask.face.cylinders, ask.face.inlets, ask.face.exhausts, 318)
    six = [station for station in _LINES if station != "centre"]
    lines = [FaceLine(station) for station in dict.fromkeys([*six, *([ask.station] if ask.station else [])])]
    picture = gasket_face(plan, lines, "", FaceLook(ask.station, words=False))
    words = _LINES.get(ask.station, f"line {ask.station}" if ask.station else "six lines")
    return _flat(ask, picture, words, f"where the straight-edge goes now: {words} of the gasket face")


def manifold(ask: Ask) -> Scene:
    """A manifold or cover face with its lengthwise lines."""
    lines = [FaceLine(station) for station in ("line-1", "line-2", "line-3")]
    picture = manifold_face(len(ask.face.cylinders), lines, "", ask.station, 280)
    words = ask.station.replace("-", " ") or "three lines"
    return _flat(ask, picture, words, f"where the straight-edge goes now: {words} of the face")


def _flat(ask: Ask, picture: Drawing, words: str, name: str) -> Scene:
    left, top, right, low = around(box(shape) for shape in flat(picture.shapes))
    dx, dy = 175 - (left + right) / 2, 24 - top
    base = low + dy + 96
    detail: tuple[Shape, ...] = (
        Rect(30, base - 42, 290, 32, "phantom"), Rect(30, base, 290, 44, "section"),
        Line(30, base, 320, base, "outline"), *gap(120, base - 10, 90, 10), Rect(210, base - 10, 130, 10, "phantom"),
    )  # fmt: skip
    said = caption(12, base + 78, words, "thickest leaf that enters, and the", "thinnest that does not")
    shapes = (Group(picture.shapes, dx, dy), *detail, *said, *taken(ask, 12, base + 150))
    return Scene(shapes, (175, base - 6), name)


def head(ask: Ask) -> Scene:
    """Head height at its stations, seen from above and from the side."""
    stations = tuple(f"height-{i}" for i in range(1, 6))
    spots = dict(zip(stations, ((40, 50), (310, 50), (310, 130), (40, 130), (175, 90)), strict=True))
    plan: list[Shape] = [Rect(20, 34, 310, 112, "part", 2.5)]
    for station, (x, y) in spots.items():
        now = station == ask.station
        plan.append(Circle(x, y, 9 if now else 5, "now" if now else "ink"))
        plan += [Circle(x, y, 9, "outline")] if now else []
    x = spots.get(ask.station, (175, 0))[0]
    side = (
        Rect(60, 220, 230, 120, "part"), Line(60, 238, 290, 238, "thin"), Line(10, 340, 340, 340, "outline", 3),
        Line(x, 220, x, 196, "phantom"), *painted(min(max(x, 72), 278) - 12, 212, 24, 8, "bottom"),
        *painted(min(max(x, 72), 278) - 12, 340, 24, 8, "top"), *height_dimension(34, 220, 340, 60),
    )  # fmt: skip
    short = Ask(ask.station.removeprefix("height-"),
                {key.removeprefix("height-"): value for key, value in ask.values.items()})  # fmt: skip
    rows = listed(12, 446, short, ("1", "2", "3")), listed(180, 446, short, ("4", "5"))
    words = caption(12, 388, "head height", "gasket face on the plate, upper face read")
    return Scene((*plan, *side, *words, *rows[0], *rows[1]), (min(max(x, 72), 278), 240),
                 "where the height gauge goes now: gasket face to upper face")  # fmt: skip
