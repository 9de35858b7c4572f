"""From readings as arrays to a budget: which shared errors each reading carries, and its own noise beside them.

    reading = true value + Σ contribution · (shared error of unit variance) + scatter + rounding

A reading draws on at most: the calibration of its gauge; the permissible error of its gauge within its size group;
each error of the setting event in force; the difference in temperature between part and gauge. These few places are
padded with −1, so a batch grows with its readings and not with readings × sources.

Shapes  n readings, K places; sources in a table of their own. Units mm (N), temperature differences in K.
Source  JCGM 100:2008, 4.3, 5.2 and F.1.2; the split into shared and own parts is derived.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from witnessmark.metrology.gauge import STEP, Gauge, calibration_source, permissible_source
from witnessmark.metrology.source import UNIFORM, Floats, Indices, Source, Sources, intern


@dataclass(frozen=True, slots=True)
class Setting:
    """One setting of a comparator: the errors it carries until it is set again, each with its slope."""

    key: str
    sources: tuple[Source, ...]
    slopes: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Readings:
    """Accepted readings, every field (n,). −1 for no setting and for no temperature source.

    `value` is a mean over `repeats` readings. `gauge`, `setting` and `temperature` are places in the tables given to
    `budget`; `size_group` is any number that is equal for sizes near each other; `nominal` [mm] and `expansion` [1/K]
    turn a difference in temperature into a length. `width` [mm] is what the reading leaves open: the step of the
    display, or for leaves the gap between the one that enters and the one that does not, `value` being its middle.
    """

    value: Floats
    gauge: Indices
    size_group: Indices
    setting: Indices
    temperature: Indices
    nominal: Floats
    expansion: Floats
    repeats: Indices
    width: Floats


@dataclass(frozen=True, slots=True)
class Batch:
    """The budget of n readings: `source` (n, K) into `sources`, −1 padded, and its `contribution` (n, K) in mm.

    Own noise: `scatter` is the standard uncertainty that repeats shrink; `step` that of the display step (or of the gap
    between two leaves and their own error), which they do not. `estimated` is the part whose size was found from n
    readings: the scatter *with* the rounding that was taken off it, since what was seen, not what is left, has the
    n − 1 degrees of freedom; 0 where it is taken as known. `pool` says which estimate of scatter the reading draws on
    and `pool_dof` (pools,) how well that is known: two readings that lean on one estimate do not know it twice as well.
    """

    value: Floats
    scatter: Floats
    step: Floats
    estimated: Floats
    pool: Indices
    pool_dof: Floats
    pool_key: tuple[str, ...]
    source: NDArray[np.int32]
    contribution: Floats
    sources: Sources


def readings(
    value: ArrayLike,
    gauge: ArrayLike = 0,
    *,
    size_group: ArrayLike = 0,
    setting: ArrayLike = -1,
    temperature: ArrayLike = -1,
    nominal: ArrayLike = 0.0,
    expansion: ArrayLike = 11.5e-6,
    repeats: ArrayLike = 1,
    width: ArrayLike = np.nan,
) -> Readings:
    """Readings from whatever is at hand: single figures are spread over all. No `width` is the step of the gauge."""
    value = np.atleast_1d(np.asarray(value, float))
    places = [np.asarray(field, np.int64) for field in (gauge, size_group, setting, temperature, repeats)]
    sizes = [np.asarray(field, np.float64) for field in (nominal, expansion, width)]
    gauge, size_group, setting, temperature, repeats = (np.broadcast_to(field, value.shape) for field in places)
    nominal, expansion, width = (np.broadcast_to(field, value.shape) for field in sizes)
    return Readings(value, gauge, size_group, setting, temperature, nominal, expansion, repeats, width)


def size_groups(size: ArrayLike, reach: float = 1.0) -> Indices:
    """Groups of sizes [mm] within which a permissible error is taken as one error; numbered from the smallest.

    Each group begins with its smallest size and takes in all within `reach`. The reach is judgement: the error of a
    screw or a scale wanders slowly, and nearby sizes see nearly the same of it.
    """
    size = np.asarray(size, float)
    order = np.unique(size)
    starts: list[float] = []
    for s in order:
        if not starts or s - starts[-1] > reach:
            starts.append(float(s))
    return np.searchsorted(np.array(starts), size, side="right") - 1


def set_with(key: str, gauge: Gauge, master: Gauge | None, size_group: int = 0, master_repeats: int = 1) -> Setting:
    """A comparator set to size with `master` (None: with a standard whose own doubt is not known and not counted).

    It carries the master's shared errors under the master's own names, so that parts measured with that master lose
    them in a difference, and one error of the act of setting: scatter and step of both gauges.
    """
    if master is not None and master.key == gauge.key:
        raise ValueError(f"setting {key}: gauge {gauge.id} is named as its own master; name what it was set with")
    shared = (calibration_source(master), permissible_source(master, size_group)) if master else ()
    parts = [(gauge.s, gauge.scatter_dof), (gauge.resolution / STEP, np.inf)]
    if master:
        parts += [(master.s / np.sqrt(master_repeats), master.scatter_dof), (master.resolution / STEP, np.inf)]
    variance = sum(u * u for u, _ in parts)
    known = sum(u**4 / dof for u, dof in parts)
    act = Source("setting", key, float(np.sqrt(variance)), float(variance**2 / known) if known > 0 else np.inf)
    return Setting(key, (act, *(source for source in shared if source)))


def budget(
    taken: Readings, gauges: Sequence[Gauge], settings: Sequence[Setting] = (), temperatures: Sequence[Source] = ()
) -> Batch:
    """The budget of readings taken with `gauges`. Temperature sources have u in K.

    Raises ValueError when one source is described in two ways.
    """
    rows, first, which = _size_pairs(taken, gauges)
    calibrations = [calibration_source(gauge) for gauge in gauges]
    permissible = [permissible_source(gauges[taken.gauge[i]], int(taken.size_group[i])) for i in first]
    table, place = intern(_every(calibrations, permissible, settings, temperatures))
    index_of = [_places(column, place) for column in (calibrations, permissible, temperatures)]

    columns = [_pick(index_of[0], taken.gauge)]
    if len(first):
        column = np.full(len(taken.value), -1, np.int32)
        column[rows] = index_of[1][which]
        columns.append(column)
    slopes = [np.ones(len(taken.value))] * len(columns)
    for setting_place, setting_slope in _setting_columns(settings, place):
        columns.append(_pick(setting_place, taken.setting))
        slopes.append(setting_slope[taken.setting])
    if temperatures:
        columns.append(_pick(index_of[2], taken.temperature))
        slopes.append(taken.nominal * taken.expansion)
    return _batch(taken, gauges, table, np.stack(columns, 1), np.stack(slopes, 1))


def _batch(taken: Readings, gauges: Sequence[Gauge], table: Sources, source: NDArray[np.int32], slope: Floats) -> Batch:
    u = np.append(table.u, 0.0)  # the last stands for the padding, −1
    source, contribution = _merged(source, slope * u[source])
    scatter, step, leaf, dof = np.array([_own(gauge) for gauge in gauges], float).reshape(-1, 4).T
    seen = np.where(np.isfinite(dof), np.hypot(scatter, step), 0.0)
    return Batch(
        taken.value,
        scatter[taken.gauge] / np.sqrt(taken.repeats),
        np.hypot(np.where(np.isnan(taken.width), step[taken.gauge], taken.width / STEP), leaf[taken.gauge]),
        seen[taken.gauge] / np.sqrt(taken.repeats),
        taken.gauge,
        dof,
        tuple(gauge.key for gauge in gauges),
        source,
        contribution,
        table,
    )


def _own(gauge: Gauge) -> tuple[float, float, float, float]:
    return gauge.s, gauge.resolution / STEP, gauge.leaf_error / UNIFORM, gauge.scatter_dof


def _size_pairs(taken: Readings, gauges: Sequence[Gauge]) -> tuple[Indices, Indices, Indices]:
    """Readings whose gauge has a permissible error; the first of each gauge and size group; which group each is in."""
    stated = np.array([gauge.permissible_error is not None for gauge in gauges], bool)
    rows = np.flatnonzero(stated[taken.gauge])
    group = taken.size_group[rows]
    span = int(group.max() - group.min() + 1) if len(rows) else 1
    code = taken.gauge[rows] * span + (group - (group.min() if len(rows) else 0))
    _, first, which = np.unique(code, return_index=True, return_inverse=True)
    return rows, rows[first], which


def _every(
    calibrations: Iterable[Source | None],
    permissible: Iterable[Source | None],
    settings: Iterable[Setting],
    temperatures: Iterable[Source],
) -> Iterable[Source]:
    yield from (source for source in calibrations if source)
    yield from (source for source in permissible if source)
    for setting in settings:
        yield from setting.sources
    yield from temperatures


def _places(column: Sequence[Source | None], place: dict[tuple[str, str], int]) -> NDArray[np.int32]:
    return np.array([place[(s.kind, s.key)] if s else -1 for s in column], np.int32)


def _pick(places: NDArray[np.int32], at: Indices) -> NDArray[np.int32]:
    """Where `at` is −1 the answer is −1."""
    return np.append(places, np.int32(-1))[at]


def _setting_columns(
    settings: Sequence[Setting], place: dict[tuple[str, str], int]
) -> Iterable[tuple[NDArray[np.int32], Floats]]:
    """One column of source places and slopes for each source that a setting can have; the last entry is the padding."""
    for k in range(max((len(setting.sources) for setting in settings), default=0)):
        held = [(s.sources[k], s.slopes[k] if s.slopes else 1.0) if k < len(s.sources) else None for s in settings]
        yield (
            _places([pair[0] if pair else None for pair in held], place),
            np.array([pair[1] if pair else 0.0 for pair in held] + [0.0]),
        )


def _merged(source: NDArray[np.int32], contribution: Floats) -> tuple[NDArray[np.int32], Floats]:
    """A reading may meet one error by two ways (its setting and its own): these add before they are squared."""
    order = np.sort(source, 1)
    twice = np.flatnonzero(((order[:, 1:] == order[:, :-1]) & (order[:, 1:] >= 0)).any(1))
    for i in twice:
        names, which = np.unique(source[i], return_inverse=True)
        added = np.zeros(len(names))
        np.add.at(added, which, contribution[i])
        source[i, : len(names)], source[i, len(names) :] = names, -1
        contribution[i, : len(names)], contribution[i, len(names) :] = added, 0.0
    return source, contribution
