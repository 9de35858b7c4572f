"""Where the wrench and the angle gauge go on a head bolt: torque by step, angle by step."""

from math import cos, radians, sin

from witnessmark.draw.handtool import noted
from witnessmark.draw.scene import Ask, Scene, caption, cut
from witnessmark.draw.shape import Circle, Line, Point, Rect, Shape, path, polygon

_TURN = 90.0


def torque(ask: Ask) -> Scene:
    """Torque wrench on the bolt of now, from the side: in one plane with the joint, pulled at the handle."""
    x, deck = 96.0, 236.0
    tool: tuple[Shape, ...] = (
        Rect(x - 20, 104, 40, 84, "phantom"), Rect(x - 26, 78, 52, 26, "phantom_part"),
        Rect(x + 26, 84, 150, 14, "phantom"),
        Rect(x + 176, 76, 70, 30, "phantom"),
        *(Line(x + 186 + 12 * i, 76, x + 186 + 12 * i, 106, "hair") for i in range(5)),
        Line(x + 212, 138, x + 212, 110, "outline", end="arrow"),
    )  # fmt: skip
    shapes = (
        *_joint(x, deck), *tool, Rect(x - 34, 186, 14, 38, "now"), Rect(x + 20, 186, 14, 38, "now"),
        Line(x - 20, 186, x - 20, 224, "edge", 3), Line(x + 20, 186, x + 20, 224, "edge", 3),
        *caption(12, 400, "torque of this step", "one smooth pull to the click, in the", "stated order; then note it"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (x + 40, 180), "where the torque wrench goes now: on the bolt whose turn it is")


def _joint(x: float, deck: float) -> tuple[Shape, ...]:
    """Head, gasket and block with the bolt through them, cut."""
    head: list[Point] = [(20, deck), (x - 20, deck), (x - 20, 316), (20, 316)]
    right: list[Point] = [(x + 20, deck), (318, deck), (318, 316), (x + 20, 316)]
    block: list[Point] = [(20, 324), (x - 16, 324), (x - 16, 372), (20, 372)]
    other: list[Point] = [(x + 16, 324), (318, 324), (318, 372), (x + 16, 372)]
    bolt: tuple[Shape, ...] = (
        Rect(x - 20, 188, 40, 36, "part"), Rect(x - 30, 224, 60, 12, "part"), Rect(x - 16, deck, 32, 136, "part"),
        *(Line(x - 16, y, x + 16, y + 4, "hair") for y in range(328, 372, 8)),
    )  # fmt: skip
    parts = tuple(shape for half in (head, right) for shape in cut("section", half))
    low = tuple(shape for half in (block, other) for shape in cut("section_other", half))
    seal = (Rect(20, 316, x - 40, 8, "outline"), Rect(x + 20, 316, 298 - x, 8, "outline"))
    return (*parts, *low, *seal, *bolt, Line(x, 60, x, 384, "centre"))


def angle(ask: Ask) -> Scene:
    """Angle from snug, from above: paint across bolt and casting shows how far the bolt has turned."""
    x, y, r = 175.0, 196.0, 56.0
    hexagon = polygon("part", [_at(x, y, r, 60 * i + 30 + _TURN) for i in range(6)])
    start, end = 90.0, 90.0 - _TURN
    ring: tuple[Shape, ...] = (Circle(x, y, 118, "phantom"),
                               *(Line(*_at(x, y, 118 if i % 3 else 110, 10 * i), *_at(x, y, 124, 10 * i),
                                                 "thin")
                                            for i in range(36)))  # fmt: skip
    stripe: tuple[Shape, ...] = (
        *_stripe(x, y, 66, 104, start), *_stripe(x, y, 14, r - 8, end),
        Line(*_at(x, y, 66, start), *_at(x, y, 132, start), "faint"),
        Line(*_at(x, y, 20, end), *_at(x, y, 140, end), "thin"),
    )  # fmt: skip
    arc = path("outline", "M", *_at(x, y, 92, start - 14), "A", 92, 92, 0, 0, 1, *_at(x, y, 92, end + 10))
    tip = Line(*_at(x, y, 92, end + 13), *_at(x, y, 92, end + 1.5), "outline", end="arrow")
    shapes = (
        Rect(28, 40, 294, 312, "outline"), *ring, Circle(x, y, 70, "part"), hexagon, *stripe, arc, tip,
        Line(x - 140, y, x + 145, y, "centre"), Line(x, y - 145, x, y + 140, "centre"),
        *caption(12, 400, "angle from snug", "stripe on bolt and casting in line at",
                 "the start; read the turn of the bolt"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(
        shapes, _at(x, y, 60, 45), "where the angle gauge goes now: on the bolt, its arm held against the casting"
    )


def _at(x: float, y: float, r: float, turn: float) -> Point:
    return (x + r * cos(radians(turn)), y - r * sin(radians(turn)))


def _stripe(x: float, y: float, inner: float, outer: float, turn: float) -> tuple[Shape, ...]:
    """A stripe of the paint pen along a radius, with heavy ink at its edge."""
    c, s = cos(radians(turn)), sin(radians(turn))
    ends = [(x + r * c + w * s, y - r * s + w * c) for r, w in ((inner, -5), (outer, -5), (outer, 5), (inner, 5))]
    return (polygon("now", ends), Line(*ends[2], *ends[3], "edge", 3))
