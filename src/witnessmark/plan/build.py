"""The problem of a bench: what may be chosen, what must hold, what comes with what."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from witnessmark.engine.model import evaluate
from witnessmark.engine.work import Cut, amounts, worked
from witnessmark.judge.result import CLOSE, OUT
from witnessmark.plan.bench import Bench
from witnessmark.plan.beside import Demand
from witnessmark.plan.held import Spot, held_against
from witnessmark.plan.margins import HIGH, PHYSICAL, Edge, Margins, Offer, edges
from witnessmark.plan.offers import Open, Wish
from witnessmark.plan.problem import Floats, Problem, Rule
from witnessmark.plan.solve import KAPPA

NOTE = tuple[str, Mapping[str, Any]]
ONE_OF = (("face_grind", "valve_replace"), ("tip_grind", "valve_replace"), ("seat_cut", "seat_insert"),
          ("guide_replace", "guide_knurl", "guide_ream"), ("spring_replace", "spring_cup"),
          ("tip_grind", "lash_cap"))  # fmt: skip
NEEDS = (
    ("relief_top", ("seat_cut",)), ("relief_bottom", ("seat_cut",)), ("guide_replace", ("seat_cut", "seat_insert")),
)  # fmt: skip
SET_BY_SCREW = "lash_adjust"
TIP_GRIND = "tip_grind"
BEARER = {"must be proven good": 1.0, "even": 0.0, "must be proven bad": -1.0}


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


def problem_of(
    bench: Bench, opened: Open, demands: Sequence[Demand] = (), always: tuple[Offer, ...] = ()
) -> Problem:
    """The problem of a bench and of what is open, with what is done `always`, such as another casting put on.

    Rows that are not known at all are left out: `missing` tells them.
    """
    kept = (*_edges(bench), *_tips(bench, always))
    margins = _margins(bench, opened.offers, kept, always)
    rest = margins.values(np.zeros((1, len(opened.offers))))[0]
    able = ~np.isnan(rest)
    margins = _margins(
        bench, opened.offers, tuple(edge for edge, known in zip(kept, able, strict=True) if known), always
    )
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


def _tips(bench: Bench, always: tuple[Offer, ...]) -> Iterator[Edge]:
    """Where a stem is too high before any cut, its tip gives back what cuts raise, and no more.

    Such a stem asks for another valve first, then for seat or head. A tip may lose more where it is worn itself, and
    where somebody pinned it. Source: common practice.
    """
    if TIP_GRIND not in bench.model.operations:
        return
    worn = {
        one.location for one in bench.results
        if one.verdict == OUT and one.characteristic not in bench.model.laws
        and TIP_GRIND in bench.catalogue.characteristics[one.characteristic].remedies
    }  # fmt: skip
    asked = {location for operation, location, _ in bench.wish.pins if operation == TIP_GRIND}
    stems = _uncut(bench, always)
    for n, place in enumerate(bench.model.axes.locations["valve"]):
        held = held_against(bench.sheet, Spot("stem_height", n, place), new=False)
        if held is not None and held.high is not None and stems[n] > held.high and place not in worn | asked:
            spot = Spot("ground_back", n, place)
            yield Edge(f"ground_back@{place} high", spot, HIGH, 0.0, 0.0, PHYSICAL, physical=True)


def _uncut(bench: Bench, always: tuple[Offer, ...]) -> Floats:
    """Stem heights (n valves,) before any cut, in the casting that is there or put on."""
    work = amounts(bench.model, tuple(Cut(one.operation, one.location, 1.0) for one in always))
    return evaluate(bench.model, worked(bench.model, bench.state.values, work))["stem_height"]


def _margins(
    bench: Bench, offers: tuple[Offer, ...], kept: tuple[Edge, ...], always: tuple[Offer, ...] = ()
) -> Margins:
    """Rooms with what a limit bears of its own doubt, while no work touches its row."""
    plain = Margins(bench.model, bench.state, offers, kept, np.zeros(len(kept)), always)
    if not kept:
        return plain
    u = plain.u(np.zeros(len(offers)))
    signs = np.array([BEARER.get(_bearer(bench, edge), 1.0) for edge in kept])
    return replace(plain, shift=(1.0 - signs) * KAPPA * u)


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
