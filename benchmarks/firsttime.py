"""Right first time: invented heads of one cylinder whose truth is known, planned by four planners.

    plan     what the product plans from the readings and their doubt, asked for 0.97
    even     the same, with the doubt left to chance: every limit as likely as not, 0.8 asked of each head
    naive    for each limit that a reading breaks the cheapest cut or part that mends that one limit; all of them done
    oracle   the product's plan from the true sizes: no doubt is left but that of the machine's own cuts

A head is right first time when every true size is inside its limit after the work, cut with the machine's own error.
"""

from dataclasses import dataclass, replace
from statistics import median

import numpy as np
from numpy.typing import NDArray

from benchmarks.table import Paper, percent
from benchmarks.valves import cylinder, margins_of, open_at
from witnessmark.engine.model import Model
from witnessmark.engine.state import State
from witnessmark.plan.margins import Margins
from witnessmark.plan.milp import Ask, ask
from witnessmark.plan.problem import Linear, Problem, linear
from witnessmark.plan.solve import money, solve

Floats = NDArray[np.float64]
U = {"stem_height": 0.012, "seat_width": 0.03, "margin": 0.02, "ptv_axial": 0.02, "seat_runout": 0.004}
SPREAD = {"stem_height": (43.80, 44.40), "seat_width": (1.1, 1.8), "margin": (0.85, 1.3), "ptv_axial": (1.55, 2.2),
          "seat_runout": (0.01, 0.07)}  # fmt: skip
CUTS = 20  # times that the work of one head is done, each with errors of its own
WANTED, EVEN = 0.97, 0.8


@dataclass(frozen=True, slots=True)
class Head:
    """One invented head: what is true, and the same as it was read."""

    truth: Problem
    read: Problem


@dataclass(slots=True)
class Tally:
    """What one planner did over all heads; None where it had no plan."""

    right: list[float | None]
    cost: list[float | None]


def made(seed: int) -> Head:
    """A head whose sizes are worn evenly over the spread, and its readings."""
    model, state = cylinder()
    stream = np.random.default_rng(seed)
    n = model.axes.size("valve")
    true = {name: stream.uniform(*ends, n) for name, ends in SPREAD.items()}
    read = {name: value + U[name] * stream.standard_normal(n) for name, value in true.items()}
    known = replace(state.with_values(**read), own={name: np.full(n, u) for name, u in U.items()})
    return Head(_problem(model, state.with_values(**true)), _problem(model, known))


def _problem(model: Model, state: State) -> Problem:
    return open_at(model, margins_of(model, state))


def naive(problem: Problem, model: Linear) -> Floats | None:
    """Each limit alone: what mends it cheapest, all put together; the deepest cut where two ask for one."""
    usual, n = money(problem), len(problem.offers)
    rest = problem.geometry.values(np.zeros((1, n)))[0]
    done = np.zeros(n)
    for row in np.flatnonzero(rest < 0):
        skip = np.arange(len(rest)) != row
        alone = ask(problem, model, Ask(usual.price, usual.each, np.zeros(len(rest)), skip=skip))
        if alone.amounts is None:
            return None
        done = np.maximum(done, alone.amounts)
    for rule in problem.rules:  # a valve that is replaced is not ground as well
        if rule.parts and (done[list(rule.choices)] > 0).sum() > 1:
            done[[choice for choice in rule.choices if problem.offers[choice].kind == "metal"]] = 0.0
    return done


def right(head: Head, amounts: Floats, seed: int) -> float:
    """Share of times that all true sizes are inside after the work, cut with the machine's error."""
    assert isinstance(head.truth.geometry, Margins)
    rooms = head.truth.geometry.sample(amounts, CUTS, seed)
    return float(np.mean(np.all(rooms >= -1e-9, axis=1)))


def run(paper: Paper, quick: bool) -> None:
    """Yield and cost of the four planners."""
    number = 60 if quick else 500
    paper.heading(f"Right first time: {number} invented heads with known truth")
    found = {name: Tally([], []) for name in ("plan", "even", "naive", "oracle")}
    for seed in range(number):
        _one(made(seed), seed, found)
    able = [at for at in range(number) if found["oracle"].cost[at] is not None]
    both = [at for at in able if found["plan"].cost[at] is not None]
    rows = []
    for name, tally in found.items():
        mine = [at for at in both if tally.cost[at] is not None]
        costs = [float(tally.cost[at] or 0.0) for at in mine]
        share = sum(float(tally.right[at] or 0.0) for at in mine) / len(mine)
        rows.append((name, len(mine), percent(share, 1), f"{median(costs):.0f}", f"{sum(costs) / len(costs):.0f}"))
    paper.say(f"{len(able)} heads can be mended at all; for {len(able) - len(both)} of them the plan finds no way that "
              "is sure enough, and says so")  # fmt: skip
    paper.table(("planner", "heads", "right first time", "median cost", "mean cost"), rows)
    _goals(paper, found, both)


def _one(head: Head, seed: int, found: dict[str, Tally]) -> None:
    model = linear(head.read)
    sure = solve(head.read, model=model, wanted=WANTED)
    best = solve(head.truth, proof=False)
    even = solve(head.read, model=model, kappa=0.0, wanted=EVEN, proof=False)
    several = {"plan": sure.amounts, "even": even.amounts, "naive": naive(head.read, model), "oracle": best.amounts}
    for name, amounts in several.items():
        cost = None if amounts is None else float(money(head.read).price @ (amounts > 0))
        found[name].cost.append(cost)
        found[name].right.append(None if amounts is None else right(head, amounts, seed))


def _goals(paper: Paper, found: dict[str, Tally], both: list[int]) -> None:
    share = sum(float(found["plan"].right[at] or 0.0) for at in both) / len(both)
    mine, least = (median(float(found[name].cost[at] or 0.0) for at in both) for name in ("plan", "oracle"))
    paper.goal("right first time", percent(share, 1), f"at least {percent(WANTED, 0)}", share >= WANTED)
    pairs = ((float(found["plan"].cost[at] or 0.0), float(found["oracle"].cost[at] or 0.0)) for at in both)
    each = median(cost / best for cost, best in pairs if best)
    paper.goal("cost over the oracle's on the same head, the middle head", f"{each:.2f}", "at most 1.10", each <= 1.1)
    ratio = mine / least if least else float("inf")
    paper.goal("median cost of all heads over the oracle's median", f"{ratio:.2f}", "at most 1.10", ratio <= 1.1)
