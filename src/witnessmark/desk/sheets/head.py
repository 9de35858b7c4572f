"""The head sheet: every valve by characteristic in columns under their cylinders, and what is not a valve's.

Groups   What does not fit on one sheet is parted by the family of the part, eight rows to a sheet.
Heads    One sheet shows one head: an engine with two banks has two.
Pick     One valve is picked; its values stand on the sheet in words, with reasons.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from witnessmark.catalogue.entry import VALVE_PARTS, Characteristic
from witnessmark.desk.sheets.entered import entered_wall, entered_words
from witnessmark.desk.sheets.judged import Judged, by_station, judged, limits_of_row, unread
from witnessmark.desk.sheets.phrase import OVER_ALL, location, shown
from witnessmark.desk.state import State
from witnessmark.engine import place as places
from witnessmark.engine.layout import Layout, locations, related, stations
from witnessmark.judge.result import CLOSE, OUT, Missing, Result

MOST_ROWS = 8
BY_VALVE = (*VALVE_PARTS, "lobe")
FACES = ("gasket_face", "manifold_face", "inlet_face", "exhaust_face", "upper_face")
GROUPS: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    ("valves", "valves and seats", ("valve", "guide", "seat")),
    ("springs", "springs", ("spring",)),
    ("followers", "followers and lash", ("follower",)),
    ("cams", "cams and drive", ("cam", "drive")),
    ("head", "head and bolts", ("head", "fastener")),
)
# Height and lash belong to spring and gear, but a seat or a valve moves them: they stand with the seats as well.
WITH_SEATS = ("installed_height", "valve_lash")


@dataclass(frozen=True, slots=True)
class Column:
    """One valve of the head: its id, the word over the column, its full name, its cylinder."""

    place: str
    label: str
    name: str
    cylinder: int
    first: bool  # the first column of its cylinder
    picked: bool


@dataclass(frozen=True, slots=True)
class Row:
    """One characteristic over all valves of the head: a cell for each column, and the counts at the row's end."""

    characteristic: str
    term: str
    limit: str
    cells: tuple[Judged | None, ...]  # None where the valve gear has no such place
    out: int
    close: int


@dataclass(frozen=True, slots=True)
class Picked:
    """The picked valve with all that was read of it."""

    place: str
    name: str
    out: int
    lines: tuple[Judged, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """One word of a switch in the sheet."""

    id: str
    words: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class HeadSheet:
    """All that the head sheet shows of one head of a job."""

    job: str
    title: str
    heads: tuple[Choice, ...]
    bank: str
    groups: tuple[Choice, ...]
    group: str
    cylinders: tuple[Choice, ...]
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    lines: tuple[Judged, ...]  # what has no valve's column: faces, journals, bolts
    flatness: tuple[Judged, ...]
    picked: Picked | None


def head_sheet(state: State, group: str = "", valve: str = "", bank: str = "", unit: str = "mm") -> HeadSheet:
    """The head sheet; an unknown group, valve or bank falls back to the first that there is.

    Raises ValueError where no engine has been described yet.
    """
    layout = state.layout
    if layout is None:
        raise ValueError("no engine has been described for this job yet; describe it on the job sheet")
    bank = _bank(layout, bank, valve)
    found = _gathered(state, unit)
    columns = _columns(layout, bank, valve)
    sheets = _sheets(found)
    chosen = group if group in sheets else next(iter(sheets))
    with_rows, with_lines = sheets[chosen]
    picked = next((column for column in columns if column.picked), None)
    return HeadSheet(
        job=state.job.id,
        title="Camshafts" if chosen.startswith("cams") else "Gasket face",
        heads=tuple(Choice(name, f"{name} head", name == bank) for name, _ in layout.banks if name),
        bank=bank,
        groups=tuple(Choice(name, words, name == chosen) for name, words in _titles(sheets)),
        group=chosen,
        cylinders=_cylinders(layout, bank, picked),
        columns=columns,
        rows=tuple(_row(found, layout, entry, columns) for entry in with_rows),
        lines=_lines(found, with_lines, bank),
        flatness=found.stations("head_flatness", f"{bank}/gasket-face" if bank else "gasket-face"),
        picked=_picked(found, layout, picked),
    )


def _bank(layout: Layout, bank: str, valve: str) -> str:
    names = [name for name, _ in layout.banks]
    if bank in names:
        return bank
    number = _cylinder(valve)
    return layout.bank_of(number) if number else names[0]


def _cylinder(valve: str) -> int | None:
    try:
        return places.cylinder(valve) if valve else None
    except places.PlaceError:
        return None


def _columns(layout: Layout, bank: str, valve: str) -> tuple[Column, ...]:
    numbers = dict(layout.banks)[bank]
    valves = locations(layout, "valve")
    ordered = [place for number in numbers for place in valves if places.cylinder(place) == number]
    picked = valve if valve in ordered else ""
    return tuple(
        Column(place, _label(place), shown(place), places.cylinder(place) or 0, _first(ordered, i), place == picked)
        for i, place in enumerate(ordered)
    )


def _label(valve: str) -> str:
    """`Inl F` in a column that already stands under its cylinder."""
    known = places.parse(valve)
    return f"{places.SIDES[known.side]} {known.position.upper()}".strip()


def _first(ordered: Sequence[str], index: int) -> bool:
    return index == 0 or places.cylinder(ordered[index]) != places.cylinder(ordered[index - 1])


def _cylinders(layout: Layout, bank: str, picked: Column | None) -> tuple[Choice, ...]:
    numbers = dict(layout.banks)[bank]
    chosen = picked.cylinder if picked else numbers[0]
    return tuple(Choice(str(number), str(number), number == chosen) for number in numbers)


@dataclass(frozen=True, slots=True)
class _Found:
    """What judging gave for one round, by characteristic and location, turned into cells and lines on demand."""

    state: State
    unit: str
    results: Mapping[tuple[str, str], list[Result]]
    missing: Mapping[tuple[str, str], list[Missing]]
    peers: Mapping[str, list[Result]]

    @property
    def entries(self) -> Mapping[str, Characteristic]:
        return self.state.catalogue.characteristics

    def used(self, characteristic: str) -> bool:
        return any(name == characteristic for name, _ in (*self.results, *self.missing))

    def limited(self, characteristic: str) -> bool:
        """Whether the sheet or a result holds a limit on it: what has none comes after what has."""
        sheet = self.state.sheet
        return bool(sheet and characteristic in sheet.index) or any(r.against for r in self.all(characteristic))

    def all(self, characteristic: str) -> Sequence[Result]:
        """Results at places: they share a scale. A spread over places has its own."""
        return self.peers.get(characteristic, ())

    def cell(self, characteristic: str, where: str) -> Judged:
        """The worst result at a location, or what is missing there."""
        found = self.results.get((characteristic, where), [])
        scale = self.all(characteristic)
        if found:
            return judged(min(found, key=_severity), self.state.catalogue, self.unit, scale)
        gaps = self.missing.get((characteristic, where), ())
        wall = entered_wall(self.state.sheet, characteristic, where)
        return unread(characteristic, where, gaps, self.state.catalogue, scale, wall=wall)

    def lines(self, characteristics: Iterable[str], bank: str) -> tuple[Judged, ...]:
        """Every result and every gap of characteristics, in walking order, on one head or on what both heads share."""
        return tuple(
            line for name in characteristics if name in self.entries for line in self._lines(self.entries[name], bank)
        )

    def over_all(self, characteristics: Iterable[str]) -> tuple[Judged, ...]:
        """Spreads over places: they belong to no column."""
        found = [one for name in characteristics for where in OVER_ALL for one in self.results.get((name, where), [])]
        return tuple(judged(one, self.state.catalogue, self.unit, [one]) for one in found)

    def _lines(self, entry: Characteristic, bank: str) -> list[Judged]:
        layout = self.state.layout
        walk = dict.fromkeys(location(place) for place in stations(layout, entry)) if layout else {}
        found: list[Judged] = []
        for where in walk:
            if layout and _of_bank(where, layout) not in ("", bank):
                continue
            if entry.at in FACES:
                found += self.stations(entry.id, where)
                continue
            results = self.results.get((entry.id, where), [])
            gaps = self.missing.get((entry.id, where), [])
            found += [judged(one, self.state.catalogue, self.unit, self.all(entry.id)) for one in results]
            if gaps and not results:
                found.append(unread(entry.id, where, gaps, self.state.catalogue, self.all(entry.id)))
        return found

    def stations(self, characteristic: str, face: str) -> tuple[Judged, ...]:
        """Each line of a face by itself, and every gap."""
        peers = self.all(characteristic)
        results = [one for whole in self.results.get((characteristic, face), []) for one in by_station(whole)]
        gaps = self.missing.get((characteristic, face), [])
        read = [judged(one, self.state.catalogue, self.unit, peers) for one in results]
        return (*read, *(unread(characteristic, gap.place, [gap], self.state.catalogue, peers) for gap in gaps))


def _gathered(state: State, unit: str) -> _Found:
    results: dict[tuple[str, str], list[Result]] = {}
    missing: dict[tuple[str, str], list[Missing]] = {}
    peers: dict[str, list[Result]] = {}
    for result in state.judgement.results:
        if result.round == state.round:
            results.setdefault((result.characteristic, location(result.location)), []).append(result)
            if result.location not in OVER_ALL:
                peers.setdefault(result.characteristic, []).append(result)
    for gap in state.judgement.missing:
        if gap.round == state.round:
            missing.setdefault((gap.characteristic, location(gap.place)), []).append(gap)
    return _Found(state, unit, results, missing, peers)


def _of_bank(where: str, layout: Layout) -> str:
    """The bank of a place, told by its word or by its cylinder; "" for what both heads share."""
    known = places.parse(where)
    return known.bank or (layout.bank_of(known.cylinder) if known.cylinder is not None else "")


def _severity(result: Result) -> tuple[int, float]:
    """Out before too close before within; among equals the smaller chance to lie within first."""
    order = {OUT: 0, CLOSE: 1}.get(result.verdict, 2)
    return order, result.p_within if result.p_within is not None else 1.0


Members = tuple[Characteristic, ...]


def _sheets(found: _Found) -> dict[str, tuple[Members, Members]]:
    """By group, what has a row and what has lines; more than eight rows go on to a second sheet (`valves-2`)."""
    sheets: dict[str, tuple[Members, Members]] = {}
    for name, _, families in GROUPS:
        members = [e for e in found.entries.values() if _belongs(e, name, families) and found.used(e.id)]
        members.sort(key=lambda entry: (not found.limited(entry.id), name == "valves" and entry.id in WITH_SEATS))
        rows = [entry for entry in members if entry.at in BY_VALVE]
        pages = [rows[i : i + MOST_ROWS] for i in range(0, len(rows), MOST_ROWS)] or [[]]
        for number, page in enumerate(pages, 1):
            key = name if number == 1 else f"{name}-{number}"
            sheets[key] = (tuple(page), tuple(members) if number == len(pages) else ())
    return sheets


def _lines(found: _Found, members: Members, bank: str) -> tuple[Judged, ...]:
    """Spreads over places, and what stands at no valve."""
    elsewhere = [entry.id for entry in members if entry.at not in BY_VALVE]
    return (*found.over_all([entry.id for entry in members]), *found.lines(elsewhere, bank))


def _belongs(entry: Characteristic, group: str, families: Sequence[str]) -> bool:
    return entry.group in families or (group == "valves" and entry.id in WITH_SEATS)


def _titles(sheets: Iterable[str]) -> list[tuple[str, str]]:
    words = {name: said for name, said, _ in GROUPS}
    return [(key, words.get(key, "more")) for key in sheets]


def _row(found: _Found, layout: Layout, entry: Characteristic, columns: Sequence[Column]) -> Row:
    walk = {location(place) for place in stations(layout, entry)}
    cells = tuple(_cell(found, layout, entry, column, walk) for column in columns)
    judged_cells = [cell for cell in cells if cell is not None and not cell.open]
    return Row(
        characteristic=entry.id,
        term=entry.term.removeprefix("spring "),  # the springs are beside the word already
        limit=_limit(found, entry, [cell.place for cell in cells if cell]),
        cells=cells,
        out=sum(cell.verdict == OUT for cell in judged_cells),
        close=sum(cell.verdict == CLOSE for cell in judged_cells),
    )


def _limit(found: _Found, entry: Characteristic, where: Sequence[str]) -> str:
    results = found.all(entry.id)
    if any(result.verdict for result in results):
        return limits_of_row(results, found.unit)
    return entered_words(found.state.sheet, entry.id, where, found.state.catalogue, found.unit)


def _cell(found: _Found, layout: Layout, entry: Characteristic, column: Column, walk: set[str]) -> Judged | None:
    where = related(column.place, entry.at, layout)
    return found.cell(entry.id, where) if where in walk else None


def _picked(found: _Found, layout: Layout, column: Column | None) -> Picked | None:
    if column is None:
        return None
    members = [entry for entry in found.entries.values() if entry.at in BY_VALVE and found.used(entry.id)]
    lines = [
        cell
        for entry in members
        if (cell := _cell(found, layout, entry, column, {location(place) for place in stations(layout, entry)}))
    ]
    out = sum(line.verdict == OUT and not line.open for line in lines)
    return Picked(column.place, column.name, out, tuple(lines))
