"""Rows of a judgement before they are judged: which places make one mark, against which limit, and what is missing."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from witnessmark.catalogue.entry import Catalogue, Characteristic, form_groups
from witnessmark.engine.place import location, station
from witnessmark.engine.shape import Layout
from witnessmark.engine.walk import optional_stations, stations
from witnessmark.judge.cells import Cell
from witnessmark.judge.quick import QUICK, is_quick, quick_words
from witnessmark.judge.taken import Interval, Key, Taken
from witnessmark.limits.sheet import Limit, Sheet, limit_for, limits_for
from witnessmark.record.job import Job, Reading

AS_FOUND = "as found"
AS_ASSEMBLED = "as assembled"
AFTER_WORK = ("back from machining", AS_ASSEMBLED)


@dataclass(frozen=True, slots=True)
class Row:
    """One mark to be judged: its cells or intervals by place, and how many places it shall have when complete.

    `sets` are the groups of places of which a form or a spread takes largest less smallest; empty for values.
    """

    entry: Characteristic
    location: str
    rule: str
    limit: Limit | None
    target: Limit | None  # the limit for new work, drawn beside a service limit
    planned: tuple[str, ...]
    waived: tuple[str, ...]
    cells: tuple[Cell, ...]
    intervals: tuple[Interval, ...]
    interval_places: tuple[str, ...]
    sets: tuple[tuple[str, ...], ...] = ()
    looks: tuple[tuple[str, tuple[Reading, ...]], ...] = ()  # place and what was said there, the last stands
    quick: tuple[str, ...] = ()  # the places that the quick route asks for

    @property
    def read(self) -> int:
        """How many of its places have been read."""
        return len(self._read)

    @property
    def complete(self) -> bool:
        """Whether every planned place has been read or waived."""
        return self._done(self.planned)

    @property
    def quick_complete(self) -> bool:
        """Whether every place of the quick route has been read or waived."""
        return self._done(self.quick)

    def _done(self, places: Iterable[str]) -> bool:
        have = self._read
        return bool(have) and set(places) <= have | set(self.waived)

    @property
    def _read(self) -> set[str]:
        return {cell.place for cell in self.cells} | set(self.interval_places) | {place for place, _ in self.looks}


@dataclass(frozen=True, slots=True)
class Ground:
    """All that rows are made from."""

    job: Job
    sheet: Sheet | None
    layout: Layout
    catalogue: Catalogue
    taken: Taken
    cells: Mapping[Key, Cell]
    waived: Mapping[tuple[str, str, str], str]
    round: str
    new: frozenset[Key] = frozenset()  # characteristic and location that hold a new part


def rows(ground: Ground, asked: Sequence[str]) -> list[Row]:
    """Every row of the round: characteristics with a limit or on the list, and any other that somebody read."""
    read = {reading.characteristic for reading in ground.job.readings if reading.round == ground.round}
    found: list[Row] = []
    for name, entry in ground.catalogue.characteristics.items():
        if name in asked or (name in read and entry.measured):
            found += _rows_of(ground, entry)
    return found


def _rows_of(ground: Ground, entry: Characteristic) -> Iterable[Row]:
    base = ground.catalogue.characteristics[entry.of] if entry.kind == "form" else entry
    grouped: dict[str, list[str]] = {}
    for place in (*stations(ground.layout, base), *_read_besides(ground, base)):
        grouped.setdefault(location(place), []).append(place)
    over_places: dict[Limit, list[str]] = {}
    for there, places in grouped.items():
        held = _held(ground, entry, places[0])
        value = next((limit for limit in held if not limit.of_spread), None)
        yield from _some(_value_rows(ground, entry, there, places, value))
        for limit in held:
            if limit.rule == "spread":
                yield from _some([_row(ground, entry, there, "spread", places, limit)])
            elif limit.rule == "spread_of_places":
                over_places.setdefault(limit, []).extend(places)
    for limit, places in over_places.items():
        where = limit.applies.place or limit.applies.for_ or "all"
        yield from _some([_row(ground, entry, where, "spread_of_places", places, limit)])


def _value_rows(
    ground: Ground, entry: Characteristic, there: str, places: Sequence[str], limit: Limit | None
) -> Iterable[Row | None]:
    """One row a station for the rule `each`, else one for the location."""
    rule = limit.rule if limit else entry.rule
    if rule == "each" and entry.kind != "form":
        return (_row(ground, entry, place, "each", [place], _value_limit(ground, entry, place)) for place in places)
    return (_row(ground, entry, there, rule, places, limit) for _ in (0,))


def _some(found: Iterable[Row | None]) -> Iterable[Row]:
    """Rows that hold at least one reading; the rest is told as missing."""
    return (row for row in found if row is not None)


def _read_besides(ground: Ground, entry: Characteristic) -> tuple[str, ...]:
    """Optional places that somebody did read."""
    extra = optional_stations(ground.layout, entry)
    taken = ground.taken
    found = (ground.cells, taken.intervals, taken.looks)
    return tuple(place for place in extra if any((entry.id, place) in kind for kind in found))


def _row(
    ground: Ground, entry: Characteristic, where: str, rule: str, places: Sequence[str], limit: Limit | None
) -> Row | None:
    name = entry.of if entry.kind == "form" else entry.id
    if entry.kind == "look":
        return _look_row(ground, entry, where, rule, places, limit)
    cells = tuple(ground.cells[name, place] for place in places if (name, place) in ground.cells)
    gaps = {place: tightest(ground.taken.intervals[name, place]) for place in places
            if (name, place) in ground.taken.intervals and (name, place) not in ground.cells}  # fmt: skip
    if not cells and not gaps:
        return None
    return Row(
        entry, where, rule, limit, _target(ground, entry, places[0], limit), tuple(places),
        _waived(ground, name, places), cells, tuple(gaps.values()), tuple(gaps), _sets(entry, rule, places), (),
        _quick(ground, entry, places),
    )  # fmt: skip


def _look_row(
    ground: Ground, entry: Characteristic, where: str, rule: str, places: Sequence[str], limit: Limit | None
) -> Row | None:
    looks = tuple((place, said) for place in places if (said := ground.taken.looks.get((entry.id, place))))
    if not looks:
        return None
    waived, quick = _waived(ground, entry.id, places), _quick(ground, entry, places)
    return Row(entry, where, rule, limit, None, tuple(places), waived, (), (), (), (), looks, quick)


def _waived(ground: Ground, name: str, places: Sequence[str]) -> tuple[str, ...]:
    return tuple(place for place in places if (name, place, ground.round) in ground.waived)


def _quick(ground: Ground, entry: Characteristic, places: Sequence[str]) -> tuple[str, ...]:
    if ground.job.extent != QUICK:
        return ()
    words = quick_words(entry, ground.catalogue)
    return tuple(place for place in places if is_quick(place, words))


def _sets(entry: Characteristic, rule: str, places: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    if entry.kind == "form":
        by_station = {station(place): place for place in places}
        return tuple(tuple(by_station[word] for word in words) for words in form_groups(by_station, entry.form))
    return (tuple(places),) if rule in ("spread", "spread_of_places") else ()


def tightest(gaps: Sequence[Interval]) -> Interval:
    """Repeats with leaves tighten each other; where they contradict, the last one stands."""
    low = max(gap.enters for gap in gaps)
    stops = [gap.stops for gap in gaps if gap.stops is not None]
    high = min(stops, default=None)
    if high is not None and high <= low:
        return gaps[-1]
    return Interval(gaps[-1].reading, low, high, gaps[-1].leaf_error)


def _held(ground: Ground, entry: Characteristic, place: str) -> tuple[Limit, ...]:
    """The limits that a place is held against: on its value, and on spreads.

    New work and new parts are held against the new limit, all else against the service limit. A new part without a new
    limit must at least meet the service limit. A worn part is never held against a new limit: that tolerance is for
    what is made, not for what may go on running.
    """
    if ground.sheet is None or entry.id not in ground.sheet.index:
        return ()
    service = limits_for(ground.sheet, entry.id, place, "service")
    if not _is_new(ground, entry, place):
        return service
    return limits_for(ground.sheet, entry.id, place, "new") or service


def _value_limit(ground: Ground, entry: Characteristic, place: str) -> Limit | None:
    return next((limit for limit in _held(ground, entry, place) if not limit.of_spread), None)


def _target(ground: Ground, entry: Characteristic, place: str, limit: Limit | None) -> Limit | None:
    if ground.sheet is None or entry.id not in ground.sheet.index or (limit is not None and limit.kind == "new"):
        return None
    target = limit_for(ground.sheet, entry.id, place, "new")
    return None if target is None or (limit is not None and target.of_spread != limit.of_spread) else target


def _is_new(ground: Ground, entry: Characteristic, place: str) -> bool:
    return ground.round in AFTER_WORK or (entry.id, location(place)) in ground.new


def new_places(job: Job, round_: str) -> frozenset[Key]:
    """Characteristic and location wherever the last reading was made on a part that is new."""
    last = {(r.characteristic, location(r.place)): r.part for r in job.readings if r.part and r.round == round_}
    return frozenset(key for key, part in last.items() if part in job.parts and job.parts[part].new)
