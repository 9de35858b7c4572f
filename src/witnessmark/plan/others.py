"""Ways beside the best one: they differ in the kinds of work they do, and are not worse in everything."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from witnessmark.plan.milp import Quiet
from witnessmark.plan.problem import Floats, Linear, Problem, Rule
from witnessmark.plan.solve import KAPPA, Objective, Solution, chance, made_surer, money, solve

RELIEFS = frozenset({"relief_top", "relief_bottom"})
MOST = 3  # plans that anybody compares with the best


def kinds(problem: Problem, amounts: Floats) -> frozenset[str]:
    """The kinds of work; how a band is narrowed after its seat was cut makes no other kind."""
    return frozenset(problem.offers[n].operation for n in np.flatnonzero(amounts)) - RELIEFS


def others(
    problem: Problem, model: Linear, best: Solution, seconds: float, quiet: Quiet
) -> Iterator[tuple[str, Solution]]:
    """At most three (name, solution): verified, with their cost in money, none of them with a bound of its own."""
    assert best.amounts is not None
    usual = money(problem)
    kept = [kinds(problem, best.amounts)]
    for name, objective, barred in _ways(problem, best, usual):
        if len(kept) > MOST:
            break
        found = _as_sure(problem, model, best, objective, barred, seconds, quiet)
        if found.amounts is None or kinds(problem, found.amounts) in kept:
            continue
        kept.append(kinds(problem, found.amounts))
        if not objective.each.any():
            found = made_surer(problem, found, seconds, quiet)
        assert found.amounts is not None
        cost = float(usual.price @ (found.amounts > 0))
        yield name, replace(found, cost=cost, chance=chance(problem, found.amounts), bound=min(best.bound, cost),
                            status="feasible")  # fmt: skip


def _as_sure(
    problem: Problem, model: Linear, best: Solution, objective: Objective, barred: frozenset[str], seconds: float,
    quiet: Quiet,
) -> Solution:  # fmt: skip
    """As sure as the best one where that can be had, else as sure as any plan must be."""
    offered = replace(problem, rules=(*problem.rules, *_barred(problem, barred))) if barred else problem
    found = solve(offered, objective, model=model, kappa=best.kappa, seconds=seconds, quiet=quiet, proof=False)
    if found.amounts is None:
        found = solve(offered, objective, model=model, kappa=KAPPA, seconds=seconds, quiet=quiet, proof=False)
    return found


def _ways(problem: Problem, best: Solution, usual: Objective) -> Iterator[tuple[str, Objective, frozenset[str]]]:
    """Other wishes: least metal, fewest new parts, least time; and without each kind of work that the best one does."""
    tie = usual.price / (1 + usual.price.sum())
    metal = np.array([1.0 if one.kind == "metal" else 0.0 for one in problem.offers])
    parts = np.array([1.0 if one.kind == "part" else 0.0 for one in problem.offers])
    minutes = np.array([one.minutes for one in problem.offers])
    zero = np.zeros(len(tie))
    yield "least metal", Objective("least metal", 0.01 * metal + 1e-3 * tie, metal), frozenset()
    yield "fewest new parts", Objective("fewest new parts", parts + 1e-3 * tie, zero), frozenset()
    yield "least time", Objective("least time", minutes + 1e-3 * tie, zero), frozenset()
    assert best.amounts is not None
    for operation in sorted(kinds(problem, best.amounts)):
        yield f"without {operation}", usual, frozenset({operation})


def _barred(problem: Problem, operations: frozenset[str]) -> list[Rule]:
    """A rule that lets nothing of some operations in."""
    return [Rule(tuple(n for n, one in enumerate(problem.offers) if one.operation in operations), most=0)]
