"""What laws share: annotations that carry the unit, and one way to refuse a case that a law does not describe."""

from collections.abc import Callable
from contextvars import ContextVar
from typing import Annotated, Any

Number = Any  # a float, an array, an exact fraction or a dual number
Pure = Annotated[Number, "1"]
Length = Annotated[Number, "mm"]
Force = Annotated[Number, "N"]
Rate = Annotated[Number, "N/mm"]
Angle = Annotated[Number, "rad"]
Area = Annotated[Number, "mm²"]
Stress = Annotated[Number, "MPa"]  # and pressures
Torque = Annotated[Number, "N·mm"]

_masks: ContextVar[list[Any] | None] = ContextVar("masks", default=None)


class OutsideLaw(ValueError):
    """A value lies where the law does not hold; the message names it and says what to check."""


def require(holds: Any, message: str, **values: Number) -> None:
    """Raise OutsideLaw unless `holds` everywhere, filling `message` from the first place where it does not.

    Within `masked` nothing is raised: the places where the law does not hold are kept and become NaN.
    """
    masks = _masks.get()
    if masks is not None:
        masks.append(holds)
        return
    if holds is True:  # the usual single value, without waking numpy
        return
    import numpy as np

    if np.all(holds):
        return
    place = tuple(int(i) for i in np.argwhere(~np.asarray(holds, bool))[0])
    first = {name: float(np.broadcast_to(value, np.shape(holds))[place]) for name, value in values.items()}
    raise OutsideLaw(message.format(**first) + (f" (position {', '.join(map(str, place))})" if place else ""))


def masked(law: Callable[..., Number], *arguments: Number) -> Number:
    """A law over a batch in which some samples lie outside it: those become NaN, the others their value.

    Arguments are numbers or arrays that broadcast together; the result is an array of their common shape.
    """
    import numpy as np

    with np.errstate(all="ignore"):  # a sample outside may divide by nothing on its way to NaN
        return masked_quietly(law, *(np.asarray(argument, float) for argument in arguments))


def masked_quietly(law: Callable[..., Number], *arguments: Number) -> Number:
    """As `masked`, for one who works out many laws: arguments are arrays, and numpy's warnings are off already."""
    import numpy as np

    masks: list[Any] = []
    before = _masks.set(masks)
    try:
        value = law(*arguments)
    finally:
        _masks.reset(before)
    if not masks:
        return np.array(value, float)  # its own, for a law may hand back what it was given
    holds = masks[0]
    for one in masks[1:]:
        holds = np.logical_and(holds, one)
    return np.where(holds, value, np.nan)
