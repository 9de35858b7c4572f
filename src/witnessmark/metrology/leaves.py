"""Readings with feeler leaves: the gap lies between the leaf that enters and the one that does not.

A gap so known is uniform over [enters, stops), and each end has the leaf's own error. The shop's rule settles a limit
that is itself a leaf by that leaf's marked thickness: with "most 0.05", the 0.05 leaf refused is `within` and the 0.05
leaf entering is `out`. A limit between two leaves is a matter of chance, and the cure is a leaf of its thickness.

Shapes  (n,); `enters` is 0 where not even the thinnest leaf entered, `stops` infinite where the thickest did.
Units   mm. `leaf_error` is a ± bound, taken as uniform: u = bound / √3, and as normal in the sum with the interval.
"""

import numpy as np
from numpy.typing import ArrayLike

from witnessmark.metrology.conform import Codes, beyond, high_limit, low_limit, verdicts
from witnessmark.metrology.coverage import error_cdf
from witnessmark.metrology.source import UNIFORM, Flags, Floats

SAME_LEAF = 1e-6  # mm: an inch leaf and its limit meet after conversion


def chance_gap_below(limit: ArrayLike, enters: ArrayLike, stops: ArrayLike, leaf_error: ArrayLike = 0.0) -> Floats:
    """Chance that the gap is less than `limit`; nan where the thickest leaf entered and the limit lies beyond it."""
    limit, enters, stops, error = _spread(limit, enters, stops, leaf_error)
    closed = np.isfinite(stops)
    end = np.where(closed, stops, enters)
    half = (end - enters) / 2
    chance = error_cdf(limit - (end + enters) / 2, error / UNIFORM, half)
    chance = np.where(closed, chance, np.where(limit > enters, np.nan, np.minimum(chance, 0.5)))
    return np.where(_meet(limit, stops), 1.0, np.where(_meet(limit, enters), 0.0, chance))


def chances(
    enters: ArrayLike, stops: ArrayLike, low: ArrayLike, high: ArrayLike, leaf_error: ArrayLike = 0.0
) -> tuple[Floats, Floats]:
    """Chance that the gap is less than the low limit, and that it is more than the high one; 0 without such a limit."""
    low, high = low_limit(low), high_limit(high)
    below = np.where(np.isfinite(low), chance_gap_below(low, enters, stops, leaf_error), 0.0)
    above = np.where(np.isfinite(high), 1 - chance_gap_below(high, enters, stops, leaf_error), 0.0)
    return below, above


def judge_leaves(
    enters: ArrayLike, stops: ArrayLike, low: ArrayLike, high: ArrayLike, leaf_error: ArrayLike = 0.0
) -> tuple[Codes, Floats]:
    """Verdict and chance of conformity (nan where not known). At "most 0.05" the entering 0.05 leaf is `out`."""
    below, above = chances(enters, stops, low, high, leaf_error)
    p_within = np.clip(1 - below - above, 0.0, 1.0)
    return verdicts(p_within, beyond(below, above)), p_within


def leaf_that_settles(enters: ArrayLike, stops: ArrayLike, low: ArrayLike, high: ArrayLike) -> Floats:
    """Thickness of the leaf to try next: that of the limit which lies between the two leaves; nan where none does."""
    low, high, enters, stops = _spread(low, high, enters, stops)
    for_low, for_high = _parted(low, enters, stops), _parted(high, enters, stops)
    return np.where(for_high, high, np.where(for_low, low, np.nan))


def _parted(limit: Floats, enters: Floats, stops: Floats) -> Flags:
    between: Flags = (limit > enters + SAME_LEAF) & (limit < stops - SAME_LEAF)
    return between


def _meet(limit: Floats, leaf: Floats) -> Flags:
    both = np.isfinite(limit) & np.isfinite(leaf)
    met: Flags = both & (np.abs(np.where(both, limit, 0.0) - np.where(both, leaf, 0.0)) <= SAME_LEAF)
    return met


def _spread(*fields: ArrayLike) -> tuple[Floats, ...]:
    return tuple(np.atleast_1d(a) for a in np.broadcast_arrays(*(np.asarray(f, float) for f in fields)))
