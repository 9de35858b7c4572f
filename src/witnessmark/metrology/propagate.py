"""From the budget of readings to the doubt of values, shared errors kept apart to the end.

A derived value y = Σ c·x takes G = J·C from the shared sources, so what is common to its readings cancels in a
difference and adds in a sum, with no covariance matrix ever formed (JCGM 100:2008, 5.2.2 and F.1.2.3):

    u² = Σ over sources G² + Σ over readings c² (scatter² + step²)
    ν  = u⁴ / (Σ G⁴/ν_source + Σ over pools (Σ c² estimated²)²/ν_pool)        (JCGM 100:2008, G.4.1)

Readings that draw their scatter on one estimate form one pool, and count once in ν: ν readings' worth of knowledge does
not grow by being used twice.
"""

from dataclasses import dataclass
from math import inf

import numpy as np
from numpy.typing import ArrayLike

from witnessmark.metrology.batch import Batch
from witnessmark.metrology.doubt import Doubt
from witnessmark.metrology.source import UNIFORM, Flags, Floats, Indices


@dataclass(frozen=True, slots=True)
class Terms:
    """What made derived values: `item` and `coefficient` sorted by row, rows m begin at `begin[m]`; and G by row."""

    item: Indices
    coefficient: Floats
    begin: Indices
    shared_row: Indices
    shared_source: Indices
    shared: Floats


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a budget: contribution [mm, signed where shared], share of the variance, degrees of freedom."""

    kind: str
    key: str
    contribution: float
    share: float
    dof: float


@dataclass(frozen=True, slots=True)
class Derived:
    """Derived values with their doubt, and all that is needed to show the budget of any of them."""

    doubt: Doubt
    terms: Terms
    batch: Batch


def of_readings(batch: Batch) -> Doubt:
    """Doubt of each reading by itself."""
    shared2 = batch.contribution**2
    scatter2, step2 = batch.scatter**2, batch.step**2
    variance = shared2.sum(1) + scatter2 + step2
    known = batch.estimated**4 / batch.pool_dof[batch.pool]
    per_dof, uniform = np.append(batch.sources.per_dof, 0.0), np.append(batch.sources.uniform, False)
    if per_dof.any():
        known = known + (shared2 * shared2 * per_dof[batch.source]).sum(1)
    widest2 = np.maximum(np.where(uniform[batch.source], shared2, 0.0).max(1, initial=0.0), step2)
    return Doubt(batch.value, np.sqrt(variance), _dof(variance, known), UNIFORM * np.sqrt(widest2), batch.scatter)


def combine(
    batch: Batch,
    row: ArrayLike,
    item: ArrayLike,
    coefficient: ArrayLike,
    n_rows: int,
    *,
    value: ArrayLike | None = None,
) -> Derived:
    """Values y[row] = Σ coefficient · x[item]; all three (terms,), rows in any order, an item as often as it occurs.

    For a law that is not linear give its slopes as coefficients and its result as `value` (n_rows,).
    """
    terms = _terms(batch, *_merged_terms(row, item, coefficient, len(batch.value)), n_rows)
    own_row = np.repeat(np.arange(n_rows), np.diff(terms.begin))
    scatter2 = (terms.coefficient * batch.scatter[terms.item]) ** 2
    step2 = (terms.coefficient * batch.step[terms.item]) ** 2
    shared2 = terms.shared**2
    repeat2 = _sum(own_row, scatter2, n_rows)
    variance = repeat2 + _sum(own_row, step2, n_rows) + _sum(terms.shared_row, shared2, n_rows)
    known = _pooled(batch, own_row, terms, n_rows)
    known += _sum(terms.shared_row, shared2 * shared2 * batch.sources.per_dof[terms.shared_source], n_rows)
    widest2 = np.zeros(n_rows)
    uniform = batch.sources.uniform[terms.shared_source]
    np.maximum.at(widest2, own_row, step2)
    np.maximum.at(widest2, terms.shared_row[uniform], shared2[uniform])
    if value is None:
        value = _sum(own_row, terms.coefficient * batch.value[terms.item], n_rows)
    found = np.asarray(value, float)
    known_doubt = Doubt(found, np.sqrt(variance), _dof(variance, known), UNIFORM * np.sqrt(widest2), np.sqrt(repeat2))
    return Derived(known_doubt, terms, batch)


def covariance(derived: Derived) -> Floats:
    """Covariance matrix (rows, rows) of a few derived values, for laws that take them further.

    Source: JCGM 100:2008, F.1.2.3.
    """
    terms, batch, n = derived.terms, derived.batch, len(derived.doubt.value)
    own_row = np.repeat(np.arange(n), np.diff(terms.begin))
    shared, own = np.zeros((n, len(batch.sources.rows))), np.zeros((n, len(batch.value)))
    shared[terms.shared_row, terms.shared_source] = terms.shared
    own[own_row, terms.item] = terms.coefficient * np.hypot(batch.scatter, batch.step)[terms.item]
    return shared @ shared.T + own @ own.T


def lines(derived: Derived, row: int) -> tuple[Line, ...]:
    """The budget of one derived value, greatest share first. The shares add to 1."""
    terms, batch = derived.terms, derived.batch
    variance = max(float(derived.doubt.u[row]) ** 2, 1e-300)
    first, last = np.searchsorted(terms.shared_row, [row, row + 1])
    found = [
        _line(source.kind, source.key, float(g), variance, source.dof)
        for s, g in zip(terms.shared_source[first:last], terms.shared[first:last], strict=True)
        for source in (batch.sources.rows[s],)
    ]
    mine = slice(terms.begin[row], terms.begin[row + 1])
    item, coefficient = terms.item[mine], terms.coefficient[mine]
    for pool in np.unique(batch.pool[item]):
        at = batch.pool[item] == pool
        scatter = float(np.linalg.norm(coefficient[at] * batch.scatter[item[at]]))
        step = float(np.linalg.norm(coefficient[at] * batch.step[item[at]]))
        found.append(_line("repeatability", batch.pool_key[pool], scatter, variance, float(batch.pool_dof[pool])))
        found.append(_line("display step", batch.pool_key[pool], step, variance, inf))
    return tuple(sorted((line for line in found if line.share > 0), key=lambda line: -line.share))


def reading_lines(batch: Batch, reading: int) -> tuple[Line, ...]:
    """The budget of one reading, greatest share first."""
    return lines(combine(batch, [0], [reading], [1.0], 1), 0)


def _line(kind: str, key: str, contribution: float, variance: float, dof: float) -> Line:
    return Line(kind, key, contribution, contribution**2 / variance, dof)


def _terms(batch: Batch, row: Indices, item: Indices, coefficient: Floats, n_rows: int) -> Terms:
    """Gather G = J·C by row and source, with one sort over what the rows touch."""
    source = batch.source[item]
    at, place = np.nonzero(source >= 0)
    code = row[at] * max(len(batch.sources.rows), 1) + source[at, place]
    pairs, which = np.unique(code, return_inverse=True)
    shared = _sum(which, coefficient[at] * batch.contribution[item[at], place], len(pairs))
    shared_row, shared_source = np.divmod(pairs, max(len(batch.sources.rows), 1))
    return Terms(item, coefficient, np.searchsorted(row, np.arange(n_rows + 1)), shared_row, shared_source, shared)


def _merged_terms(
    row: ArrayLike, item: ArrayLike, coefficient: ArrayLike, n_items: int
) -> tuple[Indices, Indices, Floats]:
    """Sorted by row, with the coefficients of a reading named twice in one row added up: its noise is one noise."""
    row, item, coefficient = (np.ravel(a) for a in np.broadcast_arrays(row, item, coefficient))
    code = row.astype(np.int64) * n_items + item
    if (np.diff(code) > 0).all():
        return row.astype(np.int64), item.astype(np.int64), coefficient.astype(float)
    pairs, which = np.unique(code, return_inverse=True)
    sorted_row, sorted_item = np.divmod(pairs, n_items)
    return sorted_row, sorted_item, _sum(which, coefficient.astype(float), len(pairs))


def _pooled(batch: Batch, row: Indices, terms: Terms, n_rows: int) -> Floats:
    """Σ over pools of (Σ c² estimated²)²/ν of the pool, by row."""
    pools, item = len(batch.pool_dof), terms.item
    seen2 = (terms.coefficient * batch.estimated[item]) ** 2
    finite: Flags = seen2 > 0
    if not finite.any():
        return np.zeros(n_rows)
    pairs, which = np.unique(row[finite] * pools + batch.pool[item[finite]], return_inverse=True)
    pooled = np.bincount(which, seen2[finite], len(pairs))
    pair_row, pair_pool = np.divmod(pairs, pools)
    return _sum(pair_row, pooled * pooled / batch.pool_dof[pair_pool], n_rows)


def _sum(row: Indices, terms: Floats, n_rows: int) -> Floats:
    return np.bincount(row, terms, n_rows).astype(float)


def _dof(variance: Floats, known: Floats) -> Floats:
    """Welch-Satterthwaite; infinite where every part is taken as known."""
    found: Floats = np.divide(variance * variance, known, out=np.full(variance.shape, inf), where=known > 0)
    return found
