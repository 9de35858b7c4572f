"""Does a value lie within its limits? Chances after JCGM 106:2012, and the three verdicts.

A verdict rests on these chances alone, never on who bears the doubt.

    within              the chance of lying within both limits is at least 0.95
    out                 the chance of lying beyond one of them, less that of lying beyond the other, is at least 0.95
    too close to call   neither

`out` asks about one limit and not about 1 − p: with two limits nearer than the doubt is wide, p is small wherever the
value lies, and a part in the very middle would be condemned.

Shapes  (n,) throughout; limits broadcast. A limit that is absent is nan or infinite.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike, NDArray

from witnessmark.metrology.coverage import error_cdf
from witnessmark.metrology.doubt import Doubt, take
from witnessmark.metrology.source import Floats

CONFIDENCE = 0.95
WITHIN, OUT, TOO_CLOSE = 0, 1, 2
VERDICTS = ("within", "out", "too close to call")
Codes = NDArray[np.int8]

_ROUNDING = 1e-12  # so that a chance of exactly 0.95 is not lost to the last bit


def low_limit(low: ArrayLike) -> Floats:
    """Low limit with absence as −∞."""
    low = np.asarray(low, float)
    return np.where(np.isnan(low), -np.inf, low)


def high_limit(high: ArrayLike) -> Floats:
    """High limit with absence as +∞."""
    high = np.asarray(high, float)
    return np.where(np.isnan(high), np.inf, high)


def chance_below(known: Doubt, limit: ArrayLike) -> Floats:
    """Chance that the true value lies at or below `limit`."""
    return error_cdf(np.asarray(limit, float) - known.value, known.rest, known.half, known.rest_dof)


def chance_above(known: Doubt, limit: ArrayLike) -> Floats:
    """Chance that the true value lies at or above `limit`; exact in the far tail too, since the error is symmetric."""
    return error_cdf(known.value - np.asarray(limit, float), known.rest, known.half, known.rest_dof)


def chances(known: Doubt, low: ArrayLike, high: ArrayLike) -> tuple[Floats, Floats]:
    """Chance of lying below the low limit, and chance of lying above the high one; 0 where there is no such limit."""
    low, high = np.broadcast_to(low_limit(low), known.u.shape), np.broadcast_to(high_limit(high), known.u.shape)
    return _where_limited(known, low, chance_below), _where_limited(known, high, chance_above)


def _where_limited(known: Doubt, limit: Floats, chance: Callable[[Doubt, Floats], Floats]) -> Floats:
    limited = np.isfinite(limit)
    if limited.all():
        return chance(known, limit)
    found = np.zeros(limit.shape)
    if limited.any():
        found[limited] = chance(take(known, limited), limit[limited])
    return found


def chance_within(known: Doubt, low: ArrayLike, high: ArrayLike) -> Floats:
    """Chance of conformity p (JCGM 106:2012, clause 7)."""
    below, above = chances(known, low, high)
    return np.clip(1 - below - above, 0.0, 1.0)


def beyond(below: ArrayLike, above: ArrayLike) -> Floats:
    """What `out` asks about: the chance of lying beyond one limit, less that of lying beyond the other.

    For one limit and for wide ones that is the greater of the two. Between limits nearer than about 2 u the greater
    alone would condemn 6.6 % of the parts that stand exactly at a limit, from both sides; the difference condemns 5 %
    at every width (docs/decisions/0103). Stands here once, for all rules; a chance that is not known counts as none.
    """
    apart: Floats = np.abs(np.nan_to_num(np.asarray(below, float)) - np.nan_to_num(np.asarray(above, float)))
    return apart


def verdicts(p_within: ArrayLike, p_beyond: ArrayLike, confidence: ArrayLike = CONFIDENCE) -> Codes:
    """Verdict codes, places in `VERDICTS`; `p_beyond` is what `beyond` gives.

    `confidence` is what `out` asks; `within` asks 0.95 always. A chance that is not known (nan) proves nothing.
    """
    out = np.asarray(p_beyond, float) >= np.asarray(confidence, float) - _ROUNDING
    within = np.asarray(p_within, float) >= CONFIDENCE - _ROUNDING
    return np.where(within, WITHIN, np.where(out, OUT, TOO_CLOSE)).astype(np.int8)


def judge(known: Doubt, low: ArrayLike, high: ArrayLike) -> tuple[Codes, Floats]:
    """Verdict code and chance of conformity of each value against its own limits."""
    below, above = chances(known, low, high)
    p_within = np.clip(1 - below - above, 0.0, 1.0)
    return verdicts(p_within, beyond(below, above)), p_within


def towards_doubt(p: ArrayLike, digits: int = 2) -> Floats:
    """A chance rounded for showing, away from certainty, so that 0.9496 never reads 0.95, nor 0.9996 reads 1."""
    p = np.asarray(p, float)
    scale = 10.0**digits
    certain = (p == 0) | (p == 1)
    shown = np.where(p >= 0.5, np.floor(p * scale + 1e-9), np.ceil(p * scale - 1e-9)) / scale
    return np.where(certain, p, shown)
