"""Why there is no plan: limits that contradict each other, a gauge that is too coarse, or a book that says no.

First without any doubt: if that works, the limits agree and only the doubt stands in the way. Else the limit rows may
give way, at a price for each width of theirs, and what gives is thinned out to a set of which none can be left out.
Physical rows never give way.
"""

from contextlib import nullcontext
from dataclasses import dataclass, replace

import numpy as np

from witnessmark.plan.milp import Ask, Quiet, ask
from witnessmark.plan.problem import Linear, Problem
from witnessmark.plan.solve import KAPPA, Objective, money

GAUGE = "gauge"
MOST_TRIED = 60  # rows that the thinning looks at


@dataclass(frozen=True, slots=True, eq=False)
class Stand:
    """What stands in the way. `kind`: gauge | limits | physical; rows with by how much each would have to give.

    For a gauge: rows with the standard uncertainty that would do in place of theirs.
    """

    kind: str
    rows: tuple[tuple[int, float], ...]


def stands(
    problem: Problem, model: Linear, objective: Objective | None = None, *, kappa: float = KAPPA,
    seconds: float = 10.0, quiet: Quiet = nullcontext,
) -> Stand:  # fmt: skip
    """What stands in the way of a problem that has no plan."""
    objective = objective or money(problem)
    size = len(problem.rows)
    sure = Ask(objective.price, objective.each, np.zeros(size), seconds=seconds, quiet=quiet)
    free = ask(problem, model, sure)
    if free.amounts is not None:
        return Stand(GAUGE, _too_coarse(problem, model, sure, kappa))
    price = np.full(len(problem.offers), 1e-6)  # only what gives way has a price worth speaking of
    elastic = replace(sure, price=price, each=np.zeros(len(price)), give=~problem.physical)
    found = ask(problem, model, elastic)
    if found.amounts is None:
        return Stand("physical", tuple((int(n), 0.0) for n in _short(problem, model)))
    gives = {int(n): float(found.gives[n]) for n in np.flatnonzero(found.gives > 1e-7)}
    kept = _thinned(problem, model, sure, gives)
    return Stand("limits", tuple((n, gives.get(n, 0.0)) for n in kept))


def _too_coarse(problem: Problem, model: Linear, sure: Ask, kappa: float) -> tuple[tuple[int, float], ...]:
    """Rows whose doubt alone is in the way, with the uncertainty that they could bear."""
    elastic = replace(sure, kappa=np.full(len(problem.rows), kappa), give=~problem.physical,
                      price=np.full(len(problem.offers), 1e-6), each=np.zeros(len(problem.offers)))  # fmt: skip
    found = ask(problem, model, elastic)
    if found.amounts is None:
        return ()
    u = problem.geometry.u(found.amounts)
    rows = np.flatnonzero(found.gives > 1e-7)
    return tuple((int(n), max(float(u[n] - found.gives[n] / kappa), 0.0)) for n in rows)


def _thinned(problem: Problem, model: Linear, sure: Ask, gives: dict[int, float]) -> list[int]:
    """An irreducible set of rows about those that gave: without any one of them, the rest can hold together."""
    near = _beside(problem, set(gives))
    kept = list(near)
    skip = np.ones(len(problem.rows), bool)
    skip[kept] = False
    skip &= ~problem.physical
    if ask(problem, model, replace(sure, skip=skip)).amounts is not None:
        return sorted(gives)  # they do not contradict each other alone; what gave is all that can be told
    for row in list(kept):
        trial = skip.copy()
        trial[row] = True
        if ask(problem, model, replace(sure, skip=trial)).amounts is None:
            skip = trial
            kept.remove(row)
    return kept


def _beside(problem: Problem, rows: set[int]) -> list[int]:
    """The limit rows at the same places as these, the given ones last, so that others are dropped first."""
    places = {problem.rows[row].partition("@")[2].rpartition(" ")[0] for row in rows}
    near = [n for n, name in enumerate(problem.rows)
            if name.partition("@")[2].rpartition(" ")[0] in places and not problem.physical[n]]  # fmt: skip
    return [n for n in near if n not in rows][:MOST_TRIED] + sorted(rows)


def _short(problem: Problem, model: Linear) -> list[int]:
    return list(np.flatnonzero(problem.physical & (model.rest < 0)))
