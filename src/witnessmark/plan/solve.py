"""The cheapest set of choices that holds on the true geometry, with the bound that proves it; and how likely it holds.

    safe model -> solve -> true rooms less kappa u -> constants moved to the truth there -> solve again ...

at most five rounds. What then still does not hold on the truth is forbidden as a set, and the search goes on. A plan is
`optimal` when it is verified on the truth and its cost lies above the bound by less than the price step.
"""

from contextlib import nullcontext
from dataclasses import dataclass, field, replace

import numpy as np

from witnessmark.plan.milp import TIE, Answer, Ask, NoGood, Quiet, ask
from witnessmark.plan.problem import Flags, Floats, Linear, Problem, linear
from witnessmark.plan.surer import surer

KAPPA = 1.645  # one row proven at 0.95
ROUNDS = 5
FORBIDDEN = 12  # sets that the truth refused before the search is given up
PRICE_STEP = 0.01
TRIALS = 4000
LEAST_RAISE, RAISE = 0.2, 0.6  # kappa of a row that breaks too often goes up by this
RAISES = 8
SURER = 2  # times that the amounts of one set are moved
HOLDS = 1e-9
OUT_OF_TIME = "out of time"


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
    wanted: float | None = None, seconds: float = 10.0, quiet: Quiet = nullcontext, seed: int = 11, proof: bool = True,
) -> Solution:  # fmt: skip
    """The best verified set of amounts, with its bound; `kappa` for all rows, or of each.

    `wanted` is the chance asked that all of it holds. Without `proof` no bound is asked for: the answer is verified,
    and at most feasible.

    Kappa begins alike for all rows and goes up for those that break too often, until the chance asked for is met or
    nothing more is possible; then the best that was found stands.
    """
    model = model or linear(problem)
    objective = objective or money(problem)
    rows = np.broadcast_to(np.asarray(kappa, float), (len(problem.rows),)).copy()
    question = Ask(objective.price, objective.each, rows, seconds=seconds, quiet=quiet)
    best = _verified(problem, model, objective, question)
    if best.amounts is not None and wanted is not None:
        best = _raised(problem, model, objective, question, best, wanted, seed)
    return _proven(problem, model, question, best) if proof else best


def _raised(
    problem: Problem, model: Linear, objective: Objective, question: Ask, first: Solution, wanted: float, seed: int
) -> Solution:
    """The same with kappa up for the rows that break too often; a row that no choice can keep further is left as is."""
    at_most = np.where(_movable(model), np.inf, question.kappa)
    best, breaks = _tried(problem, made_surer(problem, first, question.seconds, question.quiet), seed)
    kappa = question.kappa
    for _ in range(RAISES):
        raised = _asked(kappa, breaks, at_most, wanted)
        if (best.chance or 0.0) >= wanted or np.array_equal(raised, kappa):
            break
        found = _verified(problem, model, objective, replace(question, kappa=raised))
        if found.amounts is None:
            up = raised > kappa
            stuck = _stuck(problem, model, replace(question, kappa=raised), up) | _short(found, up)
            at_most = np.where(stuck, kappa, at_most)
            if not stuck.any():
                break
            continue
        found, breaks = _tried(problem, made_surer(problem, found, question.seconds, question.quiet), seed)
        kappa = raised
        best = found if (found.chance or 0.0) > (best.chance or 0.0) else best
    return best


def made_surer(problem: Problem, found: Solution, seconds: float, quiet: Quiet) -> Solution:
    """The same choices with the amounts that are least likely to break a row; as it was where that does not hold."""
    assert found.amounts is not None
    held = frozenset(choice for choice, _ in problem.pins)
    rest = problem.geometry.values(np.zeros((1, len(problem.offers))))[0]
    for _ in range(SURER):
        moved = surer(problem.geometry, problem.offers, found.amounts, found.rooms, found.u, found.kappa, held,
                      seconds, quiet)  # fmt: skip
        if np.array_equal(moved, found.amounts):
            break
        truth = _truth(problem, rest, moved, found.kappa)
        if not truth.holds:
            break
        found = replace(found, amounts=moved, rooms=truth.rooms, u=truth.u)
    return found


def _asked(kappa: Floats, breaks: Floats, at_most: Floats, wanted: float) -> Floats:
    """Kappa of each row, higher where its share of what may break is overdrawn; in steps, so that no more is paid."""
    from scipy.special import ndtri

    free = (breaks > 1.0 / TRIALS) & (kappa < at_most)
    left = max(1 - wanted - float(breaks[~free].sum()), 0.3 * (1 - wanted))
    share = left / max(int(free.sum()), 1)
    target = max(float(-ndtri(share)), KAPPA)
    raised = np.minimum(np.maximum(kappa + LEAST_RAISE, np.minimum(kappa + RAISE, target)), at_most)
    return np.where(free & (breaks > share), raised, kappa)


def _stuck(problem: Problem, model: Linear, question: Ask, raised: Flags) -> Flags:
    """Of the rows that were raised, those that cannot be kept so far by any choice."""
    cheap = replace(question, price=np.full(len(problem.offers), TIE), each=np.zeros(len(problem.offers)), give=raised)
    found = ask(problem, model, cheap)
    return raised if found.amounts is None else np.asarray(found.gives > HOLDS)


def _short(found: Solution, raised: Flags) -> Flags:
    """Of the rows that were raised, those at which the truth refused what was tried last."""
    if not len(found.rooms):
        return np.zeros(len(raised), bool)
    return np.asarray(raised & ~(found.rooms - found.kappa * found.u >= -HOLDS))


def _movable(model: Linear) -> Flags:
    """Rows that some choice moves; the others are as they are."""
    moved = np.zeros(len(model.rest), bool)
    for piece in model.pieces:
        moved |= (np.abs(piece.jump) > HOLDS) | (np.abs(piece.slope) > HOLDS)
    return moved


def _tried(problem: Problem, found: Solution, seed: int) -> tuple[Solution, Floats]:
    """With its chance; and how often each row (m,) breaks."""
    assert found.amounts is not None
    rooms = problem.geometry.sample(found.amounts, TRIALS, seed)
    return replace(found, chance=_chance(rooms)), np.asarray(np.mean(rooms < -HOLDS, axis=0))


def chance(problem: Problem, amounts: Floats, seed: int = 11, count: int = TRIALS) -> float:
    """Chance that every true room is at least nothing, over engines and cuts drawn from their doubt."""
    return _chance(problem.geometry.sample(amounts, count, seed))


def _chance(rooms: Floats) -> float:
    known = ~np.isnan(rooms).all(axis=0)
    return float(np.mean(np.all(np.nan_to_num(rooms[:, known], nan=-1.0) >= -HOLDS, axis=1)))


def _proven(problem: Problem, model: Linear, question: Ask, best: Solution) -> Solution:
    """With the bound that no set which the truth would accept lies below; infinite where there is none at all."""
    bound = ask(problem, model, replace(question, kappa=best.kappa, hopeful=True))
    if best.amounts is None:
        nothing = bound.amounts is None and not bound.stopped
        return replace(best, bound=bound.bound, status="impossible" if nothing else best.status)
    proven = replace(best, bound=min(bound.bound, best.cost))
    return replace(proven, status="optimal") if proven.gap < PRICE_STEP else proven


def _verified(problem: Problem, model: Linear, objective: Objective, question: Ask) -> Solution:
    """The cheapest set by the safe model that the truth accepts; not yet with a bound."""
    nogood, stopped, truth = question.nogood, False, None
    for _ in range(FORBIDDEN):
        found, truth = _rounds(problem, model, replace(question, nogood=nogood))
        stopped |= found.stopped
        if found.amounts is None or truth is None:
            break
        if truth.holds:
            cost = _cost(objective, found.amounts)
            return Solution("feasible", found.amounts, cost, -np.inf, question.kappa, truth.rooms, truth.u)
        nogood = (*nogood, _refused(problem, model, found.amounts, truth, question.kappa))
    nothing = Solution(OUT_OF_TIME if stopped else "impossible", None, np.inf, -np.inf, question.kappa)
    return nothing if truth is None else replace(nothing, rooms=truth.rooms, u=truth.u)


def _refused(problem: Problem, model: Linear, amounts: Floats, truth: "_Truth", kappa: Floats) -> NoGood:
    """What must not come again: the choices that move the row that is shortest, as they are now."""
    short = np.nan_to_num((truth.rooms - kappa * truth.u) / problem.scale, nan=-np.inf)
    row = int(np.argmin(np.where(np.isnan(model.rest) & np.isnan(truth.rooms), np.inf, short)))
    among = {piece.choice for piece in model.pieces if abs(piece.jump[row]) + abs(piece.slope[row]) > HOLDS}
    among |= {n for a, b, beside in model.pairs if abs(beside[row]) > HOLDS for n in (a, b)}
    taken = frozenset(int(n) for n in np.flatnonzero(amounts))
    return (taken & among, frozenset(among)) if taken & among else (taken, frozenset(range(len(amounts))))


@dataclass(frozen=True, slots=True, eq=False)
class _Truth:
    """True rooms of a set, their doubt, and whether every known row keeps kappa of it."""

    rooms: Floats
    u: Floats
    holds: bool


def _truth(problem: Problem, rest: Floats, amounts: Floats, kappa: Floats) -> _Truth:
    rooms, u = problem.geometry.values(amounts[None, :])[0], problem.geometry.u(amounts)
    known = ~np.isnan(rest) | ~np.isnan(rooms)
    return _Truth(rooms, u, bool(np.all((rooms - kappa * u)[known] >= -1e-7)))


def _rounds(problem: Problem, model: Linear, question: Ask) -> tuple[Answer, _Truth | None]:
    """Solve, move the constants of the rows that the truth refuses, solve again; with the truth of what was last."""
    here, last, truth = model, None, None
    for _ in range(ROUNDS):
        found = ask(problem, here, question)
        if found.amounts is None:
            return (last or found), truth
        last, truth = found, _truth(problem, model.rest, found.amounts, question.kappa)
        if truth.holds:
            break
        said = here.value(found.amounts[None, :])[0] - _kept(here, found.amounts, question.kappa)
        apart = np.nan_to_num(truth.rooms - question.kappa * truth.u - said, nan=-1.0)
        here = here.shifted(np.where(apart < 0, apart - HOLDS, 0.0))
    assert last is not None
    return last, truth


def _kept(model: Linear, amounts: Floats, kappa: Floats) -> Floats:
    from witnessmark.plan.milp import margins

    rest, more = margins(model, kappa, hopeful=False)
    kept: Floats = rest + more @ (amounts > 0)
    return kept


def _cost(objective: Objective, amounts: Floats) -> float:
    return float((objective.price * (amounts > 0)).sum() + (objective.each * amounts).sum())
