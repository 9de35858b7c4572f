"""What a round says of a characteristic at a location, with its doubt parted: for whoever reckons on from readings.

Over the stations of a location the value is that which decides, by the rule of the limit, or of the catalogue where
there is no limit:

    each, worst; one end is the worst           that end: the least of a stem, the most of a guide's bore
    each, worst; both ends are bad              the mean, as of a seat's width
    mean, spread                                the mean

Doubt    shared[row] (sources,) is what each source of unit variance adds; own[row] is what is the value's own. A
         reading that stands behind several values (a stem, and its clearance) is one of the sources.
Leaves   the middle of the gap, uniform over it (JCGM 100:2008, 4.3.7), with the error of the leaf beside it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import hypot, sqrt

import numpy as np

from witnessmark.catalogue.entry import Catalogue, Characteristic
from witnessmark.engine.place import location
from witnessmark.engine.shape import Layout
from witnessmark.judge.cells import Cell, Terms, cells
from witnessmark.judge.quick import QUICK
from witnessmark.judge.rows import tightest
from witnessmark.judge.taken import Interval, Key, Taken, taken
from witnessmark.limits.sheet import Sheet, limit_for
from witnessmark.metrology import propagate
from witnessmark.metrology.batch import Batch
from witnessmark.metrology.source import UNIFORM, Flags, Floats, Indices
from witnessmark.record.job import Job

SERVICE, LEAST, MOST = "service", "least", "most"
OPEN = "the thickest leaf went in: read it with a thicker one"


@dataclass(frozen=True, slots=True)
class Value:
    """One candidate: its value, the readings that it rests on, and what a gap between leaves adds of its own."""

    value: float
    terms: Terms
    gap: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Known:
    """Values (n,) of what was asked, in that order; NaN where nothing was read, and then `why`, where more can be said.

    shared   (n, sources) and own (n,): standard uncertainties, see above.
    stated   (n,) true where the limit sheet states the value and nobody measured it.
    """

    value: Floats
    shared: Floats
    own: Floats
    stated: Flags
    sources: tuple[str, ...]
    why: Mapping[int, str]


Asked = tuple[str, tuple[str, ...], str]  # characteristic, locations, the end that decides: "" as usual


def known(
    job: Job, sheet: Sheet | None, layout: Layout, catalogue: Catalogue, round_: str, asked: Sequence[Asked]
) -> Known:
    """What is known of each (characteristic, locations, end); several locations make one value, as stations do.

    Values in the unit inside. Raises GaugeFault where a gauge of the job cannot be read as numbers.
    """
    have = taken(job, catalogue, round_, layout.head)
    grouped = _grouped(have, cells(have, layout, catalogue, sheet, quick=job.extent == QUICK))
    found: list[Value | None] = []
    why: dict[int, str] = {}
    for n, (name, places, wanted) in enumerate(asked):
        values = [one for place in places for one in grouped.get((name, place), ())]
        if None in values:
            why[n] = OPEN
        plain = [one for one in values if one is not None]
        end = wanted or _end(catalogue.characteristics[name], sheet, places[0])
        found.append(_deciding(plain, end) if plain and n not in why else None)
    return _parted(found, have, why)


def _grouped(have: Taken, found: Mapping[Key, Cell]) -> dict[Key, list[Value | None]]:
    """Every value by characteristic and location; None for a gap that has no upper end."""
    grouped: dict[Key, list[Value | None]] = {}
    for (name, place), cell in found.items():
        if not np.isnan(cell.value):
            grouped.setdefault((name, location(place)), []).append(Value(cell.value, cell.terms))
    for key, gaps in have.intervals.items():
        if key not in found:
            grouped.setdefault((key[0], location(key[1])), []).append(_gap(tightest(gaps)))
    return grouped


def _gap(gap: Interval) -> Value | None:
    if gap.stops is None:
        return None
    half = (gap.stops - gap.enters) / 2
    return Value((gap.enters + gap.stops) / 2, (), hypot(half / UNIFORM, gap.leaf_error / UNIFORM))


def _end(entry: Characteristic, sheet: Sheet | None, place: str) -> str:
    """The end that decides at a location, or "" where the mean does."""
    limit = limit_for(sheet, entry.id, place, SERVICE) if sheet else None
    rule = limit.rule if limit else entry.rule
    return entry.extreme if rule in ("each", "worst") and entry.extreme in (LEAST, MOST) else ""


def _deciding(values: Sequence[Value], end: str) -> Value:
    if len(values) == 1:
        return values[0]
    if end:
        return (min if end == LEAST else max)(values, key=lambda one: one.value)
    share = 1 / len(values)
    terms: dict[int, float] = {}
    for one in values:
        for item, slope in one.terms:
            terms[item] = terms.get(item, 0.0) + slope * share
    gap = share * sqrt(sum(one.gap**2 for one in values))
    return Value(sum(one.value for one in values) * share, tuple(terms.items()), gap)


def _parted(found: Sequence[Value | None], have: Taken, why: Mapping[int, str]) -> Known:
    n = len(found)
    value = np.array([np.nan if one is None else one.value for one in found], float)
    gap = np.array([0.0 if one is None else one.gap for one in found], float)
    stated = np.array([one is not None and not one.terms and not one.gap for one in found], bool)
    flat = [(row, item, slope) for row, one in enumerate(found) if one for item, slope in one.terms if slope]
    if have.batch is None or not flat:
        return Known(value, np.zeros((n, 0)), gap, stated, (), why)
    rows, items, slopes = (np.array(column) for column in zip(*flat, strict=True))
    terms = propagate.combine(have.batch, rows, items, slopes, n, value=value).terms
    gauges = np.zeros((n, len(have.batch.sources.rows)))
    gauges[terms.shared_row, terms.shared_source] = terms.shared
    used = np.flatnonzero(np.any(gauges, 0))
    again, own2, common = _noise(have.batch, terms, n)
    names = (*(_gauge(have.batch, int(at)) for at in used), *(_reading(have, int(item)) for item in common))
    return Known(value, np.hstack([gauges[:, used], again]), np.hypot(gap, np.sqrt(own2)), stated, names, why)


def _noise(batch: Batch, terms: propagate.Terms, n: int) -> tuple[Floats, Floats, Indices]:
    """Scatter and step: of readings behind several values one column each (n, common); the rest by row, squared."""
    row = np.repeat(np.arange(n), np.diff(terms.begin))
    noise = terms.coefficient * np.hypot(batch.scatter, batch.step)[terms.item]
    several = np.bincount(terms.item, minlength=len(batch.value)) > 1
    common = np.flatnonzero(several)
    shared = several[terms.item]
    again = np.zeros((n, len(common)))
    again[row[shared], np.searchsorted(common, terms.item[shared])] = noise[shared]
    return again, np.bincount(row[~shared], noise[~shared] ** 2, minlength=n).astype(float), common


def _gauge(batch: Batch, at: int) -> str:
    source = batch.sources.rows[at]
    return f"{source.kind} of {source.key.partition('#')[0].partition('@')[0]}"


def _reading(have: Taken, item: int) -> str:
    first = have.groups[item].readings[0]
    return f"reading of {first.characteristic} at {first.place}"
