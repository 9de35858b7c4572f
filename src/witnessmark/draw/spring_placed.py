"""What is worked out of a spring at its own valve: rate, load on the seat and at full lift, room left to coil bind."""

from witnessmark.draw.handtool import noted
from witnessmark.draw.scene import Ask, Scene, caption, cut, height_dimension, mirrored, painted
from witnessmark.draw.shape import Line, Point, Rect, Shape, polygon
from witnessmark.draw.spring import coils

_AXIS, _SEAT = 170.0, 330.0
_SHUT, _OPEN, _SOLID = 120.0, 164.0, 176.0  # underside of the retainer; seven coils of 22 px touch at the third


def spring_rate(ask: Ask) -> Scene:
    """The spring at two heights on the tester: what the load grew by over what the height shrank by."""
    tall, short = _SHUT, 168.0
    shapes = (
        *coils(tall, _SEAT, 6), Rect(70, tall - 14, 200, 14, "phantom"), Rect(70, short - 14, 200, 14, "phantom"),
        Rect(70, _SEAT, 200, 14, "phantom"), *painted(100, tall - 8, 140, 8, "bottom"),
        *painted(100, short - 8, 140, 8, "bottom"), Line(_AXIS, tall - 62, _AXIS, tall - 18, "outline", end="arrow"),
        *height_dimension(44, tall, _SEAT, 110), *height_dimension(308, short, _SEAT, 230),
        *caption(12, 424, "spring rate", "worked out: difference of the loads", "over difference of the heights"),
        *noted(ask, 504),
    )  # fmt: skip
    return Scene(shapes, (_AXIS, tall + 24), "where the tester goes now: both heights of the spring with their loads")


def seat_load(ask: Ask) -> Scene:
    """The spring in its place, valve shut: what it presses with on its seat."""
    shapes = (
        *_placed(_SHUT), *painted(104, _SEAT - 8, 132, 8, "bottom"), *height_dimension(44, _SHUT, _SEAT, 96),
        *(Line(x, _SEAT + 2, x, _SEAT + 34, "outline", end="arrow") for x in (124, 216)),
        *caption(12, 424, "load with the valve shut", "worked out: rate times (free length", "less installed height)"),
        *noted(ask, 504),
    )  # fmt: skip
    return Scene(shapes, (_AXIS, _SEAT - 20), "where the load counts now: spring in its place, valve shut")


def open_load(ask: Ask) -> Scene:
    """The spring at full lift: what it pushes the retainer back with."""
    shapes = (
        *_placed(_OPEN, shut=True), *painted(104, _OPEN, 44, 8, "top"), *painted(192, _OPEN, 44, 8, "top"),
        *height_dimension(44, _SHUT, _OPEN, 96), *height_dimension(308, _OPEN, _SEAT, 244),
        *caption(12, 424, "load at full lift", "worked out: load with the valve shut", "and rate times lift"),
        *noted(ask, 504),
    )  # fmt: skip
    return Scene(shapes, (_AXIS, _OPEN + 10), "where the load counts now: under the retainer at full lift")


def coil_bind(ask: Ask) -> Scene:
    """Full lift beside the height at which the coils touch: what is left between the two."""
    shapes = (
        *_placed(_OPEN, shut=True), Line(76, _SOLID, 300, _SOLID, "phantom"),
        Rect(256, _OPEN, 26, _SOLID - _OPEN, "now"),
        Line(250, _OPEN, 290, _OPEN, "edge", 3), Line(250, _SOLID, 290, _SOLID, "edge", 3),
        Line(269, _OPEN - 34, 269, _OPEN, "thin", end="arrow"),
        Line(269, _SOLID + 34, 269, _SOLID, "thin", end="arrow"),
        *height_dimension(44, _SHUT, _OPEN, 96),
        *caption(12, 424, "left to coil bind at full lift", "worked out: installed height less lift",
                 "less solid height"),
        *noted(ask, 504),
    )  # fmt: skip
    return Scene(shapes, (250, _OPEN + 8), "where the travel counts now: from full lift to coils that touch")


def _placed(under: float, shut: bool = False) -> tuple[Shape, ...]:
    """Head with guide and spring seat, valve stem, the retainer underside at `under`; `shut` adds where it was."""
    x, tip = _AXIS, under - 62
    metal: list[Point] = [(x - 112, _SEAT), (x - 26, _SEAT), (x - 26, 392), (x - 112, 392)]
    wall: list[Point] = [(x - 26, 270), (x - 11, 270), (x - 11, 392), (x - 26, 392)]
    before = (
        polygon("phantom", _collar(_SHUT), closed=False),
        polygon("phantom", mirrored(_collar(_SHUT), x), closed=False),
    )
    stem = polygon("outline", [(x - 10, 396), (x - 10, tip + 3), (x - 7, tip), (x + 7, tip), (x + 10, tip + 3),
                               (x + 10, 396)],
                   closed=False)  # fmt: skip
    parts = tuple(
        shape
        for outline, role in ((metal, "section"), (wall, "section_other"), (_collar(under), "section"))
        for half in (outline, mirrored(outline, x))
        for shape in cut(role, half)
    )
    return (*(before if shut else ()), *coils(under, _SEAT, 6), *parts, stem, Line(x, tip - 16, x, 406, "centre"))


def _collar(under: float) -> list[Point]:
    x = _AXIS
    return [(x - 11, under - 34), (x - 74, under - 34), (x - 74, under), (x - 30, under), (x - 26, under + 14),
            (x - 11, under + 14)]  # fmt: skip
