"""A value with the ends between which it lies, and what alone would set it how far apart.

For laws whose doubt is mostly a range that nobody measured, as friction: the ends are those of the ranges put in, the
least favourable together. They are no standard deviations and carry no probability.
"""

from dataclasses import dataclass

from witnessmark.mechanics.law import Number


@dataclass(frozen=True, slots=True)
class Part:
    """One cause: where it alone would put the ends, all other things at their middle."""

    name: str
    low: Number
    high: Number


@dataclass(frozen=True, slots=True)
class Spread:
    """Low end, middle and high end in one unit, and the causes."""

    low: Number
    middle: Number
    high: Number
    made_of: tuple[Part, ...] = ()
