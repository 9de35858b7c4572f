"""One valve in section, true to scale: as found in the phantom line, after the work firm, two details beside it.

The gear that moves the valve is drawn as a block at its end of the gap: it stands still, the stem's tip moves.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from math import isfinite, pi, tan

from witnessmark.draw.detail import chord, disc, metal
from witnessmark.draw.extent import text_width
from witnessmark.draw.scene import cut, mirrored
from witnessmark.draw.shape import Circle, Drawing, Line, Point, Rect, Shape, Text, polygon

WIDTH, HEIGHT = 520.0, 620.0
_AXIS, _TOP = 165.0, 130.0
_HELD = {"bucket": "bucket", "finger": "finger", "rocker": "rocker", "pushrod": "rocker"}


@dataclass(frozen=True, slots=True)
class Lengths:
    """One state of one valve, in mm (the angle in radian from the plane of the head); None where it is not known.

    `gap` is the lash, or the plunger's travel left where the gear is hydraulic; `sunk` and `shim` count from new.
    """

    stem_height: float | None = None
    installed_height: float | None = None
    stem_diameter: float | None = None
    head_diameter: float | None = None
    valve_length: float | None = None
    margin: float | None = None
    seat_width: float | None = None
    seat_angle: float | None = None
    gap: float | None = None
    sunk: float | None = None
    shim: float | None = None


_USUAL = {"stem_height": 44.0, "installed_height": 38.0, "stem_diameter": 6.0, "head_diameter": 33.0,
          "valve_length": 105.0, "margin": 1.2, "seat_width": 1.3, "seat_angle": pi / 4, "gap": 0.2, "sunk": 0.0,
          "shim": 0.0}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Section:
    """The drawing, and the ids of the lengths that were taken for granted in it."""

    drawing: Drawing
    assumed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Full:
    stem_height: float
    installed_height: float
    stem_diameter: float
    head_diameter: float
    valve_length: float
    margin: float
    seat_width: float
    seat_angle: float
    gap: float
    sunk: float
    shim: float


def valve_section(
    before: Lengths,
    after: Lengths,
    *,
    gear: str,
    place: str,
    words: dict[str, str] | None = None,
    out: Sequence[str] = (),
) -> Section:
    """The section of one valve, 520 x 620, before and after.

    `words` gives values as they are to be shown ("stem_height": "44.27"); `out` names the lengths outside their limit.
    Raises ValueError for a length that is not finite or, where it must be, not above zero.
    """
    was, now, assumed = _filled(before, after)
    scale = min(385 / now.valve_length, 190 / now.head_diameter, 4.2)
    said = {**{n: "–" if n in assumed else f"{getattr(now, n):.2f}".replace("-", "−") for n in _USUAL}, **(words or {})}
    body = "hidden" if {"stem_diameter", "head_diameter", "valve_length"} & set(assumed) else "part"
    shapes = (*_head(was, scale), *_valve(was, was, scale, "phantom"), *_valve(now, was, scale, body),
              *_gear(was, scale, gear), *_heights(now, was, scale, said, assumed),
              *_gap_detail(was, now, scale, gear, said, out), *_seat_detail(was, now, scale, said))  # fmt: skip
    gap = "plunger travel" if "hydraulic" in gear else "lash"
    name = (f"section of valve {place}, closed: {gap} {said['gap']}, stem height {said['stem_height']}, installed "
            f"height {said['installed_height']}, margin {said['margin']}")  # fmt: skip
    return Section(Drawing(WIDTH, HEIGHT, name, shapes), assumed)


def _filled(before: Lengths, after: Lengths) -> tuple[_Full, _Full, tuple[str, ...]]:
    was: dict[str, float] = {}
    now: dict[str, float] = {}
    assumed: list[str] = []
    for one in fields(Lengths):
        old, new = getattr(before, one.name), getattr(after, one.name)
        if old is None and one.name in {"sunk", "shim"}:
            old = 0.0
        elif old is None and new is None:
            assumed.append(one.name)
        old = _USUAL[one.name] if old is None and new is None else (new if old is None else old)
        new = old if new is None else new
        for value in (old, new):
            if not isfinite(value) or (value <= 0 and one.name not in {"gap", "sunk", "shim", "margin"}):
                raise ValueError(f"{one.name} is {value}: enter a length above zero in mm")
        was[one.name], now[one.name] = old, new
    return _Full(**was), _Full(**now), tuple(assumed)


def _spring_seat(was: _Full, scale: float) -> float:
    return _TOP + was.stem_height * scale


def _tip(one: _Full, was: _Full, scale: float) -> float:
    return _spring_seat(was, scale) - one.stem_height * scale


def _valve(one: _Full, was: _Full, scale: float, role: str) -> tuple[Shape, ...]:
    """Stem and head; the head moves by what the valve sank, the tip by the stem height."""
    x, r, big = _AXIS, one.stem_diameter * scale / 2, one.head_diameter * scale / 2
    tip = _tip(one, was, scale)
    face = _TOP + was.valve_length * scale - (one.sunk - was.sunk) * scale
    rim = face - one.margin * scale
    cone = rim - 3 * scale * tan(one.seat_angle)
    half: list[Point] = [(x - r, tip), (x - r, cone - 8 * scale), (x - r - 2 * scale, cone - 3 * scale),
                         (x - big + 3 * scale, cone), (x - big, rim), (x - big, face)]  # fmt: skip
    return (polygon(role, [*half, *mirrored(half, x)]),)


def _head(was: _Full, scale: float) -> tuple[Shape, ...]:
    x, r, seat = _AXIS, was.stem_diameter * scale / 2, _spring_seat(was, scale)
    wide, face = was.head_diameter * scale / 2, _TOP + was.valve_length * scale
    guide: list[Point] = [
        (x - r - 1, seat - 5 * scale),
        (x - r - 3 * scale, seat - 5 * scale),
        (x - r - 3 * scale, seat + 14 * scale),
        (x - r - 1, seat + 14 * scale),
    ]
    metal_left: list[Point] = [
        (x - r - 3 * scale, seat),
        (x - wide - 38, seat),
        (x - wide - 38, seat + 9 * scale),
        (x - r - 3 * scale, seat + 11 * scale),
    ]
    top, y = face - 9 * scale, face - was.margin * scale
    insert: list[Point] = [
        (x - wide + 2 * scale, top),
        (x - wide - 8, top),
        (x - wide - 8, face),
        (x - wide, y),
        (x - wide + 2 * scale, y - 2 * scale * tan(was.seat_angle)),
    ]
    sides: list[Shape] = []
    for half, role in ((metal_left, "section"), (guide, "section_other"), (insert, "section_other")):
        sides += [*cut(role, half), *cut(role, mirrored(half, x))]
    return (*sides, Line(x, 20, x, face + 24, "centre"))


def _gear(was: _Full, scale: float, gear: str) -> tuple[Shape, ...]:
    """What presses the tip, standing still at the gap found, with its name above it."""
    kind = _HELD.get(gear.split("_", maxsplit=1)[0], "rocker")
    low = _TOP - (0 if "hydraulic" in gear else max(was.gap, 0) * scale)
    return (Rect(_AXIS - 46, low - 40, 92, 40, "part"), Rect(_AXIS - 46, low - 40, 92, 40, "section"),
            Rect(_AXIS - 46, low - 40, 92, 40, "outline"),
            Text(_AXIS - 54, low - 14, kind, "label", 16, "end"))  # fmt: skip


def _heights(now: _Full, was: _Full, scale: float, said: dict[str, str], assumed: Sequence[str]) -> tuple[Shape, ...]:
    seat, tip = _spring_seat(was, scale), _tip(now, was, scale)
    floor = seat - now.shim * scale
    under = floor - now.installed_height * scale
    x = _AXIS
    found: list[Shape] = []
    role = "hidden" if "installed_height" in assumed else "outline"
    for side in (-1, 1):
        wide = now.stem_diameter * scale / 2 + 8 * scale
        found.append(Line(x + side * 3 * scale, under, x + side * wide, under, role, 3))
        found.append(Line(x + side * wide, floor, x + side * (wide - 4 * scale), floor, role))
        for i in range(6):
            found.append(
                Circle(x + side * (wide - 2 * scale), under + (floor - under) * (i + 0.5) / 6, 1.6 * scale, role)
            )
    shapes: list[Shape] = list(found)
    for at, top, low, letter, name in (
        (34.0, under, floor, "H", "installed_height"),
        (296.0, tip, seat, "h", "stem_height"),
    ):
        edge = x - 30 if at < x else x + 30
        shapes += [
            Line(at, top, edge, top, "thin"),
            Line(at, low, edge, low, "thin"),
            Line(at, top, at, low, "thin", start="arrow", end="arrow"),
        ]
        text = f"{letter} {said[name]}"
        left = 4.0 if at < x else at - text_width(text, 18, True) / 2
        shapes.append(Text(left, (top + low) / 2 + 6, text, "ink", 18, bold=True, halo=True))
    return tuple(shapes)


def _gap_detail(
    was: _Full, now: _Full, scale: float, gear: str, said: dict[str, str], out: Sequence[str]
) -> tuple[Shape, ...]:
    """The gap enlarged: the face above stands still; the overlap of a gap below zero is hatched and edged as out."""
    x, y, r = 430.0, 122.0, 80.0
    times = next((t for t in (16, 8, 4, 2) if max(abs(was.gap), abs(now.gap)) * scale * t < 66), 1)
    face, ring = y - 8, disc(x, y, r)
    level, old = face + now.gap * scale * times, face + was.gap * scale * times
    shapes: list[Shape] = [*metal(ring, [((x, face), pi)], "section"), *metal(ring, [((x, level), 0)], "section_other")]
    ends = chord(x, y, r, ((x, old), 0))
    shapes += [Line(*ends[0], *ends[1], "phantom")] if ends else []
    red = chord(x, y, r, ((x, level), 0)) if now.gap < 0 else None
    shapes += [Line(*red[0], *red[1], "out_line")] if red else []
    pen = "out" if "gap" in out else "ink"
    word = "travel left" if "hydraulic" in gear else "lash"
    shapes += [Circle(x, y, r, "outline"), *_title(x - r, y - r - 10, "X", times),
               Text(x, y + r + 24, f"{word} {said['gap']}", pen, 20, "middle", bold=True)]  # fmt: skip
    if now.gap < 0:
        shapes.append(Text(x, y + r + 45, "holds the valve open", "label", 16, "middle"))
    return tuple(shapes)


def _seat_detail(was: _Full, now: _Full, scale: float, said: dict[str, str]) -> tuple[Shape, ...]:
    """Seat and margin enlarged: the seat as found in the phantom line, the valve's rim under its face."""
    x, y, r, times = 430.0, 430.0, 84.0, 8
    ring, k = disc(x, y, r), scale * 8
    p, turn = (x, y - (now.sunk - was.sunk) * k), now.seat_angle
    rim = x + 30
    low = p[1] + 30 * tan(turn) + now.margin * k
    shapes: list[Shape] = [*metal(ring, [(p, turn + pi)], "section_other"),
                           *metal(ring, [(p, turn), ((rim, y), pi / 2), ((x, low), pi)], "section")]  # fmt: skip
    ends = chord(x, y, r, ((x, y), was.seat_angle))
    shapes += [Line(*ends[0], *ends[1], "phantom")] if ends else []
    shapes += [Circle(x, y, r, "outline"), *_title(x - r, y - r - 10, "Y", times),
               Text(x, y + r + 24, f"margin {said['margin']}", "ink", 20, "middle", bold=True),
               Text(x, y + r + 46, f"seat width {said['seat_width']}", "label", 16, "middle")]  # fmt: skip
    return tuple(shapes)


def _title(x: float, y: float, letter: str, times: int) -> tuple[Text, Text]:
    return (Text(x, y, letter, "ink", 20, bold=True), Text(x + 22, y, f"{times} : 1", "label", 16))
