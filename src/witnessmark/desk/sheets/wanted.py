"""The sheet of what to measure: every characteristic of this engine and how many stations it has."""

from collections.abc import Iterable
from dataclasses import dataclass

from witnessmark.desk.sheets.catalogue import TABLES, tool
from witnessmark.desk.state import State
from witnessmark.desk.wanted import PRESETS, on_this_engine
from witnessmark.engine.walk import stations


@dataclass(frozen=True, slots=True)
class Row:
    """One characteristic: whether it is ticked, and the numbers of its stations; 0 for what is worked out."""

    id: str
    term: str
    tool: str
    quick: int
    full: int
    limited: bool  # it has a limit, so it is asked for whatever the list says
    ticked: bool


@dataclass(frozen=True, slots=True)
class Group:
    """The rows of one table of the catalogue."""

    letter: str
    title: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class ListSheet:
    """All that the sheet shows."""

    job: str
    groups: tuple[Group, ...]
    presets: tuple[str, ...]
    ticked: int
    quick: int  # stations of all that is ticked, on the quick route
    full: int


def list_sheet(state: State, ticked: Iterable[str] | None = None) -> ListSheet:
    """What there is to measure; `ticked` stands in place of the job's own list where a form came back."""
    own = set(state.job.header.get("also_measure") or () if ticked is None else ticked)
    limited = set(state.sheet.index) if state.sheet else set()
    rows = _rows(state, own, limited)
    groups = tuple(
        Group(letter, title, mine)
        for letter, title in TABLES.items() if (mine := tuple(row for at, row in rows if at == letter))
    )  # fmt: skip
    asked = [row for _, row in rows if row.ticked]
    return ListSheet(state.job.id, groups, tuple(PRESETS), len(asked), sum(row.quick for row in asked),
                     sum(row.full for row in asked))  # fmt: skip


def _rows(state: State, own: set[str], limited: set[str]) -> list[tuple[str, Row]]:
    layout = state.layout
    if layout is None:
        return []
    return [
        (entry.table, Row(entry.id, entry.term, tool(state.catalogue, entry),
                          len(stations(layout, entry, quick=True)) if entry.measured else 0,
                          len(stations(layout, entry)) if entry.measured else 0,
                          entry.id in limited, entry.id in own or entry.id in limited))
        for entry in on_this_engine(state.catalogue, layout)
    ]  # fmt: skip
