"""The two details of a valve's section, each with its own scale: X the gap, Y the seat with margin and relief cuts."""

from collections.abc import Mapping, Sequence
from math import cos, pi, sin, tan

from witnessmark.draw.detail import chord, disc, metal
from witnessmark.draw.section_head import Frame
from witnessmark.draw.shape import Circle, Line, Point, Shape, Text

X_CENTRE, X_RADIUS = (430.0, 122.0), 80.0
Y_CENTRE, Y_RADIUS = (430.0, 398.0), 84.0
ENLARGED = 8
HANGS_OVER = 0.35  # mm of the valve's head beyond the seat


def gap_detail(frame: Frame, gear: str, said: Mapping[str, str], out: Sequence[str]) -> tuple[Shape, ...]:
    """The gap enlarged: what stands still above, the tip's side below, where it was found in the phantom line.

    An overlap, that is a gap below nothing, is edged in the pen of what is out.
    """
    (x, y), r, k = X_CENTRE, X_RADIUS, frame.scale
    now, was = frame.now.gap, frame.was.gap
    times = next((t for t in (16, 8, 4, 2) if max(abs(was), abs(now)) * k * t < 62), 1)
    face, ring = y - 8, disc(x, y, r)
    level, old = face + now * k * times, face + was * k * times
    shapes: list[Shape] = [*metal(ring, [((x, face), pi)], "section"), *metal(ring, [((x, level), 0)], "section_other")]
    ends = chord(x, y, r, ((x, old), 0)) if abs(old - level) > 0.5 else None
    shapes += [Line(*ends[0], *ends[1], "phantom")] if ends else []
    edge = chord(x, y, r, ((x, level), 0)) if now < 0 else None
    shapes += [Line(*edge[0], *edge[1], "out_line")] if edge else []
    hydraulic = "hydraulic" in gear
    word = "plunger" if hydraulic else "lash"
    shapes += [Circle(x, y, r, "outline"), *_title(x - r, y - r - 8, "X", times),
               Text(x, y + r + 24, f"{word} {said['gap']}", "out" if "gap" in out else "ink", 18, "middle", bold=True),
               Text(x, y + r + 45, _state(now, gear, hydraulic), "label", 16, "middle")]  # fmt: skip
    return tuple(shapes)


def _state(gap: float, gear: str, hydraulic: bool) -> str:
    if gap < 0:
        return "the plunger is at its end" if hydraulic else "holds the valve open"
    if hydraulic:
        return "travel of the adjuster"
    return "cam on its base circle" if gear.startswith("bucket") else "valve shut"


def seat_detail(frame: Frame, said: Mapping[str, str], out: Sequence[str]) -> tuple[Shape, ...]:
    """Seat and margin enlarged; the band's two ends where the relief cuts leave it; the seat as found in phantom."""
    (x, y), r, k = Y_CENTRE, Y_RADIUS, frame.scale * ENLARGED
    now, was = frame.now, frame.was
    turn, ring = now.seat_angle, disc(x, y, r)
    middle: Point = (x - 12, y - 16 - min((now.sunk - was.sunk) * k, 40.0))
    half = max(now.seat_width, 0.0) * k / 2
    inner: Point = (middle[0] - half * cos(turn), middle[1] - half * sin(turn))
    outer: Point = (middle[0] + half * cos(turn), middle[1] + half * sin(turn))
    rim = outer[0] + HANGS_OVER * k * cos(turn)
    edge = outer[1] + (rim - outer[0]) * tan(turn)
    low = edge + now.margin * k
    above = [(inner, now.bottom_angle + pi), (middle, turn + pi), (outer, now.top_angle + pi)]
    shapes: list[Shape] = [
        *metal(ring, above, "section_other"),
        *metal(ring, [(middle, turn), ((rim, y), pi / 2), ((x, low), pi)], "section"),
    ]
    moved = (now.sunk - was.sunk) * k
    ends = chord(x, y, r, ((middle[0], middle[1] + moved), was.seat_angle)) if abs(moved) > 0.5 else None
    shapes += [Line(*ends[0], *ends[1], "phantom")] if ends else []
    shapes += [Circle(x, y, r, "outline"), *_title(x - r, y - r - 8, "Y", ENLARGED), *_band(inner, outer, turn)]
    shapes += _texts(x, y + r, said, out)
    return tuple(shapes)


def _band(inner: Point, outer: Point, turn: float) -> list[Shape]:
    """A dimension along the band, in the metal of the seat."""
    dx, dy = 13 * sin(turn), -13 * cos(turn)
    if (outer[0] - inner[0]) ** 2 + (outer[1] - inner[1]) ** 2 < 24**2:
        return []
    return [Line(inner[0] + dx, inner[1] + dy, outer[0] + dx, outer[1] + dy, "thin", start="arrow", end="arrow"),
            *(Line(px, py, px + 1.3 * dx, py + 1.3 * dy, "thin") for px, py in (inner, outer))]  # fmt: skip


def _texts(x: float, y: float, said: Mapping[str, str], out: Sequence[str]) -> list[Shape]:
    lines = (("margin", f"margin {said['margin']}"), ("seat_width", f"seat width {said['seat_width']}"))
    told: list[Shape] = [
        Text(x, y + 24 + 22 * n, words, "out" if name in out else "ink", 18, "middle", bold=True)
        for n, (name, words) in enumerate(lines)
    ]
    return [*told, Text(516, y + 68, said["moved"], "label", 16, "end")] if said["moved"] else told


def _title(x: float, y: float, letter: str, times: int) -> tuple[Text, Text]:
    return (Text(x, y, letter, "ink", 20, bold=True), Text(x + 22, y, f"{times} : 1", "label", 16))
