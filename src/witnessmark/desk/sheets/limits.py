"""The limits sheet: every characteristic of the engine with what was entered for it, by table and in bench order."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from witnessmark.catalogue.entry import Characteristic
from witnessmark.desk.limits import DOUBTS, Key, entries_now, mark_of, sheet_mark
from witnessmark.desk.sheets.blanks import Blank
from witnessmark.desk.sheets.limits_blanks import RULES, EntryForm, entry_form, who_words
from witnessmark.desk.sheets.limits_book import BookForm, BookLine, book_form, book_lines
from witnessmark.desk.sheets.limits_usual import Usual, usual_of
from witnessmark.desk.sheets.phrase import together
from witnessmark.desk.sheets.setup import bound_words
from witnessmark.desk.state import State
from witnessmark.engine.walk import stations
from witnessmark.limits.sheet import Sheet
from witnessmark.text.fault import Fault
from witnessmark.text.near import did_you_mean

TABLES = {
    "A": "The head itself", "B": "Valves", "C": "Guides and seats", "D": "Springs, seals and retainers",
    "E": "Followers and lash", "F": "Camshaft and its drive", "M": "Fasteners",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class EntryLine:
    """One entry as it was written, to be shown boxed, and its warnings."""

    code: str
    mark: str
    who: str
    bounds: tuple[tuple[str, str], ...]  # kind of limit in words, its ends
    unit: str
    accept: tuple[str, ...]
    rule: str
    page: str
    document: str
    doubt: str
    to_check: bool
    warnings: tuple[str, ...]
    alone: bool  # false where two entries of the text are for the same places: those are mended in the text


@dataclass(frozen=True, slots=True)
class CharacteristicRow:
    """One characteristic with its entries."""

    id: str
    term: str
    looked: bool
    usual: Usual | None
    lines: tuple[EntryLine, ...]
    unjudged: str  # where it was read and no limit holds: `Exh 1F and 1R`
    code: str  # the entry that would come next for it
    in_sum: tuple[str, str] | None  # id and term of the limit on the sum that it shares
    form: EntryForm | None


@dataclass(frozen=True, slots=True)
class Table:
    """The characteristics of one table."""

    letter: str
    words: str
    rows: tuple[CharacteristicRow, ...]
    have: int
    to_check: int
    open: bool


@dataclass(frozen=True, slots=True)
class Coupled:
    """Removals that have a limit each and one on their sum."""

    parts: tuple[CharacteristicRow, ...]
    sum: CharacteristicRow
    said: str


@dataclass(frozen=True, slots=True)
class Typed:
    """What came with a form that could not be taken: it stands in the blanks again, with what is amiss."""

    form: str = ""  # entry | operation | sheet | copy | check
    fields: Mapping[str, str] = field(default_factory=dict)
    ticked: tuple[str, ...] = ()
    said: str = ""
    faults: tuple[Fault, ...] = ()


@dataclass(frozen=True, slots=True)
class Asked:
    """What of the sheet was asked for: the entry or operation whose form is open, a page to begin with, a word."""

    entry: Key | None = None
    operation: str = ""
    page: str = ""
    find: str = ""
    show: str = ""  # characteristic whose table is open
    unit: str = "mm"
    by: str = ""


@dataclass(frozen=True, slots=True)
class LimitsSheet:
    """All that the page shows."""

    job: str
    title: str
    name: str
    document: str
    doubt: str
    invented: bool
    copied_from: str
    count: int
    to_check: int
    mark: str
    header: tuple[Blank, ...]
    first: str  # code of the entry to begin with
    unjudged: tuple[CharacteristicRow, ...]
    tables: tuple[Table, ...]
    elsewhere: Table | None  # limits of what this engine does not have
    coupled: tuple[Coupled, ...]
    book: tuple[BookLine, ...]
    unsaid: tuple[BookLine, ...]  # operations that the book says nothing of yet
    book_form: BookForm | None
    find: str
    found: int
    by: str
    typed: Typed


def limits_sheet(state: State, asked: Asked | None = None, typed: Typed | None = None) -> LimitsSheet:
    """The limits sheet of a job; `asked` names the form that is open, `typed` what could not be taken."""
    asked, typed = asked or Asked(), typed or Typed()
    rows = _rows(state, asked, typed)
    here = [row for row in rows if _has(state, state.catalogue.characteristics[row.id])]
    shown = [row for row in here if _found(state.catalogue.characteristics[row.id], asked.find)]
    away = tuple(row for row in rows if row.lines and row not in here)
    sheet, lines = state.sheet, book_lines(state)
    return LimitsSheet(
        job=state.job.id,
        title=f"{state.job.header.get('engine') or 'Engine'}, limits",
        name=sheet.name if sheet else "", document=sheet.document if sheet else "",
        doubt=sheet.bearer if sheet else DOUBTS[0], invented=bool(sheet and sheet.invented),
        copied_from=sheet.copied_from if sheet else "", count=len(entries_now(state)),
        to_check=sum(line.to_check for row in rows for line in row.lines),
        mark=sheet_mark(state), header=_header(sheet, typed),
        first=next((row.code for row in here if not row.lines), ""),
        unjudged=tuple(row for row in here if row.unjudged),
        tables=_tables(state, shown, asked),
        elsewhere=Table("", "Not in this engine", away, len(away), 0, True) if away else None,
        coupled=_coupled(state, {row.id: row for row in here}),
        book=tuple(line for line in lines if line.allowed), unsaid=tuple(line for line in lines if not line.allowed),
        book_form=book_form(state, asked.operation, typed.fields if typed.form == "operation" else {}, asked.unit),
        find=asked.find, found=len(shown), by=asked.by, typed=typed,
    )  # fmt: skip


def following(state: State, key: Key) -> Key | None:
    """The entry that a hand types after this one: the other side of the same, else the next that has none."""
    known = state.catalogue.characteristics
    held = {(one.characteristic, one.for_) for one in entries_now(state)} | {(key.characteristic, key.for_)}
    sides = {"inl": "exh", "exh": "inl"}
    other = sides.get(key.for_, "")
    if other and not key.position and (key.characteristic, other) not in held:
        return Key(key.characteristic, other, stations=key.stations)
    have = {characteristic for characteristic, _ in held}
    order = list(known)
    after = order[order.index(key.characteristic) + 1 :] if key.characteristic in known else order
    return next((Key(name) for name in after if name not in have and _has(state, known[name])), None)


def first_for(state: State, characteristic: str) -> Key:
    """The entry that would be typed first for a characteristic: the side that was read without one, else all."""
    places = _unjudged(state).get(characteristic, [])
    sides = {place[:3] for place in places if place.startswith(("inl-", "exh-"))}
    return Key(characteristic, sides.pop() if len(sides) == 1 else "")


def known_key(state: State, key: Key) -> str:
    """Why an entry cannot be opened, with the near word; "" where it can."""
    known = state.catalogue.characteristics
    if key.characteristic in known:
        return ""
    return f"no characteristic is called '{key.characteristic[:60]}'{did_you_mean(key.characteristic, known)}"


def _rows(state: State, asked: Asked, typed: Typed) -> tuple[CharacteristicRow, ...]:
    unjudged, held = _unjudged(state), entries_now(state)
    of: dict[str, list[tuple[Key, tuple[Mapping[str, Any], ...]]]] = {}
    for key, several in held.items():
        of.setdefault(key.characteristic, []).append((key, several))
    coupled = {part: (one.id, one.term) for one, parts in _sums(state) for part in parts}
    return tuple(
        CharacteristicRow(
            known.id, known.term, known.kind == "look", usual_of(state, known, asked.unit),
            tuple(_line(state, key, several) for key, several in of.get(known.id, ())),
            together(unjudged.get(known.id, ())), str(first_for(state, known.id)), coupled.get(known.id),
            _form(state, asked, typed) if asked.entry and asked.entry.characteristic == known.id else None,
        )
        for known in state.catalogue.characteristics.values()
    )  # fmt: skip


def _form(state: State, asked: Asked, typed: Typed) -> EntryForm | None:
    key = asked.entry
    if key is None:
        return None
    mine = typed.form == "entry"
    after = following(state, key)
    return entry_form(state, key, str(after) if after else "", typed.fields if mine else {},
                      typed.ticked if mine else (), typed.faults if mine else (), asked.unit, asked.page)  # fmt: skip


def _line(state: State, key: Key, several: Sequence[Mapping[str, Any]]) -> EntryLine:
    sheet, entry = state.sheet, several[0]
    assert sheet is not None
    limits = [one for one in sheet.limits if one.characteristic == key.characteristic and one.applies == key.selector]
    rule = RULES.get(key.stations, "")
    return EntryLine(
        str(key), mark_of(several), who_words(key),
        tuple(bound for each in several for bound in _bounds(each)),
        " · ".join(dict.fromkeys(str(one["unit"]) for one in several if one.get("unit"))),
        tuple(entry.get("accept") or ()), rule, str(entry.get("page") or ""), str(entry.get("document") or ""),
        str(entry.get("doubt") or ""), any(one.get("to_check") == "yes" for one in several),
        _warnings(sheet, {one.line for one in limits}), len(several) == 1,
    )  # fmt: skip


def _bounds(entry: Mapping[str, Any]) -> Iterable[tuple[str, str]]:
    kinds = {"used again": entry.get("service"), "new": entry.get("new"), **(entry.get("other") or {})}
    ranges = [(kind, bound_words(str(each.get("low") or ""), str(each.get("high") or "")))
              for kind, each in kinds.items() if each]  # fmt: skip
    return [*ranges, ("stated", str(entry["given"]))] if entry.get("given") else ranges


def _warnings(sheet: Sheet, lines: set[int]) -> tuple[str, ...]:
    """What is odd about the limits of these lines; that one is to be checked is said otherwise."""
    return tuple(fault.message for fault in sheet.warnings if fault.line in lines and fault.kind != "to_check")


def _unjudged(state: State) -> Mapping[str, list[str]]:
    """Places where something was read, or worked out, and no limit holds."""
    found: dict[str, list[str]] = {}
    for row in state.judgement.results:
        if row.against is None and row.read and row.round == state.round:
            found.setdefault(row.characteristic, []).append(row.location)
    return found


def _has(state: State, known: Characteristic) -> bool:
    """Whether this engine has such a thing; where none is described yet, any may be wanted."""
    return state.layout is None or bool(stations(state.layout, known))


def _found(known: Characteristic, find: str) -> bool:
    word = find.strip().casefold()
    return not word or any(word in one.casefold() for one in (known.id, known.term, *known.also))


def _tables(state: State, rows: Sequence[CharacteristicRow], asked: Asked) -> tuple[Table, ...]:
    found: dict[str, list[CharacteristicRow]] = {}
    for row in rows:
        found.setdefault(state.catalogue.characteristics[row.id].table, []).append(row)
    return tuple(
        Table(
            letter, TABLES.get(letter, letter), tuple(found[letter]), sum(bool(row.lines) for row in found[letter]),
            sum(line.to_check for row in found[letter] for line in row.lines),
            bool(asked.find) or any(row.form or row.id == asked.show for row in found[letter]),
        )
        for letter in sorted(found)
    )  # fmt: skip


def _sums(state: State) -> Iterable[tuple[Characteristic, tuple[str, ...]]]:
    """Removals that are added up: the sum and its parts."""
    for known in state.catalogue.characteristics.values():
        removals = [name for name in known.arguments if name.endswith("_removed")]
        if known.kind == "derived" and len(removals) == len(known.arguments) > 1:
            yield known, known.arguments


def _coupled(state: State, rows: Mapping[str, CharacteristicRow]) -> tuple[Coupled, ...]:
    found = []
    for known, parts in _sums(state):
        mine = tuple(rows[part] for part in parts if part in rows)
        if known.id not in rows or len(mine) < len(parts):
            continue
        each, whole = [row.term for row in mine if row.lines], bool(rows[known.id].lines)
        said = "Each may go to its own limit, and all of them together not past the one on the sum."
        if each and not whole:
            said = "No limit on the sum: what they take together is not judged."
        elif whole and len(each) < len(mine):
            said = "The sum has a limit; what lacks one of its own is judged in the sum alone."
        elif not each:
            said = "Books often give one limit for each of these cuts and a smaller one for their sum; enter both."
        found.append(Coupled(mine, rows[known.id], said))
    return tuple(found)


def _header(sheet: Sheet | None, typed: Typed) -> tuple[Blank, ...]:
    kept = typed.fields if typed.form == "sheet" else {}
    held = {"name": sheet.name, "document": sheet.document, "doubt": sheet.bearer} if sheet else {}

    def value(name: str, otherwise: str = "") -> str:
        return kept.get(name, held.get(name, otherwise))

    invented = kept.get("invented", "yes" if sheet and sheet.invented else "no")
    return (
        Blank("name", "name of the sheet", value("name"), "TN-3", (), True),
        Blank("document", "document that it is copied from", value("document"), "Workshop book, issue 2", (), True),
        Blank("doubt", "the doubt", value("doubt", DOUBTS[0]), "", tuple((one, one) for one in DOUBTS)),
        Blank("invented", "the data are", invented, "", (("no", "from a document"), ("yes", "invented"))),
    )
