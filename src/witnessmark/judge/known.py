"""What a round of readings says of each location, one value for each characteristic, with its doubt source by source.

For those who reckon on with it: a plan wants to know what is shared. Of several stations the one counts that a limit
would look at: the least where little is bad, the most where much is, else their mean. Leaves stand as the middle of
their gap, its width as doubt of its own. Units inside.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from witnessmark.catalogue.entry import Catalogue, Characteristic
from witnessmark.engine.place import location, station
from witnessmark.engine.shape import Layout
from witnessmark.judge.cells import Cell, cells
from witnessmark.judge.marks import combined
from witnessmark.judge.taken import Interval, Key, Taken, taken
from witnessmark.limits.sheet import Sheet
from witnessmark.metrology.source import UNIFORM, Floats
from witnessmark.record.job import Job

READ, STATED = "read", "limit sheet"
INNER = "inner"  # spring of a pair; the outer one stands for the valve


@dataclass(frozen=True, slots=True, eq=False)
class Value:
    """A value with what each shared source adds to it (sources,), and its own standard uncertainty."""

    value: float
    shared: Floats
    own: float
    origin: str


@dataclass(frozen=True, slots=True, eq=False)
class Known:
    """Values by characteristic and location; `sources` names the shared ones, in the order of `Value.shared`."""

    values: Mapping[Key, Value]
    sources: tuple[str, ...]


def known(job: Job, sheet: Sheet | None, layout: Layout, catalogue: Catalogue, round_: str) -> Known:
    """All that a round says. Raises GaugeFault when a gauge of the job cannot be read as numbers."""
    have = taken(job, catalogue, round_, layout.head)
    grouped: dict[Key, list[Cell]] = {}
    for (name, place), cell in cells(have, layout, catalogue, sheet, quick=job.extent == "quick").items():
        if not station(place).startswith(INNER) and not np.isnan(cell.value):
            grouped.setdefault((name, location(place)), []).append(cell)
    one = {key: _one(several, catalogue.characteristics[key[0]]) for key, several in grouped.items()}
    names = _sources(have)
    found = _split(one, have, len(names))
    for key, gap in _gaps(have, catalogue).items():
        found.setdefault(key, gap_value(gap, len(names)))
    return Known(found, names)


def _one(several: list[Cell], entry: Characteristic) -> Cell:
    if len(several) == 1:
        return several[0]
    if entry.extreme in ("least", "most"):
        pick = min if entry.extreme == "least" else max
        return pick(several, key=lambda cell: cell.value)
    share = 1 / len(several)
    terms: dict[int, float] = {}
    for cell in several:
        for item, by in cell.terms:
            terms[item] = terms.get(item, 0.0) + by * share
    return Cell(entry.id, several[0].place, sum(cell.value for cell in several) * share, tuple(terms.items()))


def _sources(have: Taken) -> tuple[str, ...]:
    if have.batch is None:
        return ()
    return tuple(f"{source.kind} of {source.key.split('#')[0].split('@')[0]}" for source in have.batch.sources.rows)


def _split(one: Mapping[Key, Cell], have: Taken, sources: int) -> dict[Key, Value]:
    """Shared and own parts of every cell, in one go."""
    keys, derived = list(one), combined(list(one.values()), have.batch)
    shared = np.zeros((len(keys), sources))
    own2 = np.zeros(len(keys))
    if derived is not None and have.batch is not None:
        terms = derived.terms
        shared[terms.shared_row, terms.shared_source] = terms.shared
        row = np.repeat(np.arange(len(keys)), np.diff(terms.begin))
        noise = np.hypot(have.batch.scatter, have.batch.step)[terms.item]
        own2 = np.bincount(row, (terms.coefficient * noise) ** 2, len(keys))
    return {
        key: Value(one[key].value, shared[n], float(np.sqrt(own2[n])), READ if one[key].terms else STATED)
        for n, key in enumerate(keys)
    }


def _gaps(have: Taken, catalogue: Catalogue) -> dict[Key, Interval]:
    """The gap that counts at each location: the widest leaf where much is bad, the thinnest where little is."""
    found: dict[Key, Interval] = {}
    for (name, place), gaps in have.intervals.items():
        gap = gaps[-1]
        if gap.stops is None:
            continue  # no leaf of the set is thick enough: how wide it is, nobody knows
        key = name, location(place)
        worse = found.get(key)
        least = catalogue.characteristics[name].extreme == "least"
        if worse is None or (gap.enters < worse.enters if least else gap.enters > worse.enters):
            found[key] = gap
    return found


def gap_value(gap: Interval, sources: int) -> Value:
    """The middle of a gap, with half its width as a uniform doubt, and the leaves' own error."""
    assert gap.stops is not None
    half = (gap.stops - gap.enters) / 2
    own = float(np.hypot(half / UNIFORM, gap.leaf_error / UNIFORM))
    return Value((gap.stops + gap.enters) / 2, np.zeros(sources), own, READ)
