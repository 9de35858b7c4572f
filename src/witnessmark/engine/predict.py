"""What an engine will measure after some work, and how sure that is.

The doubt of a result comes through the slopes of the geometry: shared errors of gauges stay shared, so that what two
quantities have in common cancels or adds as it does in the engine; each cut adds the tolerance of its own machine.

    u2 = sum over sources (sum over inputs slope * shared)2 + sum over inputs (slope * own)2      (JCGM 100:2008, 5.2.2)
"""

from collections.abc import Container, Mapping
from dataclasses import dataclass

import numpy as np

from witnessmark.engine.model import Model, evaluate
from witnessmark.engine.slopes import Sloped, slopes
from witnessmark.engine.state import Floats, State
from witnessmark.engine.work import Amounts, worked


@dataclass(frozen=True, slots=True, eq=False)
class Predicted:
    """Results after work: value (n,), standard uncertainty u (n,), and what each shared source adds (n, sources)."""

    values: Mapping[str, Floats]
    u: Mapping[str, Floats]
    shared: Mapping[str, Floats]
    slopes: Sloped


def predict(
    model: Model, state: State, work: Amounts, tolerances: Amounts | None = None, only: Container[str] | None = None
) -> Predicted:
    """Results of a state after work. `tolerances` are standard uncertainties of the amounts, 0 where not done.

    `only` names the results whose doubt is wanted; all where it is None.
    """
    tolerances = tolerances or {}
    names = [name for name in model.quantities if _doubtful(state, name)]
    names += [f"@{name}" for name, row in tolerances.items() if name in work and np.any(row)]
    found = slopes(model, state.values, work, names, only)
    u, shared = {}, {}
    for result in found.by_result:
        value = found.results[result]
        common = np.zeros((len(value), len(state.sources)))
        own2 = np.zeros(len(value))
        for one in found.by_result[result]:
            if one.name in state.shared:
                common += one.by[:, None] * state.shared[one.name][one.element]
            row = tolerances.get(one.name[1:]) if one.name.startswith("@") else state.own.get(one.name)
            if row is not None:
                own2 += (one.by * row[one.element]) ** 2
        shared[result] = common
        u[result] = np.sqrt((common**2).sum(1) + own2)
    return Predicted(found.results, u, shared, found)


def _doubtful(state: State, name: str) -> bool:
    return (name in state.shared and bool(np.any(state.shared[name]))) or (
        name in state.own and bool(np.any(state.own[name]))
    )


def trials(model: Model, state: State, work: Amounts, tolerances: Amounts, count: int, seed: int) -> dict[str, Floats]:
    """Results (count, n) over engines drawn from the doubt of the state and cuts drawn from their tolerance.

    Normal in every source; the same seed gives the same engines, so that two plans are tried on the same ones.
    """
    values, amounts = drawn(model, state, work, tolerances, count, seed)
    return evaluate(model, worked(model, values, amounts))


def drawn(
    model: Model, state: State, work: Amounts, tolerances: Amounts, count: int, seed: int
) -> tuple[dict[str, Floats], dict[str, Floats]]:
    """States and amounts (count, n) drawn from their doubt; what has none stays one row (1, n)."""
    return engines(model, state, count, seed), cut(work, tolerances, count, seed)


def engines(model: Model, state: State, count: int, seed: int) -> dict[str, Floats]:
    """States (count, n) drawn from their doubt, whatever work is tried on them."""
    stream = np.random.Generator(np.random.PCG64(seed))
    common = stream.standard_normal((count, len(state.sources)))
    values = {}
    for name in model.quantities:  # in the order of the table, so that a draw does not depend on what was entered first
        row = state.values[name]
        own, shared = state.own.get(name), state.shared.get(name)
        noise = stream.standard_normal((count, len(row))) if own is not None else None
        moved = (noise * own if noise is not None and own is not None else 0.0) + (
            common @ shared.T if shared is not None else 0.0
        )
        values[name] = row + moved if np.ndim(moved) else row[None, :]
    return values


def cut(work: Amounts, tolerances: Amounts, count: int, seed: int) -> dict[str, Floats]:
    """Amounts (count, n) as a machine takes them off that keeps `tolerances`; a stream of their own."""
    stream = np.random.Generator(np.random.PCG64([seed, 1]))
    amounts = {}
    for name, row in work.items():
        slack = tolerances.get(name)
        noise = stream.standard_normal((count, len(row))) if slack is not None else None
        amounts[name] = row + noise * slack if noise is not None and slack is not None else row[None, :]
    return amounts
