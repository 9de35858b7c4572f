"""A plan as a problem of choice: what may be done, what must hold, and how each choice moves each row, to first order.

Nothing here knows an engine. A row holds where its room, less kappa times its doubt, is at least nothing.

    room(z, x) = at rest + sum over choices (jump z + slope x) + sum over pairs (beside z z')

A choice whose effect bends over its range is offered in pieces, each straight enough; what two choices at one place do
together beyond what each does alone is kept as a pair. All of it comes from asking the true geometry.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from witnessmark.plan.margins import Offer

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

STRAIGHT = 2e-3  # of a row's width: how far from a straight line an effect may lie before its range is split
PIECES, KNOTS = 4, 9
WORSE = 10.0  # widths of a row: room of what no law describes
NOTHING = 1e-9


class Geometry(Protocol):
    """Where rooms and their doubt come from; shapes as in `margins.Margins`."""

    def values(self, amounts: Floats) -> Floats: ...
    def u(self, amounts: Floats) -> Floats: ...
    def variances(self) -> tuple[Floats, Floats]: ...
    def sample(self, amounts: Floats, count: int, seed: int) -> Floats: ...


@dataclass(frozen=True, slots=True)
class Rule:
    """At most `most` of `choices` and at least `least`; or, with `needs`, none of `choices` without one of `needs`."""

    choices: tuple[int, ...]
    needs: tuple[int, ...] = ()
    most: int = 1
    least: int = 0

    @property
    def parts(self) -> bool:
        """Whether its choices exclude each other."""
        return not self.needs and self.most == 1 and self.least == 0


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
    pieces = tuple(_pieces(problem, rest))
    before, added = problem.geometry.variances()
    model = Linear(rest, pieces, _pairs(problem), before, added)
    return replace(model, slack=_above(problem, model, seed))


def _pieces(problem: Problem, rest: Floats) -> Iterator[Piece]:
    """Every choice in as many straight parts as its effect needs; all of them asked for in one call."""
    n = len(problem.offers)
    knots = [_knots(offer) for offer in problem.offers]
    choice = np.repeat(np.arange(n), [len(each) for each in knots])
    base = _beneath(problem)
    rows = base[choice]
    rows[np.arange(len(choice)), choice] = np.concatenate(knots) if knots else 0.0
    found = problem.geometry.values(np.concatenate([rows, base]))
    effects = _finite(found[: len(rows)], found[len(rows) :][choice], problem.scale)
    for j, at in enumerate(knots):
        effect = effects[choice == j]
        if len(at) == 1:
            yield Piece(j, float(at[0]), float(at[0]), effect[0], np.zeros(len(rest)))
            continue
        for a, b in _spans(effect / problem.scale, 0, len(at) - 1, PIECES):
            slope = (effect[b] - effect[a]) / (at[b] - at[a])
            yield Piece(j, float(at[a]), float(at[b]), effect[a] - slope * at[a], slope)


def _beneath(problem: Problem) -> Floats:
    """What must be there before each choice is tried (choices, choices): a relief cut narrows a seat that was cut."""
    found = np.zeros((len(problem.offers), len(problem.offers)))
    for rule in problem.rules:
        if rule.needs:
            found[np.array(rule.choices), rule.needs[0]] = problem.offers[rule.needs[0]].most
    return found


def _finite(value: Floats, base: Floats, scale: Floats) -> Floats:
    """Effects; where no law describes what would come of it, far worse than any limit allows."""
    effect = value - base
    lost = np.isnan(value) & ~np.isnan(base)
    return np.where(lost, -WORSE * scale - base, np.nan_to_num(effect))


def _knots(offer: Offer) -> Floats:
    if offer.most <= offer.least:
        return np.array([offer.most])
    return np.linspace(offer.least, offer.most, KNOTS)


def _spans(effect: Floats, a: int, b: int, left: int) -> list[tuple[int, int]]:
    """Parts of a curve (knots, m) that lie near the straight line between their ends, at most `left` of them."""
    inside = np.arange(a + 1, b)
    if left <= 1 or not len(inside):
        return [(a, b)]
    share = ((inside - a) / (b - a))[:, None]
    apart = np.abs(effect[inside] - (effect[a] + share * (effect[b] - effect[a]))).max(1, initial=0.0)
    if apart.max() <= STRAIGHT:
        return [(a, b)]
    middle = int(inside[int(apart.argmax())])
    first = _spans(effect, a, middle, left // 2)
    return [*first, *_spans(effect, middle, b, left - len(first))]


def _pairs(problem: Problem) -> tuple[tuple[int, int, Floats], ...]:
    """What two choices at one place do together beyond what each does alone; those that exclude each other left out."""
    apart = {pair for rule in problem.rules if rule.parts for pair in _two(rule.choices)}
    base = _beneath(problem)
    wanted = [
        (a, b) for a, b in sorted({pair for group in problem.groups for pair in _two(group)} - apart)
        if not base[a, b] and not base[b, a]
    ]  # fmt: skip
    if not wanted:
        return ()
    middle = np.array([(offer.least + offer.most) / 2 for offer in problem.offers])
    first, second = np.array(wanted).T
    beneath = np.maximum(base[first], base[second])
    tries = np.stack([beneath] * 4)
    every = np.arange(len(wanted))
    for turn, columns in enumerate(((), (first,), (second,), (first, second))):
        for column in columns:
            tries[turn, every, column] = middle[column]
    none, one, other, both = problem.geometry.values(tries.reshape(-1, len(middle))).reshape(4, len(wanted), -1)
    beside = np.nan_to_num(both - one - other + none)
    bent = np.abs(beside / problem.scale).max(1, initial=0.0) > STRAIGHT
    return tuple((int(first[n]), int(second[n]), beside[n]) for n in np.flatnonzero(bent))


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
    ends = stream.choice([0.0, 0.5, 1.0], (tries, n))
    share = np.where(stream.random((tries, n)) < 0.5, ends, stream.random((tries, n)))
    amounts = least + (most - least) * share
    amounts *= stream.random((tries, n)) < stream.choice([0.1, 0.3, 0.6], (tries, 1))
    for rule in problem.rules:
        if rule.parts:
            _only_one(amounts, rule.choices, stream)
    for rule in problem.rules:
        if rule.needs:
            alone = ~np.any(amounts[:, rule.needs], axis=1)
            amounts[np.ix_(alone, rule.choices)] = 0.0
    with np.errstate(invalid="ignore"):
        apart = problem.geometry.values(amounts) - model.value(amounts)
    above: Floats = np.maximum(np.nan_to_num(apart, nan=0.0).max(0, initial=0.0), 0.0)
    return above


def _only_one(amounts: Floats, choices: tuple[int, ...], stream: np.random.Generator) -> None:
    keep = stream.integers(0, len(choices), len(amounts))
    for at, choice in enumerate(choices):
        amounts[keep != at, choice] = 0.0
