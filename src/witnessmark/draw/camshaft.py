"""Where the gauge goes on a camshaft: its end play, the heel's runout, a lobe's taper, and the degree wheel."""

from collections.abc import Mapping, Sequence
from math import cos, radians, sin

from witnessmark.draw.handtool import broken, dial, noted, section_round
from witnessmark.draw.scene import Ask, Scene, caption, cut, height_dimension, mirrored
from witnessmark.draw.shape import Circle, Line, Path, Point, Rect, Shape, Text, path, polygon
from witnessmark.draw.valve_gear import lobe_at


def end_play(ask: Ask) -> Scene:
    """End play: the shaft levered one way and the other, indicator in line with it."""
    axis = 210.0
    cheek: list[Point] = [(150, 120), (178, 120), (178, axis - 26), (150, axis - 26)]
    thrust: list[Point] = [(196, 120), (224, 120), (224, axis - 26), (196, axis - 26)]
    metal = [piece for outline in (cheek, thrust) for side in (outline, [(x, 2 * axis - y) for x, y in outline])
             for piece in cut("section", side)]  # fmt: skip
    shapes = (
        *metal, Line(178, 120, 196, 120, "outline"), Line(178, 2 * axis - 120, 196, 2 * axis - 120, "outline"),
        Rect(104, axis - 22, 226, 44, "part"), Rect(182, axis - 62, 10, 124, "part"),
        Rect(256, axis - 44, 30, 78, "part"), *broken(326, axis, 28, upright=False),
        Line(90, axis, 344, axis, "centre"), *dial(104, axis, 180, 34, 26),
        Line(250, axis + 92, 318, axis + 92, "outline", start="arrow", end="arrow"),
        polygon("phantom", [(292, axis + 36), (300, axis + 36), (322, axis + 74), (316, axis + 78)]),
        *caption(12, 400, "end play of the camshaft", "lever it to one stop, set to nothing,",
                 "lever it to the other, read"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (104, axis), "where the indicator goes now: on the end of the camshaft, in line with it")


def heel_runout(ask: Ask) -> Scene:
    """Runout of the base circle: indicator on the heel, over the arc that is no ramp."""
    x, y, base = 180.0, 226.0, 62.0
    left, right = (_round_at(x, y, base, angle) for angle in (150.0, 30.0))
    arc = ("M", *left, "A", base, base, 0, 0, 1, *right)
    vee = polygon("phantom", [(x - 60, y + 6), (x - 60, 344), (x + 60, 344), (x + 60, y + 6), (x, y + 66)])
    turn = path("thin", "M", x + 96, y + 30, "A", 100, 100, 0, 0, 0, x + 92, y - 36)
    shapes = (
        vee, Circle(x, y, 44, "phantom_part"), *lobe_at(x, y, base, 74, 24, 180), path("now_line", *arc),
        path("edge", *arc, width=3), *dial(x, y - base, 90, 56, 24), turn,
        Line(x + 94, y - 30, x + 91, y - 38, "thin", end="arrow"),
        Line(x - 96, y, x + 110, y, "centre"), Line(x, y - 70, x, 352, "centre"),
        *caption(12, 400, "runout of the heel", "journals on V-blocks; over the heel",
                 "alone, off the ramps, the swing"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (x, y - base), "where the indicator goes now: on the heel of the lobe, journals on V-blocks")


def _round_at(x: float, y: float, r: float, angle: float) -> Point:
    return (x + r * cos(radians(angle)), y - r * sin(radians(angle)))


def lobe_taper(ask: Ask) -> Scene:
    """Taper of a lobe's face: its height near the front edge less that near the rear edge."""
    left, right, low, axis = 108.0, 246.0, 320.0, 262.0
    front, rear = 118.0, 126.0
    lobe = polygon("part", [(left, front), (right, rear), (right, low), (left, low)])
    bands: list[Shape] = []
    for x, top in ((left + 24, front + 1.4), (right - 24, rear - 1.4)):
        bands += [Rect(x - 10, top - 8, 20, 8, "now"), Line(x - 10, top, x + 10, top, "edge", 3),
                  Rect(x - 10, low, 20, 8, "now"), Line(x - 10, low, x + 10, low, "edge", 3),
                  Rect(x - 12, top - 44, 24, 34, "phantom"), Rect(x - 12, low + 10, 24, 34, "phantom")]  # fmt: skip
    shapes = (
        Rect(20, axis - 24, left - 20, 48, "part"), Rect(right, axis - 24, 330 - right, 48, "part"), lobe, *bands,
        Line(6, axis, 344, axis, "centre"), *height_dimension(76, front, low, left),
        *height_dimension(282, rear, low, right), Text(left + 24, 66, "front", "label", 16, "middle"),
        Text(right - 24, 66, "rear", "label", 16, "middle"),
        *caption(12, 400, "taper of the lobe's face", "height in front less height at the rear;",
                 "drawn steeper than it is"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (left + 24, front), "where the micrometer goes now: near the front and the rear of the lobe")


_WHEEL, _RIM = (150.0, 198.0), 112.0
# Crank degrees after top dead centre, of an invented inlet; its exhaust is the mirror image.
_INLET = {"opens": -14.0, "closes": 232.0, "peak": 109.0, "first": 62.0, "second": 156.0}
_EXHAUST = {"opens": -232.0, "closes": 14.0, "peak": -109.0, "first": -156.0, "second": -62.0}
_SOUGHT = {"lobe_opens": ("opens",), "lobe_closes": ("closes",), "duration": ("opens", "closes"),
           "equal_lift_first": ("first",), "equal_lift_second": ("second",),
           "lobe_centreline": ("peak", "first", "second")}  # fmt: skip
# Title, how, and what the wheel is read as: of an inlet, of an exhaust.
_TIMING = {
    "lobe_opens": ("opening point", "forward until the checking lift is", "reached: degrees before top",
                   "reached: degrees before bottom"),
    "lobe_closes": ("closing point", "on over full lift to the checking", "lift: degrees after bottom",
                    "lift: degrees after top"),
    "duration": ("duration, crank degrees", "from opening to closing point,", "worked out", "worked out"),
    "lobe_centreline": ("centreline, crank degrees", "half way between equal lifts,", "worked out, after top",
                        "worked out, before top"),
    "equal_lift_first": ("equal lift, valve opening", "forward to the stated drop before",
                         "full lift: degrees after top",
                         "full lift: degrees before top"),
    "equal_lift_second": ("equal lift, valve closing", "forward to the same drop after", "full lift: degrees after top",
                          "full lift: degrees before top"),
    "": ("degree wheel on the crank", "zero at a positive stop, indicator on", "the follower, turned forward",
         "the follower, turned forward"),
}  # fmt: skip


def timing(ask: Ask) -> Scene:
    """The degree wheel on the crank and an indicator on the follower, by the event that is sought.

    The wheel is that of an exhaust where the location says so, else of an inlet, and then the words say which.
    """
    exhaust = "exh" in ask.location
    events = _EXHAUST if exhaust else _INLET
    title, how, *read = _TIMING.get(ask.characteristic, _TIMING[""])
    line = read[1] if exhaust else read[0]
    shown = line if ask.location else f"{line}; an inlet"
    now = [events[name] for name in _SOUGHT.get(ask.characteristic, ("peak",))]
    r = _RIM
    arc = path("outline", "M", *_on_wheel(events["opens"], r - 26), "A", r - 26, r - 26, 0, 1, 1,
               *_on_wheel(events["closes"], r - 26), width=3)  # fmt: skip
    shapes = (*_wheel(), arc, *_rays(events, now), *_pointer(), *_on_follower(), *caption(12, 400, title, how, shown),
              *noted(ask, 480))  # fmt: skip
    return Scene(shapes, _on_wheel(now[0], r), f"where the degree wheel is read now: {title}, in crank degrees")


def _rays(events: Mapping[str, float], now: Sequence[float]) -> list[Shape]:
    """Lines from the hub to opening, closing and full lift, and paint on the rim where the wheel is read."""
    marks: list[Shape] = []
    for degrees in sorted({events["opens"], events["closes"], events["peak"], *now}):
        role = "centre" if degrees == events["peak"] else "thin"
        marks.append(Line(*_on_wheel(degrees, 18), *_on_wheel(degrees, _RIM), role))
    for degrees in now:
        px, py = _on_wheel(degrees, _RIM)
        marks += [Circle(px, py, 10, "now"), Circle(px, py, 10, "outline")]
    return marks


def _on_wheel(degrees: float, r: float) -> Point:
    """The place of a crank angle after top dead centre on a wheel seen from the front, which runs clockwise."""
    (x, y), a = _WHEEL, radians(degrees)
    return (x + r * sin(a), y - r * cos(a))


def _wheel() -> tuple[Shape, ...]:
    (x, y), r = _WHEEL, _RIM
    ticks = [Line(*_on_wheel(d, r - (14 if d % 30 == 0 else 7)), *_on_wheel(d, r), "thin") for d in range(0, 360, 10)]
    return (
        Circle(x, y, r, "part"), *ticks, Circle(x, y, 18, "part"), Circle(x, y, 5, "thin"),
        Line(x, y - r + 14, x, y + r - 14, "centre"),
        Text(x, y - r + 46, "top", "label", 16, "middle", halo=True),
        Text(x, y + r - 34, "bottom", "label", 16, "middle", halo=True),
    )  # fmt: skip


def _pointer() -> tuple[Shape, ...]:
    (x, y), r = _WHEEL, _RIM
    turn: Path = path("thin", "M", x - r - 4, y - 60, "A", r + 16, r + 16, 0, 0, 1, x - 60, y - r - 6)
    return (
        polygon("phantom_part", [(x, y - r + 4), (x - 6, y - r - 22), (x - 6, 50), (x + 6, 50), (x + 6, y - r - 22)]),
        turn, Line(x - 66, y - r - 3, x - 58, y - r - 7, "thin", end="arrow"),
    )  # fmt: skip


def _on_follower() -> tuple[Shape, ...]:
    """The indicator on a bucket, to the right of the wheel."""
    x, top = 306.0, 206.0
    skirt: list[Point] = [(x - 18, top + 10), (x - 18, top + 60), (x - 28, top + 60), (x - 28, top)]
    return (*cut("section", [*skirt, *mirrored(skirt, x)]), Rect(x - 6, top + 10, 12, 96, "part"),
            *dial(x, top, 90, 58, 24))  # fmt: skip


def lost_motion(ask: Ask) -> Scene:
    """Lost motion of the drive: how far the crank turns back before the camshaft follows."""
    r = _RIM
    swing = path("now_line", "M", *_on_wheel(0, r - 9), "A", r - 9, r - 9, 0, 0, 1, *_on_wheel(16, r - 9))
    ends = [Line(*_on_wheel(d, r - 20), *_on_wheel(d, r), "edge", 3) for d in (0.0, 16.0)]
    (x, y), cam = _WHEEL, (306.0, 150.0)
    shapes = (
        *_wheel(), swing, *ends, *_pointer(), Line(x + 40, y - r - 14, x + 12, y - r - 20, "thin", end="arrow"),
        Circle(*cam, 34, "part"), Circle(*cam, 8, "thin"), Line(cam[0], cam[1] - 36, cam[0], cam[1] - 22, "edge", 3),
        Text(cam[0], cam[1] + 56, "cam", "label", 16, "middle"),
        *caption(12, 400, "lost motion of the drive", "forward until the camshaft moves, then",
                 "back until it just moves; crank degrees"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(
        shapes, _on_wheel(8, r - 9), "where the degree wheel is read now: crank turned back until the cam follows"
    )


def oil_clearance(ask: Ask) -> Scene:
    """Clearance of a cam journal in its bore, the cap on."""
    x, y, bore, r = 178.0, 204.0, 66.0, 60.0
    metal: list[Point] = [(x - 110, y), (x - 110, y + 112), (x + 110, y + 112), (x + 110, y)]
    cap: list[Point] = [
        (x - 110, y),
        (x - 110, y - 46),
        (x - 60, y - 92),
        (x + 60, y - 92),
        (x + 110, y - 46),
        (x + 110, y),
    ]
    gap = path("now", "M", x - bore, y, "A", bore, bore, 0, 0, 1, x + bore, y, "L", x + r, y + bore - r,
               "A", r, r, 0, 0, 0, x - r, y + bore - r, "Z")  # fmt: skip
    shapes: tuple[Shape, ...] = (
        *cut("section", metal), *cut("section_other", cap), Circle(x, y, bore, "part"), gap, Circle(x, y, bore,
                                                                                                    "edge", 3),
        *section_round(x, y + bore - r, r), Line(x - 130, y, x + 130, y, "centre"), Line(x, 96, x, 330, "centre"),
        *caption(12, 400, "cam bore less journal", "worked out, cap tight, both at one",
                 "temperature; drawn wider than it is"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (x, y - bore + 4), "where the clearance is now: between the cam journal and its bore")
