"""Where the gauge goes round a guide: the hole in the casting, the guide's outside, its fit, how far it stands out."""

from witnessmark.draw.handtool import bore_gauge, noted
from witnessmark.draw.scene import (
    Ask,
    Scene,
    caption,
    cut,
    direction_words,
    height_dimension,
    micrometer,
    mirrored,
    painted,
    section,
)
from witnessmark.draw.shape import Line, Point, Rect, Shape

_AXIS, _HOLE, _BORE = 200.0, 36.0, 15.0
_LEVELS = {"top": 150.0, "middle": 225.0, "bottom": 300.0}


def guide_hole(ask: Ask) -> Scene:
    """The hole in the casting with the guide out: bore gauge from above, at the height of now."""
    y, at = _level(ask)
    left, right = _AXIS - _HOLE, _AXIS + _HOLE
    shapes = (
        *_casting(), *bore_gauge(left, right, y, 46), *_way(ask, bore=True),
        *_words(ask, "hole in the casting", "guide out, hole brushed and dry;"),
    )  # fmt: skip
    return Scene(shapes, (_AXIS, y), f"where the bore gauge goes now: {at} of the hole for the guide, casting bare")


def guide_od(ask: Ask) -> Scene:
    """The guide by itself: outside micrometer over the part that is pressed in."""
    y, at = _level(ask)
    left, right = _AXIS - _HOLE, _AXIS + _HOLE
    shapes = (
        *_guide(84, 350), *micrometer(left, right, y), *_way(ask, bore=False),
        *_words(ask, "outside of the guide", "on the length that is pressed in;"),
    )  # fmt: skip
    return Scene(shapes, (_AXIS, y), f"where the micrometer goes now: {at} of the guide, on the length pressed in")


def guide_fit(ask: Ask) -> Scene:
    """Both surfaces of the press fit, the guide over its hole: worked out from hole and outside."""
    left, right = _AXIS - _HOLE, _AXIS + _HOLE
    low = 238.0
    shapes = (
        *_casting(low, 390), *_guide(40, 178), Line(_AXIS, 186, _AXIS, 226, "outline", end="arrow"),
        *painted(left - 8, 96, 8, 60, "right"), *painted(right, 96, 8, 60, "left"),
        *painted(left, low + 40, 8, 60, "left"), *painted(right - 8, low + 40, 8, 60, "right"),
        *caption(12, 440, "fit of the guide", "worked out: outside of the guide", "less the hole, both just read"),
        *noted(ask, 512),
    )  # fmt: skip
    return Scene(
        shapes, (_AXIS, 220), "where the micrometer and the bore gauge go now: outside of the guide and its hole"
    )


def guide_height(ask: Ask) -> Scene:
    """How far the guide stands out: from the spring seat to its top, depth gauge on the guide."""
    top, seat = 150.0, 306.0
    gauge = (
        Rect(130, top - 26, 176, 26, "phantom"), Rect(268, 58, 12, seat - 58, "phantom"),
        Rect(256, 40, 36, 84, "phantom"),
        Line(256, 66, 292, 66, "thin"), Line(256, 82, 292, 82, "thin"),
    )  # fmt: skip
    shapes = (
        *_casting(seat, 390, wide=110), *_guide(top, 380), *gauge, *painted(_AXIS - _HOLE, top - 8, 20, 8, "bottom"),
        *painted(_AXIS + 16, top - 8, 20, 8, "bottom"), *painted(262, seat - 8, 24, 8, "bottom"),
        *height_dimension(112, top, seat, _AXIS - _HOLE),
        *caption(12, 430, "top of the guide over the seat", "no seal, no cup or shim: from the bare",
                 "spring seat, each guide alike"),
        *noted(ask, 506),
    )  # fmt: skip
    return Scene(shapes, (232, 200), "where the depth gauge goes now: from the top of the guide to the spring seat")


def _level(ask: Ask) -> tuple[float, str]:
    at = ask.place if ask.place in _LEVELS else "middle"
    return _LEVELS[at], at


def _words(ask: Ask, bold: str, state: str) -> tuple[Shape, ...]:
    way = f"{ask.place} now, {direction_words(ask.direction)[0]}" if ask.direction else "turn and keep the extreme"
    return (*caption(12, 420, bold, state, way), *noted(ask, 494))


def _way(ask: Ask, bore: bool) -> tuple[Shape, ...]:
    return section(290, 62, 24, ask.direction, bore) if ask.direction else ()


def _casting(top: float = 110, low: float = 340, wide: float = 92) -> tuple[Shape, ...]:
    """The boss of the casting with its hole, cut along the axis."""
    left = _AXIS - _HOLE
    metal: list[Point] = [(_AXIS - wide, top), (left, top), (left, low), (_AXIS - wide, low)]
    return (
        *cut("section", metal),
        *cut("section", mirrored(metal, _AXIS)),
        Line(_AXIS, top - 20, _AXIS, low + 18, "centre"),
    )


def _guide(top: float, low: float) -> tuple[Shape, ...]:
    """A guide cut along its axis, its lower end chamfered."""
    wall: list[Point] = [(_AXIS - _HOLE + 4, top), (_AXIS - _BORE, top), (_AXIS - _BORE, low), (_AXIS - _HOLE + 6, low),
                         (_AXIS - _HOLE, low - 12), (_AXIS - _HOLE, top + 6)]  # fmt: skip
    body = Rect(_AXIS - _HOLE + 4, top, 2 * _HOLE - 8, low - top, "sheet")
    return (
        body, *cut("section_other", wall), *cut("section_other", mirrored(wall, _AXIS)),
        Line(_AXIS - _BORE, low, _AXIS + _BORE, low, "thin"), Line(_AXIS, top - 20, _AXIS, low + 18, "centre"),
    )  # fmt: skip
