"""Hand tools as neighbours of the part: caliper, indicator from any side, lens, bore gauge, depth gauge.

All are phantom outlines; paint with heavy ink stands only where they touch. Angles are degrees of the sheet, 0 to the
right, 90 upward.
"""

import re
from collections.abc import Sequence
from math import atan2, cos, degrees, radians, sin

from witnessmark.draw.extent import text_width
from witnessmark.draw.scene import Ask, painted, taken
from witnessmark.draw.shape import Circle, Line, Path, Point, Rect, Shape, Text, path, polygon

COLUMN, NAMED, NOTED = 164.0, 16.0, 17.0  # width of a column of readings, letters of station and value


def at(x: float, y: float, angle: float, along: float, aside: float = 0.0) -> Point:
    """The point `along` the direction `angle` from (x, y) and `aside` to its left."""
    c, s = cos(radians(angle)), sin(radians(angle))
    return (x + along * c - aside * s, y - along * s - aside * c)


def dial(x: float, y: float, angle: float = 90.0, length: float = 66, r: float = 24) -> tuple[Shape, ...]:
    """A dial indicator whose tip touches (x, y), its spindle leaving the part in the direction `angle`."""
    centre = at(x, y, angle, length + r)
    spindle = [at(x, y, angle, a, b) for a, b in ((10, -4), (length, -4), (length, 4), (10, 4))]
    tip = [(x, y), at(x, y, angle, 11, -8), at(x, y, angle, 11, 8)]
    left, right = at(x, y, angle, 0, -14), at(x, y, angle, 0, 14)
    return (
        Circle(*centre, r, "phantom_part"),
        Line(*centre, centre[0] + r * 0.5, centre[1] - r * 0.6, "thin"),
        polygon("phantom", spindle),
        polygon("now", tip),
        Line(*left, *right, "edge", 3),
    )


def lever(x: float, y: float, angle: float, arm: float) -> tuple[Shape, ...]:
    """A lever indicator: its ball touches (x, y), the arm runs off in the direction `arm`, `angle` leaves the part."""
    ball = at(x, y, angle, 6)
    start, stop = at(*ball, arm, 6), at(*ball, arm, 58)
    block = [at(*ball, arm, a, b) for a, b in ((58, -11), (112, -11), (112, 11), (58, 11))]
    left, right = at(x, y, angle, 0, -13), at(x, y, angle, 0, 13)
    return (
        Line(*start, *stop, "phantom"), polygon("phantom_part", block), Circle(*at(*ball, arm, 84), 20, "phantom_part"),
        Line(*at(*ball, arm, 84), *at(*ball, arm, 96, 8), "thin"),
        Circle(*ball, 6, "now"), Circle(*ball, 6, "thin"), Line(*left, *right, "edge", 3),
    )  # fmt: skip


def caliper_upright(y1: float, y2: float, beam: float, tip: float, *, paint: float = 26) -> tuple[Shape, ...]:
    """A caliper from outside over two heights: its beam at the x of `beam`, the jaws reach to that of `tip`."""
    side = 1 if tip > beam else -1
    near = beam + 9 * side
    top: list[Point] = [(tip, y1), (near, y1), (near, y1 - 34), (near + 22 * side, y1 - 34), (tip, y1 - 12)]
    low: list[Point] = [(tip, y2), (near, y2), (near, y2 + 32), (near + 22 * side, y2 + 32), (tip, y2 + 12)]
    left = tip - paint if side > 0 else tip
    return (
        Rect(beam - 9, y1 - 34, 18, y2 - y1 + 84, "phantom"),
        polygon("phantom", top),
        polygon("phantom", low),
        *painted(left, y1 - 8, paint, 8, "bottom"),
        *painted(left, y2, paint, 8, "top"),
    )


def caliper_level(x1: float, x2: float, beam: float, tip: float, *, paint: float = 26) -> tuple[Shape, ...]:
    """A caliper from outside over two sides: its beam at the y of `beam`, the jaws reach to that of `tip`."""
    side = 1 if tip > beam else -1
    near = beam + 9 * side
    left: list[Point] = [(x1, tip), (x1, near), (x1 - 32, near), (x1 - 32, near + 22 * side), (x1 - 12, tip)]
    right: list[Point] = [(x2, tip), (x2, near), (x2 + 32, near), (x2 + 32, near + 22 * side), (x2 + 12, tip)]
    top = tip - paint if side > 0 else tip
    return (
        Rect(x1 - 32, beam - 9, x2 - x1 + 70, 18, "phantom"),
        polygon("phantom", left),
        polygon("phantom", right),
        *painted(x1 - 8, top, 8, paint, "right"),
        *painted(x2, top, 8, paint, "left"),
    )


def lens(x: float, y: float, r: float = 40, angle: float = -40) -> tuple[Shape, ...]:
    """A machinist's lens held over a place."""
    handle = [at(x, y, angle, a, b) for a, b in ((r, -6), (r + 54, -8), (r + 54, 8), (r, 6))]
    return (Circle(x, y, r, "phantom"), Circle(x, y, r - 5, "hair"), polygon("phantom", handle))


def bore_gauge(x1: float, x2: float, y: float, top: float) -> tuple[Shape, ...]:
    """A bore gauge let down from `top` to the height `y` between two walls, its two contacts painted."""
    middle = (x1 + x2) / 2
    return (
        Circle(middle, top, 22, "phantom_part"),
        Line(middle, top, middle + 12, top - 13, "thin"),
        Rect(middle - 5, top + 22, 10, y - top - 36, "phantom"),
        polygon("phantom", [(x1 + 8, y - 5), (middle - 12, y - 14), (middle + 12, y - 14), (x2 - 8, y - 5),
                            (x2 - 8, y + 5), (middle + 12, y + 14), (middle - 12, y + 14), (x1 + 8, y + 5)]),
        *painted(x1, y - 16, 8, 32, "left"),
        *painted(x2 - 8, y - 16, 8, 32, "right"),
    )  # fmt: skip


def plate(y: float, x1: float = 20, x2: float = 330) -> tuple[Shape, ...]:
    """A surface plate under the part."""
    return (Rect(x1, y, x2 - x1, 16, "phantom"),)


def block(x: float, axis: float, half: float, wide: float = 22) -> tuple[Shape, ...]:
    """A V-block seen from the side, under a round bar of radius `half`: its cheeks reach up beside the bar."""
    top, low = axis + half * 0.25, axis + half + 34
    return (
        Rect(x - wide, top, 2 * wide, low - top, "phantom"),
        Line(x - wide, axis + half + 5, x + wide, axis + half + 5, "hair"),
    )


def dimension(a: Point, b: Point, off: float) -> tuple[Shape, ...]:
    """A dimension line beside the way from `a` to `b`, `off` to its left, with extension lines."""
    turn = degrees(atan2(a[1] - b[1], b[0] - a[0]))
    past = off + (6 if off > 0 else -6)
    return (
        Line(*a, *at(*a, turn, 0, past), "faint"), Line(*b, *at(*b, turn, 0, past), "faint"),
        Line(*at(*a, turn, 0, off), *at(*b, turn, 0, off), "thin", start="arrow", end="arrow"),
    )  # fmt: skip


def section_round(x: float, y: float, r: float, role: str = "section") -> tuple[Shape, ...]:
    """A round bar cut across: hatch and outline."""
    return (Circle(x, y, r, "part"), Circle(x, y, r, role), Circle(x, y, r, "outline"))


def broken(x: float, y: float, half: float, upright: bool = True) -> tuple[Path, Path]:
    """The freehand break of a part that is drawn shorter than it is: two waves across it."""
    return (_wave(x, y, half, upright, -4), _wave(x, y, half, upright, 4))


def _wave(x: float, y: float, half: float, upright: bool, shift: float) -> Path:
    quarter = half / 2
    steps: list[float | str] = []
    for i in range(4):
        mid, end = -half + quarter * (i + 0.5), -half + quarter * (i + 1)
        bow = -5 if i % 2 == 0 else 5
        ends = (x + mid, y + shift + bow, x + end, y + shift) if upright else (
            x + shift + bow, y + mid, x + shift, y + end)  # fmt: skip
        steps += ["Q", *ends]
    start = (x - half, y + shift) if upright else (x + shift, y - half)
    return path("thin", "M", *start, *steps)


def noted(ask: Ask, y: float, x: float = 12.0) -> tuple[Text, ...]:
    """Readings so far by station, in two columns (one where the words are long): the last that fit."""
    names = [station for station in ask.values if station]
    names += [ask.station] if ask.station and ask.station not in names else []
    if not names:
        return taken(ask, x, y)
    told = [(re.sub("[-/]", " ", name), ask.values.get(name) or "–", name == ask.station) for name in names]
    tab = max(text_width(name, NAMED, now) for name, _, now in told) + 8
    columns = 2 if tab + max(text_width(value, NOTED) for _, value, _ in told) <= COLUMN else 1
    found: list[Text] = []
    for i, (name, value, now) in enumerate(_window(told, columns * min(3, int((552 - y) // 22) + 1))):
        left, line = x + (i % columns) * (COLUMN + 4), y + 22 * (i // columns)
        found.append(Text(left, line, name, "ink" if now else "label", NAMED, bold=now))
        found.append(Text(left + tab, line, value, "ink", NOTED))
    return tuple(found)


_Told = tuple[str, str, bool]  # station, reading, whether it is the one of now


def _window(told: Sequence[_Told], most: int) -> Sequence[_Told]:
    """At most `most` of them, with that of now, which may stand early or late."""
    place = next((i for i, (_, _, now) in enumerate(told) if now), len(told) - 1)
    first = max(0, min(place - most + 2, len(told) - most))
    return told[first : first + most]
