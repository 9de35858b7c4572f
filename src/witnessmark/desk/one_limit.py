"""One limit typed at the bench where it is first missed: it goes into the job's limit sheet, or begins one."""

from dataclasses import dataclass

from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp, enter_limit_sheet
from witnessmark.desk.limits import DOCUMENT, FILE, entries_now, key_of, text_now
from witnessmark.desk.state import State
from witnessmark.engine import place as places
from witnessmark.limits.edit import set_entry
from witnessmark.record.event import Event
from witnessmark.text.edit import add


@dataclass(frozen=True, slots=True)
class Typed:
    """What was typed: a service limit of one characteristic, for the kind of valve that the place names."""

    characteristic: str
    place: str
    low: str
    high: str
    unit: str
    page: str


def enter_limit(state: State, stamp: Stamp, typed: Typed) -> tuple[Event, ...]:
    """Add one service limit. Raises Refused for what the sheet would not take; then nothing is taken."""
    entry = state.catalogue.characteristics.get(typed.characteristic)
    if entry is None:
        raise Refused(f"no characteristic is called '{typed.characteristic}'; take one of the catalogue")
    ends = {name: end.strip() for name, end in (("low", typed.low), ("high", typed.high)) if end.strip()}
    if not ends:
        raise Refused(f"no limit for {entry.term} was typed; give the least, the most, or both")
    typed_entry = {**_for(typed.place), "service": ends, **_source(typed, entry.unit)}
    text, held = text_now(state), entries_now(state).get(key_of(entry.id, typed_entry), ())
    if len(held) == 1 and not held[0].get("service") and held[0].get("unit") == typed_entry["unit"]:
        text = set_entry(text, entry.id, {**held[0], "service": ends})
    else:
        text = add(text, ("limits", entry.id), typed_entry)
    name = state.job.limits.name if state.job.limits else FILE
    try:
        return enter_limit_sheet(state, stamp, text, name)
    except Refused as refused:
        first = refused.faults[0].message if refused.faults else str(refused)
        raise Refused(f"this limit for {entry.term} cannot be taken: {first}", refused.faults) from None


def _for(place: str) -> dict[str, str]:
    """A limit is typed for all valves of a kind, not for the one that stands before the hand."""
    try:
        side = places.valve_kind(place)
    except places.PlaceError as error:
        raise Refused(str(error)) from None
    return {"for": side} if side else {}


def _source(typed: Typed, unit: str) -> dict[str, str]:
    page = {"page": typed.page.strip()} if typed.page.strip() else {}
    return {"unit": typed.unit.strip() or unit, "document": DOCUMENT, **page}
