"""Where the indicator goes: a camshaft or a valve stem turned on V-blocks, and the lift at the valve."""

from witnessmark.draw.scene import Ask, Scene, caption, indicator, taken, vee
from witnessmark.draw.shape import Line, Point, Rect, Shape, polygon

_AXIS = 250.0


def cam(ask: Ask) -> Scene:
    """Camshaft runout: outer journals on V-blocks, indicator on the middle one."""
    journals = [40.0, 107.5, 175.0, 242.5, 310.0]
    shapes: list[Shape] = [Rect(18, _AXIS - 9, 314, 18, "part")]
    shapes += [Rect(x - 11, _AXIS - 24, 22, 48, "part") for x in journals]
    for i, x in enumerate((62.0, 84, 130, 152, 198, 220, 265, 287)):
        shapes.append(Rect(x - 6, _AXIS - (32 if i % 2 else 20), 12, 50, "part"))
    shapes += [Line(6, _AXIS, 344, _AXIS, "centre"), *vee(40, _AXIS + 24), *vee(310, _AXIS + 24)]
    words = caption(
        12, 400, "runout of the camshaft", "outer journals on V-blocks, indicator", "on the middle one, one turn"
    )
    drawn = (*shapes, *indicator(175, _AXIS - 24, 76, 30), *words, *taken(ask, 12, 486))
    return Scene(drawn, (175, _AXIS - 40), "where the indicator goes now: middle journal, outer journals on V-blocks")


def stem_runout(ask: Ask) -> Scene:
    """Straightness of a stem: V-blocks at the spacing of the guide's ends, indicator between them."""
    head: list[Point] = [(20, _AXIS - 12), (262, _AXIS - 12), (300, _AXIS - 60), (316, _AXIS - 74), (326, _AXIS - 74)]
    low = [(x, 2 * _AXIS - y) for x, y in reversed(head)]
    shapes = (
        polygon("part", [*head, *low]), Line(6, _AXIS, 344, _AXIS, "centre"), *vee(70, _AXIS + 12),
        *vee(230, _AXIS + 12),
        *indicator(150, _AXIS - 12, 76, 30),
        *caption(12, 400, "straightness of the stem", "V-blocks where the guide's ends run,",
                 "one turn, read the swing"),
        *taken(ask, 12, 486),
    )  # fmt: skip
    return Scene(shapes, (150, _AXIS - 30), "where the indicator goes now: middle of the stem, on V-blocks")


def lift(ask: Ask) -> Scene:
    """Valve lift: an indicator in line with the valve, on its retainer or bucket, from shut to full lift."""
    stem: list[Shape] = [
        Rect(158, 210, 34, 190, "part"),
        Rect(110, 190, 130, 20, "part"),
        Line(175, 40, 175, 420, "centre"),
    ]
    moved = Rect(110, 250, 130, 20, "phantom")
    travel: list[Shape] = [Line(240, 190, 300, 190, "faint"), Line(240, 250, 300, 250, "faint"),
              Line(290, 190, 290, 250, "thin", start="arrow", end="arrow")]  # fmt: skip
    shapes = (
        *stem, moved, *travel, *indicator(140, 190, 76, 30),
        *caption(12, 460, "lift of the valve", "indicator in line with the valve,", "from shut to full lift"),
        *taken(ask, 12, 546),
    )  # fmt: skip
    return Scene(shapes, (175, 185), "where the indicator goes now: in line with the valve, from shut to full lift")
