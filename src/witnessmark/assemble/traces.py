"""The traces of a joint by bolt: what the middle is, how far they scatter, and which bolt is unlike the others.

Each bolt is held against the others without itself, by their median and scaled median deviation, which is no less than
what wrench, angle gauge and the reading of the points bring by themselves. θ_end − θ₀ goes with the tension whatever
the friction is, so bolts are compared by it first. Torques in N·mm, angles in degrees.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import hypot
from statistics import median

from witnessmark.assemble.stages import APART, MAD, NEAREST, WRENCH
from witnessmark.assemble.trace import Floats, KeyPoints, key_points

ANGLE = 1.0  # degrees: an angle gauge is read to 1 or 2 (judgement)
BEGUN = 5.0  # degrees: a trace begins where the wrench was laid on, so snug lies here and there by itself (judgement)


@dataclass(frozen=True, slots=True)
class Traced:
    """One bolt with its trace and its key points."""

    bolt: str
    angle: Floats
    torque: Floats
    points: KeyPoints


@dataclass(frozen=True, slots=True)
class Middle:
    """A measure over all bolts that have it: how many, median, scaled median deviation, least and most."""

    count: int
    median: float
    spread: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Unlike:
    """A bolt that is not like the others in one measure; `apart` counts spreads of the others, below them negative."""

    bolt: str
    measure: str
    value: float
    median: float
    spread: float
    apart: float


@dataclass(frozen=True, slots=True)
class TraceSet:
    """The traces of a joint. `against` holds every bolt against the others by (bolt, measure), like or not."""

    bolts: tuple[Traced, ...]
    middles: Mapping[str, Middle]
    against: Mapping[tuple[str, str], Unlike]
    unlike: tuple[Unlike, ...]


def _tension(points: KeyPoints) -> float | None:
    """Degrees from the elastic origin to the end; behind yield they no longer go with the tension."""
    return _from(points.origin.angle, points.end.angle) if points.yielded.angle is None else None


def _from(begin: float | None, end: float | None) -> float | None:
    return None if begin is None or end is None else end - begin


MEASURES: Mapping[str, tuple[Callable[[KeyPoints], float | None], bool]] = {  # name -> how it is found, is it an angle
    "snug angle": (lambda points: points.snug.angle, True),
    "slope": (lambda points: points.slope, False),
    "end from origin": (_tension, True),
    "end from snug": (lambda points: _from(points.snug.angle, points.end.angle), True),
    "final torque": (lambda points: points.end.torque, False),
}


def traced(bolt: str, angle: Floats, torque: Floats) -> Traced:
    """A bolt with its key points."""
    return Traced(bolt, angle, torque, key_points(angle, torque))


def measure(one: Traced, name: str) -> float | None:
    """A measure of one bolt, None where its trace does not show it."""
    return MEASURES[name][0](one.points)


def trace_set(bolts: Sequence[Traced]) -> TraceSet:
    """The set with its middles, every bolt against the others, and the unlike ones, the furthest first."""
    middles: dict[str, Middle] = {}
    against: dict[tuple[str, str], Unlike] = {}
    for name in MEASURES:
        known = {one.bolt: value for one in bolts if (value := measure(one, name)) is not None}
        if known:
            values = list(known.values())
            middle = median(values)
            spread = MAD * median(abs(value - middle) for value in values)
            middles[name] = Middle(len(values), middle, spread, min(values), max(values))
        for one in bolts:
            others = [value for bolt, value in known.items() if bolt != one.bolt]
            if one.bolt in known and len(others) >= NEAREST:
                against[one.bolt, name] = _against(one, name, known[one.bolt], others)
    unlike = sorted((one for one in against.values() if abs(one.apart) > APART), key=lambda one: -abs(one.apart))
    return TraceSet(tuple(bolts), middles, against, tuple(unlike))


def _against(one: Traced, name: str, value: float, others: Sequence[float]) -> Unlike:
    middle = median(others)
    floor = _floor(one.points, name) if MEASURES[name][1] else WRENCH * abs(middle)
    spread = max(MAD * median(abs(other - middle) for other in others), floor)
    return Unlike(one.bolt, name, value, middle, spread, (value - middle) / spread)


def _floor(points: KeyPoints, name: str) -> float:
    """What the points of a trace are in doubt by, in degrees, and never less than the angle gauge."""
    if name == "snug angle":
        return BEGUN
    first = points.origin if name == "end from origin" else points.snug
    return max(ANGLE, hypot(first.doubt or 0.0, points.end.doubt or 0.0))
