"""What was chosen as items of a plan: each with the rows that would not hold without it, and the range that holds."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import numpy as np

from witnessmark.catalogue.entry import Catalogue
from witnessmark.engine.model import Model
from witnessmark.engine.work import Cut
from witnessmark.fit.lash import BOUGHT, STAYS
from witnessmark.plan.bench import Bench
from witnessmark.plan.beside import Demand
from witnessmark.plan.margins import Margins
from witnessmark.plan.others import RELIEFS
from witnessmark.plan.problem import Floats, Problem
from witnessmark.plan.result import Item
from witnessmark.plan.shims import Shims
from witnessmark.plan.solve import Solution

NOTE = tuple[str, Mapping[str, Any]]


def chosen(bench: Bench, problem: Problem, found: Solution, demands: Sequence[Demand]) -> tuple[Item, ...]:
    """What was chosen, each with the rows that would not hold without it, and the range that keeps all of them."""
    assert found.amounts is not None
    picked = [int(n) for n in np.flatnonzero(found.amounts)]
    if not picked:
        return ()
    without = np.tile(found.amounts, (len(picked), 1))
    for row, n in enumerate(picked):
        without[row, [n, *_needing(problem, n, found.amounts)]] = 0.0
    rooms = problem.geometry.values(without)
    made = []
    for row, n in enumerate(picked):
        offer = problem.offers[n]
        switch = bench.model.operations[offer.operation].switch
        least, most = (None, None) if switch else _range(problem, found, n)
        why = _reasons(problem, found, rooms[row], n, demands)
        made.append(Item(offer.operation, offer.location, None if switch else float(found.amounts[n]), least, most,
                         offer.cost, offer.minutes, why))  # fmt: skip
    return tuple(made)


def _needing(problem: Problem, n: int, amounts: Floats) -> list[int]:
    """What is there only because of this choice: the relief cuts of a seat that would not be cut."""
    found = []
    for rule in problem.rules:
        if n in rule.needs and not any(amounts[other] > 0 for other in rule.needs if other != n):
            found += [choice for choice in rule.choices if problem.offers[choice].operation in RELIEFS]
    return found


def _range(problem: Problem, found: Solution, n: int) -> tuple[float, float]:
    """The least and the most of this one cut with which every row still holds as surely as it must."""
    assert found.amounts is not None
    offer = problem.offers[n]
    if offer.step is None:
        return offer.least, offer.most
    steps = np.arange(round(offer.least / offer.step), round(offer.most / offer.step) + 1) * offer.step
    tries = np.tile(found.amounts, (len(steps), 1))
    tries[:, n] = steps
    rooms = problem.geometry.values(tries) - found.kappa * found.u
    known = ~np.isnan(found.rooms)
    good = np.all(np.nan_to_num(rooms[:, known], nan=-1.0) >= -1e-7, axis=1)
    at = int(np.argmin(np.abs(steps - found.amounts[n])))
    low = high = at
    while low > 0 and good[low - 1]:
        low -= 1
    while high < len(steps) - 1 and good[high + 1]:
        high += 1
    return float(steps[low]), float(steps[high])


def _reasons(problem: Problem, found: Solution, rooms: Floats, n: int, demands: Sequence[Demand]) -> tuple[NOTE, ...]:
    """The rows that would be short without it, the shortest first; else what it belongs to."""
    short = np.nan_to_num(rooms - found.kappa * found.u, nan=0.0)
    assert found.amounts is not None
    offer = problem.offers[n]
    told: list[NOTE] = [("answers", one.facts) for one in demands if (offer.operation, offer.location) in one.ways]
    assert isinstance(problem.geometry, Margins)
    seen: set[tuple[str, str]] = set()
    for row in np.argsort(short / problem.scale):
        if short[row] >= -1e-7 or len(told) == 3:
            break
        edge = problem.geometry.edges[int(row)]
        key = edge.spot.characteristic, edge.spot.location
        if key not in seen:
            seen.add(key)
            told.append(("holds", {"characteristic": key[0], "location": key[1], "side": edge.side,
                                   "room": float(rooms[row]), "limit": edge.limit}))  # fmt: skip
    if not told:
        beside_it = [one.operation for one, x in zip(problem.offers, found.amounts, strict=True)
                     if x > 0 and one.location == offer.location and one.operation != offer.operation]  # fmt: skip
        told.append(("belongs", {"operation": offer.operation, "beside": beside_it}))
    return tuple(told)


def shim_items(bench: Bench, found: Shims | None) -> tuple[Item, ...]:
    """Every shim that changes its place, as work; only what is bought costs."""
    if found is None or bench.prices is None:
        return ()
    price = bench.prices.work.get("lash_shim")
    minutes = price.minutes if price else 0.0
    return tuple(
        Item("lash_shim", one.place, one.size, one.size, one.size, found.cost_each if one.source == BOUGHT else 0.0,
             minutes, (("shim", {"needed": one.needed, "source": one.source, "came_from": one.came_from}),))
        for one in found.assignment.given if one.source != STAYS
    )  # fmt: skip


def ordered(items: Iterable[Item], catalogue: Catalogue) -> tuple[Item, ...]:
    """In working order."""
    return tuple(sorted(items, key=lambda one: catalogue.operations[one.operation].order))


def cuts_of(items: Iterable[Item], model: Model) -> tuple[Cut, ...]:
    """The items that the geometry knows, as cuts."""
    return tuple(
        Cut(one.operation, one.location, 1.0 if one.amount is None else one.amount)
        for one in items
        if one.operation in model.operations
        and one.location in model.axes.locations[model.operations[one.operation].axis]
    )
