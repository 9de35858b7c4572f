"""Slopes of every result by every uncertain quantity and amount, from the one geometry, all of them in one call.

Operations at a valve move what belongs to that valve and its chamber. So one step is taken at once for the valves of
one rank in all chambers, and a head of thirty-two valves costs no more calls than a single cylinder.
"""

from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from witnessmark.engine.model import Model, evaluate
from witnessmark.engine.state import Floats
from witnessmark.engine.work import Amounts, worked

STEP = 1e-5  # mm, rad, N: far below any gauge, far above what the arithmetic leaves


@dataclass(frozen=True, slots=True, eq=False)
class Slope:
    """How a result (n,) answers to one element of `name`: element[n] of its axis, by[n]; amounts are "@operation"."""

    name: str
    element: NDArray[np.intp]
    by: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Sloped:
    """Results of one state after work, and the slopes of each of them; terms that are nothing everywhere are left out.

    by_result   id -> slopes.
    """

    results: Mapping[str, Floats]
    by_result: Mapping[str, tuple[Slope, ...]]


@dataclass(frozen=True, slots=True, eq=False)
class _Turn:
    """One step: of which input, which elements are moved, and the axis they lie on."""

    name: str
    axis: str
    moved: NDArray[np.bool_]
    size: float


def slopes(
    model: Model, values: Mapping[str, Floats], work: Amounts, names: Iterable[str], only: Container[str] | None = None
) -> Sloped:
    """Slopes by the quantities `names`, and by amounts where a name is "@operation". `values` hold one state.

    `only` names the results whose slopes are wanted; all where it is None.

    A two-sided difference; where a law has a kink it is the mean of both sides.
    """
    turns = [turn for name in names for turn in _turns(model, values, work, name)]
    batch, amounts = _batch(values, work, turns)
    results = evaluate(model, worked(model, batch, amounts))
    here = {name: value[0] for name, value in results.items()}
    wanted = [name for name in results if only is None or name in only]
    return Sloped(here, {name: tuple(_of_result(model, name, results[name], turns)) for name in wanted})


def _axis(model: Model, name: str) -> str:
    return model.operations[name[1:]].axis if name.startswith("@") else model.quantities[name].axis


def _turns(model: Model, values: Mapping[str, Floats], work: Amounts, name: str) -> Iterable[_Turn]:
    axis, axes = _axis(model, name), model.axes
    row = work[name[1:]] if name.startswith("@") else values[name]
    known = np.abs(row[~np.isnan(row)])
    size = STEP * max(1.0, float(known.max(initial=0.0)) / 100)
    if axis == "valve":
        for rank in range(int(axes.rank.max()) + 1):
            yield _Turn(name, axis, axes.rank == rank, size)
    elif axis == "chamber":
        yield _Turn(name, axis, np.ones(axes.size(axis), bool), size)
    else:
        for n in range(axes.size(axis)):
            yield _Turn(name, axis, np.arange(axes.size(axis)) == n, size)


def _batch(
    values: Mapping[str, Floats], work: Amounts, turns: list[_Turn]
) -> tuple[dict[str, Floats], dict[str, Floats]]:
    """Row 0 is the state itself; rows 2n+1 and 2n+2 are the turn n up and down. What no turn moves stays one row."""
    rows = 2 * len(turns) + 1
    moved = {turn.name for turn in turns}
    batch = {name: np.tile(row, (rows, 1)) if name in moved else row[None, :] for name, row in values.items()}
    amounts = {name: np.tile(row, (rows, 1)) if f"@{name}" in moved else row[None, :] for name, row in work.items()}
    for n, turn in enumerate(turns):
        target = amounts[turn.name[1:]] if turn.name.startswith("@") else batch[turn.name]
        target[2 * n + 1, turn.moved] += turn.size
        target[2 * n + 2, turn.moved] -= turn.size
    return batch, amounts


def _of_result(model: Model, name: str, value: Floats, turns: list[_Turn]) -> Iterable[Slope]:
    """The turns to which a result answers at all."""
    if value.shape[0] == 1:
        return
    axis = model.laws[name].axis
    sizes = np.array([turn.size for turn in turns])
    by = np.nan_to_num((value[1::2] - value[2::2]) / (2 * sizes[:, None]))
    for n in np.flatnonzero(np.any(by, axis=1)):
        turn = turns[int(n)]
        yield Slope(turn.name, _element(model, axis, turn), by[n])


def _element(model: Model, axis: str, turn: _Turn) -> NDArray[np.intp]:
    """For each element of a result's axis, which element of the turned input it answers to."""
    axes = model.axes
    n = axes.size(axis)
    if turn.axis not in ("valve", "chamber"):
        return np.full(n, int(np.flatnonzero(turn.moved)[0]))
    if axis not in ("valve", "chamber"):
        raise ValueError(f"a result of each {axis} may not rest on each {turn.axis}: '{turn.name}'")
    chamber = np.arange(n) if axis == "chamber" else axes.upon["valve", "chamber"]
    if turn.axis == "chamber":
        return chamber
    of_rank = np.zeros(axes.size("chamber"), np.intp)
    moved = np.flatnonzero(turn.moved)
    of_rank[axes.upon["valve", "chamber"][moved]] = moved
    return of_rank[chamber]
