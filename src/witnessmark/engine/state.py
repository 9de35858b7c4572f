"""The state of an engine as a value: every quantity along its axis, with its doubt and where it comes from.

Shapes   values[id] is (..., n) with the n of the quantity's axis last and any batch before it; NaN is unknown.
Doubt    shared[id] (n, sources) is what each shared source of unit variance adds; own[id] (n,) is what is its own. A
         quantity that is missing from either has none of it. Sources are one list for the whole state, so that the
         error of a gauge that read twenty springs stays one error.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from witnessmark.engine.axes import Axes
from witnessmark.engine.quantity import WORK, Quantity

Floats = NDArray[np.float64]

READ, ENTERED, STATED, USUAL, UNKNOWN, NEW_PART = (
    "read", "entered", "limit sheet", "taken for granted", "not known", "new part")  # fmt: skip
SIDE = "side"  # quantity that is +1 for an inlet and -1 for an exhaust valve


@dataclass(frozen=True, slots=True, eq=False)
class State:
    """An engine's state before work. `origin[id]` says for each element where its value comes from."""

    axes: Axes
    values: Mapping[str, Floats]
    origin: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    sources: tuple[str, ...] = ()
    shared: Mapping[str, Floats] = field(default_factory=dict)
    own: Mapping[str, Floats] = field(default_factory=dict)

    def with_values(self, **values: Floats | float) -> "State":
        """The same state with other values, broadcast along their axes; doubt and origin stay."""
        fresh = {name: np.broadcast_to(np.asarray(value, float), np.shape(self.values[name])).copy()
                 for name, value in values.items()}  # fmt: skip
        return replace(self, values={**self.values, **fresh})


def blank(axes: Axes, quantities: tuple[Quantity, ...]) -> State:
    """A state of which nothing is known but what is usual; work is nothing yet."""
    values: dict[str, Floats] = {}
    origin: dict[str, tuple[str, ...]] = {}
    for one in quantities:
        n = axes.size(one.axis)
        usual = 0.0 if one.kind == WORK else one.usual
        values[one.id] = np.full(n, np.nan if usual is None else usual)
        if one.id == SIDE:  # no reading says it, and the place does
            values[one.id] = np.where(axes.inlet, 1.0, -1.0)
        word = "" if one.id == SIDE else UNKNOWN if usual is None else "" if one.kind == WORK else USUAL
        origin[one.id] = (word,) * n
    return State(axes, values, origin)
