"""The limit sheet worked on entry by entry: typed, changed, removed, checked, copied; what the book allows beside it.

Every change is a change of the sheet's text, which stays as its user wrote it, and one `limits_entered` event on top of
the sheet that held. Whoever works on an entry says by its mark which state of it was before his eyes: where another
device has changed that entry meanwhile, it is told and nothing is taken.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from witnessmark.catalogue.entry import NOTHING, Characteristic
from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp, enter_limit_sheet
from witnessmark.desk.state import State
from witnessmark.limits import edit
from witnessmark.limits.read import read_sheet
from witnessmark.limits.sheet import TYPED_AT_BENCH, Selector
from witnessmark.quantity.read import Amount, read
from witnessmark.quantity.unit import UnknownUnit, unit
from witnessmark.record.event import Event
from witnessmark.record.written import sha256
from witnessmark.text.edit import flow
from witnessmark.text.fault import Fault, Faulty
from witnessmark.text.near import did_you_mean

NAME, DOCUMENT, FILE = "bench", TYPED_AT_BENCH, "limits.yaml"
DOUBTS = ("must be proven good", "must be proven bad", "even")
ALLOWED = ("yes", "no", "up to", "unknown")
NOT_THERE = "none"  # mark of an entry that does not stand in the sheet


class Stale(Refused):
    """Another device has changed the same thing since it was looked at; nothing was taken."""


@dataclass(frozen=True, slots=True)
class Key:
    """What an entry is known by: its characteristic, its places, and what of many readings it limits, if it says so."""

    characteristic: str
    for_: str = ""
    position: str = ""
    place: str = ""
    stations: str = ""

    @property
    def selector(self) -> Selector:
        """The places."""
        return Selector(self.for_, self.position, self.place)

    def __str__(self) -> str:
        return ";".join((self.characteristic, self.for_, self.position, self.place, self.stations))


@dataclass(frozen=True, slots=True)
class Typed:
    """One entry as it was typed; an empty text is a blank that was left empty."""

    key: Key
    low: str = ""
    high: str = ""
    new_low: str = ""
    new_high: str = ""
    given: str = ""
    accept: tuple[str, ...] = ()
    unit: str = ""
    page: str = ""
    document: str = ""
    doubt: str = ""
    checked: bool = False  # the entry was held against the document


def key_of(characteristic: str, entry: Mapping[str, Any]) -> Key:
    """The key of an entry as the file has it."""
    return Key(characteristic, *(str(entry.get(name) or "") for name in ("for", "position", "place", "stations")))


def key_from(code: str) -> Key:
    """The key that a form or an address names. Raises Refused."""
    parts = code.split(";")
    if len(parts) != 5:
        raise Refused(f"'{code[:60]}' names no limit; open the limits sheet again and choose there")
    return Key(*parts)


def entries_now(state: State) -> Mapping[Key, tuple[Mapping[str, Any], ...]]:
    """The entries of the sheet in force, in its order; where two are for the same places, both stand under one key."""
    found: dict[Key, list[Mapping[str, Any]]] = {}
    if state.job.limits is not None and state.sheet is not None:
        for characteristic, entry in edit.entries(state.job.limits.text):
            found.setdefault(key_of(characteristic, entry), []).append(entry)
    return {key: tuple(several) for key, several in found.items()}


def mark_of(entries: Sequence[Mapping[str, Any]]) -> str:
    """A short mark of what an entry says now, by which a later change knows whether it still does."""
    return sha256(flow(list(entries)))[:12] if entries else NOT_THERE


def sheet_mark(state: State) -> str:
    """The same for the sheet as a whole."""
    return state.job.limits.event if state.job.limits else NOT_THERE


def type_entry(state: State, stamp: Stamp, typed: Typed, was: Key | None = None, seen: str = "") -> tuple[Event, ...]:
    """Take one entry into the sheet, in place of `was` where that is named; the first one begins a sheet.

    Raises Refused for what the sheet would not take, with the faults of this entry, and Stale.
    """
    known = _known(state, typed.key.characteristic)
    now = entries_now(state)
    held = now.get(was, ()) if was else ()
    _unchanged(mark_of(held), seen, f"this limit for {known.term}")
    if was != typed.key and typed.key in now:
        raise Refused(f"a limit of {known.term} for {typed.key.selector} stands already; change that one")
    text = text_now(state)
    if was is not None and was != typed.key and held:
        text = edit.remove_entry(text, was.characteristic, was.selector, was.stations)
    text = edit.set_entry(text, known.id, _entry(typed, known, held))
    return _kept(state, stamp, text, f"this limit for {known.term} cannot be taken")


def remove_entry(state: State, stamp: Stamp, key: Key, seen: str = "") -> tuple[Event, ...]:
    """Take one entry out. Raises Refused where it is not there, and Stale."""
    term = _known(state, key.characteristic).term
    _unchanged(mark_of(_held(state, key)), seen, f"this limit for {term}")
    text = edit.remove_entry(text_now(state), key.characteristic, key.selector, key.stations)
    return _kept(state, stamp, text, f"this limit for {term} cannot be taken out")


def check_entry(state: State, stamp: Stamp, key: Key, page: str = "", seen: str = "") -> tuple[Event, ...]:
    """An entry was held against the document, by the person of the stamp; `page` is where, if it did not say so."""
    term = _known(state, key.characteristic).term
    held = _held(state, key)
    _unchanged(mark_of(held), seen, f"this limit for {term}")
    _named(stamp)
    where = page.strip() or next((str(one["page"]) for one in held if one.get("page")), "")
    text = edit.mark_checked(text_now(state), key.characteristic, key.selector, key.stations, where)
    said = f"{term} for {key.selector} held against the document{f', page {where}' if where else ''}, by {stamp.by}"
    return (*_kept(state, stamp, text, "this check cannot be kept"), _note(stamp, said))


def check_all(state: State, stamp: Stamp, seen: str = "") -> tuple[Event, ...]:
    """Every entry of the sheet was held against the document, by the person of the stamp."""
    if state.sheet is None or not any(limit.to_check for limit in state.sheet.limits):
        raise Refused("no limit of this sheet is waiting to be checked")
    _unchanged(sheet_mark(state), seen, "the sheet")
    _named(stamp)
    events = _kept(state, stamp, edit.mark_all_checked(text_now(state)), "this check cannot be kept")
    said = f"all of sheet {state.sheet.name} held against {state.sheet.document}, by {stamp.by}"
    return (*events, _note(stamp, said))


def copy_sheet(
    state: State, stamp: Stamp, text: str, source: str, name: str = "", replace: bool = False
) -> tuple[Event, ...]:
    """Take a copy of another sheet: every entry waits to be checked. `source` says where it comes from.

    `replace` lets it stand in place of a sheet that is there. Raises Refused, with the faults of the other sheet.
    """
    held = state.sheet
    if held is not None and held.limits and not replace:
        said = f"sheet {held.name} with {len(held.limits)} limits stands here"
        raise Refused(f"{said}; tick that the copy goes in its place")
    try:
        other = read_sheet(text, source, state.catalogue)
    except Faulty as faulty:
        raise Refused(f"{source} cannot be copied: {len(faulty.faults)} to mend there", tuple(faulty.faults)) from None
    if not other.limits:
        raise Refused(f"{source} holds no limit, so there is nothing to copy")
    copied = edit.copy_of(text, name.strip() or other.name, f"{source}, sheet {other.name}")
    return enter_limit_sheet(state, stamp, copied, f"{name.strip() or other.name}.yaml")


def name_sheet(
    state: State, stamp: Stamp, name: str, document: str, doubt: str = "", invented: bool = False, seen: str = ""
) -> tuple[Event, ...]:
    """Say what the sheet is called, from which document it is copied and who bears the doubt; or begin one so."""
    if not name.strip() or not document.strip():
        raise Refused("a sheet needs a name and the document that it is copied from, such as Workshop book, issue 2")
    if doubt and doubt not in DOUBTS:
        raise Refused(f"'{doubt[:40]}' is not who bears the doubt; take one of {', '.join(DOUBTS)}")
    _unchanged(sheet_mark(state), seen, "the sheet")
    text = text_now(state)
    for key, value in (("name", name.strip()), ("document", document.strip())):
        text = edit.set_header(text, key, value)
    text = edit.set_header(text, "doubt", "" if doubt == DOUBTS[0] else doubt)
    text = edit.set_header(text, "invented", "yes" if invented else "")
    return _kept(state, stamp, text, "this sheet cannot be taken")


def allow(
    state: State, stamp: Stamp, operation: str, allowed: str, most: str = "", unit_: str = "", page: str = "",
    seen: str = "",
) -> tuple[Event, ...]:  # fmt: skip
    """What the book says of an operation: yes, no, up to so much, or unknown; `allowed` "" takes it out again."""
    known = state.catalogue.operations.get(operation)
    if known is None:
        raise Refused(f"no operation is called '{operation[:60]}'{did_you_mean(operation, state.catalogue.operations)}")
    if allowed and allowed not in ALLOWED:
        raise Refused(f"'{allowed[:40]}' is not what a book says of it; take one of {', '.join(ALLOWED)}")
    held = operations_now(state).get(operation)
    _unchanged(mark_of([held] if held else []), seen, f"what the book allows for '{known.term}'")
    if not allowed:
        if held is None:
            raise Refused(f"nothing is said of '{known.term}' yet; take yes, no, up to or unknown")
        return _kept(state, stamp, edit.remove_operation(text_now(state), operation), "this cannot be taken out")
    blanks = {"allowed": allowed, "most": most.strip(), "unit": unit_.strip() if most.strip() else "",
              "document": str((held or {}).get("document") or ""), "page": page.strip()}  # fmt: skip
    text = edit.set_operation(text_now(state), operation, {key: value for key, value in blanks.items() if value})
    return _kept(state, stamp, text, f"what the book allows for '{known.term}' cannot be taken")


def operations_now(state: State) -> Mapping[str, Mapping[str, Any]]:
    """What the sheet in force says of operations, as its text has it."""
    if state.job.limits is None or state.sheet is None:
        return {}
    return edit.operations(state.job.limits.text)


def _known(state: State, characteristic: str) -> Characteristic:
    known = state.catalogue.characteristics.get(characteristic)
    if known is None:
        near = did_you_mean(characteristic, state.catalogue.characteristics)
        raise Refused(f"no characteristic is called '{characteristic[:60]}'{near}")
    return known


def _held(state: State, key: Key) -> tuple[Mapping[str, Any], ...]:
    held = entries_now(state).get(key, ())
    if not held:
        term = _known(state, key.characteristic).term
        raise Stale(f"the sheet has no limit of {term} for {key.selector} any more; look at it again")
    return held


def _unchanged(now: str, seen: str, what: str) -> None:
    if seen and now != seen:
        raise Stale(f"{what} was changed on another device meanwhile, and nothing was kept of yours; look at what "
                    "stands there now, then keep yours again or leave it")  # fmt: skip


def _named(stamp: Stamp) -> None:
    if not stamp.by.strip():
        raise Refused("say who held it against the document: a check without a name is none")


def text_now(state: State) -> str:
    """The text of the sheet in force, or of one that begins. Raises Refused where it cannot be read."""
    if state.job.limits is None:
        return edit.begun(NAME, DOCUMENT)
    if state.sheet is None:
        raise Refused("the limit sheet of this job cannot be read; mend its text on the job sheet first")
    return state.job.limits.text


def _kept(state: State, stamp: Stamp, text: str, said: str) -> tuple[Event, ...]:
    name = state.job.limits.name if state.job.limits else FILE
    if state.job.limits is not None and text == state.job.limits.text:
        raise Refused("this is what the sheet says already, so there is nothing to keep")
    try:
        return enter_limit_sheet(state, stamp, text, name)
    except Refused as refused:
        first = next((fault.message for fault in refused.faults if isinstance(fault, Fault)), str(refused))
        raise Refused(f"{said}: {first}", refused.faults) from None


def _note(stamp: Stamp, said: str) -> Event:
    return stamp.event("noted", {"about": stamp.id, "text": said}, "-n")


def _entry(typed: Typed, known: Characteristic, held: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """The entry as the file has it: what was typed, and what the form does not show as it stood."""
    key, before = typed.key, held[0] if held else {}
    ends = {"low": typed.low.strip(), "high": typed.high.strip()}
    new = {"low": typed.new_low.strip(), "high": typed.new_high.strip()}
    amounts = [*ends.values(), *new.values(), typed.given.strip()]
    measured = known.quantity != NOTHING and any(amounts)
    waiting = any(one.get("to_check") == "yes" for one in held) and not typed.checked
    entry: dict[str, Any] = {
        "for": key.for_, "position": key.position, "place": key.place,
        "service": {end: said for end, said in ends.items() if said},
        "new": {end: said for end, said in new.items() if said},
        "other": before.get("other"), "given": typed.given.strip(), "accept": list(typed.accept),
        "unit": _unit_of(amounts, typed.unit.strip(), known) if measured or before.get("other") else "",
        "stations": key.stations, "page": typed.page.strip(), "document": typed.document.strip(),
        "doubt": typed.doubt, "to_check": "yes" if waiting else "",
    }  # fmt: skip
    return {name: value for name, value in entry.items() if value}


def _unit_of(amounts: Sequence[str], chosen: str, known: Characteristic) -> str:
    """The unit of an entry: the one that all its values were typed with, else the one that was chosen."""
    try:
        named = unit(chosen or known.unit, known.quantity).name
    except UnknownUnit:
        return chosen  # the sheet tells what is amiss with it
    found = [read(said, named, dimension=known.quantity) for said in amounts if said]
    typed = {one.unit for one in found if isinstance(one, Amount)}
    return typed.pop() if len(typed) == 1 else named
