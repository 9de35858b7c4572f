"""Readings that look like a slip of the hand: inch for millimetre, a point out of place, a number unlike all others.

Two stories are weighed for each reading: it is as it came, or one of a few named slips happened. A story is as
likely as the value that it gives is near the reading's neighbours (or, for the first of a series, near the limit and
the usual range), times how often that slip happens. Tails are heavy on purpose: a worn part may lie far off and is
still no slip. The number of decimals is evidence too: a gauge of 0.001 does not show four of them.

Source: derived (Bayes' rule over named slips); the weights are judgement and are measured in `benchmarks/`.
"""

from dataclasses import dataclass
from math import inf, log, log1p, log10
from statistics import median

INCH = 25.4
SLIP_ODDS = log(0.08)  # how often one named slip happens, against an honest reading
FEWER_ODDS = log(0.02)  # how often an honest reading lacks a decimal of its gauge: it was 0 and not typed
FINER_ODDS = log(1e-4)  # how often it has more than its gauge can show
UNUSUAL_ODDS = log(0.002)  # how often an honest reading lies outside the usual range of its kind
FAULTS = 0.15  # share of the usual range in which a fault of form mostly lies
FIRST_FEW = 0.25  # share of the first scale that is left once one or two neighbours tell the size
ASK_OVER = 0.0  # log odds above which the reading is asked back
ODD = 1.5  # scales away from the neighbours below which a reading is not odd in itself
UNLIKE = 9.0  # scales away from the neighbours at which a reading is asked back without any story


@dataclass(frozen=True, slots=True)
class Around:
    """What a reading is held against, all in inside units: neighbours, limit, usual range."""

    neighbours: tuple[float, ...] = ()
    low: float | None = None
    high: float | None = None
    usual: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Typed:
    """A number as it came: `offset + factor * number` is its value in inside units."""

    number: float
    factor: float = 1.0
    offset: float = 0.0  # the set size, for a gauge that reads deviations
    decimals: int | None = None  # digits after the point; None for a fraction
    gauge_decimals: int | None = None
    length: bool = True  # only lengths can be mistaken between inch and millimetre
    inch: bool = False  # the unit in which it was read

    def value(self, times: float = 1.0) -> float:
        """The value if the number was meant `times` larger [inside unit]."""
        return self.offset + self.factor * self.number * times


@dataclass(frozen=True, slots=True)
class Slip:
    """A reading to be asked back. `kind` is inch, mm, thou, point or unlike; `value` what it would be then."""

    kind: str
    times: float
    value: float
    centre: float
    apart: float  # how many times over (above 1) or under (below 1) its neighbours the reading came
    first: bool  # nothing but the limit and the usual range to hold it against


def slip(typed: Typed, around: Around) -> Slip | None:
    """The slip that explains this reading better than its own value does, or None.

    A reading that no named slip explains is asked back only when it lies far outside all that is known.
    """
    centre, scale = place_and_scale(around, typed.offset)
    if scale == inf:
        return None
    as_it_came = _honest(typed, centre, scale) + (0.0 if _allowed(typed.value(), around) else UNUSUAL_ODDS)
    told = [(_slipped(typed, kind, times, centre, scale), kind, times) for kind, times in _stories(typed)]
    best, kind, times = max(told, default=(-inf, "", 1.0))
    apart = _apart(typed.value(), centre)
    if best - as_it_came > ASK_OVER and _odd(typed, around, centre, scale):
        return Slip(kind, times, typed.value(times), centre, apart, not around.neighbours)
    if abs(typed.value() - centre) > UNLIKE * scale and not (around.usual and _allowed(typed.value(), around)):
        return Slip("unlike", 1.0, typed.value(), centre, apart, not around.neighbours)
    return None


def place_and_scale(around: Around, offset: float = 0.0) -> tuple[float, float]:
    """Where a reading should lie and how far off it may reasonably be; (0, inf) when nothing is known.

    `offset` is the set size of a gauge that reads deviations: these scatter by their own size, not by that of the bore.
    """
    wide, centre = _bounds(around)
    if len(around.neighbours) < 3:  # a median of two may be half a slip
        near = [value for value in around.neighbours if wide == inf or abs(value - centre) <= 3 * wide]
        if not near:
            return centre, wide
        return median(near), wide * FIRST_FEW if wide < inf else abs(median(near)) / 4
    centre = median(around.neighbours)
    spread = 1.4826 * median(abs(value - centre) for value in around.neighbours)
    floor = 0.05 * wide if wide < inf else 0.02 * abs(centre - offset)
    return centre, max(spread, floor, 0.004 * abs(centre - offset), 1e-4)


def _bounds(around: Around) -> tuple[float, float]:
    """Half-width and middle of what the limit and the usual range allow."""
    ends = [end for end in (around.low, around.high) if end is not None]
    if len(ends) == 2:
        return max(abs(ends[1] - ends[0]), 0.02 * abs(ends[0])), sum(ends) / 2
    if around.usual and ends and around.usual[0] <= ends[0] <= around.usual[1] and abs(ends[0]) > 1.0:
        return 0.05 * abs(ends[0]), ends[0]  # a large dimension with one limit lies near that limit
    if around.usual and around.usual[0] == 0:  # runout, taper, a gap: mostly far below the most that is usual
        return FAULTS * around.usual[1], FAULTS * around.usual[1]
    if around.usual:
        low, high = around.usual
        return max((high - low) / 2, 1e-3), (low + high) / 2
    if ends:
        return max(abs(ends[0]), 1e-3), ends[0] / 2 if around.low is None else ends[0]
    return inf, 0.0


def _stories(typed: Typed) -> list[tuple[str, float]]:
    if typed.number == 0:  # nothing moves a point in 0
        return []
    points = [("point", 10.0), ("point", 0.1), ("point", 100.0), ("point", 0.01)]
    if not typed.length:
        return points
    units = [("inch", INCH)] if not typed.inch else [("mm", 1 / INCH), ("thou", 0.001)]
    return units + points


def _honest(typed: Typed, centre: float, scale: float) -> float:
    return _log_density(typed.value(), centre, scale) + _decimals_odds(typed)


def _decimals_odds(typed: Typed, moved: int = 0) -> float:
    """How well the digits fit the gauge, if the point was meant so many places further left."""
    if typed.decimals is None or typed.gauge_decimals is None:
        return 0.0
    if typed.gauge_decimals == typed.decimals == 0:  # whole numbers: not a point moved, a nought too many or too few
        moved = 0
    more = typed.decimals + moved - typed.gauge_decimals
    return FINER_ODDS if more > 0 else -more * FEWER_ODDS


def _slipped(typed: Typed, kind: str, times: float, centre: float, scale: float) -> float:
    """Log likelihood of the number if it was meant `times` larger; log(times) is the change of variable."""
    digits = _decimals_odds(typed, -round(log10(times))) if kind == "point" else _unit_odds(typed, kind)
    return SLIP_ODDS + log(times) + _log_density(typed.value(times), centre, scale) + digits


def _unit_odds(typed: Typed, kind: str) -> float:
    """How well the digits fit a gauge of the other unit: it shows one decimal more in inch, one or more less in mm."""
    if kind not in ("inch", "mm") or typed.decimals is None or typed.gauge_decimals is None:
        return 0.0
    shown = typed.gauge_decimals + (1 if kind == "inch" else -1)
    if kind == "mm" and typed.decimals > shown:
        return FINER_ODDS
    return max(shown - typed.decimals, 0) * FEWER_ODDS


def _log_density(value: float, centre: float, scale: float) -> float:
    """Student's density with three degrees of freedom, up to a constant: heavy tails for worn parts."""
    return -2.0 * log1p(((value - centre) / scale) ** 2 / 3.0)


def _odd(typed: Typed, around: Around, centre: float, scale: float) -> bool:
    """Whether the reading looks odd in itself: a story alone, however neat, asks nothing back."""
    return _decimals_odds(typed) < 0 or abs(typed.value() - centre) > ODD * scale or not _allowed(typed.value(), around)


def _allowed(value: float, around: Around) -> bool:
    return around.usual is None or around.usual[0] <= value <= around.usual[1]


def _apart(value: float, centre: float) -> float:
    return value / centre if centre else inf


def decimals(text: str) -> int | None:
    """Digits after the point of a number as typed; None when it is a fraction."""
    if "/" in text:
        return None
    after = text.replace(",", ".").partition(".")[2]
    return len(after) - len(after.lstrip("0123456789"))
