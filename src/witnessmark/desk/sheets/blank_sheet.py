"""Blank sheets: the rows of the screen with boxes to write in, in the order in which the bench asks for them.

One sheet holds one series: a characteristic on one side of the engine, on both sides where the order is by station; or
one valve where the order is valve by valve. A series too long for a sheet goes on with the next. What was written is
typed back in the same order: `route_of_sheet` gives the stations of one sheet, so that a page can walk exactly that.

Code    Every sheet carries one, `B3-7C3E`: its number, and four digits of the SHA-256 of what it asks for. A sheet is
        found again by these digits, also where sheets before it have come or gone since it was printed.
"""

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from hashlib import sha256
from itertools import groupby

from witnessmark.catalogue.entry import NOTHING, Characteristic
from witnessmark.desk.commands import gauges_for
from witnessmark.desk.route import BY_STATION, BY_VALVE, Stop
from witnessmark.desk.sheets.phrase import location, shown
from witnessmark.desk.sheets.plate import plate_at
from witnessmark.desk.sheets.setup import bound_words
from witnessmark.desk.sheets.stops import stops_of
from witnessmark.desk.state import State
from witnessmark.draw.shape import Drawing
from witnessmark.engine import place as places
from witnessmark.explain.words import heading, unit_of
from witnessmark.limits.limit import limit_for
from witnessmark.text.near import did_you_mean

MOST_LINES = 16  # of one sheet: what stands on Letter, the shorter paper
MOST_BOXES = 6  # side by side
ALONG = "Write along each line, then the next line."
DOWN = "Write down each column, then the next column."
LEAVES = "Write two leaves: the thickest that enters, then the thinnest that does not."
ANSWERS = "Write the number of the answer."
AMOUNT = "Write the number of the answer, then how much with its unit, as in 2 12."
LEFT_OUT = "left out"
_CODE = re.compile(r"\s*B?(\d{1,4})(?:-([0-9A-F]{4}))?\s*", re.IGNORECASE)


class NoSheet(ValueError):
    """A sheet that this job does not have; the message says which there are."""


@dataclass(frozen=True, slots=True)
class Box:
    """One box to write in. `kept` is what was read there already, as it came, or that it was left out; else ""."""

    characteristic: str
    place: str
    station: str
    kept: str


@dataclass(frozen=True, slots=True)
class Line:
    """One line of boxes: a place, or one station of it. `limit` is boxed beside it; "" where all share one."""

    name: str
    limit: str
    boxes: tuple[Box, ...]


@dataclass(frozen=True, slots=True)
class BlankSheet:
    """One sheet to write on. `columns` name the boxes of each line where it has several."""

    number: int
    of: int
    code: str
    title: str
    measured: str  # how it is read, in the catalogue's words
    ready: str  # in which state the part must be
    gauge: str  # what reads it
    unit: str
    limit: str  # "" where it differs from line to line, or none was entered
    answers: tuple[str, ...]  # of what is looked at: `1 none found`, in the order of the keys
    hints: tuple[str, ...]  # what is written, and in which order
    columns: tuple[str, ...]
    lines: tuple[Line, ...]
    drawing: Drawing | None
    stops: tuple[Stop, ...]


def blank_sheets(state: State, only: Sequence[str] = (), display: str = "mm") -> tuple[BlankSheet, ...]:
    """Every sheet of the round, in the order of the route; `only` these characteristics, whether asked for or not.

    `display` is mm or in. Raises NoSheet for a characteristic that cannot be read on this engine.
    """
    groups = _groups(state, only)
    return tuple(_sheet(state, stops, n, len(groups), display) for n, stops in enumerate(groups, 1))


def sheet_named(state: State, name: str) -> BlankSheet:
    """The sheet of a code, `B3-7C3E`, or of a number, `3`. Raises NoSheet.

    By its digits a sheet is found among those of the route and among those of anything else that the engine has.
    """
    asked = _CODE.fullmatch(name)
    if asked is None:
        raise NoSheet(f"{name[:40]!r} is no code of a sheet; it stands at the top right, such as B3-7C3E")
    if asked[2] is None:
        return _numbered(state, int(asked[1]))
    for groups in (_groups(state, ()), *_beside(state)):
        for n, stops in enumerate(groups, 1):
            if _digits(state, stops) == asked[2].upper():
                return _sheet(state, stops, n, len(groups), "mm")
    raise NoSheet(
        f"sheet {name.strip().upper()} was printed for other places than this job asks for now: type it in on the "
        "bench place by place, or print the sheets anew"
    )


def route_of_sheet(state: State, name: str | int) -> tuple[Stop, ...]:
    """The stations of one sheet, by its code or its number, in the order in which it was written. Raises NoSheet."""
    return sheet_named(state, str(name)).stops


def _numbered(state: State, number: int) -> BlankSheet:
    groups = _groups(state, ())
    if not 1 <= number <= len(groups):
        known = f"sheets are numbered 1 to {len(groups)}" if groups else "nothing is asked for yet, so it has none"
        raise NoSheet(f"this job has no sheet {number}; {known}")
    return _sheet(state, groups[number - 1], number, len(groups), "mm")


def _groups(state: State, only: Sequence[str]) -> list[tuple[Stop, ...]]:
    """The stations of each sheet."""
    stops = tuple(_chosen(state, only)) if only else state.route
    together = (tuple(group) for _, group in groupby(stops, lambda stop: _series(state, stop)))
    return [part for group in together for part in _parts(group)]


def _chosen(state: State, only: Sequence[str]) -> Iterable[Stop]:
    known = state.catalogue.characteristics
    for name in only:
        if name not in known:
            raise NoSheet(f"no characteristic is called '{name}'{did_you_mean(name, known)}")
        stops = stops_of(state, known[name])
        if not stops:
            raise NoSheet(f"{known[name].term} cannot be read on this engine, so it has no sheet to write on")
        yield from stops


def _beside(state: State) -> Iterable[list[tuple[Stop, ...]]]:
    """Sheets of what can be read and is not asked for, or not asked for any more."""
    for entry in state.catalogue.characteristics.values():
        stops = stops_of(state, entry)
        if stops:
            yield _groups(state, (entry.id,))


def _series(state: State, stop: Stop) -> tuple[str, ...]:
    """What one sheet has in common."""
    side = places.valve_kind(stop.place)
    if state.order == BY_VALVE and places.parse(stop.place).where.startswith(("inl-", "exh-")):
        return (stop.location,)
    if state.order == BY_STATION:  # the hand goes over both sides before it comes to the next station
        return (stop.characteristic,)
    return stop.characteristic, side


def _parts(group: Sequence[Stop]) -> Iterable[tuple[Stop, ...]]:
    """A group cut where a sheet is full; the order of the walk stays inside each part."""
    key = _line_key(group)
    names = list(dict.fromkeys(map(key, group)))
    for first in range(0, len(names), MOST_LINES):
        here = set(names[first : first + MOST_LINES])
        yield tuple(stop for stop in group if key(stop) in here)


def _line_key(group: Sequence[Stop]) -> Callable[[Stop], tuple[str, str]]:
    """What the boxes of one line have in common."""
    if _in_columns(group):
        return lambda stop: (stop.characteristic, stop.location)
    return lambda stop: (stop.characteristic, stop.place)


def _in_columns(group: Sequence[Stop]) -> bool:
    """Whether a line is a place with its stations side by side: one thing at several places, not too many stations."""
    words = {places.station(stop.place) for stop in group}
    locations = {stop.location for stop in group}
    one_thing = len({stop.characteristic for stop in group}) == 1
    return one_thing and len(locations) > 1 and 1 < len(words) <= MOST_BOXES


def _digits(state: State, stops: Iterable[Stop]) -> str:
    asked = [state.job.id, state.round, *(f"{stop.characteristic} {stop.place}" for stop in stops)]
    return sha256("\n".join(asked).encode()).hexdigest()[:4].upper()


def _sheet(state: State, stops: Sequence[Stop], number: int, of: int, display: str) -> BlankSheet:
    known = state.catalogue.characteristics
    entry, mixed = known[stops[0].characteristic], len({stop.characteristic for stop in stops}) > 1
    words = dict.fromkeys(places.station(stop.place) for stop in stops) if _in_columns(stops) else {}
    limits = {_limit(state, stop) for stop in stops}
    by_line: dict[object, list[Stop]] = {}
    for stop in stops:
        by_line.setdefault(_line_key(stops)(stop), []).append(stop)
    return BlankSheet(
        number=number,
        of=of,
        code=f"B{number}-{_digits(state, stops)}",
        title=shown(stops[0].location) if mixed else _title(entry, stops),
        measured="" if mixed else " ".join(entry.measure.split()),
        ready="" if mixed else " ".join(entry.state.split()),
        gauge="" if mixed else _hand(state, entry),
        unit="" if mixed or entry.quantity == NOTHING else unit_of(entry, display),
        limit=limits.pop() if len(limits) == 1 else "",
        answers=() if mixed else tuple(f"{key} {word}" for key, word in enumerate(entry.says, 1)),
        hints=tuple(filter(None, ("" if mixed else _written(entry), _order(state) if len(words) > 1 else ""))),
        columns=tuple(_station_words(stops, word) for word in words),
        lines=tuple(_line(state, group, tuple(words), mixed, bool(limits)) for group in by_line.values()),
        drawing=None if mixed else plate_at(state, entry, stops[0].place),
        stops=tuple(stops),
    )


def _title(entry: Characteristic, stops: Iterable[Stop]) -> str:
    """`Inlet stem diameter`, or `Stem diameter` where both sides stand on the sheet."""
    headings = {heading(entry, stop.place) for stop in stops}
    return headings.pop() if len(headings) == 1 else heading(entry, "head")


def _written(entry: Characteristic) -> str:
    """What a box takes, where it is not one number."""
    if entry.kind == "look":
        return ANSWERS if entry.quantity == NOTHING else AMOUNT
    return LEAVES if entry.kind == "leaves" else ""


def _order(state: State) -> str:
    return DOWN if state.order == BY_STATION else ALONG


def _line(state: State, stops: Sequence[Stop], words: Sequence[str], mixed: bool, own: bool) -> Line:
    first = stops[0]
    by_word = {places.station(stop.place): stop for stop in stops}
    inside = [by_word[word] for word in words if word in by_word] if words else list(stops)
    name = shown(first.location) if words or not places.station(first.place) else shown(first.place)
    if mixed:
        station = shown(first.place).removeprefix(shown(first.location)).strip()
        name = " ".join([state.catalogue.characteristics[first.characteristic].term, station]).strip()
    return Line(name, _limit(state, first) if own else "", tuple(_box(state, stop) for stop in inside))


def _box(state: State, stop: Stop) -> Box:
    read = [one for one in state.readings_at(stop.characteristic, stop.place) if one.state == "counted"]
    waived = (stop.characteristic, stop.place, state.round) in state.wanted.waived
    kept = read[-1].raw.strip()[:14] if read else LEFT_OUT if waived else ""
    return Box(stop.characteristic, stop.place, places.station(stop.place), kept)


def _station_words(stops: Sequence[Stop], word: str) -> str:
    """A station as people see it, without the place before it."""
    stop = next(stop for stop in stops if places.station(stop.place) == word)
    return shown(stop.place).removeprefix(shown(location(stop.place))).strip() or "reading"


def _limit(state: State, stop: Stop) -> str:
    """The limit entered for a place, as it was written."""
    limit = limit_for(state.sheet, stop.characteristic, stop.place, "service") if state.sheet else None
    if limit is None:
        return ""
    bound = f"{bound_words(limit.low_text, limit.high_text)} {limit.unit}".strip()
    return ", ".join(filter(None, (" or ".join(limit.accept), bound if limit.low_text or limit.high_text else "")))


def _hand(state: State, entry: Characteristic) -> str:
    """What reads it: gauges of the register that can, else the usual kind; for a look the ways of looking."""
    if entry.kind == "look":
        known = state.catalogue.methods
        return ", ".join(known[name].term for name in entry.methods if name in known)
    kind = state.catalogue.gauge_kinds.get(entry.usual_gauge)
    named = gauges_for(state, entry.id, close=True)[:4]
    return ", ".join(filter(None, (kind.term if kind else "", " or ".join(named))))
