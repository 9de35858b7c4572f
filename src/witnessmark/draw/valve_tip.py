"""Where the gauge goes at the stem end of a valve: its length, neck, tip and keeper groove."""

from witnessmark.draw.handtool import (
    block,
    broken,
    caliper_upright,
    dial,
    lens,
    noted,
)
from witnessmark.draw.scene import Ask, Scene, caption, cut, height_dimension, painted
from witnessmark.draw.shape import Circle, Line, Path, Point, Rect, Shape, Text, path, polygon

_AXIS = 206.0


def _whole(tip: float, flat: float) -> tuple[Shape, ...]:
    """A whole valve upright, from the tip down to the flat of its head."""
    left, right = _AXIS - 14, _AXIS + 14
    steps: list[str | float] = ["M", left + 3, tip, "L", left, tip + 3, "L", left, tip + 18, "L", left + 4, tip + 21]
    steps += ["L", left + 4, tip + 27, "L", left, tip + 30, "L", left, flat - 100]
    steps += ["C", left, flat - 60, left - 26, flat - 44, left - 40, flat - 34, "L", left - 54, flat - 20]
    steps += ["L", left - 54, flat, "L", right + 54, flat, "L", right + 54, flat - 20, "L", right + 40, flat - 34]
    steps += ["C", right + 26, flat - 44, right, flat - 60, right, flat - 100, "L", right, tip + 30]
    steps += ["L", right - 4, tip + 27, "L", right - 4, tip + 21, "L", right, tip + 18, "L", right, tip + 3]
    return (
        path("part", *steps, "L", right - 3, tip, "Z"), Line(left - 54, flat - 20, right + 54, flat - 20, "thin"),
        Line(_AXIS, tip - 22, _AXIS, flat + 12, "centre"),
    )  # fmt: skip


def valve_length(ask: Ask) -> Scene:
    """Length from the tip to the flat of the head; `valve_neck` looks at the neck under the head."""
    if ask.characteristic == "valve_neck":
        return _neck(ask)
    tip, flat = 64.0, 334.0
    shapes = (
        *_whole(tip, flat), *broken(_AXIS, 150, 20), *caliper_upright(tip, flat, 82, _AXIS + 8),
        *height_dimension(316, tip, flat, _AXIS + 20),
        *caption(12, 414, "length of the valve", "tip to the flat of the head; compare",
                 "it with the others of its set"),
        *noted(ask, 494),
    )  # fmt: skip
    return Scene(shapes, (_AXIS - 20, tip + 6), "where the caliper goes now: from the tip to the flat of the head")


def _neck(ask: Ask) -> Scene:
    tip, flat = 40.0, 350.0
    y = flat - 104
    sides = (*painted(_AXIS - 22, y - 24, 8, 60, "right"), *painted(_AXIS + 14, y - 24, 8, 60, "left"))
    edge = Rect(_AXIS + 14, 110, 16, 160, "phantom")
    shapes = (
        *_whole(tip, flat), *broken(_AXIS, 96, 20), *sides, edge, *lens(_AXIS - 14, y + 6, 44, 200),
        *caption(12, 414, "neck under the head", "eye and straight edge along the stem:",
                 "no waist, no pits, no burning"),
        *noted(ask, 494),
    )  # fmt: skip
    return Scene(shapes, (_AXIS, y + 4), "where the eye goes now: round the neck between stem and head of the valve")


_TOP, _HALF = 132.0, 56.0


def _end(hollow: float = 0.0) -> tuple[Path, ...]:
    """The stem's end enlarged, from above its tip to below the keeper groove; `hollow` is the dish of a worn tip."""
    left, right, groove = _AXIS - _HALF, _AXIS + _HALF, _TOP + 84
    steps: list[str | float] = ["M", left, 358, "L", left, groove + 42, "L", left + 14, groove + 32]
    steps += ["L", left + 14, groove + 10, "L", left, groove, "L", left, _TOP + 10, "L", left + 10, _TOP]
    steps += ["L", left + 16, _TOP, "Q", _AXIS, _TOP + 2 * hollow, right - 16, _TOP]
    steps += ["L", right - 10, _TOP, "L", right, _TOP + 10, "L", right, groove, "L", right - 14, groove + 10]
    steps += ["L", right - 14, groove + 32, "L", right, groove + 42, "L", right, 358]
    return (path("part", *steps), *broken(_AXIS, 358, _HALF + 8))


def tip(ask: Ask) -> Scene:
    """The tip by what is looked for: its dish, whether it is square to the stem, how much was ground off."""
    if ask.characteristic == "tip_squareness":
        return _square(ask)
    if ask.characteristic == "tip_removed":
        return _ground(ask)
    rim = _AXIS - _HALF + 18
    first = (Circle(rim, 44, 22, "hair"), Line(rim - 4, 66, rim - 4, _TOP - 8, "hair"),
             Line(rim + 4, 66, rim + 4, _TOP - 8, "hair"))  # fmt: skip
    shapes = (
        *_end(7), Line(_AXIS, 20, _AXIS, 372, "centre"), *first, *dial(_AXIS, _TOP + 7, 90, 66, 22),
        Line(rim, _TOP - 6, rim, _TOP, "edge", 3), Line(rim + 6, _TOP - 14, _AXIS - 12, _TOP - 14, "thin", end="arrow"),
        *caption(12, 408, "hollow of the tip", "stem upright in a V-block; indicator on",
                 "the rim to nothing, then in the hollow"),
        *noted(ask, 488),
    )  # fmt: skip
    return Scene(shapes, (_AXIS, _TOP), "where the indicator goes now: on the tip, from its rim into the hollow")


def _square(ask: Ask) -> Scene:
    axis, end = 220.0, 118.0
    half = 30.0
    steps: list[str | float] = ["M", 336, axis - half, "L", end + 8, axis - half, "L", end, axis - half + 8]
    steps += ["L", end, axis + half - 8, "L", end + 8, axis + half, "L", 336, axis + half]
    grooves = [Line(x, axis - half, x, axis + half, "thin") for x in (end + 44, end + 60)]
    turn = path("thin", "M", 306, axis - half - 8, "Q", 322, axis - half - 34, 338, axis - half - 8)
    shapes = (
        path("part", *steps), *grooves, Line(96, axis, 346, axis, "centre"), *block(226, axis, half, 74),
        *broken(330, axis, half + 6, upright=False), turn,
        Line(338, axis - half - 9, 336, axis - half - 3, "thin", end="arrow"), *dial(end, axis - 16, 180, 52, 24),
        *caption(12, 400, "squareness of the tip", "stem in a long V-block, held endwise;",
                 "near the rim, one turn, the swing"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (end, axis - 16), "where the indicator goes now: on the tip near its rim, stem in a V-block")


def _ground(ask: Ask) -> Scene:
    old = _TOP - 34
    before: list[Point] = [(_AXIS - _HALF, _TOP), (_AXIS - _HALF, old + 10), (_AXIS - _HALF + 10, old),
                           (_AXIS + _HALF - 10, old), (_AXIS + _HALF, old + 10), (_AXIS + _HALF, _TOP)]  # fmt: skip
    shapes = (
        *_end(), Line(_AXIS, 60, _AXIS, 372, "centre"), polygon("phantom", before, closed=False),
        *painted(_AXIS - _HALF + 8, _TOP - 8, 2 * _HALF - 16, 8, "bottom"),
        *height_dimension(104, old, _TOP, _AXIS - _HALF), Text(12, 60, "tip before", "label"),
        Line(60, 66, _AXIS - 30, old, "faint", end="dot"),
        *caption(12, 408, "ground off the tip so far", "length before less length now,",
                 "this cut and all the cuts before it"),
        *noted(ask, 488),
    )  # fmt: skip
    return Scene(shapes, (_AXIS, _TOP), "where the grinding shows now: at the tip of the stem, all cuts together")


def groove(ask: Ask) -> Scene:
    """The keeper groove: looked at with a new keeper as gauge; `tip_to_groove` is the length above it."""
    edge = _TOP + 84
    if ask.characteristic == "tip_to_groove":
        left = _AXIS - _HALF + 14
        shapes: tuple[Shape, ...] = (
            *_end(), Line(_AXIS, 60, _AXIS, 372, "centre"), *caliper_upright(_TOP, edge, 64, left, paint=30),
            *height_dimension(306, _TOP, edge, _AXIS + _HALF),
            *caption(12, 408, "tip to keeper groove", "caliper from the tip to the upper edge",
                     "of the topmost groove"),
            *noted(ask, 488),
        )  # fmt: skip
        return Scene(
            shapes, (left, edge - 20), "where the caliper goes now: from the tip to the upper edge of the groove"
        )
    right = _AXIS + _HALF
    bead: list[Point] = [(right - 14, edge + 10), (right, edge), (right, edge - 50), (right + 22, edge - 50),
                         (right + 6, edge + 92), (right, edge + 92), (right, edge + 42), (right - 14,
                                                                                          edge + 32)]  # fmt: skip
    shapes = (
        *_end(), Line(_AXIS, 60, _AXIS, 372, "centre"), *cut("section_other", bead),
        *painted(_AXIS - _HALF + 6, edge + 8, 8, 26, "right"), *lens(_AXIS - _HALF + 10, edge + 21, 48, 215),
        Text(right + 30, edge - 24, "new", "label"), Text(right + 30, edge - 5, "keeper", "label"),
        *caption(12, 408, "keeper groove, all round", "edges sharp, not hammered round;",
                 "a new keeper sits without shake"),
        *noted(ask, 488),
    )  # fmt: skip
    return Scene(shapes, (_AXIS - _HALF + 10, edge + 21), "where the eye goes now: round the keeper groove of the stem")
