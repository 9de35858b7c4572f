"""Where the indicator goes: a camshaft or a valve stem turned on V-blocks, and the lift at the valve."""

from witnessmark.draw.handtool import block, dial, noted
from witnessmark.draw.scene import Ask, Scene, caption, indicator, taken
from witnessmark.draw.shape import Line, Rect, Shape
from witnessmark.draw.valve_face import lying
from witnessmark.draw.valve_gear import train

_AXIS = 250.0


def cam(ask: Ask) -> Scene:
    """Camshaft runout: outer journals on V-blocks, indicator on the middle one of now, the third of five if unknown."""
    journals = [40.0, 107.5, 175.0, 242.5, 310.0]
    here = journals[ask.number - 1] if ask.number in {2, 3, 4} else journals[2]
    shapes: list[Shape] = [Rect(18, _AXIS - 9, 314, 18, "part")]
    shapes += [Rect(x - 11, _AXIS - 24, 22, 48, "part") for x in journals]
    for i, x in enumerate((62.0, 84, 130, 152, 198, 220, 265, 287)):
        shapes.append(Rect(x - 6, _AXIS - (32 if i % 2 else 20), 12, 50, "part"))
    shapes += [Line(6, _AXIS, 344, _AXIS, "centre"), *block(40, _AXIS, 24), *block(310, _AXIS, 24)]
    words = caption(
        12, 400, "runout of the camshaft", "outer journals on V-blocks, indicator", "on the middle one, one turn"
    )
    drawn = (*shapes, *indicator(here, _AXIS - 24, 76, 30), *words, *taken(ask, 12, 486))
    return Scene(drawn, (here, _AXIS - 40), "where the indicator goes now: middle journal, outer journals on V-blocks")


def stem_runout(ask: Ask) -> Scene:
    """Straightness of a stem: V-blocks at the spacing of the guide's ends, indicator between them."""
    shapes = (
        lying(_AXIS, 20, 330, 12, 74), Line(6, _AXIS, 344, _AXIS, "centre"), *block(72, _AXIS, 12),
        *block(222, _AXIS, 12),
        *indicator(150, _AXIS - 12, 76, 30),
        *caption(12, 400, "straightness of the stem", "V-blocks where the guide's ends run,",
                 "one turn, read the swing"),
        *taken(ask, 12, 486),
    )  # fmt: skip
    return Scene(shapes, (150, _AXIS - 30), "where the indicator goes now: middle of the stem, on V-blocks")


def lift(ask: Ask) -> Scene:
    """Valve lift: an indicator in line with the valve, on retainer or follower, from shut to full lift."""
    gear = train(ask.gear)
    x, y = gear.valve_end
    travel = (Line(x + 14, y, x + 40, y, "faint"), Line(x + 4, y + 46, x + 40, y + 46, "faint"),
              Line(x + 34, y, x + 34, y + 46, "thin", start="arrow", end="arrow"))  # fmt: skip
    shapes = (
        *gear.parts, Line(x - 26, y + 46, x + 14, y + 46, "phantom"), *travel,
        *dial(x, y, 90, 118, 24),
        *caption(12, 424, "lift of the valve", "lash taken up, indicator in line with",
                 "the valve, from shut to full lift"),
        *noted(ask, 504),
    )  # fmt: skip
    return Scene(shapes, (x, y - 8), "where the indicator goes now: in line with the valve, from shut to full lift")
