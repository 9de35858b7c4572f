"""Form as a range: greatest less least over stations (taper, out-of-round, spread), judged by the own noise alone.

What all stations share cancels in a range; what remains is the noise σ of each, and noise only ever widens a range: a
perfect part reads d2·σ on average. So a range has no chance of conformity like a value; in its place stands the chance
of seeing at least this range if the true one were exactly at the limit:

    within   that chance is at least 0.95 with one station at each end and the others midway, where ranges come least
    out      it is at most 0.05 with half of the stations at each end, where ranges come greatest

    P(range ≤ r) = Σ over stations i of ∫ f_i(x) Π over j ≠ i of [F_j(x + r) − F_j(x)] dx

Both by quadrature; where σ is an estimate, averaged over what it may be (Student's way: σ²·ν/χ²).

Shapes  Marks (n,) with their number of stations m; everything broadcasts. Units mm.
Source  Distribution of the range: Tippett 1925 (value from memory, the table of d2 is in the tests); the least
        favourable shapes are derived and held against simulation.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from witnessmark.metrology.batch import Batch
from witnessmark.metrology.conform import CONFIDENCE, Codes, verdicts
from witnessmark.metrology.coverage import bisect
from witnessmark.metrology.source import Floats, Indices

_NODES = 64  # Gauss-Legendre; a smooth integrand over ± 8.5 σ comes right to 1e-9
_REACH = 8.5  # in σ: the normal tail beyond is 1e-17
_SCALES = 16  # nodes over the distribution of an estimated σ


@dataclass(frozen=True, slots=True)
class RangeMark:
    """Judged ranges (n,): verdict, both chances if the true range were the limit, floor, perfect parts passing."""

    verdict: Codes
    p_at_limit_within: Floats
    p_at_limit_out: Floats
    floor: Floats
    perfect_passes: Floats


def chance_of_range(r: ArrayLike, true_range: ArrayLike, ends: tuple[int, int, int]) -> Floats:
    """Chance of a range at most `r`, both in σ, with `ends` = stations at the low end, at the high end, midway."""
    from scipy.special import ndtr

    r, true_range = np.broadcast_arrays(np.asarray(r, float), np.asarray(true_range, float))
    nodes, weights = _legendre()
    places = [(0.0, ends[0]), (1.0, ends[1]), (0.5, ends[2])]
    held = [(part * true_range[..., None], count) for part, count in places if count]
    total = np.zeros(r.shape)
    for i, (centre, count) in enumerate(held):
        x = centre + nodes
        product = np.full(x.shape, float(count))
        for j, (other, others) in enumerate(held):
            power = others - (i == j)
            if power:
                product = product * (ndtr(x + r[..., None] - other) - ndtr(x - other)) ** power
        total += product @ weights
    chance: Floats = np.where(r > 0, np.clip(total, 0.0, 1.0), 0.0)
    return chance


@lru_cache(maxsize=1)
def _legendre() -> tuple[Floats, Floats]:
    nodes, weights = np.polynomial.legendre.leggauss(_NODES)
    nodes = _REACH * nodes
    return nodes, weights * _REACH * np.exp(-0.5 * nodes * nodes) / np.sqrt(2 * np.pi)


def within_shape(stations: int) -> tuple[int, int, int]:
    """Stations at the low end, the high end and midway that make a range look least."""
    return 1, 1, stations - 2


def out_shape(stations: int) -> tuple[int, int, int]:
    """Stations at the low end, the high end and midway that make a range look greatest."""
    return stations // 2, stations - stations // 2, 0


def _chance_at_most(r: Floats, limit: Floats, sigma: Floats, dof: Floats, ends: tuple[int, int, int]) -> Floats:
    """The same in mm, for σ estimated with `dof`."""
    sigma = np.maximum(sigma, 1e-300)
    if not np.isfinite(dof).any():
        return chance_of_range(r / sigma, limit / sigma, ends)
    scale, weight = _scales(dof)
    spread = sigma[..., None] * scale
    chance: Floats = chance_of_range(r[..., None] / spread, limit[..., None] / spread, ends) @ weight
    return chance


def _scales(dof: Floats) -> tuple[Floats, Floats]:
    """What an estimated σ may be, as factors √(ν/χ²) at the nodes of its own distribution, with their weights."""
    from scipy.special import chdtri

    nodes, weights = np.polynomial.legendre.leggauss(_SCALES)
    upper = (nodes + 1) / 2
    finite = np.isfinite(dof)[..., None]
    nu = np.where(finite, dof[..., None], 1.0)
    scale: Floats = np.where(finite, np.sqrt(nu / np.maximum(chdtri(nu, upper), 1e-12)), 1.0)
    return scale, weights / 2


def chance_at_least(
    r: ArrayLike, limit: ArrayLike, sigma: ArrayLike, stations: ArrayLike, dof: ArrayLike = np.inf
) -> tuple[Floats, Floats]:
    """Chance of a range of `r` or more with the true range at `limit`: as `within` asks it, and as `out` does."""
    r, limit, sigma, m, dof = _spread(r, limit, sigma, stations, dof)
    for_within, for_out = np.empty(r.shape), np.empty(r.shape)
    for count in np.unique(m):
        at, n = m == count, int(count)
        mine = (r[at], limit[at], sigma[at], dof[at])
        for_within[at] = 1 - _chance_at_most(*mine, within_shape(n))
        for_out[at] = 1 - _chance_at_most(*mine, out_shape(n))
    return for_within, for_out


def floor(sigma: ArrayLike, stations: ArrayLike) -> Floats:
    """Mean range of a perfect part, d2·σ [mm]."""
    sigma, m = np.broadcast_arrays(np.asarray(sigma, float), np.asarray(stations))
    factors = {int(count): mean_range(int(count)) for count in np.unique(m)}
    found: Floats = sigma * np.vectorize(factors.__getitem__, otypes=[float])(m)
    return found


@lru_cache(maxsize=256)
def mean_range(stations: int) -> float:
    """d2: mean range of `stations` standard normal readings, ∫ 1 − Φ^m − (1 − Φ)^m dx."""
    from scipy.special import ndtr

    if stations < 2:
        raise ValueError(f"a range over {stations} stations does not exist; it needs 2 at least")
    x, weights = np.polynomial.legendre.leggauss(200)
    chance = ndtr(_REACH * x)
    return float(_REACH * (weights @ (1 - chance**stations - (1 - chance) ** stations)))


def bounds(limit: ArrayLike, sigma: ArrayLike, stations: ArrayLike, dof: ArrayLike = np.inf) -> tuple[Floats, Floats]:
    """Greatest range that is `within` and least that is `out` [mm]. The first is nan where no range is `within`."""
    limit, sigma, m, dof = _spread(limit, sigma, stations, dof)
    alike, which = np.unique(np.stack([limit, sigma, m, dof]), axis=1, return_inverse=True)
    within, out = _bounds(*alike)
    return within[which.reshape(limit.shape)], out[which.reshape(limit.shape)]


def _bounds(limit: Floats, sigma: Floats, m: Floats, dof: Floats) -> tuple[Floats, Floats]:
    top = limit + 4 * _REACH * sigma * np.where(np.isfinite(dof), 1 + 40 / np.maximum(dof, 1.0) ** 2, 1.0)
    within = bisect(lambda r: chance_at_least(r, limit, sigma, m, dof)[0] >= CONFIDENCE, np.zeros(limit.shape), top)
    out = bisect(lambda r: chance_at_least(r, limit, sigma, m, dof)[1] > 1 - CONFIDENCE, np.zeros(limit.shape), top)
    return np.where(within > 1e-9 * top, within, np.nan), out


def judge_range(
    r: ArrayLike, limit: ArrayLike, sigma: ArrayLike, stations: ArrayLike, dof: ArrayLike = np.inf
) -> RangeMark:
    """Judge ranges against the most they may be. `sigma` is the noise of one station, with its degrees of freedom."""
    r, limit, sigma, m, dof = _spread(r, limit, sigma, stations, dof)
    if (m < 2).any():
        raise ValueError("a range needs 2 stations at least; judge a swept indicator reading as one value")
    for_within, for_out = chance_at_least(r, limit, sigma, m, dof)
    may_pass, _ = bounds(limit, sigma, m, dof)
    perfect = np.zeros(r.shape)
    for count in np.unique(m):
        at = m == count
        passes = np.nan_to_num(may_pass[at]) / np.maximum(sigma[at], 1e-300)
        perfect[at] = chance_of_range(passes, 0.0, (int(count), 0, 0))
    return RangeMark(verdicts(for_within, 1 - for_out), for_within, for_out, floor(sigma, m), perfect)


def own_noise(batch: Batch, item: ArrayLike, group: ArrayLike, groups: int) -> tuple[Floats, Floats]:
    """Noise σ of one station of each group, with degrees of freedom: own noise and what the stations do not share.

    `item` (stations,) are readings of the batch, `group` (stations,) the mark each belongs to. The spread of the shared
    contributions over the stations of a group (another gauge, another size group) counts as noise.
    """
    item, group = np.asarray(item), np.asarray(group)
    count = np.bincount(group, minlength=groups)
    scatter2 = np.bincount(group, batch.scatter[item] ** 2, groups) / np.maximum(count, 1)
    step2 = np.bincount(group, batch.step[item] ** 2, groups) / np.maximum(count, 1)
    unshared2 = _unshared(batch, item, group, count)
    known = np.bincount(group, batch.scatter[item] ** 4 / batch.pool_dof[batch.pool[item]], groups) / np.maximum(
        count, 1
    )
    variance = scatter2 + step2 + unshared2
    dof: Floats = np.divide(variance**2, known, out=np.full(groups, np.inf), where=known > 0)
    return np.sqrt(variance), dof


def _unshared(batch: Batch, item: Indices, group: Indices, count: Indices) -> Floats:
    """Variance over the stations of a group that their shared sources do not have in common."""
    source = batch.source[item]
    at, place = np.nonzero(source >= 0)
    sources = max(len(batch.sources.rows), 1)
    c = batch.contribution[item[at], place]
    pairs, which = np.unique(group[at] * sources + source[at, place], return_inverse=True)
    row = pairs // sources
    m = count[row]
    mean2 = (np.bincount(which, c, len(pairs)) / m) ** 2
    away = np.bincount(which, c * c, len(pairs)) / m - mean2
    spread = np.bincount(row, away * m / np.maximum(m - 1, 1), len(count))
    return np.maximum(spread, 0.0)


def _spread(*fields: ArrayLike) -> tuple[Floats, ...]:
    return tuple(np.atleast_1d(a) for a in np.broadcast_arrays(*(np.asarray(f, float) for f in fields)))
