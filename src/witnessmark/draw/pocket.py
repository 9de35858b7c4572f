"""Where the gauge goes in the pocket of a spring: the floor under the cup, and the room at the spring's side."""

from witnessmark.draw.handtool import noted
from witnessmark.draw.scene import Ask, Scene, caption, cut, height_dimension, mirrored, painted
from witnessmark.draw.shape import Circle, Line, Point, Rect, Shape

_AXIS, _FLOOR, _RIM = 176.0, 280.0, 214.0


def spring_pocket(ask: Ask) -> Scene:
    """Floor and wall of the pocket with the cup out: the eye, a finger, and a depth gauge in the track of the coil."""
    if ask.characteristic == "spring_side_clearance":
        return _side(ask)
    low = _FLOOR + 14
    gauge = (
        Rect(60, _RIM - 26, 232, 26, "phantom"), Rect(110, 92, 12, low - 92, "phantom"),
        Rect(98, 66, 36, 92, "phantom"),
        Line(98, 92, 134, 92, "thin"), Line(98, 108, 134, 108, "thin"),
    )  # fmt: skip
    shapes = (
        *_casting(track=True), *gauge, *painted(72, _RIM - 8, 12, 8, "bottom"),
        *painted(268, _RIM - 8, 12, 8, "bottom"),
        *painted(104, low - 8, 24, 8, "bottom"), *height_dimension(304, _FLOOR, low, 262), *_cup(40),
        *caption(12, 400, "floor of the spring pocket", "cup out: the track of the end coil,",
                 "from the floor beside it"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (130, _FLOOR - 30), "where the depth gauge goes now: in the track of the coil, cup out")


def _side(ask: Ask) -> Scene:
    x = _AXIS + 10
    shapes = (
        *_casting(), *_coils(x), Rect(94, 96, 7, _FLOOR - 100, "phantom"), Rect(86, 64, 23, 32, "phantom"),
        Rect(_AXIS - 92, _FLOOR - 62, 15, 58, "now"), Line(_AXIS - 92, _FLOOR - 62, _AXIS - 92, _FLOOR - 4, "edge", 3),
        Line(_AXIS + 130, 180, _AXIS + 96, 180, "thin", end="arrow"),
        *caption(12, 400, "room at the side of the spring", "spring pushed over, leaf between",
                 "the coil and its wall"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (110, _FLOOR - 40), "where the leaf goes now: between the coil of the spring and its wall")


def _coils(x: float) -> tuple[Shape, ...]:
    found: list[Shape] = []
    for i in range(4):
        y = _FLOOR - 12 - 44 * i
        found += [Line(x - 76, y - 11, x + 72, y - 33, "thin"), Line(x - 76, y + 11, x + 72, y - 11, "thin")]
        for cx, cy in ((x - 74, y), (x + 70, y - 22)):
            found += [Circle(cx, cy, 11, "part"), Circle(cx, cy, 11, "section")]
    return tuple(found)


def _casting(track: bool = False) -> tuple[Shape, ...]:
    """The pocket cut through: wall, floor (with the track of the coil), the guide in the middle."""
    x, low = _AXIS, 340.0
    floor = [(x - 72, _FLOOR), (x - 72, _FLOOR + 14), (x - 48, _FLOOR + 14), (x - 48, _FLOOR)] if track else []
    metal: list[Point] = [(x - 150, _RIM), (x - 92, _RIM), (x - 92, _FLOOR), *floor, (x - 30, _FLOOR), (x - 30, low),
                          (x - 150, low)]  # fmt: skip
    wall: list[Point] = [(x - 30, 150), (x - 13, 150), (x - 13, low), (x - 30, low)]
    return (
        *cut("section", metal), *cut("section", mirrored(metal, x)), *cut("section_other", wall),
        *cut("section_other", mirrored(wall, x)), Line(x, 130, x, 356, "centre"),
    )  # fmt: skip


def _cup(y: float) -> tuple[Shape, ...]:
    """The cup lifted out, above its pocket."""
    x = _AXIS
    half: list[Point] = [(x - 80, y - 16), (x - 74, y - 16), (x - 74, y), (x - 32, y), (x - 32, y + 7), (x - 80, y + 7)]
    return (*cut("section", half), *cut("section", mirrored(half, x)))
