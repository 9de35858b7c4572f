"""Guard bands: how far a value must stand from its limit to be `within`, and how far beyond it to be `out`.

The two lengths are equal for one limit alone. They differ for two limits that lie close together (`within` needs more,
`out` does not), for the worst of m stations (`out` needs more), and for form (see `range_form.bounds`). A mark draws
the bar of the rule that decided.

    one limit, normal               g = 1.645 u for both            (JCGM 106:2012, 8.3; ISO 14253-1:2017 by default)
    two limits less than 3.92 u     no value is `within`: nan
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from witnessmark.metrology import range_form
from witnessmark.metrology.conform import CONFIDENCE, high_limit, low_limit
from witnessmark.metrology.coverage import bisect, error_cdf, error_quantile
from witnessmark.metrology.doubt import Doubt
from witnessmark.metrology.source import Flags, Floats
from witnessmark.metrology.worst import out_confidence

UNSEEN = 1e-9  # chance of lying beyond the other limit that no guard notices


@dataclass(frozen=True, slots=True)
class Guards:
    """Guard lengths (n,) in mm: `within` inward from the limit, nan where no value is within; `out` outward from it."""

    within: Floats
    out: Floats


def guards(known: Doubt, low: ArrayLike, high: ArrayLike, stations: ArrayLike = 1) -> Guards:
    """Guards of values against their limits; `stations` above 1 for the worst of so many."""
    s, half, dof = known.rest, known.half, known.rest_dof
    alone = error_quantile(CONFIDENCE, s, half, dof)
    out = error_quantile(np.broadcast_to(out_confidence(stations), s.shape), s, half, dof)
    width = np.broadcast_to(high_limit(high) - low_limit(low), s.shape)
    narrow = np.isfinite(width) & (error_cdf(alone - width, s, half, dof) > UNSEEN)
    within = alone.copy()
    if narrow.any():
        mine = s[narrow], half[narrow], dof[narrow]
        within[narrow] = _between(*mine, width[narrow], alone[narrow])
        asked = np.broadcast_to(out_confidence(stations), s.shape)[narrow]
        out[narrow] = _beside(*mine, width[narrow], out[narrow], asked)
    return Guards(np.where(np.isfinite(width) & (2 * within > width), np.nan, within), out)


def _between(s: Floats, half: Floats, dof: Floats, width: Floats, alone: Floats) -> Floats:
    """g with P(E ≤ g) − P(E ≤ g − width) = 0.95, between the one-sided guard and the middle of the limits."""

    def p(g: Floats) -> Floats:
        return error_cdf(g, s, half, dof) - error_cdf(g - width, s, half, dof)

    found = bisect(lambda g: p(g) < CONFIDENCE, np.minimum(alone, width / 2), width / 2)
    return np.where(p(width / 2) < CONFIDENCE, np.nan, found)


def _beside(s: Floats, half: Floats, dof: Floats, width: Floats, alone: Floats, asked: Floats) -> Floats:
    """g with P(E ≤ g) − P(E ≥ g + width) as asked: from the one-sided guard outward."""

    def short(g: Floats) -> Flags:
        chance: Flags = error_cdf(g, s, half, dof) - error_cdf(-(g + width), s, half, dof) < asked
        return chance

    return bisect(short, alone, alone + 2 * width + alone)


def range_guards(
    limit: ArrayLike, sigma: ArrayLike, stations: ArrayLike, *, dof: ArrayLike = np.inf, step: ArrayLike = 0.0
) -> Guards:
    """Guards of a range against the most it may be."""
    within, out = range_form.bounds(limit, sigma, stations, dof=dof, step=step)
    return Guards(np.asarray(limit, float) - within, out - np.asarray(limit, float))
