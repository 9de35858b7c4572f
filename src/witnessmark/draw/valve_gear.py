"""The valve gear in hand, seen from the side: what stands between cam and valve, with the gap where lash is.

Five trains: a bucket with its shim on top or under it, a finger on a pivot, a rocker on a shaft over the cam, a rocker
moved by a pushrod. Each gives the gap between two faces and the places where an indicator feels the cam's and the
valve's motion.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import cos, radians, sin

from witnessmark.draw.handtool import section_round
from witnessmark.draw.lobe import outline
from witnessmark.draw.scene import cut, mirrored
from witnessmark.draw.shape import Circle, Line, Path, Point, Rect, Shape, path, polygon


@dataclass(frozen=True, slots=True)
class Train:
    """One valve gear on the sheet.

    `gap` is left end, upper face, width and height of the clearance; `between` names its two faces; `cam_end` and
    `valve_end` are where an indicator feels what goes in (from the direction `cam_angle`) and, from above, what comes
    out; `parts` are the shapes.
    """

    parts: tuple[Shape, ...]
    gap: tuple[float, float, float, float]
    between: str
    cam_end: Point
    valve_end: Point
    cam_angle: float = 90.0


def train(gear: str) -> Train:
    """The gear as the engine's description names it; a bucket with its shim on top where it is none of the others."""
    kinds: dict[str, Callable[[], Train]] = {"finger": _finger, "rocker": _rocker, "pushrod": _pushrod}
    kind = kinds.get(gear.split("_", maxsplit=1)[0])
    if kind:
        return kind()
    return _bucket(under=gear != "bucket_shim")


def turned(shape: Path, x: float, y: float, angle: float) -> Path:
    """A path of straight strokes and round arcs, turned clockwise on the sheet about (x, y) by `angle` degrees."""
    c, s = cos(radians(angle)), sin(radians(angle))

    def spin(px: float, py: float) -> Point:
        return (x + (px - x) * c - (py - y) * s, y + (px - x) * s + (py - y) * c)

    steps: list[tuple[str, tuple[float, ...]]] = []
    for letter, n in shape.steps:
        kept, points = (n[:5], n[5:]) if letter == "A" else ((), n)
        moved = [value for i in range(0, len(points), 2) for value in spin(points[i], points[i + 1])]
        steps.append((letter, (*kept, *moved)))
    return Path(tuple(steps), shape.role, shape.width, shape.dash)


def lobe_at(x: float, y: float, base: float, nose_at: float, nose: float, angle: float) -> tuple[Shape, ...]:
    """A lobe on its axis (x, y): `nose_at` from axis to the nose's centre, turned `angle` degrees from upright."""
    return (turned(outline(x, y, base, y - nose_at, nose), x, y, angle), Circle(x, y, base * 0.3, "thin"))


def valve_top(x: float, tip: float, low: float, retainer: float = 0.0, half: float = 15) -> tuple[Shape, ...]:
    """A stem with retainer and the first coils of its spring, its tip at the height `tip`, cut off at `low`."""
    under = tip + 34 + retainer
    stem: list[Point] = [(x - half, low), (x - half, tip + 3), (x - half + 3, tip), (x + half - 3, tip),
                         (x + half, tip + 3), (x + half, low)]  # fmt: skip
    collar: list[Point] = [(x - half, under - 18), (x - 46, under - 14), (x - 46, under), (x - 28, under),
                           (x - half, under + 12)]  # fmt: skip
    coils: list[Shape] = []
    for y in range(round(under) + 9, round(low) - 12, 30):
        coils += [*section_round(x - 38, y, 8), *section_round(x + 38, y + 15, 8)]
    keep = [shape for shape in coils if not (isinstance(shape, Circle) and shape.y > low - 8)]
    return (*keep, polygon("part", stem, closed=False), *cut("section", collar), *cut("section", mirrored(collar, x)))


def _bucket(under: bool) -> Train:
    x, base_y, base = 168.0, 150.0, 58.0
    heel, thick = base_y + base, 10.0
    top = heel + thick
    shim = 16.0
    crown = top if under else top + shim
    # From inside the left skirt outward, over the crown, and down the right skirt.
    rim = [] if under else [(x - 72, top + 6), (x - 54, top + 6), (x - 54, crown)]
    left: list[Point] = [(x - 60, crown + 16), (x - 60, crown + 104), (x - 72, crown + 104), *(rim or [(x - 72, top)])]
    bucket = cut("section", [*left, *mirrored(left, x)])
    tip = crown + 16 + (shim if under else 0)
    low = 386.0
    place = Rect(x - 24, crown + 16, 48, shim, "part") if under else Rect(x - 54, top, 108, shim, "part")
    parts = (
        *lobe_at(x, base_y, base, 66, 22, 0), *valve_top(x, tip, low, 6), *bucket, place,
        Line(x, 30, x, low + 10, "centre"), Line(x - 70, base_y, x + 70, base_y, "centre"),
    )  # fmt: skip
    word = "the bucket" if under else "the shim of the bucket"
    return Train(parts, (x - 40, heel, 80, thick), f"the heel of the lobe and {word}", (x - base, base_y),
                 (x + 64, top if under else top + 6), 180.0)  # fmt: skip


def _finger() -> Train:
    roller, y = 150.0, 214.0
    base_y, base, thick = 124.0, 58.0, 10.0
    arm = path("part", "M", 34, 222, "C", 34, 196, 66, 190, 96, 200, "C", 130, 196, 190, 196, 220, 208,
               "C", 250, 214, 292, 214, 298, 236, "C", 298, 250, 280, 254, 254, 252, "C", 226, 250, 200, 246, 170, 248,
               "C", 136, 250, 104, 246, 90, 232, "C", 72, 218, 50, 238, 34, 222, "Z")  # fmt: skip
    pivot: list[Point] = [(46, 246), (84, 246), (84, 386), (46, 386)]
    ball = path("part", "M", 49, 246, "C", 49, 218, 81, 218, 81, 246, "Z")
    pad = path("part", "M", roller - 40, 206, "Q", roller, base_y + base + thick - 14, roller + 40, 206)
    parts = (
        *valve_top(268, 254, 386), ball, *cut("section_other", pivot), arm, pad, Line(65, 214, 65, 396, "centre"),
        *lobe_at(roller, base_y, base, 58, 20, 0), Line(268, 200, 268, 396, "centre"),
        Line(roller, 20, roller, y - 10, "centre"),
    )  # fmt: skip
    heel = base_y + base
    return Train(parts, (roller - 40, heel, 80, thick), "the heel of the lobe and the finger's pad",
                 (roller + base, base_y), (298, 237), 0.0)  # fmt: skip


_PIVOT, _TIP = (166.0, 150.0), (262.0, 232.0)


def _arm(screw: bool) -> tuple[Shape, ...]:
    """A rocker on its shaft: the valve's end right, with a pad or (`screw`) with room for an adjusting screw."""
    nose: list[str | float] = (
        ["C", 292, 164, 292, 196, 284, 200, "L", 240, 200] if screw
        else ["C", 288, 176, 290, 222, 262, 222, "C", 250, 222, 244, 214, 236, 202]
    )  # fmt: skip
    body = path("part", "M", 40, 148, "C", 60, 124, 110, 106, 166, 104, "C", 222, 106, 262, 140, 276, 160, *nose,
                "C", 214, 194, 196, 196, 166, 196, "C", 132, 196, 104, 190, 84, 188, "L", 48, 188,
                "C", 34, 184, 32, 160, 40, 148, "Z")  # fmt: skip
    return (body, *section_round(*_PIVOT, 25, "section_other"), Line(166, 96, 166, 210, "centre"),
            Line(112, 150, 220, 150, "centre"))  # fmt: skip


def _screw(x: float, top: float, low: float) -> tuple[Shape, ...]:
    threads = [Line(x - 9, y + 3, x + 9, y, "thin") for y in range(round(top) + 6, round(low) - 12, 7)]
    return (Rect(x - 9, top, 18, low - top - 8, "part"), *threads, Rect(x - 18, top + 16, 36, 15, "part"),
            Line(x - 6, top + 16, x - 6, top + 31, "thin"), Line(x + 6, top + 16, x + 6, top + 31, "thin"),
            path("part", "M", x - 9, low - 8, "Q", x, low + 8, x + 9, low - 8, "Z"))  # fmt: skip


def _rocker() -> Train:
    x, tip = _TIP
    cam_x, pad, base = 62.0, 200.0, 46.0
    parts = (
        *lobe_at(cam_x, pad + base, base, 44, 17, 180), path("part", "M", 34, 176, "Q", cam_x, pad + 24, 92, 176, "Z"),
        *valve_top(x, tip, 386), *_arm(screw=True), *_screw(x, 112, tip - 10), Line(x, 90, x, 396, "centre"),
        Line(cam_x, 130, cam_x, 366, "centre"),
    )  # fmt: skip
    return Train(parts, (x - 22, tip - 10, 44, 10), "the adjusting screw and the tip of the valve", (cam_x, 131),
                 (x + 40, tip + 16))  # fmt: skip


def _pushrod() -> Train:
    x, tip = _TIP
    rod = 62.0
    cup = path("part", "M", rod - 13, 208, "L", rod - 13, 226, "L", rod - 8, 232, "L", rod - 8, 386, "L", rod + 8, 386,
               "L", rod + 8, 232, "L", rod + 13, 226, "L", rod + 13, 208)  # fmt: skip
    parts = (
        cup, *valve_top(x, tip, 386), *_arm(screw=False), *_screw(rod, 112, 204), Circle(rod, 205, 10, "part"),
        Line(x, 130, x, 396, "centre"), Line(rod, 100, rod, 396, "centre"),
    )  # fmt: skip
    return Train(parts, (x - 30, tip - 10, 60, 10), "the rocker's pad and the tip of the valve", (rod, 112),
                 (x + 40, tip + 16))  # fmt: skip
