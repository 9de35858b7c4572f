"""What would settle a value too close to call: more repeats, a better gauge, or the leaf of the limit's own size.

Repeats shrink only the scatter. Two things are told of them: how many it takes *if the mean stays where it is*, and the
chance that they settle the matter, since the mean will not stay. Given the readings so far, the mean of n readings lies
about the present mean of k with variance s² (1/k − 1/n) (derived, with no opinion of the part beforehand).

Plain figures only; the sentences are made elsewhere.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from witnessmark.metrology.conform import CONFIDENCE, TOO_CLOSE, beyond, chances, high_limit, low_limit, verdicts
from witnessmark.metrology.coverage import bisect, student_cdf, student_quantile
from witnessmark.metrology.doubt import Doubt, doubt, take
from witnessmark.metrology.guard import UNSEEN, guards
from witnessmark.metrology.source import Flags, Floats
from witnessmark.metrology.worst import out_confidence

MOST_REPEATS = 25  # beyond this nobody repeats; and what is not in the scatter has long taken over


@dataclass(frozen=True, slots=True)
class Settling:
    """`repeats`: readings in all of each place, None when none up to the most suffices; `chance` that so many settle.

    `verdict` is the code it would then have if the mean stays. `U` is the expanded uncertainty (k = 2) of the whole
    value at which it would be settled where it stands; 0 when it stands on the limit itself, where nothing settles it.
    """

    repeats: int | None
    chance: float
    verdict: int
    U: float


def settle(
    known: Doubt, row: int, low: float, high: float, *, repeats: int = 1, stations: int = 1, most: int = MOST_REPEATS
) -> Settling:
    """What settles one value that now rests on `repeats` readings of each place; `stations` for the worst of so many.

    That the degrees of freedom all come from the scatter is assumed for the forecast.
    """
    one = tuple(float(part[row]) for part in (known.value, known.u, known.dof, known.widest, known.repeat))
    return _settle(one, float(low_limit(low)), float(high_limit(high)), repeats, stations, most)


@lru_cache(maxsize=1024)
def _settle(one: tuple[float, ...], low: float, high: float, repeats: int, stations: int, most: int) -> Settling:
    """Remembered: a display has few graduations near a limit, so the same value comes again after every reading."""
    known = doubt(*one)
    counts = np.arange(repeats + 1, max(most, repeats + 1) + 1)
    later = _with_repeats(take(known, np.zeros(len(counts), int)), repeats / counts)
    below, above = chances(later, low, high)
    codes = verdicts(1 - below - above, beyond(below, above), out_confidence(stations))
    U = 2 * float(needed_u(known.value, low, high, stations)[0])
    settled = np.flatnonzero(codes != TOO_CLOSE)
    if not len(settled) or known.repeat[0] <= 0:
        return Settling(None, 0.0, TOO_CLOSE, U)
    first = int(settled[0])
    moves = float(known.repeat[0]) * np.sqrt(1 - repeats / counts[first])
    chance = _chance_settled(take(later, [first]), low, high, stations, moves)
    return Settling(int(counts[first]), chance, int(codes[first]), U)


def _with_repeats(known: Doubt, shrink: Floats) -> Doubt:
    """The same values with the variance of their scatter shrunk by factors."""
    variance, scatter2 = known.u**2, known.repeat**2
    less = variance - scatter2 * (1 - shrink)
    dof = known.dof * (less / variance / shrink) ** 2
    return Doubt(known.value, np.sqrt(less), dof, known.widest, known.repeat * np.sqrt(shrink))


def _chance_settled(later: Doubt, low: float, high: float, stations: int, moves: float) -> float:
    """Chance that the mean, moving with standard deviation `moves`, comes to rest where it is within or out."""
    bar = guards(later, low, high, stations)
    y, g_in, g_out = float(later.value[0]), float(bar.within[0]), float(bar.out[0])
    low, high = float(low_limit(low)), float(high_limit(high))

    def upto(x: float) -> float:
        return float(student_cdf((x - y) / moves))

    chance = upto(low - g_out) + 1 - upto(high + g_out)
    if not np.isnan(g_in):
        chance += max(upto(high - g_in) - upto(low + g_in), 0.0)
    return min(chance, 1.0)


def needed_u(value: ArrayLike, low: ArrayLike, high: ArrayLike, stations: ArrayLike = 1) -> Floats:
    """Greatest standard uncertainty (n,) at which the value would be settled where it stands, taken as normal [mm]."""
    value, low, high = (np.atleast_1d(a) for a in np.broadcast_arrays(value, low_limit(low), high_limit(high)))
    inside: Flags = (value >= low) & (value <= high)
    quantile = student_quantile(np.where(inside, CONFIDENCE, out_confidence(stations)))
    nearest = np.minimum(np.abs(value - low), np.abs(high - value))
    alone: Floats = nearest / quantile
    both = inside & np.isfinite(low) & np.isfinite(high) & (alone > 0)
    to_low, to_high = value - low, high - value

    def settles(at: Flags, u: Floats) -> Flags:
        return student_cdf(to_high[at] / u) - student_cdf(-to_low[at] / u) >= CONFIDENCE - UNSEEN

    if both.any():
        near = both.copy()
        near[both] = ~settles(both, alone[both])
        alone[near] = bisect(lambda u: settles(near, u), alone[near] * 1e-3, alone[near])
    return alone


def gauge_U(needed: ArrayLike, u: ArrayLike, replaced: ArrayLike, slope: ArrayLike = 1.0) -> Floats:
    """U (k = 2) of a gauge that brings the whole to `needed` [mm]; nan where what stays is already too much.

    `u` is the whole now, `replaced` the part of it that the gauge in use contributes, `slope` by how much the value
    moves with the reading.
    """
    needed, u, replaced = (np.asarray(a, float) for a in (needed, u, replaced))
    spare = needed**2 - np.maximum(u**2 - replaced**2, 0.0)
    found: Floats = np.where(spare > 0, 2 * np.sqrt(np.maximum(spare, 0.0)) / np.abs(slope), np.nan)
    return found
