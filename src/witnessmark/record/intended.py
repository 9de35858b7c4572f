"""What stands beside the readings for the sake of the work: geometry entered, prices, intended work, plan and order.

Of each the last entry holds, by what it was based on (latest.py).
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from witnessmark.record import latest
from witnessmark.record.event import Event
from witnessmark.record.job import Conflict, LimitsText

ByKind = Mapping[str, Sequence[Event]]

SAID: Mapping[str, Callable[[Event], str]] = {
    "geometry_entered": lambda _: "a geometry",
    "prices_entered": lambda event: f"price list {event.body['name']}",
    "work_set": lambda _: "intended work",
    "plan_asked": lambda _: "a wish to the plan",
    "plan_ordered": lambda event: f"order {event.body['name']}",
    "conditions_entered": lambda _: "the conditions of the tests",
}
ABOUT = {"geometry_entered": "geometry", "prices_entered": "prices", "work_set": "work", "plan_asked": "plan",
         "plan_ordered": "order", "conditions_entered": "conditions"}


def intended(kinds: ByKind, gone: frozenset[str]) -> tuple[dict[str, Any], list[Conflict]]:
    """The fields of a job that hold them, and the conflicts that are open about them."""
    held: dict[str, Event | None] = {}
    conflicts: list[Conflict] = []
    for kind, said in SAID.items():
        entries = kinds.get(kind, ())
        state = latest.states(entries, gone)
        held[kind] = latest.current(entries, state)
        conflicts += latest.stale(ABOUT[kind], entries, state, said)
    geometry, prices, work, asked, order, conditions = (held[kind] for kind in SAID)
    return {
        "geometry": geometry.body["entries"] if geometry else {}, "geometry_event": _id(geometry),
        "prices": _text(prices) if prices else None, "prices_event": _id(prices),
        "work": tuple(work.body["work"]) if work else (), "work_event": _id(work),
        "plan_asked": asked.body if asked else {}, "plan_asked_event": _id(asked),
        "order": order.body if order else None, "order_event": _id(order),
        "conditions": conditions.body["entries"] if conditions else {}, "conditions_event": _id(conditions),
    }, conflicts


def _id(event: Event | None) -> str | None:
    return event.id if event else None


def _text(event: Event) -> LimitsText:
    return LimitsText(event.body["name"], event.body["text"], event.body["hash"], event.id)
