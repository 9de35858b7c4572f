"""A plan as a problem of choice: what may be done, what must hold, and how each choice moves each row, to first order.

Nothing here knows an engine. A row holds where its room, less kappa times its doubt, is at least nothing.

    room(z, x) = at rest + sum over choices (jump z + slope x) + sum over pairs (beside z z')

A choice whose effect bends over its range is offered in pieces, each straight enough; what two choices at one place do
together beyond what each does alone is kept as a pair. All of it comes from asking the true geometry.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from witnessmark.plan.margins import Offer

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

STRAIGHT = 2e-3  # of a row's width: how far from a straight line an effect may lie before its range is split
PIECES = 4
NOTHING = 1e-9


class Geometry(Protocol):
    """Where rooms and their doubt come from; shapes as in `margins.Margins`."""

    def values(self, amounts: Floats) -> Floats: ...
    def u(self, amounts: Floats) -> Floats: ...
    def variances(self) -> tuple[Floats, Floats]: ...
    def sample(self, amounts: Floats, count: int, seed: int) -> Floats: ...


@dataclass(frozen=True, slots=True)
class Rule:
    """At most one of `choices`; or, with `needs`, none of `choices` without one of `needs`."""

    choices: tuple[int, ...]
    needs: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """What a solver is given. `scale` and `physical` are of the rows; `groups` say which choices stand at one place."""

    offers: tuple[Offer, ...]
    rules: tuple[Rule, ...]
    geometry: Geometry
    rows: tuple[str, ...]
    scale: Floats
    physical: Flags
    groups: tuple[tuple[int, ...], ...]
    pins: tuple[tuple[int, float], ...] = ()  # choice and amount that must be in


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """One straight part of a choice: its range, and what it does to the rows (m,)."""

    choice: int
    least: float
    most: float
    jump: Floats
    slope: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Linear:
    """The first-order model: rest (m,), pieces, pairs of choices with what they do together (m,)."""

    rest: Floats
    pieces: tuple[Piece, ...]
    pairs: tuple[tuple[int, int, Floats], ...]
    before: Floats  # variance of each room before work (m,)
    added: Floats  # (m, choices)
    slack: Floats = field(default_factory=lambda: np.zeros(0))  # how far truth may lie above this model (m,)

    def shifted(self, by: Floats) -> "Linear":
        """The same with other constants."""
        return replace(self, rest=self.rest + by)

    def value(self, amounts: Floats) -> Floats:
        """Rooms (B, m) by this model for amounts (B, choices)."""
        found = np.tile(self.rest, (len(amounts), 1))
        taken = np.zeros(amounts.shape, bool)
        for piece in self.pieces:
            x = amounts[:, piece.choice]
            mine = (x > 0) & (x >= piece.least - NOTHING) & (x <= piece.most + NOTHING) & ~taken[:, piece.choice]
            taken[:, piece.choice] |= mine
            found += np.where(mine[:, None], piece.jump + x[:, None] * piece.slope, 0.0)
        for a, b, beside in self.pairs:
            both = (amounts[:, a] > 0) & (amounts[:, b] > 0)
            found += np.where(both[:, None], beside, 0.0)
        return found


def linear(problem: Problem, seed: int = 1) -> Linear:
    """The first-order model of a problem, with how far the truth can lie above it over the ranges of the choices."""
    n = len(problem.offers)
    rest = problem.geometry.values(np.zeros((1, n)))[0]
    pieces = tuple(piece for j in range(n) for piece in _pieces(problem, rest, j))
    before, added = problem.geometry.variances()
    model = Linear(rest, pieces, _pairs(problem, rest), before, added)
    return replace(model, slack=_above(problem, model, seed))


def _at(n: int, j: int, amounts: Sequence[float]) -> Floats:
    rows = np.zeros((len(amounts), n))
    rows[:, j] = amounts
    return rows


def _pieces(problem: Problem, rest: Floats, j: int) -> list[Piece]:
    """The choice in as many straight parts as its effect needs."""
    offer, n = problem.offers[j], len(problem.offers)
    if offer.most <= offer.least:
        jump = problem.geometry.values(_at(n, j, [offer.most]))[0] - rest
        return [Piece(j, offer.most, offer.most, np.nan_to_num(jump), np.zeros(len(rest)))]
    knots = np.linspace(offer.least, offer.most, 2 * 8 + 1)
    effect = np.nan_to_num(problem.geometry.values(_at(n, j, list(knots))) - rest)
    found = []
    for a, b in _spans(effect / problem.scale, 0, len(knots) - 1, PIECES):
        slope = (effect[b] - effect[a]) / (knots[b] - knots[a])
        found.append(Piece(j, float(knots[a]), float(knots[b]), effect[a] - slope * knots[a], slope))
    return found


def _spans(effect: Floats, a: int, b: int, left: int) -> list[tuple[int, int]]:
    """Parts of a curve (knots, m) that lie near the straight line between their ends, at most `left` of them."""
    inside = np.arange(a + 1, b)
    if left <= 1 or not len(inside):
        return [(a, b)]
    share = ((inside - a) / (b - a))[:, None]
    apart = np.abs(effect[inside] - (effect[a] + share * (effect[b] - effect[a]))).max(1)
    if apart.max() <= STRAIGHT:
        return [(a, b)]
    middle = int(inside[int(apart.argmax())])
    first = _spans(effect, a, middle, left // 2)
    return [*first, *_spans(effect, middle, b, left - len(first))]


def _pairs(problem: Problem, rest: Floats) -> tuple[tuple[int, int, Floats], ...]:
    """What two choices at one place do together beyond what each does alone; those that exclude each other left out."""
    n = len(problem.offers)
    apart = {pair for rule in problem.rules if not rule.needs for pair in _two(rule.choices)}
    wanted = sorted({pair for group in problem.groups for pair in _two(group)} - apart)
    if not wanted:
        return ()
    middle = np.array([(offer.least + offer.most) / 2 for offer in problem.offers])
    alone = np.nan_to_num(problem.geometry.values(np.diag(middle)) - rest)
    together = np.zeros((len(wanted), n))
    for row, (a, b) in enumerate(wanted):
        together[row, [a, b]] = middle[[a, b]]
    both = np.nan_to_num(problem.geometry.values(together) - rest)
    found = []
    for (a, b), value in zip(wanted, both, strict=True):
        beside = value - alone[a] - alone[b]
        if np.abs(beside / problem.scale).max(initial=0.0) > STRAIGHT:
            found.append((a, b, beside))
    return tuple(found)


def _two(choices: tuple[int, ...]) -> set[tuple[int, int]]:
    return {(a, b) for a in choices for b in choices if a < b}


def _above(problem: Problem, model: Linear, seed: int, tries: int = 192) -> Floats:
    """How far the truth was found above the model (m,) over many mixtures of the choices, all ranges and corners.

    The bound on the cost rests on it: rows given this much more room admit every true solution that these mixtures
    stand for. It is found by sampling, so the proof is as good as the sample; the effects themselves are smooth.
    """
    stream = np.random.Generator(np.random.PCG64(seed))
    n = len(problem.offers)
    least, most = (np.array([getattr(offer, key) for offer in problem.offers]) for key in ("least", "most"))
    amounts = least + (most - least) * stream.choice([0.0, 0.5, 1.0], (tries, n))
    amounts *= stream.random((tries, n)) < stream.choice([0.1, 0.3, 0.6], (tries, 1))
    for rule in problem.rules:
        if not rule.needs:
            _only_one(amounts, rule.choices, stream)
    with np.errstate(invalid="ignore"):
        apart = problem.geometry.values(amounts) - model.value(amounts)
    above: Floats = np.maximum(np.nan_to_num(apart, nan=0.0).max(0, initial=0.0), 0.0)
    return above


def _only_one(amounts: Floats, choices: tuple[int, ...], stream: np.random.Generator) -> None:
    keep = stream.integers(0, len(choices), len(amounts))
    for at, choice in enumerate(choices):
        amounts[keep != at, choice] = 0.0


