"""One valve in section, true to scale: as found in the phantom line, after the work firm, two details beside it.

Cam, shaft and pivot stand still; what stands on the valve's tip moves with it. Small changes are seen in the details,
which name their own scale; nothing in the section itself is made larger than it is.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from math import isfinite, pi

from witnessmark.draw.extent import text_width
from witnessmark.draw.section_detail import gap_detail, seat_detail
from witnessmark.draw.section_gear import gear_shapes
from witnessmark.draw.section_head import AXIS, FACE, Frame, Full, head_shapes, valve_shapes
from witnessmark.draw.shape import Circle, Drawing, Line, Shape, Text

WIDTH, HEIGHT = 520.0, 560.0
TALL = 380.0  # pixels from the stem's tip to the gasket face, at most
WIDE = 195.0  # across the valve's head, at most
MOST = 4.2  # pixels for a millimetre


@dataclass(frozen=True, slots=True)
class Lengths:
    """One state of one valve, in mm (angles in radian from the plane of the head); None where it is not known.

    `gap` is the lash, or the plunger's travel used where the gear is hydraulic; `sunk` and `shim` count from what was
    found, `sunk` upward into the head.
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
    top_angle: float | None = None
    bottom_angle: float | None = None
    base_circle: float | None = None
    bucket: float | None = None


_USUAL = {"stem_height": 44.0, "installed_height": 38.0, "stem_diameter": 6.0, "head_diameter": 33.0,
          "valve_length": 105.0, "margin": 1.2, "seat_width": 1.3, "seat_angle": pi / 4, "gap": 0.2, "sunk": 0.0,
          "shim": 0.0, "top_angle": pi / 6, "bottom_angle": pi / 3, "base_circle": 32.0, "bucket": 30.0}  # fmt: skip
_QUIET = frozenset({"sunk", "shim", "top_angle", "bottom_angle", "base_circle", "bucket"})  # no length to be told
_ANY = frozenset({"gap", "sunk", "shim", "margin"})  # may be nothing, or below
_SAID = ("stem_height", "installed_height", "margin", "seat_width", "gap")


@dataclass(frozen=True, slots=True)
class Section:
    """The drawing, and the ids of the lengths that were taken for granted in it."""

    drawing: Drawing
    assumed: tuple[str, ...]


def valve_section(
    before: Lengths,
    after: Lengths,
    *,
    gear: str,
    place: str,
    words: Mapping[str, str] | None = None,
    out: Sequence[str] = (),
) -> Section:
    """The section of one valve, 520 x 560, before and after.

    `words` gives values as they are to be shown ("stem_height": "44.27"), and under "moved" what the valve has done;
    `out` names the lengths outside their limit. Raises ValueError for a length that is not finite or, where it must
    be, not above zero.
    """
    was, now, assumed = _filled(before, after)
    scale = min(TALL / now.valve_length, WIDE / now.head_diameter, MOST)
    said = {name: "–" if name in assumed else f"{getattr(now, name):.2f}".replace("-", "−") for name in _SAID}
    said |= {"moved": "", **(words or {})}
    frame = Frame(was, now, scale)
    body = "hidden" if {"stem_diameter", "head_diameter", "valve_length"} & set(assumed) else "part"
    face, moving = gear_shapes(frame, gear)
    shapes = (
        *head_shapes(frame), *valve_shapes(frame, was, "phantom"), *valve_shapes(frame, now, body),
        *moving, Line(AXIS, 14, AXIS, FACE + 26, "centre"), *_heights(frame, said, assumed),
        *_leaders(frame, face), *gap_detail(frame, gear, said, out), *seat_detail(frame, said, out),
    )  # fmt: skip
    word = "plunger travel" if "hydraulic" in gear else "lash"
    name = (f"section of valve {place}, closed: {word} {said['gap']}, stem height {said['stem_height']}, installed "
            f"height {said['installed_height']}, margin {said['margin']}")  # fmt: skip
    return Section(Drawing(WIDTH, HEIGHT, name, shapes), assumed)


def _filled(before: Lengths, after: Lengths) -> tuple[Full, Full, tuple[str, ...]]:
    was: dict[str, float] = {}
    now: dict[str, float] = {}
    assumed: list[str] = []
    for one in fields(Lengths):
        old, new = getattr(before, one.name), getattr(after, one.name)
        if old is None and new is None and one.name not in _QUIET:
            assumed.append(one.name)
        if one.name in {"sunk", "shim"}:
            old = 0.0 if old is None else old
        old = _USUAL[one.name] if old is None and new is None else (new if old is None else old)
        new = old if new is None else new
        for value in (old, new):
            if not isfinite(value) or (value <= 0 and one.name not in _ANY):
                raise ValueError(f"{one.name} is {value}: enter a length above zero in mm")
        was[one.name], now[one.name] = old, new
    return Full(**was), Full(**now), tuple(assumed)


def _heights(frame: Frame, said: Mapping[str, str], assumed: Sequence[str]) -> tuple[Shape, ...]:
    """Installed height at the left, stem height at the right, each between thin extension lines."""
    shapes: list[Shape] = []
    tip, under, floor = frame.tip(frame.now), frame.under, frame.floor
    for at, edge, top, low, letter, name in (
        (30.0, AXIS - 30, under, floor, "H", "installed_height"),
        (300.0, AXIS + 14, tip, frame.seat, "h", "stem_height"),
    ):
        role = "hidden" if name in assumed else "thin"
        shapes += [Line(at - 6, top, edge, top, role), Line(at - 6, low, edge, low, role),
                   Line(at, top, at, low, "thin", start="arrow", end="arrow")]  # fmt: skip
        text = f"{letter} {said[name]}"
        wide = text_width(text, 18, bold=True)
        left = 3.0 if at < AXIS else at - wide / 2
        shapes.append(Text(left, (top + low) / 2 + 6, text, "ink", 18, bold=True, halo=True))
    return tuple(shapes)


def _leaders(frame: Frame, face: float) -> tuple[Shape, ...]:
    """Thin circles round what the details enlarge, and a line to each."""
    rim = AXIS + frame.now.head_diameter * frame.scale / 2
    return (Circle(AXIS, face, 13, "thin"), Line(AXIS + 12, face - 5, 352, 118, "thin"),
            Circle(rim, FACE - 6, 13, "thin"), Line(rim + 12, FACE - 11, 352, 428, "thin"))  # fmt: skip
