"""Where the gauge goes on the form of a seat: its angles, where it touches the valve, how much was cut away."""

from witnessmark.draw.handtool import dimension, lens, noted
from witnessmark.draw.scene import Ask, Scene, caption, height_dimension
from witnessmark.draw.seat import insert
from witnessmark.draw.shape import Circle, Line, Point, Shape, path, polygon

_FACES: dict[str, tuple[Point, Point]] = {
    "throat": ((210, 190), (198, 222)), "seat": ((198, 222), (148, 272)), "chamber": ((148, 272), (100, 296)),
}  # fmt: skip
_NAMES = {"throat": "relief cut on the port side", "seat": "seat", "chamber": "relief cut on the chamber side"}
_SPOTS = {"1": (0, -1), "2": (1, 0), "3": (0, 1), "4": (-1, 0)}


def _which(station: str) -> str:
    """Which of the three faces a station means, by the words that benches use for it."""
    if any(word in station for word in ("throat", "port", "bottom", "lower", "inner")):
        return "throat"
    return "chamber" if any(word in station for word in ("chamber", "top", "upper", "outer")) else "seat"


def seat_angle(ask: Ask) -> Scene:
    """The angle of the seat or of a relief cut, from the plane of the head: template or cutter form laid on."""
    which = _which(f"{ask.characteristic} {ask.station}")
    (x1, y1), (x2, y2) = _FACES[which]
    off = 7.0
    paint = polygon("now", [(x1, y1), (x2, y2), (x2 + off, y2 + off), (x1 + off, y1 + off)])
    blade = polygon("phantom", [(x1 + 1, y1 + 1), (x2 + 1, y2 + 1), (x2 + 66, y2 + 50), (x1 + 78, y1 + 36)])
    faces = tuple(Line(*a, *b, "outline") for name, (a, b) in _FACES.items() if name != which)
    shapes = (
        *insert(), blade, paint, Line(x1, y1, x2, y2, "edge", 3), *faces, Line(x2 - 20, y2, x2 + 84, y2, "faint"),
        _bow(x2, y2, which),
        *caption(12, 400, f"angle of the {'seat' if which == 'seat' else 'relief'}", _side(which),
                 "from the plane of the head"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, ((x1 + x2) / 2 + 20, (y1 + y2) / 2), f"where the angle gauge goes now: on the {_NAMES[which]}")


def _bow(x: float, y: float, which: str) -> Shape:
    """The arc from the plane of the head up to the face."""
    ends = {"throat": (58, -44, 22, -58), "seat": (58, -26, 38, -38), "chamber": (62, -16, 56, -28)}[which]
    return path("thin", "M", x + 62, y, "Q", x + ends[0], y + ends[1], x + ends[2], y + ends[3])


def _side(which: str) -> str:
    return {"seat": "template or cutter form on the seat,", "throat": "on the port side of the seat,",
            "chamber": "on the chamber side of the seat,"}[which]  # fmt: skip


_RIM, _IN = (62.0, 296.0), (158.0, 200.0)


def seat_contact(ask: Ask) -> Scene:
    """The band of blue on the valve face: how far it stays from the edge, or where it lies."""
    look = ask.characteristic == "seat_contact_position"
    outer, inner = _on_face(0.3), _on_face(0.66)
    tool: tuple[Shape, ...] = lens(*_on_face(0.48), 58, -30) if look else dimension(outer, _RIM, 34)
    words = ("edge of the face to the blue", "face outside the band, along the", "slope; valve pressed, not turned")
    if look:
        words = ("where the blue lies", "in the middle or a little out, whole", "round; pressed, never turned")
    shapes = (
        *_valve(), _strip("now", _RIM, _IN if look else outer), _strip("within", outer, inner), *tool,
        Line(*_RIM, *(_IN if look else outer), "edge", 3), *spots(66, 500, 34, ask),
        *caption(12, 398, *words), *_told(ask),
    )  # fmt: skip
    name = "the eye goes now: the band of blue on the valve face" if look else (
        "the graticule goes now: from the edge of the valve face to the band of blue")  # fmt: skip
    return Scene(shapes, (_on_face(0.35)[0] + 20, _on_face(0.35)[1]), f"where {name}")


def _on_face(share: float) -> Point:
    return (_RIM[0] + share * (_IN[0] - _RIM[0]), _RIM[1] + share * (_IN[1] - _RIM[1]))


def _strip(role: str, a: Point, b: Point) -> Shape:
    """A strip on the metal side of the face between two of its points."""
    return polygon(role, [a, b, (b[0] + 8, b[1] + 8), (a[0] + 8, a[1] + 8)])


def _valve() -> tuple[Shape, ...]:
    axis = 262.0
    body = path(
        "part", "M", _RIM[0], 338, "L", *_RIM, "L", *_IN, "C", _IN[0] + 30, 168, axis - 24, 150, axis - 20, 92,
        "L", axis - 20, 40, "L", axis + 20, 40, "L", axis + 20, 92, "C", axis + 24, 140, axis + 40, 160, axis + 62, 178,
        "Q", axis + 52, 218, axis + 62, 258, "Q", axis + 72, 298, axis + 62, 338, "Z",
    )  # fmt: skip
    return (body, Line(*_RIM, axis + 64, _RIM[1], "thin"), Line(axis, 26, axis, 354, "centre"))


def spots(x: float, y: float, r: float, ask: Ask) -> tuple[Shape, ...]:
    """The head of the valve from below with its four places, that of now painted."""
    shapes: list[Shape] = [Circle(x, y, r, "part"), Circle(x, y, r - 8, "within_line"), Circle(x, y, 4, "thin")]
    for station, (dx, dy) in _SPOTS.items():
        now = station == ask.station
        place = (x + r * dx, y + r * dy)
        shapes.append(Circle(*place, 7 if now else 4, "now" if now else "ink"))
        shapes += [Circle(*place, 7, "outline")] if now else []
    return tuple(shapes)


def _told(ask: Ask) -> tuple[Shape, ...]:
    return noted(ask, 494, 130) if len(ask.values) <= 2 or "1" not in ask.values else _four(ask)


def _four(ask: Ask) -> tuple[Shape, ...]:
    return tuple(
        shape
        for i, station in enumerate(_SPOTS)
        for shape in noted(Ask(station if station == ask.station else "", {station: ask.values.get(station, "")}),
                           490 + 26 * (i % 2), 130 + 110 * (i // 2))
        if ask.values.get(station)
    )  # fmt: skip


def seat_removed(ask: Ask) -> Scene:
    """What was cut off the seat, and with the face of the valve where both are counted, along the stem."""
    both = ask.characteristic == "seat_and_face_removed"
    deep = 30.0
    old = polygon("phantom", [(x, y + deep) for x, y in ((210, 190), (198, 222), (148, 272), (128, 282))], closed=False)
    off = polygon("now", [(198, 222), (148, 272), (148, 272 + deep), (198, 222 + deep)])
    valve = polygon("phantom", [(286, 60), (286, 150), (232, 196), (176, 252), (176, 268), (340, 268)], closed=False)
    words = (
        ("cut off seat and face together", "worked out, along the stem: the two", "share one limit")
        if both
        else ("cut off the seat so far", "along the stem, from the record of", "cuts, or against a valve kept for it")
    )
    shapes = (
        *insert(), off, old, Line(198, 222, 148, 272, "edge", 3), *((valve,) if both else ()),
        *height_dimension(250, 222, 222 + deep, 198), *caption(12, 400, *words), *noted(ask, 480),
    )  # fmt: skip
    what = "the seat and the face of its valve" if both else "the seat"
    return Scene(shapes, (185, 255), f"where the depth counts now: what was cut off {what} along the stem")
