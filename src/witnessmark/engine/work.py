"""Work intended or done: how much of which operation where; and what it makes of the values of a state.

Operations are applied one after the other in the working order of the model's table, whatever the order they were named
in: guides before seats, seats before faces, the gasket face last.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from witnessmark.engine.model import Model
from witnessmark.engine.state import Floats


@dataclass(frozen=True, slots=True)
class Cut:
    """One operation at one place. `amount` is in the unit inside; 1 where a part is put in."""

    operation: str
    location: str
    amount: float
    unit: str = ""  # as it was written, for showing
    raw: str = ""


Amounts = Mapping[str, Floats]  # operation -> (..., n of its axis); an operation that is missing is not done


def amounts(model: Model, cuts: tuple[Cut, ...]) -> dict[str, Floats]:
    """Amounts of a list of cuts; cuts of one operation at one place add up, unless it sets a size (the last holds).

    KeyError for an operation that this gear has not, or a place that it is not done at; the message says which.
    """
    found: dict[str, Floats] = {}
    for cut in cuts:
        if cut.operation not in model.operations:
            raise KeyError(f"'{cut.operation}' changes nothing that the geometry of {model.layout.gear} knows")
        working = model.operations[cut.operation]
        row = found.setdefault(cut.operation, np.zeros(model.axes.size(working.axis)))
        at = model.axes.index(working.axis, cut.location)
        row[at] = cut.amount if working.sets or working.switch else row[at] + cut.amount
    return found


def worked(model: Model, values: Mapping[str, Floats], work: Amounts) -> dict[str, Floats]:
    """The values of a state after work; shapes as those of the values and the amounts together."""
    after = dict(values)
    for name, working in model.operations.items():
        if name not in work:
            continue
        for axis, function, reads in working.functions:
            amount = carried(model, work[name], working.axis, axis)
            arguments = [carried(model, after[each], model.quantities[each].axis, axis) for each in reads]
            for quantity, value in function(amount, *arguments).items():
                after[quantity] = carried(model, value, axis, model.quantities[quantity].axis)
    return after


def carried(model: Model, value: Floats, axis: str, onto: str) -> Floats:
    """A value of a coarser axis along a finer one; as it is where they are the same."""
    return value if axis == onto else value[..., model.axes.upon[onto, axis]]
