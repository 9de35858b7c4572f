"""One limit typed at the bench where it is first missed: it goes into the job's limit sheet, or begins one."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp, enter_limit_sheet
from witnessmark.desk.state import State
from witnessmark.engine import place as places
from witnessmark.limits.model import FORMAT
from witnessmark.limits.sheet import TYPED_AT_BENCH
from witnessmark.record.event import Event
from witnessmark.text import read, write

NAME, DOCUMENT = "bench", TYPED_AT_BENCH


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
    data = _sheet(state)
    held = data["limits"].get(entry.id) or []
    data["limits"][entry.id] = [*held, {**_for(typed.place), "service": ends, **_source(typed, entry.unit)}]
    name = state.job.limits.name if state.job.limits else "limits.yaml"
    try:
        return enter_limit_sheet(state, stamp, write.write(data), name)
    except Refused as refused:
        first = refused.faults[0].message if refused.faults else str(refused)
        raise Refused(f"this limit for {entry.term} cannot be taken: {first}", refused.faults) from None


def _sheet(state: State) -> dict[str, Any]:
    """The sheet in force as data, or the beginning of one."""
    if state.job.limits is None:
        return {"format": FORMAT, "sheet": {"name": NAME, "document": DOCUMENT}, "limits": {}}
    data = read.read(state.job.limits.text, state.job.limits.name).data
    limits = data.get("limits") if isinstance(data, Mapping) else None
    if not isinstance(data, Mapping) or not isinstance(limits, Mapping):
        raise Refused("the limit sheet of this job cannot be read; mend it on the job sheet first")
    return {**data, "limits": dict(limits)}


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
