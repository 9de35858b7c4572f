"""Where the gauge goes on a rocker: bore and shaft, its ratio, its pad, the path that it wipes on the tip; pushrods."""

from witnessmark.draw.handtool import block, broken, caliper_level, dial, dimension, noted, section_round
from witnessmark.draw.scene import Ask, Scene, caption, micrometer, painted, section
from witnessmark.draw.shape import Circle, Line, Path, Rect, Shape, Text, path, polygon
from witnessmark.draw.valve_gear import train

_X, _Y, _BORE = 176.0, 196.0, 46.0


_WAYS = {"along": ("along the load", "through the underside,", "which wears"),
         "across": ("across the load", "a quarter turn from", "the loaded underside")}  # fmt: skip


def rocker_shaft(ask: Ask) -> Scene:
    """The shaft where the rocker runs, the rocker's bore, or the clearance between the two."""
    if ask.characteristic == "rocker_shaft_diameter":
        return _shaft(ask)
    if ask.characteristic == "rocker_shaft_clearance":
        return _clearance(ask)
    return _bore(ask)


def _boss() -> tuple[Shape, ...]:
    """The middle of a rocker, its arms broken off."""
    x, y = _X, _Y
    arms = path("part", "M", 20, 214, "C", 60, 176, 76, 124, x, y - 84, "C", 276, 124, 292, 176, 332, 214,
                "L", 332, 262, "C", 300, 240, 280, 280, x, y + 84, "C", 72, 280, 52, 240, 20, 262, "Z")  # fmt: skip
    return (arms, Circle(x, y, _BORE, "part"), Line(x - 66, y, x + 66, y, "centre"),
            Line(x, y - 100, x, y + 100, "centre"))  # fmt: skip


def _bore(ask: Ask) -> Scene:
    upright = ask.direction != "across"
    touches: list[Shape] = []
    for sign in (-1, 1):
        if upright:
            face = painted(_X - 15, _Y + (_BORE - 9 if sign > 0 else -_BORE), 30, 8, "bottom" if sign > 0 else "top")
        else:
            face = painted(_X + (_BORE - 9 if sign > 0 else -_BORE), _Y - 15, 8, 30, "right" if sign > 0 else "left")
        touches += face
    head = (Rect(_X - 8, _Y - _BORE + 8, 16, 2 * _BORE - 16, "phantom") if upright else
            Rect(_X - _BORE + 8, _Y - 8, 2 * _BORE - 16, 16, "phantom"))  # fmt: skip
    way = "along the load" if upright else "across the load"
    line = "in the line in which cam and valve push," if upright else "a quarter turn from the load;"
    shapes = (
        *_boss(), head, Circle(_X, _Y, 15, "phantom_part"), *touches,
        *caption(12, 400, f"bore, {way}", line, "the difference of the two is its wear"),
        *noted(ask, 480),
    )  # fmt: skip
    focus = (_X, _Y + _BORE) if upright else (_X + _BORE, _Y)
    return Scene(shapes, focus, f"where the bore gauge goes now: in the bore of the rocker, {way}")


def _shaft(ask: Ask) -> Scene:
    axis, half = 190.0, 34.0
    y = {"front": 150.0, "rear": 250.0}.get(ask.place, 200.0)
    runs = [Rect(axis - half - 16, top, 2 * half + 32, 100, "phantom") for top in (150.0,)]
    holes = [Circle(axis, at, 5, "thin") for at in (104.0, 200.0, 296.0)]
    title, *words = _WAYS.get(ask.direction, ("shaft under a rocker", "where the rocker runs,", "the underside wears"))
    shapes = (
        Rect(axis - half, 40, 2 * half, 322, "part"), *runs, *holes, Line(axis, 24, axis, 376, "centre"),
        *micrometer(axis - half, axis + half, y), *section(66, 444, 34, ask.direction or "across"),
        *caption(150, 430, title, *words), *noted(ask, 516),
    )  # fmt: skip
    where = f"{ask.place} of the rocker's place" if ask.place in {"front", "rear"} else "where the rocker runs"
    return Scene(shapes, (axis + 17, y + 9), f"where the micrometer goes now: on the rocker shaft, {where}")


def _clearance(ask: Ask) -> Scene:
    r, play = _BORE - 6, 6.0
    crescent = path("now", "M", _X - _BORE, _Y, "A", _BORE, _BORE, 0, 0, 1, _X + _BORE, _Y,
                    "L", _X + r, _Y + play, "A", r, r, 0, 0, 0, _X - r, _Y + play, "Z")  # fmt: skip
    shapes = (
        *_boss(), crescent, *section_round(_X, _Y + play, r, "section_other"), Circle(_X, _Y, _BORE, "edge", 3),
        Line(_X, _Y - _BORE - 38, _X, _Y - _BORE, "thin", end="arrow"),
        Line(_X, _Y + 4, _X, _Y - r + play, "thin", end="arrow"),
        Line(_X, _Y + 150, _X, _Y + 96, "outline", end="arrow"), Text(_X + 12, _Y + 146, "load", "label"),
        *caption(12, 400, "rocker bore less shaft", "worked out from the two readings;", "drawn wider than it is"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (_X, _Y - _BORE + 4), "where the clearance is now: between the rocker's bore and its shaft")


def rocker_ratio(ask: Ask) -> Scene:
    """Ratio: an indicator on the cam's side, one in line with the valve; `follower_lift` is the first alone."""
    gear = train(ask.gear)
    (x1, y1), (x2, y2) = gear.cam_end, gear.valve_end
    first = dial(x1, y1, gear.cam_angle, 44 if gear.cam_angle else 22, 20)
    low = "adjuster held solid; what the valve" if "hydraulic" in ask.gear else "lash taken up; what the valve"
    if ask.characteristic == "follower_lift":
        held = "adjuster held solid" if "hydraulic" in ask.gear else "lash taken up"
        end = "in line with the pushrod" if ask.gear.startswith("pushrod") else "on the cam's end"
        words = caption(12, 424, "lift at the follower", f"{end}, from heel", f"to full lift; {held}")
        shapes = (*gear.parts, *first, *words, *noted(ask, 504))
        return Scene(shapes, gear.cam_end, f"where the indicator goes now: {end}, from heel to full lift")
    shapes = (
        *gear.parts, *first, *dial(x2, y2, 90, 118, 20),
        *caption(12, 424, "valve lift over follower lift", low, "moves by what the cam gives"), *noted(ask, 504),
    )  # fmt: skip
    name = "where the two indicators go now: one on the cam's side of the follower, one in line with the valve"
    return Scene(shapes, gear.valve_end, name)


def rocker_pad(ask: Ask) -> Scene:
    """The rubbing pad by the light under a straight edge and a leaf in its track; a roller by its shake."""
    if ask.gear.startswith("finger"):
        return _roller(ask)
    left, right, top = 80.0, 272.0, 190.0
    worn = path("part", "M", left, top + 12, "Q", left, top, left + 12, top, "L", 120, top, "L", 130, top + 9,
                "L", 222, top + 9, "L", 232, top, "L", right - 12, top, "Q", right, top, right, top + 12,
                "L", right - 20, 330, "L", left + 20, 330, "Z")  # fmt: skip
    shapes: tuple[Shape, ...] = (
        worn, polygon("phantom", [(40, top - 46), (312, top - 46), (312, top - 8), (306, top), (46, top), (40,
                                                                                                           top - 8)]),
        Rect(150, top, 52, 9, "now"), Line(150, top + 9, 202, top + 9, "edge", 3),
        Rect(150, 60, 52, 84, "phantom_part"), Line(176, 40, 176, 350, "centre"),
        Text(44, 124, "straight edge", "label"), Text(212, 84, "leaf", "label"),
        *caption(12, 400, "track worn in the pad", "from its unworn edges down: straight",
                 "edge across, the thickest leaf that enters"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (176, top + 5), "where the leaf goes now: under a straight edge, in the track of the pad")


def _roller(ask: Ask) -> Scene:
    x, y, r = 176.0, 232.0, 76.0
    ears = path("part", "M", x - 112, y + 10, "L", x + 112, y + 10, "L", x + 112, y + 92, "L", x - 112, y + 92, "Z")
    shapes: tuple[Shape, ...] = (
        Circle(x, y, r, "part"), ears, *section_round(x, y, 20), *dial(x, y - r, 90, 52, 24),
        Line(x + 132, y - 60, x + 132, y - 8, "outline", start="arrow", end="arrow"),
        Line(x - 100, y, x + 100, y, "centre"), Line(x, y - r - 6, x, y + 108, "centre"),
        *caption(12, 400, "shake of the roller", "lift and press it square to its pin;",
                 "turn it: no flat, no rough place"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (x, y - r), "where the indicator goes now: on the follower's roller, lifted square to its pin")


def tip_sweep(ask: Ask) -> Scene:
    """The band that pad or roller wiped on the blued tip: how wide, how far off the middle."""
    x, y, r = 176.0, 176.0, 96.0
    left, right = 150.0, 186.0
    band = Rect(left, y - 78, right - left, 156, "now")
    middle = (left + right) / 2
    words = ("width of the wiped band", "tip blued, one whole opening at no lash;", "in the direction of the sweep")
    if ask.characteristic == "tip_sweep_offset":
        words = (
            "band off the tip's middle",
            "middle of the band to middle of the tip;",
            "plus towards the far side of the pivot",
        )
    ticks = [Line(60 + 8 * i, 292, 60 + 8 * i, 292 + (14 if i % 5 == 0 else 8), "thin") for i in range(30)]
    shapes: tuple[Shape, ...] = (
        Circle(x, y, r, "part"), Circle(x, y, r - 8, "thin"), band, Line(left, y - 78, left, y + 78, "edge", 3),
        Line(right, y - 78, right, y + 78, "edge", 3), Line(x, y - r - 30, x, y + r + 10, "centre"),
        Line(x - r - 14, y, x + r + 14, y, "centre"), Rect(52, 280, 248, 36, "phantom"), *ticks,
        Line(left, y + 78, left, 290, "faint"), Line(right, y + 78, right, 290, "faint"),
        Line(middle, y - 78, middle, 46, "faint"),
        Line(middle - 40, 52, middle, 52, "thin", end="arrow"), Line(x + 40, 52, x, 52, "thin", end="arrow"),
        *caption(12, 380, *words),
        *noted(ask, 460),
    )  # fmt: skip
    return Scene(shapes, (middle, y), "where the graticule goes now: across the band that was wiped on the valve's tip")


def pushrod(ask: Ask) -> Scene:
    """A pushrod's length over its ends; `pushrod_runout` rolls it between two blocks."""
    if ask.characteristic == "pushrod_runout":
        return _rolled(ask)
    y = 214.0
    shapes = (
        *_rod(y), *broken(180, y, 13, upright=False), *caliper_level(54, 306, 96, y + 12, paint=24), *dimension((54,
                                                                                                                 y),
                                                                                                                 (306,
                                                                                                                  y),
                                                                                                                  -84),
        *caption(12, 400, "length of the pushrod", "over both ends, or from a ball in the",
                 "cup; the oil hole clear, ends not worn"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (60, y), "where the caliper goes now: over both ends of the pushrod")


def _rod(y: float) -> tuple[Path | Line, ...]:
    """A pushrod lying: ball left, cup right."""
    body = path("part", "M", 78, y - 10, "C", 70, y - 18, 54, y - 16, 54, y, "C", 54, y + 16, 70, y + 18, 78, y + 10,
                "L", 282, y + 10, "L", 290, y + 16, "L", 306, y + 16, "L", 306, y - 16, "L", 290, y - 16,
                "L", 282, y - 10, "Z")  # fmt: skip
    cup = path("hidden", "M", 306, y - 11, "C", 292, y - 11, 292, y + 11, 306, y + 11)
    return (body, cup, Line(30, y, 330, y, "centre"))


def _rolled(ask: Ask) -> Scene:
    y = 220.0
    turn = path("thin", "M", 318, y - 26, "C", 344, y - 20, 344, y + 20, 320, y + 26)
    shapes = (
        *_rod(y), *block(104, y, 10), *block(258, y, 10), *dial(180, y - 10, 90, 70, 26), turn,
        Line(326, y + 25, 318, y + 27, "thin", end="arrow"),
        *caption(12, 400, "straightness of the pushrod", "roll it on two blocks near its ends,",
                 "indicator at mid-length, the swing"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(
        shapes, (180, y - 16), "where the indicator goes now: at mid-length of the pushrod, rolled on V-blocks"
    )
