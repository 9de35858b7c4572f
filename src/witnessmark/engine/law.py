"""A law of the geometry: which function of mechanics gives a characteristic from quantities and from other laws."""

from collections.abc import Callable
from dataclasses import dataclass
from inspect import signature
from typing import Any

RESULT = "="  # before an argument's id: the result of that name, where a quantity has the same name


@dataclass(frozen=True, slots=True)
class Consequence:
    """One result of the geometry.

    id        of the characteristic, or a name of its own for a step on the way ("valve_sunk").
    axis      along which it is worked out; arguments of a coarser axis are carried onto it.
    function  pure, of `mechanics`; its argument names are ids of quantities or of other consequences. An id that is
              both (installed_height) is the quantity, as found; renamed to "=installed_height" it is the result.
    total     sums its one argument, of a finer axis, over each element of `axis` (volumes of the valves of a chamber).
    lists     ids behind the function's last argument, *values: the lifts of a curve.
    renamed   argument name -> id, where the function's own word differs; None reads the signature alone.
    """

    id: str
    axis: str
    function: Callable[..., Any] | None = None
    gears: tuple[str, ...] = ()  # () is all
    drives: tuple[str, ...] = ()
    total: str = ""
    lists: tuple[str, ...] = ()
    renamed: tuple[tuple[str, str], ...] = ()
    group: str = ""  # what the user cares about: lash, spring, seat, valve, head, compression, timing, fastener, ...

    @property
    def arguments(self) -> tuple[str, ...]:
        """Ids of what it is worked out from, in the order of the function's arguments."""
        if self.function is None:
            return (self.total,)
        words = dict(self.renamed)
        every = signature(self.function).parameters.items()
        plain = [name for name, one in every if one.kind is not one.VAR_POSITIONAL]
        return (*(words.get(name, name) for name in plain), *self.lists)
