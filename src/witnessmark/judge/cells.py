"""Values at single places: what was read there, and what is worked out from it, as sums over the items of a batch.

A law that is not linear enters by its slopes, taken by central differences over all places at once; so shared errors
of a gauge still cancel in a difference and add in a sum. Units inside; step of the differences 1e-5 (mm, N).
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from witnessmark.catalogue.entry import Catalogue, Characteristic
from witnessmark.engine.place import PlaceError, location, station
from witnessmark.engine.shape import Layout
from witnessmark.engine.walk import related, stations
from witnessmark.judge.quick import is_quick, quick_words
from witnessmark.judge.taken import Key, Taken
from witnessmark.judge.wanted import GIVEN, given
from witnessmark.limits.sheet import Sheet
from witnessmark.mechanics.law import masked
from witnessmark.mechanics.laws import laws
from witnessmark.metrology.source import Floats

STEP = 1e-5

_related = lru_cache(maxsize=8192)(related)  # a job asks the same few hundred times over

Terms = tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True)
class Cell:
    """A characteristic at one place: its value and the items it rests on. NaN where its law does not hold."""

    characteristic: str
    place: str
    value: float
    terms: Terms


def cells(
    taken: Taken, layout: Layout, catalogue: Catalogue, sheet: Sheet | None = None, *, quick: bool = False
) -> Mapping[Key, Cell]:
    """Every cell that can be known: what the sheet states, what was read, then what follows, in bench order.

    On the quick route a mean over a location rests on the quick stations, and on whatever else was read.
    """
    found: dict[Key, Cell] = {}
    for name, limits in sheet.index.items() if sheet else ():
        if not any(limit.kind == GIVEN for limit in limits):
            continue
        for place in stations(layout, catalogue.characteristics[name]):
            stated = given(sheet, name, place)
            if stated is not None and stated.low is not None:
                found[name, place] = Cell(name, place, stated.low, ())
    for key, items in taken.items.items():
        found[key] = _read(key, items, taken)
    by_location = _by_location(found)
    have = {name for name, _ in found}
    for entry in _in_order(catalogue):
        if not have.issuperset(entry.arguments):
            continue  # most of the catalogue, on most heads
        fresh = list(_derived(entry, layout, catalogue, found, by_location, quick=quick))
        for cell in fresh:
            found[cell.characteristic, cell.place] = cell
            by_location.setdefault((cell.characteristic, location(cell.place)), []).append(cell)
        if fresh:
            have.add(entry.id)
    return found


def _read(key: Key, items: tuple[int, ...], taken: Taken) -> Cell:
    """The mean over all readings of a place; groups of repeats weigh by their number."""
    counts = [len(taken.groups[item].values) for item in items]
    total = sum(counts)
    terms = tuple((item, count / total) for item, count in zip(items, counts, strict=True))
    assert taken.batch is not None
    value = sum(float(taken.batch.value[item]) * weight for item, weight in terms)
    return Cell(*key, value, terms)


def _by_location(found: Mapping[Key, Cell]) -> dict[Key, list[Cell]]:
    grouped: dict[Key, list[Cell]] = {}
    for (characteristic, place), cell in found.items():
        grouped.setdefault((characteristic, location(place)), []).append(cell)
    return grouped


def _in_order(catalogue: Catalogue) -> Iterable[Characteristic]:
    """Derived characteristics, each after those that it rests on."""
    waiting = [entry for entry in catalogue.characteristics.values() if entry.kind == "derived"]
    names = {entry.id for entry in waiting}
    done: set[str] = set()
    while waiting:
        ready = [entry for entry in waiting if not (set(entry.arguments) & names) - done]
        if not ready:
            raise ValueError(f"these rest on each other in a circle: {[entry.id for entry in waiting]}")
        yield from ready
        done |= {entry.id for entry in ready}
        waiting = [entry for entry in waiting if entry not in ready]


def _derived(
    entry: Characteristic,
    layout: Layout,
    catalogue: Catalogue,
    found: Mapping[Key, Cell],
    by_location: Mapping[Key, list[Cell]],
    *,
    quick: bool,
) -> Iterable[Cell]:
    rows: list[tuple[str, list[Cell]]] = []
    behind = [_behind(catalogue.characteristics[name], layout, catalogue, quick=quick) for name in entry.arguments]
    for place in stations(layout, entry):
        arguments = [_argument(one, place, layout, found, by_location) for one in behind]
        if all(argument is not None for argument in arguments):
            rows.append((place, [argument for argument in arguments if argument is not None]))
    if not rows:
        return
    values = np.array([[cell.value for cell in row] for _, row in rows]).T
    result, slopes = _law(entry.law, values)
    for n, (place, row) in enumerate(rows):
        yield Cell(entry.id, place, float(result[n]), _chained(row, slopes[:, n]))


@dataclass(frozen=True, slots=True)
class _Behind:
    """An argument: its stations by location, and how many of them a mean needs."""

    wanted: Characteristic
    words: Mapping[str, tuple[str, ...]]
    least: Mapping[str, int]


def _behind(wanted: Characteristic, layout: Layout, catalogue: Catalogue, *, quick: bool) -> _Behind:
    grouped: dict[str, list[str]] = {}
    few = quick_words(wanted, catalogue) if quick else ()
    for place in stations(layout, wanted):
        grouped.setdefault(location(place), []).append(place)
    least = {there: sum(is_quick(place, few) for place in places) for there, places in grouped.items()}
    return _Behind(wanted, {there: tuple(map(station, places)) for there, places in grouped.items()}, least)


def _argument(
    behind: _Behind, place: str, layout: Layout, found: Mapping[Key, Cell], by_location: Mapping[Key, list[Cell]]
) -> Cell | None:
    """The argument at the same station where it has that station, else its mean over the location."""
    wanted = behind.wanted
    try:
        there = _related(place, wanted.at, layout)
    except PlaceError:
        return None
    word = station(place)
    exact = found.get((wanted.id, f"{there}/{word}" if word else there))
    if exact is not None:
        return exact
    if word and word in behind.words.get(there, ()):
        return None  # it has this station, but nobody has read it yet
    have = by_location.get((wanted.id, there), [])
    if not have or len(have) < behind.least.get(there, 0):
        return None
    share = 1 / len(have)
    return Cell(wanted.id, there, sum(cell.value for cell in have) * share,
                _summed((item, c * share) for cell in have for item, c in cell.terms))  # fmt: skip


def _law(name: str, values: Floats) -> tuple[Floats, Floats]:
    """Result (rows,) and slopes (arguments, rows) of a law."""
    function = laws()[name].function
    result = np.asarray(masked(function, *values), float)
    slopes = []
    for n in range(len(values)):
        up, down = values.copy(), values.copy()
        up[n] += STEP
        down[n] -= STEP
        slopes.append((np.asarray(masked(function, *up)) - np.asarray(masked(function, *down))) / (2 * STEP))
    return result, np.nan_to_num(np.array(slopes))


def _chained(row: list[Cell], slopes: Floats) -> Terms:
    return _summed((item, float(slope) * c) for cell, slope in zip(row, slopes, strict=True) for item, c in cell.terms)


def _summed(terms: Iterable[tuple[int, float]]) -> Terms:
    total: dict[int, float] = {}
    for item, coefficient in terms:
        total[item] = total.get(item, 0.0) + coefficient
    return tuple(total.items())
