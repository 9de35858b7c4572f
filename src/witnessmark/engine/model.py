"""The geometry of one layout: quantities, laws in an order that works, operations; and the one pure function.

    evaluate(model, values) -> every characteristic and every step on the way, along its axis

Whatever asks what an engine would measure after some work, asks here: ledger, plan, drawing, exercise.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from witnessmark.engine.axes import Axes, Indices, axes_of
from witnessmark.engine.law import RESULT, Consequence
from witnessmark.engine.operation import Working
from witnessmark.engine.quantity import Quantity
from witnessmark.engine.shape import Layout
from witnessmark.engine.state import Floats
from witnessmark.mechanics.law import OutsideLaw, masked_quietly

Argument = tuple[bool, str, Indices | None]  # whether it is a quantity, its id, and the index that carries it


@dataclass(frozen=True, slots=True)
class Step:
    """A law made ready: its arguments looked up, the index that carries each, the matrix of a total."""

    id: str
    function: Callable[..., Any] | None
    arguments: tuple[Argument, ...]
    total: Floats | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Model:
    """What is worked out from what, for one layout. `laws` stand in an order in which each finds its arguments."""

    layout: Layout
    axes: Axes
    quantities: Mapping[str, Quantity]
    laws: Mapping[str, Consequence]
    steps: tuple[Step, ...]
    operations: Mapping[str, Working]


def model(
    layout: Layout, quantities: Iterable[Quantity], laws: Iterable[Consequence], operations: Iterable[Working]
) -> Model:
    """The model of a layout from the tables; ValueError where a law has no argument to find, or two give one id."""
    known = {one.id: one for one in quantities if _fits(one.gears, one.drives, layout)}
    waiting = [one for one in laws if _fits(one.gears, one.drives, layout)]
    names = [one.id for one in waiting]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise ValueError(f"two laws give {', '.join(twice)} for {layout.gear} with a {layout.drive}")
    ordered: dict[str, Consequence] = {}
    while waiting:
        ready = [one for one in waiting if all(_there(name, known, ordered) for name in one.arguments)]
        if not ready:
            lacking = {one.id: [name for name in one.arguments if not _there(name, known, ordered)] for one in waiting}
            raise ValueError(f"no table gives what these laws of {layout.gear} ask for: {lacking}")
        ordered |= {one.id: one for one in ready}
        waiting = [one for one in waiting if one not in ready]
    axes = axes_of(layout)
    steps = tuple(_step(one, known, ordered, axes) for one in ordered.values())
    work = {one.id: one for one in operations if _fits(one.gears, one.drives, layout)}
    for one in work.values():
        unread = sorted({name for _, _, reads in one.functions for name in reads if name not in known})
        if unread:
            raise ValueError(f"{one.id} reads what {layout.gear} with a {layout.drive} has not: {', '.join(unread)}")
    return Model(layout, axes, known, ordered, steps, work)


def _fits(gears: tuple[str, ...], drives: tuple[str, ...], layout: Layout) -> bool:
    return (not gears or layout.gear in gears) and (not drives or layout.drive in drives)


def _there(name: str, known: Mapping[str, Quantity], ordered: Mapping[str, Consequence]) -> bool:
    return name in known or name.removeprefix(RESULT) in ordered


def _step(one: Consequence, known: Mapping[str, Quantity], laws: Mapping[str, Consequence], axes: Axes) -> Step:
    arguments = tuple(_argument(name, one.axis, known, laws, axes) for name in one.arguments if not one.total)
    if not one.total:
        return Step(one.id, one.function, arguments)
    quantity, name, _ = _argument(one.total, "", known, laws, axes)
    axis = known[name].axis if quantity else laws[name].axis
    picked = np.zeros((axes.size(axis), axes.size(one.axis)))
    picked[np.arange(axes.size(axis)), axes.upon[axis, one.axis]] = 1.0
    return Step(one.id, None, ((quantity, name, None),), picked)


def _argument(
    name: str, onto: str, known: Mapping[str, Quantity], laws: Mapping[str, Consequence], axes: Axes
) -> Argument:
    """Where an argument is found; "=name" asks for the result where a quantity has the same name."""
    plain = name.removeprefix(RESULT)
    quantity = name in known
    axis = known[plain].axis if quantity else laws[plain].axis
    if not onto or axis == onto:
        return quantity, plain, None
    if (onto, axis) not in axes.upon:
        raise ValueError(f"a value of each {axis} cannot be carried onto each {onto}: '{name}'; sum it first")
    return quantity, plain, axes.upon[onto, axis]


def evaluate(model: Model, values: Mapping[str, Floats]) -> dict[str, Floats]:
    """Every result of the geometry; shapes as `State.values`, NaN where unknown or outside a law."""
    found: dict[str, Floats] = {}
    with np.errstate(all="ignore"):  # once for all laws: what lies outside one may divide by nothing on its way to NaN
        for step in model.steps:
            arguments = [_taken(one, values, found) for one in step.arguments]
            if step.total is not None:
                found[step.id] = arguments[0] @ step.total
            else:
                assert step.function is not None
                found[step.id] = masked_quietly(step.function, *arguments)
    return found


def _taken(argument: Argument, values: Mapping[str, Floats], found: Mapping[str, Floats]) -> Floats:
    quantity, name, index = argument
    value = values[name] if quantity else found[name]
    return value if index is None else value[..., index]


def why_not(
    model: Model, values: Mapping[str, Floats], law: str, element: int, results: Mapping[str, Floats] | None = None
) -> str:
    """Why a result cannot be had at one element: what is not known, or what the law says of the case; "" if it can.

    `values` hold one state, without a batch; `results` are those of `evaluate`, where they are at hand.
    """
    return _why_not(model, values, evaluate(model, values) if results is None else results, law, element)


def _why_not(model: Model, values: Mapping[str, Floats], results: Mapping[str, Floats], law: str, element: int) -> str:
    step = next(one for one in model.steps if one.id == law)
    if step.total is not None:
        inside = np.flatnonzero(step.total[:, element])
        why = [_why_one(model, values, results, step.arguments[0], int(at)) for at in inside]
        return next((each for each in why if each), "")
    why = [_why_one(model, values, results, one, element) for one in step.arguments]
    if any(why):
        return "; ".join(dict.fromkeys(each for each in why if each))
    assert step.function is not None
    try:
        step.function(*(float(_taken(one, values, results)[element]) for one in step.arguments))
    except OutsideLaw as outside:
        return str(outside)
    return ""


def _why_one(
    model: Model, values: Mapping[str, Floats], results: Mapping[str, Floats], argument: Argument, element: int
) -> str:
    quantity, name, index = argument
    if not np.isnan(_taken(argument, values, results)[element]):
        return ""
    if quantity:
        one = model.quantities[name]
        return "" if one.optional else f"{one.term} is not known"
    return _why_not(model, values, results, name, element if index is None else int(index[element]))
