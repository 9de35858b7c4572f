"""The cheapest set of choices that holds on the true geometry, with the bound that proves it; and how likely it holds.

    safe model -> solve -> true rooms less kappa u -> constants moved to the truth there -> solve again ...

at most five rounds. What then still does not hold on the truth is forbidden as a set, and the search goes on. A plan is
`optimal` when it is verified on the truth and its cost lies above the bound by less than the price step.
"""


from contextlib import nullcontext
from dataclasses import dataclass, field, replace

import numpy as np

from witnessmark.plan.milp import Answer, Ask, Quiet, ask
from witnessmark.plan.problem import Floats, Linear, Problem, linear

KAPPA = 1.645  # one row proven at 0.95
ROUNDS = 5
FORBIDDEN = 12  # sets that the truth refused before the search is given up
PRICE_STEP = 0.01
TRIALS = 4000
RAISE = 0.45  # kappa of a row that breaks too often goes up by this
RAISES = 4
HOLDS = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Objective:
    """What is made least: `price` of each choice (n,), `each` for every mm of it (n,)."""

    name: str
    price: Floats
    each: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Solution:
    """A set of amounts (choices,), verified on the true geometry; or why there is none.

    status   optimal | feasible | impossible | out of time
    rooms    true rooms (m,); u their doubt (m,); kappa (m,) what each row kept.
    chance   that every true room is at least nothing; None where it was not tried.
    """

    status: str
    amounts: Floats | None
    cost: float
    bound: float
    kappa: Floats
    rooms: Floats = field(default_factory=lambda: np.zeros(0))
    u: Floats = field(default_factory=lambda: np.zeros(0))
    chance: float | None = None

    @property
    def gap(self) -> float:
        """What may still be saved, at most."""
        return max(self.cost - self.bound, 0.0)


def money(problem: Problem) -> Objective:
    """The usual objective."""
    return Objective("least cost", np.array([offer.cost for offer in problem.offers]),
                     np.array([offer.cost_each for offer in problem.offers]))  # fmt: skip


def solve(
    problem: Problem, objective: Objective | None = None, *, model: Linear | None = None, kappa: float | Floats = KAPPA,
    wanted: float | None = None, seconds: float = 10.0, quiet: Quiet = nullcontext, seed: int = 11,
) -> Solution:  # fmt: skip
    """The best verified set of amounts, with its bound; `kappa` for all rows, or of each.

    `wanted` is the chance asked that all of it holds.

    Kappa begins alike for all rows and goes up for those that break too often, until the chance asked for is met or
    nothing more is possible; then the best that was found stands.
    """
    model = model or linear(problem)
    objective = objective or money(problem)
    rows = np.broadcast_to(np.asarray(kappa, float), (len(problem.rows),)).copy()
    best = _verified(problem, model, objective, rows, seconds, quiet)
    if best.amounts is None or wanted is None:
        return best
    best = _tried(problem, best, seed)
    for _ in range(RAISES):
        if best.chance is not None and best.chance >= wanted:
            break
        breaks = _breaks(problem, best, seed)
        allowed = (1 - wanted) / max(int((breaks > 0).sum()), 1)
        movable = _movable(model)
        raised = np.where((breaks > allowed) & movable, rows + RAISE, rows)
        if np.array_equal(raised, rows):
            break
        found = _verified(problem, model, objective, raised, seconds, quiet)
        if found.amounts is None:
            break
        found = _tried(problem, found, seed)
        rows = raised
        if (found.chance or 0.0) > (best.chance or 0.0):
            best = found
    return best


def _movable(model: Linear) -> np.ndarray:
    """Rows that some choice moves; the others are as they are."""
    moved = np.zeros(len(model.rest), bool)
    for piece in model.pieces:
        moved |= (np.abs(piece.jump) > HOLDS) | (np.abs(piece.slope) > HOLDS)
    return moved


def _tried(problem: Problem, found: Solution, seed: int) -> Solution:
    assert found.amounts is not None
    return replace(found, chance=chance(problem, found.amounts, seed))


def chance(problem: Problem, amounts: Floats, seed: int = 11, count: int = TRIALS) -> float:
    """Chance that every true room is at least nothing, over engines and cuts drawn from their doubt."""
    rooms = problem.geometry.sample(amounts, count, seed)
    known = ~np.isnan(rooms).all(axis=0)
    return float(np.mean(np.all(np.nan_to_num(rooms[:, known], nan=-1.0) >= -HOLDS, axis=1)))


def _breaks(problem: Problem, found: Solution, seed: int) -> Floats:
    assert found.amounts is not None
    broken: Floats = np.mean(problem.geometry.sample(found.amounts, TRIALS, seed) < -HOLDS, axis=0)
    return broken


def _verified(
    problem: Problem, model: Linear, objective: Objective, kappa: Floats, seconds: float, quiet: Quiet
) -> Solution:
    """The cheapest set that the truth accepts, and a bound below every set that it would."""
    question = Ask(objective.price, objective.each, kappa, seconds=seconds, quiet=quiet)
    bound = ask(problem, model, replace(question, hopeful=True))
    if bound.amounts is None and not bound.stopped:
        return Solution("impossible", None, np.inf, np.inf, kappa)
    best: Solution | None = None
    here, nogood = model, question.nogood
    for _ in range(FORBIDDEN):
        found, here = _rounds(problem, here, replace(question, nogood=nogood))
        if found.amounts is None:
            break
        good = _holds(problem, found.amounts, kappa)
        if good is not None:
            cost = _cost(objective, found.amounts)
            best = Solution("feasible", found.amounts, cost, min(bound.bound, cost), kappa, *good)
            break
        nogood = (*nogood, frozenset(int(j) for j in np.flatnonzero(found.amounts)))
        here = model
    if best is None:
        stopped = bound.stopped or (found.amounts is None and found.stopped)
        return Solution("out of time" if stopped else "impossible", None, np.inf, bound.bound, kappa)
    return replace(best, status="optimal") if best.gap < PRICE_STEP else best


def _rounds(problem: Problem, model: Linear, question: Ask) -> tuple[Answer, Linear]:
    """Solve, move the constants of the rows that the truth refuses, solve again."""
    here, last = model, None
    for _ in range(ROUNDS):
        found = ask(problem, here, question)
        if found.amounts is None:
            return (last or found), here
        last = found
        if _holds(problem, found.amounts, question.kappa) is not None:
            return found, here
        truth, u = problem.geometry.values(found.amounts[None, :])[0], problem.geometry.u(found.amounts)
        said = here.value(found.amounts[None, :])[0] - _kept(here, found.amounts, question.kappa)
        apart = np.nan_to_num(truth - question.kappa * u - said, nan=-1.0)
        here = here.shifted(np.where(apart < 0, apart - HOLDS, 0.0))
    assert last is not None
    return last, here


def _kept(model: Linear, amounts: Floats, kappa: Floats) -> Floats:
    from witnessmark.plan.milp import margins

    rest, more = margins(model, kappa, hopeful=False)
    kept: Floats = rest + more @ (amounts > 0)
    return kept


def _holds(problem: Problem, amounts: Floats, kappa: Floats) -> tuple[Floats, Floats] | None:
    """True rooms and their doubt where every known row keeps kappa of it; None where one does not."""
    rooms, u = problem.geometry.values(amounts[None, :])[0], problem.geometry.u(amounts)
    rest = problem.geometry.values(np.zeros((1, len(amounts))))[0]
    known = ~np.isnan(rest) | ~np.isnan(rooms)
    short = rooms - kappa * u
    return (rooms, u) if np.all(short[known] >= -1e-7) else None


def _cost(objective: Objective, amounts: Floats) -> float:
    return float((objective.price * (amounts > 0)).sum() + (objective.each * amounts).sum())


