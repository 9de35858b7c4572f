"""The model of a plan as a mixed-integer programme, handed to a general-purpose solver.

Amounts are whole steps of the machine, so that nothing has to be rounded afterwards. The safe model takes the doubt of
each row at least as large as it can be; the hopeful one at most, and gives the bound that proves a plan cheapest:

    safe       sqrt(c0) + sum (sqrt(c0 + co) - sqrt(c0)) z            a sum of roots lies above the root of a sum
    hopeful    sqrt(c0) + sum (sqrt(C) - sqrt(C - co)) z, C = c0 + sum co

Source: derived, from the root being concave.
"""

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass, field

import numpy as np

from witnessmark.plan.problem import Flags, Floats, Linear, Problem

NoGood = tuple[frozenset[int], frozenset[int]]
Quiet = Callable[[], AbstractContextManager[object]]
OUT_OF_TIME, IMPOSSIBLE = 1, 2  # what the solver says
TIE = 1e-6  # weight of the amounts among equals: of two plans at one price the one that takes less


@dataclass(frozen=True, slots=True, eq=False)
class Ask:
    """One question to the solver.

    price      of each choice (n,), and `each` for every mm of it; what is made least.
    kappa      (m,) how many standard uncertainties each row must keep.
    hopeful    the bound's model instead of the safe one.
    give       rows (m,) that may give way, at a price for each width of theirs; None: nothing gives way.
    nogood     (taken, among): among these choices not again those taken and none of the others.
    """

    price: Floats
    each: Floats
    kappa: Floats
    hopeful: bool = False
    give: Flags | None = None
    skip: Flags | None = None  # rows (m,) left out
    nogood: tuple[NoGood, ...] = ()
    seconds: float = 10.0
    quiet: Quiet = field(default=nullcontext)


@dataclass(frozen=True, slots=True, eq=False)
class Answer:
    """What came back: `amounts` (choices,) or None, a bound on what is made least, by how much rows gave (m,)."""

    amounts: Floats | None
    cost: float
    bound: float
    gives: Floats
    stopped: bool  # by time, before it was proven


def margins(model: Linear, kappa: Floats, *, hopeful: bool) -> tuple[Floats, Floats]:
    """What each row keeps for doubt: at rest (m,), and more for each choice (m, choices)."""
    base = np.sqrt(model.before)
    if hopeful:
        grown = np.maximum(model.added, 0.0)
        whole = model.before + grown.sum(1)
        more = np.sqrt(whole)[:, None] - np.sqrt(np.maximum(whole[:, None] - grown, 0.0))
        more = np.where(model.added < 0, _fewer(model), more)
    else:
        more = np.sqrt(np.maximum(model.before[:, None] + model.added, 0.0)) - base[:, None]
    return kappa * base, kappa[:, None] * more


def _fewer(model: Linear) -> Floats:
    """What choices that take doubt away save at most (m, choices): along the chord below the root, several at once."""
    lost = np.maximum(-model.added, 0.0)
    whole = np.minimum(lost.sum(1), model.before)
    saved = np.sqrt(model.before) - np.sqrt(model.before - whole)
    found: Floats = -lost * (saved / np.maximum(whole, 1e-300))[:, None]
    return found


def ask(problem: Problem, model: Linear, asked: Ask) -> Answer:
    """Ask the solver once."""
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    layout = _Columns(problem, model, asked)
    matrix, low = layout.rows()
    if layout.impossible:
        return Answer(None, np.inf, np.inf, np.zeros(len(model.rest)), False)
    if not len(layout.cost):  # nothing is open, and nothing is short
        return Answer(np.zeros(len(problem.offers)), 0.0, 0.0, np.zeros(len(model.rest)), False)
    with asked.quiet():
        found = milp(
            layout.cost, integrality=layout.integer, bounds=Bounds(layout.low, layout.high),
            constraints=LinearConstraint(csr_array(matrix), low, np.inf),
            options={"time_limit": asked.seconds, "mip_rel_gap": 1e-6},
        )  # fmt: skip
    gives = np.zeros(len(model.rest))
    status, x, below = int(found.status), found.x, getattr(found, "mip_dual_bound", None)
    if x is None:  # also where time ran out before any solution was met
        bound = np.inf if status == IMPOSSIBLE else -np.inf if below is None else float(below)
        return Answer(None, np.inf, bound, gives, status == OUT_OF_TIME)
    gives[layout.given] = x[layout.first_give :]
    value = float(layout.cost @ x)
    return Answer(layout.amounts(x), value, value if below is None else float(below), gives, status == OUT_OF_TIME)


class _Columns:
    """Columns: a switch for each piece, its whole steps, one for each pair, one for each row that may give way."""

    def __init__(self, problem: Problem, model: Linear, asked: Ask) -> None:
        self.problem, self.model, self.asked = problem, model, asked
        p, q = len(model.pieces), len(model.pairs)
        self.steps = [_steps(problem, n, piece.least, piece.most) for n, piece in ((x.choice, x) for x in model.pieces)]
        self.given = np.flatnonzero(asked.give) if asked.give is not None else np.zeros(0, np.intp)
        self.first_give = 2 * p + q
        size = self.first_give + len(self.given)
        self.cost, self.low, self.high = np.zeros(size), np.zeros(size), np.ones(size)
        self.integer = np.zeros(size, np.int64)
        self.of_choice: list[list[int]] = [[] for _ in problem.offers]
        self.impossible = False
        for at, piece in enumerate(model.pieces):
            self.of_choice[piece.choice].append(at)
            step, first, last = self.steps[at]
            self.cost[at] = asked.price[piece.choice]
            self.cost[p + at] = step * (asked.each[piece.choice] + TIE)
            self.high[p + at] = last
            if first > last:  # no whole step of the machine lies in this part
                self.high[at] = self.high[p + at] = 0.0
            self.integer[[at, p + at]] = 1
        self.high[self.first_give :] = np.inf
        self.cost[self.first_give :] = 1 / problem.scale[self.given]

    def amounts(self, x: Floats) -> Floats:
        """Amounts (choices,) of a solution."""
        found = np.zeros(len(self.problem.offers))
        p = len(self.model.pieces)
        for at, piece in enumerate(self.model.pieces):
            if x[at] > 0.5:
                step, first, _ = self.steps[at]
                found[piece.choice] = step * round(x[p + at]) if step else piece.most
                if step and first == 0:
                    found[piece.choice] = max(found[piece.choice], piece.least)
        return found

    def rows(self) -> tuple[Floats, Floats]:
        """Matrix and low ends of every constraint."""
        blocks = [self._limits(), self._ranges(), self._pairs(), self._rules(), self._pins(), self._nogoods()]
        return np.concatenate([matrix for matrix, _ in blocks]), np.concatenate([low for _, low in blocks])

    def _limits(self) -> tuple[Floats, Floats]:
        model, asked, p = self.model, self.asked, len(self.model.pieces)
        rest, more = margins(model, asked.kappa, hopeful=asked.hopeful)
        room = model.rest - rest + (model.slack if asked.hopeful and len(model.slack) else 0.0)
        matrix = np.zeros((len(room), len(self.cost)))
        for at, piece in enumerate(model.pieces):
            step = self.steps[at][0]
            fixed = piece.slope * piece.most if not step else 0.0
            matrix[:, at] = piece.jump + fixed - more[:, piece.choice]
            matrix[:, p + at] = piece.slope * step
        for at, (_, _, beside) in enumerate(model.pairs):
            matrix[:, 2 * p + at] = beside
        matrix[self.given, self.first_give + np.arange(len(self.given))] = 1.0
        keep = np.isfinite(room) if asked.skip is None else np.isfinite(room) & ~asked.skip
        still = keep & ~np.any(matrix, axis=1)
        self.impossible |= bool(np.any(room[still] < -1e-9))
        keep &= np.any(matrix, axis=1)
        size = np.maximum(np.abs(matrix[keep]).max(1, initial=0.0), 1e-12)[:, None]  # rows of one size
        return matrix[keep] / size, (-room[keep] / size[:, 0]) - 1e-9

    def _ranges(self) -> tuple[Floats, Floats]:
        """first * z <= k <= last * z for each piece."""
        p = len(self.model.pieces)
        matrix = np.zeros((2 * p, len(self.cost)))
        for at, (_, first, last) in enumerate(self.steps):
            matrix[2 * at, [p + at, at]] = 1.0, -first
            matrix[2 * at + 1, [at, p + at]] = last, -1.0
        return matrix, np.zeros(2 * p)

    def _pairs(self) -> tuple[Floats, Floats]:
        p = len(self.model.pieces)
        matrix = np.zeros((3 * len(self.model.pairs), len(self.cost)))
        low = np.zeros(len(matrix))
        for at, (a, b, _) in enumerate(self.model.pairs):
            both = 2 * p + at
            for row, choice in enumerate((a, b)):
                matrix[3 * at + row, self.of_choice[choice]] = 1.0
                matrix[3 * at + row, both] = -1.0
            matrix[3 * at + 2, both] = 1.0
            for choice in (a, b):
                matrix[3 * at + 2, self.of_choice[choice]] = -1.0
            low[3 * at + 2] = -1.0
        return matrix, low

    def _rules(self) -> tuple[Floats, Floats]:
        """At most one of each rule and of each choice's pieces; what needs another has it."""
        single = [pieces for pieces in self.of_choice if len(pieces) > 1]
        matrix = np.zeros((len(single) + len(self.problem.rules), len(self.cost)))
        low = np.full(len(matrix), -1.0)
        for row, pieces in enumerate(single):
            matrix[row, pieces] = -1.0
        for row, rule in enumerate(self.problem.rules, len(single)):
            mine = [at for choice in rule.choices for at in self.of_choice[choice]]
            matrix[row, mine] = -1.0
            low[row] = -float(rule.most)
            if rule.least:
                matrix[row, mine], low[row] = 1.0, float(rule.least)
            elif rule.needs:
                low[row] = 0.0
                matrix[row, mine] /= max(len(mine), 1)
                matrix[row, [at for choice in rule.needs for at in self.of_choice[choice]]] += 1.0
        return matrix, low

    def _pins(self) -> tuple[Floats, Floats]:
        matrix = np.zeros((3 * len(self.problem.pins), len(self.cost)))
        low = np.zeros(len(matrix))
        p = len(self.model.pieces)
        for row, (choice, amount) in enumerate(self.problem.pins):
            mine = self.of_choice[choice]
            matrix[3 * row, mine] = 1.0
            low[3 * row] = 1.0
            steps = [self.steps[at][0] for at in mine]
            if any(steps):
                columns = [p + at for at in mine]
                half = max(steps) / 2
                matrix[3 * row + 1, columns], low[3 * row + 1] = steps, amount - half
                matrix[3 * row + 2, columns], low[3 * row + 2] = [-step for step in steps], -amount - half
        return matrix, low

    def _nogoods(self) -> tuple[Floats, Floats]:
        matrix = np.zeros((len(self.asked.nogood), len(self.cost)))
        low = np.zeros(len(matrix))
        for row, (taken, among) in enumerate(self.asked.nogood):
            for choice in among:
                matrix[row, self.of_choice[choice]] = -1.0 if choice in taken else 1.0
            low[row] = 1.0 - len(taken)
        return matrix, low


def _steps(problem: Problem, choice: int, least: float, most: float) -> tuple[float, int, int]:
    """(step, first, last) of a piece in whole steps; step 0 for what has no amount to choose."""
    step = problem.offers[choice].step
    if not step or most <= least:
        return 0.0, 0, 0
    first, last = int(np.ceil(least / step - 1e-9)), int(np.floor(most / step + 1e-9))
    return step, first, last
