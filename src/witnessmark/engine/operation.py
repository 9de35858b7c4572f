"""An operation as a pure function of the state: which quantities it changes, and into what.

    def seat_cut(amount, seat_feed):
        return {"seat_feed": seat_feed + amount}

`amount` is along the operation's axis, in the unit inside, and 0 where nothing is done; for a part that is put in it is
1 where it is done, and the function turns from old to new with it: old + amount * (new - old). The other arguments are
quantities of the state, carried onto that axis; what comes back has the axis of the operation too, or is a
quantity of a coarser one only where the operation itself is of that axis.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from inspect import signature
from typing import Any

Changes = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Working:
    """How an operation of the catalogue works on the state.

    id      of the catalogue's operation.         axis    along which it is done: valve, chamber, bank, cam.
    switch  whether it is done or not (a part), rather than by an amount.
    sets    the amount is the new size of the thing (lash shim, gasket), not what is taken off or added.
    needs   ids of quantities without which its effect cannot be known, beside the function's arguments.
    acts    axis along which its function works, where that is finer than where it is done: a camshaft for its valves.
    also    further (axis, function) of the same operation: another head brings a face and seats.
    renews  ids of characteristics that are new or machined afresh by it, and so are held against the new limit.
    """

    id: str
    axis: str
    function: Callable[..., Changes]
    switch: bool = False
    sets: bool = False
    gears: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    renews: tuple[str, ...] = ()
    acts: str = ""
    drives: tuple[str, ...] = ()  # of which drives; () is of all, and so with gears
    also: tuple[tuple[str, Callable[..., Changes]], ...] = ()

    @property
    def functions(self) -> tuple[tuple[str, Callable[..., Changes], tuple[str, ...]], ...]:
        """Every function with the axis that it works along and the ids of what it reads, beside the amount."""
        pairs = ((self.acts or self.axis, self.function), *self.also)
        return tuple((axis, function, read_by(function)) for axis, function in pairs)


@cache
def read_by(function: Callable[..., Changes]) -> tuple[str, ...]:
    """Ids of the quantities that the function of an operation reads, beside the amount."""
    return tuple(signature(function).parameters)[1:]
