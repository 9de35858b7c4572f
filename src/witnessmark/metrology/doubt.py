"""A value with its doubt: what conformity, guard bands and settling need to know of it, as arrays over items."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from witnessmark.metrology.source import UNIFORM, Floats

FEW = 9.0  # a scatter from 10 readings: with fewer, trusting the shape makes 6 to 11 % false verdicts at a limit


@dataclass(frozen=True, slots=True)
class Doubt:
    """Values (n,) with standard uncertainty, effective degrees of freedom, and the parts that behave in their own way.

    `widest` is the half-width of the widest uniform-shaped part, `repeat` the standard uncertainty of the part that
    more repeats would shrink. All in mm but `dof`.
    """

    value: Floats
    u: Floats
    dof: Floats
    widest: Floats
    repeat: Floats

    @property
    def half(self) -> Floats:
        """Half-width of a uniform part that carries more than half of the variance; 0 where none does.

        It also counts for none where the whole has fewer than `FEW` degrees of freedom: of a scatter seen in two or
        three readings nobody knows that it is small against the step, and the shape would claim to know.
        """
        rules = (self.widest * self.widest / 3 > 0.5 * self.u * self.u) & (self.dof >= FEW)
        return np.where(rules, self.widest, 0.0)

    @property
    def rest(self) -> Floats:
        """Standard uncertainty without the dominant uniform part."""
        half = self.half
        return np.sqrt(np.maximum(self.u * self.u - half * half / 3, 0.0))

    @property
    def rest_dof(self) -> Floats:
        """Degrees of freedom of `rest`: those of the whole, less the uniform part, which has infinitely many."""
        if not np.isfinite(self.dof).any():
            return self.dof
        ratio: Floats = np.divide(self.rest, self.u, out=np.ones_like(self.u), where=self.u > 0)
        finite = np.where(np.isfinite(self.dof), self.dof, 0.0)
        found: Floats = np.where(np.isfinite(self.dof), np.maximum(finite * ratio**4, np.minimum(finite, 1.0)), np.inf)
        return found


def doubt(
    value: ArrayLike, u: ArrayLike, dof: ArrayLike = np.inf, widest: ArrayLike = 0.0, repeat: ArrayLike = 0.0
) -> Doubt:
    """Values with a doubt that is already known, broadcast together to (n,)."""
    fields = np.broadcast_arrays(*(np.atleast_1d(np.asarray(x, float)) for x in (value, u, dof, widest, repeat)))
    return Doubt(*(np.array(field) for field in fields))


def interval(low: ArrayLike, high: ArrayLike, u: ArrayLike = 0.0) -> Doubt:
    """What is only known to lie in [low, high], with doubt `u` of those ends (JCGM 100:2008, F.2.2)."""
    low, high, u = (np.asarray(x, float) for x in (low, high, u))
    half = (high - low) / 2
    return doubt((low + high) / 2, np.hypot(half / UNIFORM, u), np.inf, half)


def take(known: Doubt, rows: ArrayLike) -> Doubt:
    """The same for some of the rows, in the order asked."""
    at = np.asarray(rows)
    return Doubt(*(np.atleast_1d(field[at]) for field in (known.value, known.u, known.dof, known.widest, known.repeat)))
