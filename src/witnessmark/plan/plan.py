"""The plan of a head: what is open, what must hold, the cheapest way that is proven, others that differ in kind, or why
there is none. Everything here comes in as values; nothing knows a job, a page or a clock.

    offers + edges -> problem -> solution -> items in working order -> ledger of what they do -> plan
"""

from collections.abc import Iterable, Mapping, Sequence
from contextlib import nullcontext
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from witnessmark.catalogue.entry import Catalogue
from witnessmark.engine.model import Model
from witnessmark.engine.state import USUAL, State
from witnessmark.engine.work import Cut, amounts
from witnessmark.fit.lash import BOUGHT, STAYS
from witnessmark.judge.result import CLOSE, OUT, Result
from witnessmark.limits.sheet import Sheet
from witnessmark.plan.beside import Beside, Demand, beside
from witnessmark.plan.conflict import GAUGE, Stand, stands
from witnessmark.plan.ledger import ledger, ledger_of
from witnessmark.plan.margins import Edge, Margins, Offer, edges
from witnessmark.plan.milp import Quiet
from witnessmark.plan.offers import Open, Wish, open_work
from witnessmark.plan.others import RELIEFS, kinds, others
from witnessmark.plan.prices import Prices
from witnessmark.plan.problem import Floats, Problem, Rule, linear
from witnessmark.plan.result import Conflict, InTheWay, Item, Plan, Planned
from witnessmark.plan.shims import Shims, screwed, shims, with_shims
from witnessmark.plan.solve import KAPPA, OUT_OF_TIME, Solution, chance, solve

NOTE = tuple[str, Mapping[str, Any]]
ONE_OF = (("face_grind", "valve_replace"), ("tip_grind", "valve_replace"), ("seat_cut", "seat_insert"),
          ("guide_replace", "guide_knurl", "guide_ream"), ("spring_replace", "spring_cup"),
          ("tip_grind", "lash_cap"))  # fmt: skip
NEEDS = (
    ("relief_top", ("seat_cut",)), ("relief_bottom", ("seat_cut",)), ("guide_replace", ("seat_cut", "seat_insert")),
)  # fmt: skip
SET_BY_SCREW = "lash_adjust"
NAMES = "ABCDEFG"
BEARER = {"must be proven good": 1.0, "even": 0.0, "must be proven bad": -1.0}


@dataclass(frozen=True, slots=True, eq=False)
class Bench:
    """All that a plan is made of. `removed` is what was taken off before, by (operation, location) in mm."""

    model: Model
    state: State
    sheet: Sheet | None
    prices: Prices | None
    catalogue: Catalogue
    results: tuple[Result, ...]
    wish: Wish = field(default_factory=Wish)
    wanted: float | None = None
    removed: Mapping[tuple[str, str], float] | None = None
    seconds: float = 10.0
    quiet: Quiet = nullcontext


def plan(bench: Bench) -> Planned:
    """The best plan with its alternatives; or what stands in the way."""
    opened = foreseeable(
        bench, open_work(bench.model, bench.sheet, bench.prices, bench.catalogue, bench.wish, bench.removed)
    )
    contradiction = _contradiction(bench, opened)
    if contradiction is not None:
        return Planned("impossible", (), contradiction, opened.questions)
    offered = [(one.operation, one.location) for one in opened.offers]
    aside = beside(bench.results, bench.model, bench.sheet, bench.prices, bench.catalogue, bench.wish.forbid, offered)
    problem, coarse = without_coarse(problem_of(bench, opened, aside.demands))
    model = linear(problem)
    found = solve(problem, model=model, wanted=bench.wanted, seconds=bench.seconds, quiet=bench.quiet)
    questions = (*opened.questions, *coarse, *aside.open_rows, *_closed(opened))
    missing, rests_on = _missing(bench), _rests_on(bench)
    conflict = None
    if found.status == OUT_OF_TIME:  # nothing was shown to be impossible
        return Planned(OUT_OF_TIME, (), None, questions, missing, rests_on)
    if found.amounts is None:
        stand = stands(problem, model, seconds=bench.seconds, quiet=bench.quiet)
        conflict = _conflict(bench, problem, stand)
        if stand.kind == GAUGE:  # the limits agree: a plan is shown, and what stays doubtful is to be accepted
            relaxed = np.where(np.isin(np.arange(len(problem.rows)), [n for n, _ in stand.rows]), 0.0, KAPPA)
            found = solve(problem, model=model, kappa=relaxed, wanted=bench.wanted, seconds=bench.seconds,
                          quiet=bench.quiet)  # fmt: skip
            if found.amounts is not None:
                found = replace(found, status="feasible", chance=chance(problem, found.amounts))
    if found.amounts is None:
        return Planned("impossible", (), conflict, questions, missing, rests_on)
    plans = [_plan(bench, problem, found, "least cost", aside)]
    if conflict is None:
        plans += [_plan(bench, problem, one, name, aside)
                  for name, one in others(problem, model, found, bench.seconds, bench.quiet)]  # fmt: skip
    named = tuple(replace(one, name=NAMES[n]) for n, one in enumerate(plans))
    if not named[0].items and any(note == "no remedy" for note, _ in aside.open_rows):  # told one by one as questions
        return Planned("impossible", (), conflict or Conflict("physical", ()), questions, missing, rests_on)
    status = found.status if named[0].items else "nothing to do"
    return Planned(status, named, conflict, questions, missing, rests_on)


def foreseeable(bench: Bench, opened: Open) -> Open:
    """Without parts of which nobody said what they bring: a casting whose seats are not known cannot be planned."""
    offers = opened.offers
    if not offers:
        return opened
    margins = _margins(bench, offers, _edges(bench))
    most = np.diag([offer.most for offer in offers])
    known = ~np.isnan(margins.values(np.zeros((1, len(offers))))[0])
    with_seat = _beneath(offers, _rules(offers), most)
    lost = np.isnan(margins.values(with_seat)[:, known]).any(axis=1)
    switches = np.array([bench.model.operations[one.operation].switch for one in offers])
    gone = {one.operation for one, out in zip(offers, lost & switches, strict=True) if out}
    told = tuple(("not foreseen", {"operation": name}) for name in sorted(gone))
    kept = tuple(one for one, out in zip(offers, lost & switches, strict=True) if not out)
    return replace(opened, offers=kept, closed=(*opened.closed, *told))


def _beneath(offers: tuple[Offer, ...], rules: tuple[Rule, ...], most: Floats) -> Floats:
    """Each offer with what it needs beside it."""
    found = most.copy()
    for rule in rules:
        if rule.needs:
            for choice in rule.choices:
                found[choice, rule.needs[0]] = offers[rule.needs[0]].most
    return found


def without_coarse(problem: Problem) -> tuple[Problem, tuple[NOTE, ...]]:
    """The problem without rows that no work moves and that are only too doubtful: those ask for a better reading.

    A row that no work moves and that does not hold at all stays: it is why there is no plan.
    """
    margins = problem.geometry
    assert isinstance(margins, Margins)
    if not margins.edges:
        return problem, ()
    n = len(problem.offers)
    rest, u = margins.values(np.zeros((1, n)))[0], margins.u(np.zeros(n))
    coarse = (rest >= 0) & (rest < KAPPA * u) & ~moved_by_work(problem)
    if not coarse.any():
        return problem, ()
    asked = {}
    for at in np.flatnonzero(coarse):
        spot = margins.edges[int(at)].spot
        facts = {"characteristic": spot.characteristic, "location": spot.location, "verdict": CLOSE,
                 "U": 2 * float(rest[at]) / KAPPA}  # fmt: skip
        asked[spot.characteristic, spot.location] = ("measure better", facts)
    kept = np.flatnonzero(~coarse)
    fewer = replace(margins, edges=tuple(margins.edges[int(at)] for at in kept), shift=margins.shift[kept])
    rows = tuple(problem.rows[int(at)] for at in kept)
    left = replace(problem, geometry=fewer, rows=rows, scale=problem.scale[kept], physical=problem.physical[kept])
    return left, tuple(asked.values())


def moved_by_work(problem: Problem) -> np.ndarray:
    """Which rows (m,) some choice moves at all."""
    n = len(problem.offers)
    if n == 0:
        return np.zeros(len(problem.rows), bool)
    most = np.diag([offer.most for offer in problem.offers])
    rest = problem.geometry.values(np.zeros((1, n)))
    return np.asarray(np.any(np.abs(np.nan_to_num(problem.geometry.values(most) - rest)) > 1e-9, axis=0))


def problem_of(bench: Bench, opened: Open, demands: Sequence[Demand] = ()) -> Problem:
    """The problem of a bench and of what is open. Rows that are not known at all are left out: `missing` tells them."""
    kept = _edges(bench)
    margins = _margins(bench, opened.offers, kept)
    rest = margins.values(np.zeros((1, len(opened.offers))))[0]
    able = ~np.isnan(rest)
    margins = _margins(bench, opened.offers, tuple(edge for edge, known in zip(kept, able, strict=True) if known))
    offers = opened.offers
    return Problem(
        offers, (*_rules(offers), *_demanded(offers, demands)), margins, tuple(edge.id for edge in margins.edges),
        np.array([edge.scale for edge in margins.edges]), np.array([edge.physical for edge in margins.edges]),
        _groups(offers), _pins(bench.wish, offers),
    )  # fmt: skip


def _edges(bench: Bench) -> tuple[Edge, ...]:
    """What must hold; a lash that is set after re-measuring is left to the shim that it needs, or to its screw."""
    later: dict[str, tuple[str, float, float]] = {}
    stock = bench.prices.stock.get("lash_shim") if bench.prices else None
    if "lash_shim" in bench.model.operations and stock is not None:
        later["valve_lash"] = ("lash_shim_needed", min(stock.sizes), max(stock.sizes))
    found = edges(bench.model, bench.sheet, bench.catalogue, later)
    if SET_BY_SCREW in bench.model.operations:
        found = tuple(edge for edge in found if edge.spot.characteristic != "valve_lash")
    return found


def _margins(bench: Bench, offers: tuple[Offer, ...], kept: tuple[Edge, ...]) -> Margins:
    """Rooms with what a limit bears of its own doubt, while no work touches its row."""
    plain = Margins(bench.model, bench.state, offers, kept, np.zeros(len(kept)))
    if not kept:
        return plain
    u = plain.u(np.zeros(len(offers)))
    signs = np.array([BEARER.get(_bearer(bench, edge), 1.0) for edge in kept])
    return Margins(bench.model, bench.state, offers, kept, (1.0 - signs) * KAPPA * u)


def _bearer(bench: Bench, edge: Edge) -> str:
    limits = bench.sheet.index.get(edge.spot.characteristic, ()) if bench.sheet else ()
    return next((limit.bearer for limit in limits if limit.applies.covers(edge.spot.location)), "")


def _groups(offers: tuple[Offer, ...]) -> tuple[tuple[int, ...], ...]:
    found: dict[str, list[int]] = {}
    for n, offer in enumerate(offers):
        found.setdefault(offer.location, []).append(n)
    return tuple(tuple(each) for each in found.values() if len(each) > 1)


def _rules(offers: tuple[Offer, ...]) -> tuple[Rule, ...]:
    """One way at a time for each part; what comes with something else."""
    by: dict[tuple[str, str], list[int]] = {}
    for n, offer in enumerate(offers):
        by.setdefault((offer.location, offer.operation), []).append(n)
    places = dict.fromkeys(offer.location for offer in offers)
    rules = [Rule(tuple(each)) for each in by.values() if len(each) > 1]
    for place in places:
        for names in ONE_OF:
            here = tuple(n for name in names for n in by.get((place, name), ()))
            if len(here) > 1:
                rules.append(Rule(here))
        for name, needed in NEEDS:
            mine = tuple(by.get((place, name), ()))
            needs = tuple(n for other in needed for n in by.get((place, other), ()))
            if mine and needs:
                rules.append(Rule(mine, needs))
    return tuple(rules)


def _demanded(offers: tuple[Offer, ...], demands: Sequence[Demand]) -> list[Rule]:
    """At least one way for each row that is out beside the geometry."""
    found = []
    for demand in demands:
        ways = tuple(n for n, one in enumerate(offers) if (one.operation, one.location) in demand.ways)
        if ways:
            found.append(Rule(ways, most=len(ways), least=1))
    return found


def _pins(wish: Wish, offers: tuple[Offer, ...]) -> tuple[tuple[int, float], ...]:
    found = []
    for operation, location, amount in wish.pins:
        several = [n for n, one in enumerate(offers) if (one.operation, one.location) == (operation, location)]
        if several:
            best = min(several, key=lambda n: abs(offers[n].most - amount) if offers[n].step is None else 0.0)
            found.append((best, amount))
    return tuple(found)


def _contradiction(bench: Bench, opened: Open) -> Conflict | None:
    """Pins that cannot be met: forbidden as well, closed by the book, or outside what the machine takes."""
    told = []
    for operation, location, amount in bench.wish.pins:
        several = [one for one in opened.offers if (one.operation, one.location) == (operation, location)]
        if (operation, location) in bench.wish.forbid or (operation, "") in bench.wish.forbid:
            told.append(f"{operation}@{location} is both pinned and forbidden")
        elif not several:
            told.append(f"{operation}@{location} is pinned, and not open: the book, the prices or the gear close it")
        elif all(one.step is not None and not one.least <= amount <= one.most for one in several):
            told.append(f"{operation}@{location} is pinned to {amount:g} mm, and {several[0].least:g} to "
                        f"{several[0].most:g} mm are open")  # fmt: skip
    return Conflict("pins", (), (), tuple(told)) if told else None


def _plan(bench: Bench, problem: Problem, found: Solution, kind: str, aside: Beside) -> Plan:
    items = (*_items(bench, problem, found, aside.demands), *aside.items)
    work = amounts(bench.model, cuts_of(items, bench.model))
    stock = bench.prices.stock.get("lash_shim") if bench.prices else None
    shelf = shims(bench.model, bench.state, work, bench.sheet, stock, _tolerances(bench))
    items = (*items, *_shim_items(bench, shelf))
    after = screwed(bench.model, bench.state, with_shims(bench.model, work, shelf))
    rows = ledger_of(bench.model, bench.state, after, bench.sheet, bench.catalogue, _tolerances(bench)).rows
    extra = sum(one.cost for one in items) - found.cost
    return Plan(
        name="", kind=kind, status=found.status, cost=sum(one.cost for one in items), bound=found.bound + extra,
        gap=found.gap, currency=bench.prices.currency if bench.prices else "",
        minutes=sum(one.minutes for one in items), items=_ordered(items, bench.catalogue), gates=(),
        predicted=rows, first_pass_yield=found.chance,
        unsure=tuple(f"{row.characteristic}@{row.location}" for row in rows
                     if row.verdict == CLOSE and row.characteristic != "valve_lash"),
        shims=shelf,
    )  # fmt: skip


def _shim_items(bench: Bench, found: Shims | None) -> tuple[Item, ...]:
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


def _tolerances(bench: Bench) -> dict[str, float]:
    work = bench.prices.work if bench.prices else {}
    return {name: one.tolerance for name, one in work.items() if one.tolerance}


def _ordered(items: Iterable[Item], catalogue: Catalogue) -> tuple[Item, ...]:
    return tuple(sorted(items, key=lambda one: catalogue.operations[one.operation].order))


def cuts_of(items: Iterable[Item], model: Model) -> tuple[Cut, ...]:
    """The items that the geometry knows, as cuts."""
    return tuple(
        Cut(one.operation, one.location, 1.0 if one.amount is None else one.amount)
        for one in items
        if one.operation in model.operations
        and one.location in model.axes.locations[model.operations[one.operation].axis]
    )


def _items(bench: Bench, problem: Problem, found: Solution, demands: Sequence[Demand]) -> tuple[Item, ...]:
    """What was chosen, each with the rows that would not hold without it, and the range that keeps all of them."""
    assert found.amounts is not None
    chosen = [int(n) for n in np.flatnonzero(found.amounts)]
    if not chosen:
        return ()
    without = np.tile(found.amounts, (len(chosen), 1))
    for row, n in enumerate(chosen):
        without[row, [n, *_needing(problem, n, found.amounts)]] = 0.0
    rooms = problem.geometry.values(without)
    made = []
    for row, n in enumerate(chosen):
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


def _closed(opened: Open) -> tuple[NOTE, ...]:
    return tuple(note for note in opened.closed if note[0] in ("no price", "not foreseen"))


def _missing(bench: Bench) -> tuple[tuple[str, str], ...]:
    """What has a limit and is not known, and why."""
    rows = ledger(bench.model, bench.state, (), bench.sheet, bench.catalogue).rows
    return tuple(dict.fromkeys((row.characteristic, row.unknown) for row in rows if row.unknown and row.against))


def _rests_on(bench: Bench) -> tuple[str, ...]:
    """What was taken for granted."""
    return tuple(
        name for name, words in bench.state.origin.items()
        if USUAL in words and bench.model.quantities[name].kind != "new"
    )  # fmt: skip


def _conflict(bench: Bench, problem: Problem, stand: Stand) -> Conflict:
    """Why there is none; and which operations would do that the book closes."""
    assert isinstance(problem.geometry, Margins)
    edges_of = problem.geometry.edges
    if stand.kind == GAUGE:
        better = tuple((edges_of[n].spot.characteristic, edges_of[n].spot.location, 2 * u) for n, u in stand.rows)
        return Conflict(GAUGE, (), better, _would_do(bench, problem))
    rows = tuple(
        InTheWay(edges_of[n].spot.characteristic, edges_of[n].spot.location, edges_of[n].side, edges_of[n].limit, gives)
        for n, gives in stand.rows
    )
    asks = _would_do(bench, problem)
    return Conflict("permission" if asks and stand.kind == "limits" else stand.kind, rows, (), asks)


def _would_do(bench: Bench, problem: Problem) -> tuple[str, ...]:
    """Operations that the book forbids or does not mention and with which there would be a plan."""
    wider = open_work(bench.model, bench.sheet, bench.prices, bench.catalogue, bench.wish, bench.removed,
                      ask_nothing=True)  # fmt: skip
    if len(wider.offers) == len(problem.offers):
        return ()
    other = problem_of(bench, foreseeable(bench, wider))
    found = solve(other, seconds=bench.seconds, quiet=bench.quiet)
    if found.amounts is None:
        return ()
    open_now = {offer.operation for offer in problem.offers}
    return tuple(sorted(kinds(other, found.amounts) - open_now))


def answered(results: Iterable[Result]) -> tuple[int, int]:
    """How many values are out, and how many too close to call, that a plan must answer."""
    several = list(results)
    return sum(one.verdict == OUT for one in several), sum(one.verdict == CLOSE for one in several)
