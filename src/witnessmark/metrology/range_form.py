"""Form as a range: greatest less least over stations (taper, out-of-round, spread), judged by the own noise alone.

What all stations share cancels in a range; what remains is the noise σ of each, and noise mostly widens a range: a
perfect part reads d2·σ on average. So a range has no chance of conformity like a value; in its place stands the chance
of seeing such a range if the true one were exactly at the limit:

    within   a greater range is seen with chance at least 0.95, one station at each end and the others midway, where
             ranges come least
    out      such a range or a greater is seen with chance at most 0.05, half of the stations at each end, where ranges
             come greatest

A range above its limit is never `within`, though by so coarse a gauge a part at the limit would mostly show more still.
Where σ is an estimate, the chances are averaged over what it may be (Student's way: σ² ν/χ²).

Shapes  Marks (n,) with their number of stations m; everything broadcasts. Units mm.
Noise   `sigma` is the noise of one station, rounding included; `step` the display step when the stations are single
        readings off one display, and 0 when they are derived values or means, whose rounding is like any noise.
Source  Derived; the least favourable shapes and the rounding are held against simulation in the tests.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from witnessmark.metrology.batch import Batch
from witnessmark.metrology.conform import CONFIDENCE, Codes, verdicts
from witnessmark.metrology.coverage import bisect
from witnessmark.metrology.gauge import STEP
from witnessmark.metrology.range_chance import REACH, Ends, chance_of_range, chance_shown, mean_range
from witnessmark.metrology.source import Flags, Floats, Indices

SCALES = 12  # nodes over the distribution of an estimated σ


@dataclass(frozen=True, slots=True)
class RangeMark:
    """Judged ranges (n,): verdict, both chances if the true range were the limit, floor, perfect parts passing."""

    verdict: Codes
    p_at_limit_within: Floats
    p_at_limit_out: Floats
    floor: Floats
    perfect_passes: Floats


@dataclass(frozen=True, slots=True)
class Noise:
    """Noise of one station for each group: σ with rounding, its degrees of freedom, and the display step if common."""

    sigma: Floats
    dof: Floats
    step: Floats


def within_shape(stations: int) -> Ends:
    """Stations at the low end, the high end and midway that make a range look least."""
    return 1, 1, stations - 2


def out_shape(stations: int) -> Ends:
    """Stations at the low end, the high end and midway that make a range look greatest."""
    return stations // 2, stations - stations // 2, 0


def chances_at_limit(
    r: ArrayLike,
    limit: ArrayLike,
    sigma: ArrayLike,
    stations: ArrayLike,
    *,
    dof: ArrayLike = np.inf,
    step: ArrayLike = 0.0,
) -> tuple[Floats, Floats]:
    """With the true range at `limit`: chance of more than `r` as `within` asks it, of `r` or more as `out` asks it."""
    r, limit, sigma, m, dof, step = _spread(r, limit, sigma, stations, dof, step)
    noise = Noise(sigma, dof, step)
    more = 1 - _by_stations(r, limit, m, noise, within_shape)
    return more, 1 - _by_stations(r - step, limit, m, noise, out_shape)


def _by_stations(r: Floats, limit: Floats, m: Floats, noise: Noise, shape: Callable[[int], Ends]) -> Floats:
    """Chance of a range at most r with the true one at the limit, for marks of unlike numbers of stations."""
    chance = np.empty(r.shape)
    for count in np.unique(m):
        at = m == count
        mine = Noise(noise.sigma[at], noise.dof[at], noise.step[at])
        chance[at] = _at_most(r[at], limit[at], mine, shape(int(count)))
    return chance


def _at_most(r: Floats, limit: Floats, noise: Noise, ends: Ends) -> Floats:
    """Chance of a range at most r, for σ known or estimated, off a display (step above 0) or not."""
    sigma, dof, step = noise.sigma, noise.dof, noise.step
    scale, weight = _scales(dof)
    spread = np.maximum(sigma[..., None], 1e-300) * scale
    r, limit, step = r[..., None], limit[..., None], np.broadcast_to(step[..., None], spread.shape)
    shown = step > 0
    if not shown.any():
        smooth: Floats = chance_of_range(r / spread, limit / spread, ends) @ weight
        return smooth
    scatter = np.sqrt(np.maximum(spread**2 - (step / STEP) ** 2, 0.0))
    off_display = chance_shown(r, limit, scatter, np.where(shown, step, 1.0), ends)
    if not shown.all():
        off_display = np.where(shown, off_display, chance_of_range(r / spread, limit / spread, ends))
    chance: Floats = off_display @ weight
    return chance


def _scales(dof: Floats) -> tuple[Floats, Floats]:
    """What an estimated σ may be, as factors √(ν/χ²) at the nodes of its own distribution, with their weights."""
    from scipy.special import chdtri

    finite = np.isfinite(dof)[..., None]
    if not finite.any():
        return np.ones((*dof.shape, 1)), np.ones(1)
    nodes, weights = np.polynomial.legendre.leggauss(SCALES)
    nu = np.where(finite, dof[..., None], 1.0)
    scale: Floats = np.where(finite, np.sqrt(nu / np.maximum(chdtri(nu, (nodes + 1) / 2), 1e-12)), 1.0)
    return scale, weights / 2


def floor(sigma: ArrayLike, stations: ArrayLike, step: ArrayLike = 0.0) -> Floats:
    """Mean range of a perfect part, d2·σ [mm]; rounding alone widens no range on average, so off a display d2·s."""
    sigma, m, step = _spread(sigma, stations, step)
    scatter = np.sqrt(np.maximum(sigma**2 - (step / STEP) ** 2, 0.0))
    factors = np.array([mean_range(int(count)) for count in m])
    found: Floats = scatter * factors
    return found


def bounds(
    limit: ArrayLike, sigma: ArrayLike, stations: ArrayLike, *, dof: ArrayLike = np.inf, step: ArrayLike = 0.0
) -> tuple[Floats, Floats]:
    """Greatest range that is `within` and least that is `out` [mm]. The first is nan where no range is `within`."""
    limit, sigma, m, dof, step = _spread(limit, sigma, stations, dof, step)
    alike, which = np.unique(np.stack([limit, sigma, m, dof, step]), axis=1, return_inverse=True)
    within, out = _bounds(tuple(map(tuple, alike.tolist())))
    return within[which.reshape(limit.shape)], out[which.reshape(limit.shape)]


@lru_cache(maxsize=64)
def _bounds(alike: tuple[tuple[float, ...], ...]) -> tuple[Floats, Floats]:
    """Remembered: the same gauges meet the same limits again after every reading."""
    limit, sigma, m, dof, step = np.array(alike, float).reshape(5, -1)
    noise = Noise(sigma, dof, step)
    wide = np.where(np.isfinite(dof), 1 + 40 / np.maximum(dof, 1.0) ** 2, 1.0)
    top = limit + 4 * REACH * sigma * wide + step
    zero = np.zeros(limit.shape)

    def may_pass(r: Floats) -> Flags:
        return 1 - _by_stations(r, limit, m, noise, within_shape) >= CONFIDENCE

    def not_out(r: Floats) -> Flags:
        return _by_stations(r - step, limit, m, noise, out_shape) < CONFIDENCE

    within = np.where(may_pass(zero), np.minimum(bisect(may_pass, zero, top), limit), np.nan)
    return within, bisect(not_out, zero, top)


def judge_range(
    r: ArrayLike,
    limit: ArrayLike,
    sigma: ArrayLike,
    stations: ArrayLike,
    *,
    dof: ArrayLike = np.inf,
    step: ArrayLike = 0.0,
) -> RangeMark:
    """Judge ranges against the most they may be. Raises ValueError for fewer than 2 stations."""
    r, limit, sigma, m, dof, step = _spread(r, limit, sigma, stations, dof, step)
    if (m < 2).any():
        raise ValueError("a range needs 2 stations at least; judge a swept indicator reading as one value")
    more, as_much = chances_at_limit(r, limit, sigma, m, dof=dof, step=step)
    may_pass, _ = bounds(limit, sigma, m, dof=dof, step=step)
    perfect = np.zeros(r.shape)
    for count in np.unique(m):
        at = (m == count) & ~np.isnan(may_pass)
        known = Noise(sigma[at], np.full(int(at.sum()), np.inf), step[at])
        perfect[at] = _at_most(may_pass[at], np.zeros(int(at.sum())), known, (int(count), 0, 0))
    verdict = verdicts(np.where(r <= limit, more, np.nan), 1 - as_much)
    return RangeMark(verdict, more, as_much, floor(sigma, m, step), perfect)


def own_noise(batch: Batch, item: ArrayLike, group: ArrayLike, groups: int) -> Noise:
    """Noise of one station of each group: own noise and what the stations do not share.

    `item` (stations,) are readings of the batch, `group` (stations,) the mark each belongs to. The spread of the shared
    contributions over the stations of a group (another gauge, another size group) counts as noise.
    """
    item, group = np.asarray(item), np.asarray(group)
    count = np.maximum(np.bincount(group, minlength=groups), 1)

    def mean(field: Floats) -> Floats:
        return np.bincount(group, field, groups) / count

    step = batch.step[item]
    variance = mean(batch.scatter[item] ** 2 + step**2) + _unshared(batch, item, group, count)
    known = mean(batch.estimated[item] ** 4 / batch.pool_dof[batch.pool[item]])
    dof: Floats = np.divide(variance**2, known, out=np.full(groups, np.inf), where=known > 0)
    mean_step = mean(step)
    common = np.isclose(mean(step**2), mean_step**2, rtol=1e-9)
    return Noise(np.sqrt(variance), dof, np.where(common, mean_step * STEP, 0.0))


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
