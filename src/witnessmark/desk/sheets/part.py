"""The sheet of one part: its drawing with every characteristic of it, the same as a table, its name."""

from dataclasses import dataclass

from witnessmark.catalogue.entry import Characteristic
from witnessmark.desk.sheets.judged import Judged, judged, unread
from witnessmark.desk.sheets.phrase import location, shown
from witnessmark.desk.state import State
from witnessmark.draw.part_sheet import Row, carried, part_sheet
from witnessmark.draw.shape import Drawing
from witnessmark.engine import place as places
from witnessmark.engine.layout import Layout, locations, related
from witnessmark.judge.result import CLOSE, OUT, Result

OF_VALVE = ("valve", "guide", "seat", "spring", "follower")
_OTHERS = ("lobe", "journal", "cam", "drive", "bolt")
_MARKS = {"within": "within", OUT: "out", CLOSE: "close"}


class NoPart(ValueError):
    """A place where no part with a sheet of its own lies; the message says which have one."""


@dataclass(frozen=True, slots=True)
class Named:
    """A part that has a name of its own."""

    part: str
    kind: str
    new: bool
    here: bool  # it lies in this place; else on the shelf


@dataclass(frozen=True, slots=True)
class PartSheet:
    """All that the sheet of one part shows."""

    job: str
    title: str
    place: str
    kind: str
    kinds: tuple[str, ...]  # the parts that share this place
    drawing: Drawing
    lines: tuple[Judged, ...]
    named: tuple[Named, ...]


def part_of(state: State, place: str, kind: str = "", unit: str = "mm") -> PartSheet:
    """The sheet of the part at a location, the first of those that share it where `kind` names none. Raises NoPart."""
    layout = state.layout
    if layout is None:
        raise NoPart("describe the engine first: its layout tells which parts there are")
    kinds = _kinds(layout, place)
    chosen = kind if kind in kinds else kinds[0]
    gear = layout.drive if chosen == "drive" else layout.gear
    known = state.catalogue.characteristics
    on_it = set(carried(chosen, gear))
    lines = tuple(
        _line(state, entry, where, unit)
        for entry in known.values() if entry.id in on_it and (where := _where(layout, entry, place))
    )  # fmt: skip
    name = shown(place)
    title = name if chosen in _OTHERS else f"{name}, {chosen}"
    return PartSheet(state.job.id, title, place, chosen, kinds, _drawing(chosen, lines, gear), lines,
                     _named(state, place, chosen))  # fmt: skip


def _kinds(layout: Layout, place: str) -> tuple[str, ...]:
    if place in locations(layout, "valve"):
        return OF_VALVE
    found = tuple(kind for kind in _OTHERS if place in locations(layout, kind))
    if not found:
        raise NoPart(f"no part of this engine with a sheet of its own lies at '{place[:60]}'; "
                     "there are valves, lobes, journals, camshafts, the drive and head bolts")  # fmt: skip
    return found


def _where(layout: Layout, entry: Characteristic, place: str) -> str:
    """Where a characteristic of this part is read; "" where this engine does not have it."""
    if (entry.gears and layout.gear not in entry.gears) or (entry.drives and layout.drive not in entry.drives):
        return ""
    try:
        found = related(place, entry.at, layout)
    except places.PlaceError:
        found = place
    return found if found in locations(layout, entry.at) else ""


def _line(state: State, entry: Characteristic, where: str, unit: str) -> Judged:
    mine = [one for one in state.judgement.results if one.characteristic == entry.id and one.round == state.round]
    here = [one for one in mine if location(one.location) == where]
    if here:
        return judged(min(here, key=_severity), state.catalogue, unit, mine)
    gaps = [one for one in state.judgement.missing if one.characteristic == entry.id and location(one.place) == where]
    return unread(entry.id, where, gaps, state.catalogue, mine)


def _severity(result: Result) -> tuple[int, float]:
    rank = {OUT: 0, CLOSE: 1}.get(result.verdict, 2)
    return rank, -(result.beyond or 0.0)


def _drawing(kind: str, lines: tuple[Judged, ...], gear: str) -> Drawing:
    """All of it; where that is more than one sheet holds, what is read or has a limit."""
    rows = [_row(line) for line in lines]
    try:
        return part_sheet(kind, rows, gear)
    except ValueError:
        return part_sheet(kind, [row for row in rows if row.value or row.limit_words], gear)


def _row(line: Judged) -> Row:
    mark = "so far" if line.verdict and line.open else _MARKS.get(line.verdict, "")
    value = f"{line.value} {line.unit}".strip() if line.value else ""
    return Row(line.characteristic, line.term, value, mark, line.limit)


def _named(state: State, place: str, kind: str) -> tuple[Named, ...]:
    """Parts of this kind with a name: those in this place, and the spares on the shelf."""
    same = [one for one in state.job.parts.values() if one.kind == kind and one.at in (place, None)]
    return tuple(Named(one.part, one.kind, one.new, one.at == place) for one in same)
