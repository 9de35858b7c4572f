"""A plan in words: why each piece of work is in it, what a gate asks, what stands in the way, what must be asked."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from fractions import Fraction
from typing import Any

from witnessmark.catalogue.entry import Catalogue
from witnessmark.catalogue.place import PlaceError, shown
from witnessmark.explain.consequence import STEPS, named
from witnessmark.explain.words import BARE, unit_shown
from witnessmark.plan.result import Conflict, InTheWay, Item, Missing
from witnessmark.quantity.show import show

Facts = Mapping[str, Any]
BELONGS = {
    "seat_cut": "a new guide has an axis of its own: the seat is cut true to it, and no deeper",
    "relief_top": "it brings the band back to its width from outside",
    "relief_bottom": "it brings the band back to its width from inside",
    "lash_shim": "seats and valves have moved the lash",
}
SURER = "without it something that stands near its limit would not hold as surely as you asked"
def place(location: str) -> str:
    """A place as the bench says it."""
    try:
        return shown(location)
    except PlaceError:
        return location


def number(catalogue: Catalogue, characteristic: str, value: float, display: str, *, unit: bool = False) -> str:
    """A value of a characteristic with the digits of a prediction."""
    quantity = catalogue.characteristics[characteristic].quantity
    name = unit_shown(quantity, display)
    step, step_unit = STEPS.get(quantity, STEPS["length"])
    text = show(value, name, Fraction(step), step_unit, dimension=quantity)
    return f"{text} {name}" if unit and name not in BARE else text


def amount(value: float, display: str, decimals: int = 2) -> str:
    """An amount of metal, a shim or a gasket, in the unit on display."""
    return f"{value / 25.4:.{decimals + 1}f}" if display == "in" else f"{value:.{decimals}f}"


def why_item(item: Item, catalogue: Catalogue, display: str = "mm") -> str:
    """Why this work is in the plan, its strongest reason first."""
    here = item.location
    told = [_REASONS[name](facts, catalogue, display, here) for name, facts in item.reasons if name in _REASONS]
    return "; ".join(dict.fromkeys(told))


def _named(facts: Facts, catalogue: Catalogue, here: str) -> str:
    """A characteristic with its place, where that is another than the work's own."""
    where, name = str(facts["location"]), str(facts["characteristic"])
    term = catalogue.characteristics[name].term if name in catalogue.characteristics else named(name)
    return term if where == here else f"{term} {place(where)}"


def _holds(facts: Facts, catalogue: Catalogue, display: str, here: str) -> str:
    name, room = str(facts["characteristic"]), float(facts["room"])
    end = "least" if facts["side"] == "low" else "most"
    if room >= 0:
        return f"{_named(facts, catalogue, here)} would stand too near to its {end} to be sure"
    known = name in catalogue.characteristics
    apart = number(catalogue, name, -room, display, unit=True) if known else f"{amount(-room, display)} {display}"
    side = "under its least" if facts["side"] == "low" else "over its most"
    return f"without it {_named(facts, catalogue, here)} is {apart} {side}"


def _answers(facts: Facts, catalogue: Catalogue, display: str, here: str) -> str:  # noqa: ARG001
    return f"{_named(facts, catalogue, here)} {facts['verdict']}"


def _belongs(facts: Facts, catalogue: Catalogue, display: str, here: str) -> str:  # noqa: ARG001
    operation, beside = str(facts["operation"]), facts.get("beside") or ()
    if operation == "seat_cut" and "guide_replace" not in beside:
        return SURER
    return BELONGS.get(operation, SURER)


def _shim(facts: Facts, catalogue: Catalogue, display: str, here: str) -> str:  # noqa: ARG001
    needed = amount(float(facts["needed"]), display, 3)
    source = str(facts["source"])
    if facts.get("came_from"):
        return f"needs {needed}: takes that of {place(str(facts['came_from']))}"
    return f"needs {needed}: {'from the shelf' if source == 'shelf' else source}"


_REASONS: Mapping[str, Callable[[Facts, Catalogue, str, str], str]] = {
    "holds": _holds, "answers": _answers, "belongs": _belongs, "shim": _shim,
}  # fmt: skip


# What is asked of many operations at once stands in one sentence.
ASKED = {
    "ask": "The book says nothing of: {}. Look it up, and enter it in the limit sheet.",
    "no price": "No price stands for: {}. Enter it in the price list, and it can be planned.",
    "not foreseen": "What these parts would bring is not known, so they are not planned: {}. Say it in the price list.",
}
MOST_PLACES = 4


def questions_words(
    notes: Iterable[tuple[str, Facts]], catalogue: Catalogue, display: str = "mm"
) -> tuple[str, ...]:
    """What the tool asks before, or beside, a plan: first what a plan waits for, then what would open more."""
    several = list(notes)
    told = [_asks_for(kind, facts, catalogue, display) for kind, facts in several if kind not in ASKED]
    for kind, words in ASKED.items():
        operations = (str(facts["operation"]) for one, facts in several if one == kind)
        terms = [catalogue.operations[name].term for name in operations if name in catalogue.operations]
        told += [words.format(", ".join(dict.fromkeys(terms)))] if terms else []
    return tuple(told)


def _asks_for(kind: str, facts: Facts, catalogue: Catalogue, display: str) -> str:
    entry = catalogue.characteristics[str(facts["characteristic"])]
    where = place(str(facts["location"]))
    if kind == "measure better":
        U = facts.get("U")
        gauge = f", with U {number(catalogue, entry.id, float(U), display)} at most" if U else ""
        return f"Measure again, better: {entry.term} {where} is too close to call{gauge}."
    return f"{entry.term[:1].upper()}{entry.term[1:]} {where} is {facts['verdict']}, and no remedy of it is open: " \
           "look into the book and the price list."  # fmt: skip


def missing_words(missing: Missing, catalogue: Catalogue) -> str:
    """What is not known, where, and why where that says more."""
    term = catalogue.characteristics[missing.characteristic].term
    named = " · ".join(place(one) for one in missing.places[:MOST_PLACES])
    more = len(missing.places) - MOST_PLACES
    where = f"{named} and {more} more" if more > 0 else named
    return f"{term} {where}" if missing.why == f"{term} is not known" else f"{term} {where}: {missing.why}"


def conflict_words(conflict: Conflict, catalogue: Catalogue, display: str = "mm") -> tuple[str, ...]:
    """What stands in the way, one sentence for each thing."""
    head = {
        "gauge": "The limits agree with each other; only the gauge is too coarse. Measure better:",
        "limits": "These limits cannot hold together, whatever is cut. Each would have to give:",
        "permission": "Within what the book allows nothing works. It would with:",
        "physical": "No part, shim or cut that exists brings this about:",
        "pins": "What you pinned and what you forbade cannot be met:",
    }[conflict.kind]
    told = [head]
    told += [_in_the_way(row, catalogue, display) for row in conflict.rows]
    for name, where, U in conflict.measure_better:
        needed = number(catalogue, name, U, display, unit=True)
        told.append(f"{catalogue.characteristics[name].term} {place(where)}: a gauge with U {needed}")
    if conflict.kind == "pins":
        told += list(conflict.asks)
    elif conflict.asks:
        works = ", ".join(catalogue.operations[name].term for name in conflict.asks)
        told.append(f"work that the book forbids or does not mention would do: {works}")
    return tuple(told)


def _in_the_way(row: InTheWay, catalogue: Catalogue, display: str) -> str:
    name = row.characteristic
    term = catalogue.characteristics[name].term if name in catalogue.characteristics else named(name)
    end = "least" if row.side == "low" else "most"
    if name not in catalogue.characteristics:
        return f"{term} {place(row.location)}, {end} {amount(row.limit, display)}: by {amount(row.gives, display, 3)}"
    limit, gives = (number(catalogue, name, value, display, unit=True) for value in (row.limit, row.gives))
    return f"{term} {place(row.location)}, {end} {limit}: by {gives}"


def places_words(items: Sequence[Item]) -> str:
    """Where one kind of work is done: `Inl 1R · Exh 3F`."""
    return " · ".join(place(one.location) for one in items)
