"""The plan of a head: what is open, what must hold, the cheapest way that is proven, others that differ in kind, or why
there is none. Everything here comes in as values; nothing knows a job, a page or a clock.

    offers + edges -> problem -> solution -> items in working order -> ledger of what they do -> plan

Another casting moves everything at once, so it is no choice among others: it is a way of its own, with a problem of its
own, and the cheapest way wins. A way whose casting alone costs more than a whole plan needs no proof.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import inf

import numpy as np

from witnessmark.engine.model import Model
from witnessmark.engine.state import USUAL
from witnessmark.engine.work import amounts
from witnessmark.judge.result import CLOSE
from witnessmark.plan.bench import Bench
from witnessmark.plan.beside import CASTING, Beside, beside, place_of
from witnessmark.plan.build import NOTE, foreseeable, problem_of, without_coarse
from witnessmark.plan.conflict import GAUGE, Stand, stands
from witnessmark.plan.items import chosen, cuts_of, ordered, shim_items
from witnessmark.plan.ledger import ledger, ledger_of
from witnessmark.plan.margins import Margins, Offer
from witnessmark.plan.offers import Open, open_work
from witnessmark.plan.others import kinds, others
from witnessmark.plan.problem import Linear, Problem, linear
from witnessmark.plan.result import Conflict, InTheWay, Item, Missing, Plan, Planned
from witnessmark.plan.shims import screwed, shims, with_shims
from witnessmark.plan.solve import KAPPA, OUT_OF_TIME, PRICE_STEP, Solution, chance, solve

NAMES = "ABCDEFG"
SAME = 1e-3  # mm: nearer than this a pinned size is one that exists
LEAST_COST, SUREST, OTHER_HEAD, THIS_HEAD = "least cost", "surest", "other head", "this head"
MOST_CASTINGS = 2  # heads of one engine that may be replaced at once


@dataclass(frozen=True, slots=True, eq=False)
class Way:
    """One way to go about it: the castings that are put on, all else that may be chosen, and what was found."""

    castings: tuple[Offer, ...]
    aside: Beside
    coarse: tuple[NOTE, ...]
    problem: Problem
    model: Linear
    found: Solution

    @property
    def fixed(self) -> float:
        """What the castings cost."""
        return sum(one.cost for one in self.castings)

    @property
    def beside(self) -> float:
        """What is outside the planner's choice costs."""
        return self.fixed + sum(one.cost for one in self.aside.items)

    @property
    def cost(self) -> float:
        """Of all of it; infinite where nothing was found."""
        return self.beside + self.found.cost if self.found.amounts is not None else inf


def plan(bench: Bench) -> Planned:
    """The best plan with its alternatives; or what stands in the way."""
    opened = foreseeable(
        bench, open_work(bench.model, bench.sheet, bench.prices, bench.catalogue, bench.wish, bench.removed)
    )
    contradiction = _contradiction(bench, opened)
    if contradiction is not None:
        return Planned("impossible", (), contradiction, opened.questions)
    tried = list(_ways(bench, opened))
    best = min(tried, key=lambda one: one.cost)
    questions = (*opened.questions, *best.coarse, *best.aside.open_rows, *_closed(opened))
    missing, rests_on = _missing(bench), _rests_on(bench)
    conflict = None
    if best.found.status == OUT_OF_TIME:  # nothing was shown to be impossible
        return Planned(OUT_OF_TIME, (), None, questions, missing, rests_on)
    if best.found.amounts is None:
        best, conflict = _in_the_way(bench, tried[0])
    else:
        best = _against(best, tried)
    if best.found.amounts is None:
        return Planned("impossible", (), conflict, questions, missing, rests_on)
    plans = [_plan(bench, best, best.found, LEAST_COST)]
    if conflict is None:
        plans += _beside_it(bench, best, tried)
    named = tuple(replace(one, name=NAMES[n]) for n, one in enumerate(_honest(plans)))
    if not named[0].items and any(note == "no remedy" for note, _ in best.aside.open_rows):
        return Planned("impossible", (), conflict or Conflict("physical", ()), questions, missing, rests_on)
    status = best.found.status if named[0].items else "nothing to do"
    return Planned(status, named, conflict, questions, missing, rests_on)


def _ways(bench: Bench, opened: Open) -> Iterator[Way]:
    """First with the castings that are there, then with others; where one is pinned, only with that one."""
    castings = tuple(one for one in opened.offers if one.operation == CASTING)
    rest = replace(opened, offers=tuple(one for one in opened.offers if one.operation != CASTING))
    pinned = {location for operation, location, _ in bench.wish.pins if operation == CASTING}
    cheapest = inf
    for count in range(min(len(castings), MOST_CASTINGS) + 1):
        for several in combinations(castings, count):
            if pinned <= {one.location for one in several}:
                dear = sum(one.cost for one in several) > cheapest
                way = _way(bench, rest, several, proof=not dear)
                cheapest = min(cheapest, way.cost)
                yield way


def _way(bench: Bench, opened: Open, castings: tuple[Offer, ...], *, proof: bool) -> Way:
    done = [(one.operation, one.location) for one in castings]
    offered = [(one.operation, one.location) for one in opened.offers]
    forbid = (*bench.wish.forbid, (CASTING, ""))  # whether a casting is put on is settled by the way
    aside = beside(bench.results, bench.model, bench.sheet, bench.prices, bench.catalogue, forbid, offered, done)
    problem, coarse = without_coarse(problem_of(bench, opened, aside.demands, castings))
    model = linear(problem)
    found = solve(problem, model=model, wanted=bench.wanted, seconds=bench.seconds, quiet=bench.quiet, proof=proof)
    return Way(castings, aside, coarse, problem, model, found)


def _against(best: Way, tried: Sequence[Way]) -> Way:
    """The best way with a bound that no other way goes below."""
    lowest = min(
        (one.beside + max(one.found.bound, 0.0) if np.isfinite(one.found.bound) else one.fixed
         for one in tried if one is not best and not _shut(one)), default=inf,
    )  # fmt: skip
    found = replace(best.found, bound=min(best.found.bound, lowest - best.beside))
    return replace(best, found=replace(found, status="feasible") if found.gap >= PRICE_STEP else found)


def _shut(way: Way) -> bool:
    """Whether a way was proven to lead nowhere."""
    return way.found.status == "impossible"


def _in_the_way(bench: Bench, way: Way) -> tuple[Way, Conflict]:
    """Why there is no plan; where only the gauge is too coarse, the way with the plan whose doubt is to be accepted."""
    problem = way.problem
    stand = stands(problem, way.model, seconds=bench.seconds, quiet=bench.quiet)
    conflict = _conflict(bench, problem, stand)
    if stand.kind != GAUGE:
        return way, conflict
    relaxed = np.where(np.isin(np.arange(len(problem.rows)), [n for n, _ in stand.rows]), 0.0, KAPPA)
    found = solve(problem, model=way.model, kappa=relaxed, wanted=bench.wanted, seconds=bench.seconds,
                  quiet=bench.quiet)  # fmt: skip
    if found.amounts is not None:
        found = replace(found, status="feasible", chance=chance(problem, found.amounts))
    return replace(way, found=found), conflict


def _beside_it(bench: Bench, best: Way, tried: Sequence[Way]) -> Iterator[Plan]:
    """Plans that differ in kind: of the same way, and the cheapest with other castings."""
    for name, one in others(best.problem, best.model, best.found, bench.seconds, bench.quiet):
        yield _plan(bench, best, one, name)
    differ = [one for one in tried if bool(one.castings) != bool(best.castings) and one.found.amounts is not None]
    if differ:
        other = min(differ, key=lambda one: one.cost)
        lowest = best.beside + best.found.bound - other.beside
        found = replace(other.found, bound=min(lowest, other.found.cost), status="feasible")
        yield _plan(bench, other, found, OTHER_HEAD if other.castings else THIS_HEAD)


def _honest(plans: Sequence[Plan]) -> list[Plan]:
    """A best plan that pays for more chance than another is the surest; the cheapest is called so where it stands."""
    cheapest = min(plans, key=lambda one: one.cost)
    if cheapest.cost > plans[0].cost - PRICE_STEP:
        return list(plans)
    return [replace(one, kind=SUREST if one is plans[0] else LEAST_COST if one is cheapest else one.kind)
            for one in plans]  # fmt: skip


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
        elif all(one.step is None and abs(one.most - amount) > SAME for one in several):
            sizes = ", ".join(f"{one.most:g}" for one in several)
            told.append(f"{operation}@{location} is pinned to {amount:g} mm, and {sizes} mm exist here")
    return Conflict("pins", (), (), tuple(told)) if told else None


def _plan(bench: Bench, way: Way, found: Solution, kind: str) -> Plan:
    items = (*_put_on(bench.model, way), *chosen(bench, way.problem, found, way.aside.demands), *way.aside.items)
    work = amounts(bench.model, cuts_of(items, bench.model))
    stock = bench.prices.stock.get("lash_shim") if bench.prices else None
    shelf = shims(bench.model, bench.state, work, bench.sheet, stock, bench.tolerances)
    items = (*items, *shim_items(bench, shelf))
    after = screwed(bench.model, bench.state, with_shims(bench.model, work, shelf))
    rows = ledger_of(bench.model, bench.state, after, bench.sheet, bench.catalogue, bench.tolerances).rows
    extra = sum(one.cost for one in items) - found.cost
    return Plan(
        name="", kind=kind, status=found.status, cost=sum(one.cost for one in items), bound=found.bound + extra,
        gap=found.gap, currency=bench.prices.currency if bench.prices else "",
        minutes=sum(one.minutes for one in items), items=ordered(items, bench.catalogue), gates=(),
        predicted=rows, first_pass_yield=found.chance,
        unsure=tuple(f"{row.characteristic}@{row.location}" for row in rows
                     if row.verdict == CLOSE and row.characteristic != "valve_lash"),
        shims=shelf,
    )  # fmt: skip


def _put_on(model: Model, way: Way) -> Iterator[Item]:
    """The castings of a way, each with what it answers."""
    for one in way.castings:
        mine = (facts for facts in way.aside.cured if place_of(facts["location"], "head", model) == one.location)
        why = tuple(("answers", facts) for facts in mine)
        yield Item(one.operation, one.location, None, None, None, one.cost, one.minutes, why)


def _closed(opened: Open) -> tuple[NOTE, ...]:
    return tuple(note for note in opened.closed if note[0] in ("no price", "not foreseen"))


def _missing(bench: Bench) -> tuple[Missing, ...]:
    """What has a limit and is not known, and why."""
    places: dict[tuple[str, str], list[str]] = {}
    for row in ledger(bench.model, bench.state, (), bench.sheet, bench.catalogue).rows:
        if row.unknown and row.against:
            places.setdefault((row.characteristic, row.unknown), []).append(row.location)
    return tuple(Missing(name, why, tuple(several)) for (name, why), several in places.items())


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
