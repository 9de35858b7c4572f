"""What a person says to the plan: what must be in it, what must not, how sure it should be; which one is taken."""

from collections.abc import Iterable, Mapping
from typing import Any

from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.cuts import cuts, model_of
from witnessmark.desk.state import State
from witnessmark.plan.result import Item, Plan, Planned
from witnessmark.record.event import Event
from witnessmark.text.near import did_you_mean

WANTED = ("0.90", "0.95", "0.97", "0.99")
ALL = "all"

Entry = dict[str, Any]


def ask_plan(state: State, stamp: Stamp, change: str, operation: str = "", place: str = "", amount: str = "",
             unit: str = "", wanted: str = "") -> tuple[Event, ...]:  # fmt: skip
    """Change what the plan is asked: pin, forbid, free, or wanted. Raises Refused for what cannot be meant.

    pin      this operation at this place, by this amount, must be in it.
    forbid   this operation, at a place or everywhere (`all`), must not.
    free     neither any more; without an operation everything is free again.
    wanted   the chance that all holds at the first try.
    """
    pins = [dict(one) for one in state.job.plan_asked.get("pins") or ()]
    forbid = [dict(one) for one in state.job.plan_asked.get("forbid") or ()]
    asked = wanted or state.job.plan_asked.get("wanted")
    here = operation, place or ALL
    if change in ("pin", "forbid"):
        _known(state, operation)
        pins, forbid = _without(pins, here), _without(forbid, here)
    if change == "pin":
        entry = _entry(operation, place, amount, unit)
        cuts(state, [entry])  # refused where it cannot be done
        pins.append(entry)
    elif change == "forbid":
        forbid.append({"operation": operation, "place": place or ALL})
    elif change == "free":
        pins = _without(pins, here) if operation else []
        forbid = _without(forbid, here) if operation else []
    elif change == "wanted":
        if wanted not in WANTED:
            raise Refused(f"'{wanted[:20]}' is no chance to ask for; take one of {', '.join(WANTED)}")
    else:
        raise Refused(f"'{change[:40]}' is nothing to ask of a plan; there are pin, forbid, free and wanted")
    body = {"pins": pins, "forbid": forbid, "wanted": asked, "based_on": state.job.plan_asked_event}
    return (stamp.event("plan_asked", body),)


def _known(state: State, operation: str) -> None:
    known = model_of(state).operations
    if operation not in known:
        raise Refused(f"no operation of this engine is called '{operation[:60]}'{did_you_mean(operation, known)}")


def _entry(operation: str, place: str, amount: str, unit: str) -> Entry:
    entry = {"operation": operation, "place": place, "amount": amount or None, "unit": unit or None}
    return {key: value for key, value in entry.items() if value is not None}


def _without(entries: list[Entry], here: tuple[str, str]) -> list[Entry]:
    operation, place = here
    return [one for one in entries if one["operation"] != operation or (place != ALL and one["place"] != place)]


def order_plan(state: State, stamp: Stamp, planned: Planned, name: str, why: str = "") -> tuple[Event, ...]:
    """Take a plan: it becomes the order, and the intended work. Raises Refused for a plan that is not there."""
    chosen = next((one for one in planned.plans if one.name == name), None)
    if chosen is None:
        there = ", ".join(one.name for one in planned.plans) or "none"
        raise Refused(f"there is no plan {name[:20]} any more; there is {there}: read the sheet again")
    work = [work_of(one) for one in chosen.items]
    body = {"name": chosen.name, "work": work, "cost": f"{chosen.cost:.2f}", "currency": chosen.currency or None,
            "why": why.strip() or chosen.kind, "based_on": state.job.order_event}  # fmt: skip
    known = [one for one in work if one["operation"] in model_of(state).operations]
    intended = {"work": known, "based_on": state.job.work_event}
    return stamp.event("plan_ordered", body), stamp.event("work_set", intended, ".work")


def work_of(item: Item) -> Mapping[str, str]:
    """An item as an entry of the record."""
    entry = {"operation": item.operation, "place": item.location}
    return entry if item.amount is None else {**entry, "amount": f"{item.amount:.4f}", "unit": "mm"}


def ordered_plan(state: State, planned: Planned) -> Plan | None:
    """The plan that was ordered, where it is still one of those that stand."""
    order = state.job.order
    if order is None:
        return None
    work = [dict(one) for one in order["work"]]
    return next((one for one in planned.plans if [dict(work_of(item)) for item in one.items] == work), None)


def bare_items(state: State, work: Iterable[Mapping[str, Any]]) -> Iterable[Item]:
    """Entries of the record as items without ranges and reasons."""
    known = model_of(state).operations
    for one in work:
        if one["operation"] in known:
            for cut in cuts(state, [one]):
                size = None if known[cut.operation].switch else cut.amount
                yield Item(cut.operation, cut.location, size, None, None, 0.0, 0.0)
        else:
            yield Item(str(one["operation"]), str(one["place"]), None, None, None, 0.0, 0.0)
