"""What is entered for the sake of the work: geometry that no reading shows, prices, and the work that is intended.

Each names what its writer saw, so that two benches do not replace each other unseen: `saw` is that of the page, None
takes what stands.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from hashlib import sha256
from typing import Any

from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.cuts import EVERYWHERE, cuts, model_of
from witnessmark.desk.geometry_entries import entries
from witnessmark.desk.state import State
from witnessmark.engine.work import Cut, amounts
from witnessmark.plan.prices import read_prices
from witnessmark.record.event import Event
from witnessmark.text.fault import Faulty
from witnessmark.text.near import did_you_mean

Entry = dict[str, Any]


def enter_prices(state: State, stamp: Stamp, text: str, name: str) -> tuple[Event, ...]:
    """Enter a price list. Raises Refused with every fault of it."""
    try:
        read_prices(text, name, state.catalogue)
    except Faulty as faulty:
        raise Refused("the price list cannot be read; mend these and enter it again", tuple(faulty.faults)) from None
    body = {"name": name, "text": text, "hash": sha256(text.encode("utf-8")).hexdigest(),
            "based_on": state.job.prices_event}  # fmt: skip
    return (stamp.event("prices_entered", body),)


def enter_geometry(
    state: State, stamp: Stamp, quantity: str, value: str, unit: str = "", place: str = "", side: str = "",
    u: str = "", document: str = "", page: str = "", saw: str | None = None,
) -> tuple[Event, ...]:  # fmt: skip
    """One quantity, for all places, one side (inl, exh) or one place. Raises Refused for what cannot be read."""
    known = model_of(state).quantities
    if quantity not in known:
        raise Refused(f"no quantity of this engine is called '{quantity[:60]}'{did_you_mean(quantity, known)}")
    _fresh(saw, state.job.geometry_event, "the geometry")
    if not value.strip():
        raise Refused(f"{known[quantity].term} needs its value: write digits with a unit")
    told = {"for": side, "place": place, "value": value, "unit": unit, "u": u, "document": document, "page": page}
    entry = {key: text.strip() for key, text in told.items() if text.strip()}
    held = [dict(one) for one in state.job.geometry.get(quantity, ())]
    kept = [one for one in held if (one.get("for"), one.get("place")) != (entry.get("for"), entry.get("place"))]
    changed = {**{name: list(each) for name, each in state.job.geometry.items()}, quantity: [*kept, entry]}
    _readable(state, quantity, entry)
    return (stamp.event("geometry_entered", {"entries": changed, "based_on": state.job.geometry_event}),)


def _readable(state: State, quantity: str, entry: Entry) -> None:
    alone = replace(state, job=replace(state.job, geometry={quantity: [entry]}))
    _, faults = entries(alone, model_of(state))
    if faults:
        raise Refused(faults[0])


def forget_geometry(state: State, stamp: Stamp, quantity: str, saw: str | None = None) -> tuple[Event, ...]:
    """Take all entries of a quantity out."""
    _fresh(saw, state.job.geometry_event, "the geometry")
    if quantity not in state.job.geometry:
        raise Refused(f"nothing is entered for '{quantity[:60]}'")
    left = {name: list(each) for name, each in state.job.geometry.items() if name != quantity}
    return (stamp.event("geometry_entered", {"entries": left, "based_on": state.job.geometry_event}),)


def set_work(
    state: State, stamp: Stamp, work: Sequence[Mapping[str, Any]], saw: str | None = None
) -> tuple[Event, ...]:
    """The whole of the intended work anew. Raises Refused for what cannot be done, naming it."""
    _fresh(saw, state.job.work_event, "the intended work")
    amounts(model_of(state), cuts(state, work))
    body = {"work": [_plain(one) for one in work], "based_on": state.job.work_event}
    return (stamp.event("work_set", body),)


def step_work(
    state: State, stamp: Stamp, operation: str, place: str, to: str, unit: str = "mm", saw: str | None = None
) -> tuple[Event, ...]:
    """One operation at a place, or at `all`, `inl`, `exh`, to an amount; nothing (0, or "") takes it out.

    What the book forbids may be tried: it is looked at, and told, not ordered.
    """
    _fresh(saw, state.job.work_event, "the intended work")
    model = model_of(state)
    working = model.operations.get(operation)
    if working is None:
        hint = did_you_mean(operation, model.operations)
        raise Refused(f"no operation of this engine is called '{operation[:60]}'{hint}")
    known = model.axes.locations[working.axis]
    places = [one for one in known if _means(place, one)]
    if not places:
        raise Refused(f"{operation} is not done at '{place[:60]}'{did_you_mean(place, (*known, *EVERYWHERE))}")
    nothing = not to.strip() or to.strip().strip("0.,+") == ""
    kept = [_plain(one) for one in expanded(state) if one["operation"] != operation or one["place"] not in places]
    fresh = [] if nothing else [_entry(operation, one, to.strip(), unit, working.switch) for one in places]
    cuts(state, fresh)
    return (stamp.event("work_set", {"work": kept + fresh, "based_on": state.job.work_event}),)


def clear_work(state: State, stamp: Stamp, saw: str | None = None) -> tuple[Event, ...]:
    """Nothing is intended any more."""
    _fresh(saw, state.job.work_event, "the intended work")
    if not state.job.work:
        raise Refused("no work is intended, so there is nothing to clear")
    return (stamp.event("work_set", {"work": [], "based_on": state.job.work_event}),)


def expanded(state: State) -> list[Entry]:
    """The intended work place by place, as entries."""
    return [_of_cut(state, one) for one in cuts(state, state.job.work)]


def _of_cut(state: State, one: Cut) -> Entry:
    switch = model_of(state).operations[one.operation].switch
    return _entry(one.operation, one.location, one.raw or f"{one.amount:.4f}", one.unit or "mm", switch)


def _entry(operation: str, place: str, amount: str, unit: str, switch: bool) -> Entry:
    entry = {"operation": operation, "place": place}
    return entry if switch else {**entry, "amount": amount, "unit": unit}


def _means(place: str, location: str) -> bool:
    """Whether a word means a place: itself, everywhere, or one side."""
    if place in ("inl", "exh"):
        return location.startswith(f"{place}-") or location.endswith(f"-{place}")
    return place in ("all", location)


def _plain(entry: Mapping[str, Any]) -> Entry:
    return {key: str(value) for key, value in entry.items() if value not in (None, "")}


def _fresh(saw: str | None, stands: str | None, what: str) -> None:
    if saw is not None and saw != (stands or ""):
        raise Refused(f"{what} was changed meanwhile, on another bench or in another window: look, and do it again")
