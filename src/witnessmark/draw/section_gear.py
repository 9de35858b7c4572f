"""What moves one valve, in section above its tip: the cam or its shaft stands still, the rest stands on the tip."""

from collections.abc import Callable
from math import asin, cos, pi, sin

from witnessmark.draw.scene import cut, mirrored
from witnessmark.draw.section_head import AXIS, Frame
from witnessmark.draw.shape import Circle, Line, Path, Point, Rect, Shape, Text, path, polygon

CROWN, SHIM = 3.0, 2.6  # mm: crown of a bucket, shim in it
SKIRT, WALL = 20.0, 2.2
TOP = 18.0  # no line of a cam stands higher on the sheet


def gear_shapes(frame: Frame, gear: str) -> tuple[float, tuple[Shape, ...]]:
    """(height at which the gap lies, shapes) of a gear as the engine's description names it."""
    kind = gear.split("_", maxsplit=1)[0]
    draw: Callable[[Frame, str], tuple[float, tuple[Shape, ...]]] = {
        "bucket": _bucket, "finger": _finger,
    }.get(kind, _rocker)  # fmt: skip
    return draw(frame, gear)


def cam(x: float, low: float, radius: float) -> tuple[Shape, ...]:
    """The base circle of a cam over the height `low`, broken off where the sheet ends."""
    y = low - radius
    reach = radius if y - radius >= TOP else y - TOP
    if reach <= -radius:
        return ()
    turn = pi / 2 if reach >= radius else -asin(reach / radius)
    spread = [pi / 2 + (pi / 2 - turn if reach < radius else pi) * n / 24 for n in range(-24, 25)]
    points: list[Point] = [(x + radius * cos(t), y + radius * sin(t)) for t in spread]
    whole = reach >= radius
    shapes: list[Shape] = [polygon("part", points, closed=whole)]
    if not whole:
        shapes.append(_broken(points[0], points[-1]))
    return (*shapes, Circle(x, y, 11, "thin"), Line(x - radius * 0.6, y, x + radius * 0.6, y, "centre"))


def _broken(left: Point, right: Point) -> Path:
    steps = [(left[0] + (right[0] - left[0]) * n / 16, left[1] + 3 * sin(n * pi / 4)) for n in range(17)]
    return polygon("thin", steps, closed=False)


def _bucket(frame: Frame, gear: str) -> tuple[float, tuple[Shape, ...]]:
    """A bucket on the tip, its shim in the crown or under it; the gap lies between cam and crown."""
    k, x = frame.scale, AXIS
    hydraulic = "hydraulic" in gear
    over = gear == "bucket_shim"
    thick = (CROWN + (0.0 if hydraulic else SHIM)) * k
    found = 0.0 if hydraulic else max(frame.was.gap, 0.0) * k
    heel = frame.tip(frame.was) - thick - found  # where the cam's base circle ends: it stands still
    top = heel + (0.0 if hydraulic else frame.now.gap * k)
    tip = frame.tip(frame.now)
    big = frame.now.bucket * k / 2
    inner = big - WALL * k
    low = tip + (SKIRT - CROWN) * k
    under = tip - (0.0 if over or hydraulic else SHIM * k)  # of the crown
    rim = top + SHIM * k if over else top
    left: list[Point] = [(x - inner, under), (x - inner, low), (x - big, low), (x - big, rim)]
    left += [(x - inner + 1.5 * k, rim)] if over else []
    bucket = cut("section", [*left, *mirrored(left, x)])
    shapes: list[Shape] = [*bucket]
    if over:
        shapes.append(Rect(x - inner + 1.5 * k, top, 2 * (inner - 1.5 * k), SHIM * k, "part"))
    elif hydraulic:
        shapes += [Rect(x - 4.2 * k, under - CROWN * k * 0.2, 8.4 * k, 9 * k, "part"),
                   Line(x - 4.2 * k, under + 6 * k, x + 4.2 * k, under + 6 * k, "thin")]  # fmt: skip
    else:
        shapes.append(Rect(x - 5 * k, under, 10 * k, SHIM * k, "part"))
    return heel, (*cam(x, heel, min(frame.now.base_circle / 2 * k, 66.0)), *shapes)


def _finger(frame: Frame, gear: str) -> tuple[float, tuple[Shape, ...]]:
    """A finger from its pivot over the tip; the cam runs on it between the two."""
    k, x = frame.scale, AXIS
    hydraulic = "hydraulic" in gear
    tip = frame.tip(frame.now)
    pivot, deck = x - 96.0, frame.seat - 9 * k
    found = 0.0 if hydraulic else max(frame.was.gap, 0.0) * k
    heel = frame.tip(frame.was) - 4.4 * k - found
    roller = 5.2 * k
    arm = path("part", "M", pivot - 12, tip - 6, "C", pivot - 8, tip - 24, x - 74, tip - 20, x - 56, tip - 2.4 * k,
               "L", x - 34, tip - 2.4 * k, "C", x - 22, tip - 4.4 * k, x - 4, tip - 4.4 * k, x + 14, tip - 3 * k,
               "L", x + 14, tip, "L", x - 12, tip, "C", x - 20, tip + 12, x - 70, tip + 14, pivot + 12, tip + 4,
               "C", pivot + 8, tip - 8, pivot - 8, tip - 8, pivot - 12, tip + 4, "Z")  # fmt: skip
    post: list[Point] = [(pivot - 10, tip + 10), (pivot + 10, tip + 10), (pivot + 10, deck), (pivot - 10, deck)]
    shapes: list[Shape] = [*cut("section_other", post), Circle(pivot, tip + 4, 10, "part"), arm,
                           Circle(x - 45, heel + roller, roller, "part"), Circle(x - 45, heel + roller, 4, "thin")]
    if hydraulic:
        shapes.append(Line(pivot - 10, tip + 34, pivot + 10, tip + 34, "thin"))
    return (tip if hydraulic else heel), (*cam(x - 45, heel, min(frame.now.base_circle / 2 * k, 58.0)), *shapes)


def _rocker(frame: Frame, gear: str) -> tuple[float, tuple[Shape, ...]]:
    """A rocker on its shaft, broken off toward its cam or pushrod; a screw at the valve, or a plunger in its nose."""
    k, x = frame.scale, AXIS
    hydraulic = "hydraulic" in gear
    nose = frame.tip(frame.now) if hydraulic else frame.tip(frame.was) - max(frame.was.gap, 0.0) * k
    shaft_x, shaft_y = x - 84.0, nose - 52.0
    screw = gear == "rocker"
    lift = 26.0 if screw else 0.0  # the arm stands over the screw's foot
    arm = path("part", "M", 34, shaft_y - 12,
               "C", 52, shaft_y - 30, shaft_x + 6, shaft_y - 42, shaft_x + 34, shaft_y - 28,
               "C", x - 30, shaft_y - 24, x + 4, nose - 44 - lift / 2, x + 16, nose - 26 - lift / 2,
               "C", x + 22, nose - 8 - lift, x + 10, nose - lift, x, nose - lift,
               "C", x - 12, nose - lift, x - 20, nose - 12 - lift, x - 34, nose - 22 - lift / 2,
               "C", x - 50, shaft_y + 34, shaft_x + 4, shaft_y + 34, shaft_x - 8, shaft_y + 26,
               "L", 34, shaft_y + 16)  # fmt: skip
    wave: list[Point] = [(34 + 3 * sin(n * pi / 3), shaft_y - 12 + 28 * n / 8) for n in range(9)]
    shapes: list[Shape] = [arm, polygon("thin", wave, closed=False),
                           Circle(shaft_x, shaft_y, 19, "part"), Circle(shaft_x, shaft_y, 19, "section_other"),
                           Circle(shaft_x, shaft_y, 19, "outline")]
    if screw:
        shapes += [Rect(x - 7, nose - 64, 14, 58, "part"), Rect(x - 13, nose - 62, 26, 12, "part"),
                   *(Line(x - 7, y + 2, x + 7, y, "thin") for y in range(round(nose) - 44, round(nose) - 10, 6)),
                   path("part", "M", x - 8, nose - 8, "Q", x, nose + 8, x + 8, nose - 8, "Z")]  # fmt: skip
    elif gear.startswith("rocker"):
        shapes += [Rect(x - 9, nose - 34, 18, 34, "part"), Line(x - 9, nose - 12, x + 9, nose - 12, "thin")]
    else:
        rod = Text(34, shaft_y - 46, "to the pushrod", "label", 16)
        shapes += [rod]
    return nose, tuple(shapes)

