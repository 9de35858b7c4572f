"""Intended work as it is written and as the geometry takes it: `seat_cut@inl-3f=0.20mm`, or entries of the job."""

from collections.abc import Iterable, Mapping
from typing import Any

from witnessmark.desk.bench import Refused
from witnessmark.desk.look import dialect
from witnessmark.desk.state import State
from witnessmark.engine.model import Model
from witnessmark.engine.operation import Working
from witnessmark.engine.place import shown
from witnessmark.engine.tables import geometry
from witnessmark.engine.work import Cut
from witnessmark.quantity.amount import Amount
from witnessmark.quantity.read import read
from witnessmark.quantity.unit import unit as unit_of
from witnessmark.text.near import did_you_mean

EVERYWHERE = ("all", "inl", "exh")
MOST_AMOUNT = 100.0  # mm: nobody takes off more; a slip of the unit does
MOST_SIZE = 1000.0  # mm: of a part that is put in by its size, such as a pushrod


def model_of(state: State) -> Model:
    """The geometry of the job's engine. Raises Refused while the engine is not described."""
    if state.layout is None:
        raise Refused("describe the engine first: its layout tells what moves with what")
    return geometry(state.layout)


def read_cut(state: State, text: str) -> tuple[Cut, ...]:
    """One cut as it is written on a command line: OPERATION@LOCATION=AMOUNT[UNIT]; without `=` for a part.

    `all`, `inl` and `exh` stand for all places of the operation. Raises Refused with what is wrong and what to write.
    """
    operation, at, rest = text.partition("@")
    location, equals, amount = rest.partition("=")
    if not at or not location:
        raise Refused(f"'{text[:60]}' is no cut: write OPERATION@LOCATION=AMOUNT, such as seat_cut@inl-3f=0.20mm")
    return cuts(state, [{"operation": operation.strip(), "place": location.strip(),
                         "amount": amount.strip() if equals else None}])  # fmt: skip


def cuts(state: State, work: Iterable[Mapping[str, Any]]) -> tuple[Cut, ...]:
    """The cuts of entries {operation, place, amount, unit}. Raises Refused for the first that cannot be done."""
    model = model_of(state)
    return tuple(cut for entry in work for cut in _entry(state, model, entry))


def _entry(state: State, model: Model, entry: Mapping[str, Any]) -> Iterable[Cut]:
    name, place = str(entry.get("operation") or ""), str(entry.get("place") or "")
    working = model.operations.get(name)
    if working is None:
        known = [one for one in model.operations if one in state.catalogue.operations]
        if name in state.catalogue.operations:
            raise Refused(f"'{name}' changes nothing here that the geometry knows: leave it out of the intended work"
                          f"; with {model.layout.gear} it knows {', '.join(known)}")  # fmt: skip
        raise Refused(f"no operation is called '{name[:60]}'{did_you_mean(name, known)}")
    amount, raw, unit = _amount(state, working, entry)
    for location in _places(model, working, place):
        yield Cut(name, location, amount, unit, raw)


def _places(model: Model, working: Working, place: str) -> tuple[str, ...]:
    known = model.axes.locations[working.axis]
    if place in EVERYWHERE:
        found = tuple(one for one in known if place == "all" or one.startswith(f"{place}-") or f"-{place}" in one)
        if found:
            return found
    if place in known:
        return (place,)
    hint = did_you_mean(place, known) or f"; it is done at {', '.join(known[:4])}{' ...' if len(known) > 4 else ''}"
    raise Refused(f"{working.id} is not done at '{place[:60]}'{hint}")


def _amount(state: State, working: Working, entry: Mapping[str, Any]) -> tuple[float, str, str]:
    """The amount in the unit inside, the text it came as, and its unit."""
    text, unit = entry.get("amount"), str(entry.get("unit") or "") or dialect(state.job)
    term = state.catalogue.operations[working.id].term if working.id in state.catalogue.operations else working.id
    if working.switch:
        if text not in (None, "", "1"):
            raise Refused(f"{working.id} puts a part in and has no amount: write {working.id}@{entry.get('place')}")
        return 1.0, "", ""
    if text in (None, ""):
        raise Refused(f"{working.id} needs an amount: how much to {term}, such as {working.id}@all=0.10mm")
    try:
        found = read(str(text), unit, dimension="length")
    except ValueError:
        raise Refused(f"'{unit[:20]}' is no unit of length; write mm or in") from None
    if not isinstance(found, Amount):
        raise Refused(f"the amount '{str(text)[:40]}' of {working.id} cannot be read: write digits with mm or in")
    value = float(found.value * unit_of(found.unit, "length").factor)
    if value < 0 or (working.sets and value == 0):
        raise Refused(f"{working.id} by {text} is no work: an amount is above nothing")
    if value > (MOST_SIZE if working.sets else MOST_AMOUNT):
        raise Refused(f"{working.id} by {text} {found.unit} is {value:g} mm: was the unit meant otherwise?")
    return value, str(text), found.unit


def intended(state: State) -> tuple[Cut, ...]:
    """The intended work of the job."""
    return cuts(state, state.job.work)


def place_words(location: str) -> str:
    """A place as the bench says it: `Inl 3F`; a whole head or engine stays a plain word."""
    return shown(location) if location not in ("engine", "head") else location
