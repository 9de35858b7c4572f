"""Spring shims in whole stacks, and how much travel an adjuster has left.

Lengths in mm. A stack is made of whole shims; the fewest pieces that bring the height into its window are taken, then
the one nearest to the wanted height, then the thinnest, then the thickest single shims.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from witnessmark.fit.fault import SAME, FitFault, check_ends, check_length, check_sizes, check_some

MOST_STACK = 20.0  # mm: no spring has room for more; beyond it the unit was mistaken


@dataclass(frozen=True, slots=True)
class Stack:
    """Shims under one spring: their sizes, rising, what they add up to, the height they give."""

    pieces: tuple[float, ...]
    total: float
    height: float


def stack(height: float, low: float, high: float, target: float, sizes: Sequence[float], most: float) -> Stack | None:
    """The stack that brings a spring of `height` into [low, high]; without pieces where none is needed, else None.

    `most` is the most that may lie under one spring (common practice: 1.5 mm); the number of pieces has no other end.
    Raises FitFault for what makes no sense.
    """
    _check(height, low, high, target, sizes, most)
    rising = np.sort(np.asarray(sizes, float))
    grains = np.rint(rising / SAME).astype(np.int64)
    full = round(most / SAME)
    levels = [np.zeros(1, np.int64)]
    seen = np.zeros(full + 1, bool)
    while len(levels[-1]):
        after = height - levels[-1] * SAME
        good = levels[-1][(after >= low - SAME) & (after <= high + SAME)]
        if len(good):
            # in whole grains, so that of two as near the thinner is taken, whatever floating point makes of them
            best = int(good[np.argmin(np.rint(np.abs(height - good * SAME - target) / SAME))])
            return _taken(best, levels, rising, grains, height)
        more = np.unique((levels[-1][:, None] + grains).ravel())
        more = more[more <= full]
        more = more[~seen[more]]  # the same height with fewer pieces is there already
        seen[more] = True
        levels.append(more)
    return None


def _check(height: float, low: float, high: float, target: float, sizes: Sequence[float], most: float) -> None:
    check_some(sizes, "spring shim")
    check_sizes(sizes, "spring shims")
    for value, what in ((height, "the height"), (target, "the height aimed at"), (most, "the most under one spring")):
        check_length(value, "spring", what)
    check_ends(low, high, "spring", "the window of its height")
    if not 0 <= most <= MOST_STACK:
        raise FitFault(f"spring: at most {most:g} mm of shims makes no sense; write 0 to {MOST_STACK:g} mm")


def _taken(total: int, levels: Sequence[np.ndarray], rising: np.ndarray, grains: np.ndarray, height: float) -> Stack:
    """The pieces of a total: from the top of the pile, the thickest that leaves what fewer pieces make."""
    pieces: list[float] = []
    for beneath in reversed(levels[:-1]):
        at = max(n for n in range(len(grains)) if np.any(beneath == total - grains[n]))
        pieces.append(float(rising[at]))
        total -= int(grains[at])
    thick = sum(sorted(pieces))
    return Stack(tuple(sorted(pieces)), thick, height - thick)


@dataclass(frozen=True, slots=True)
class Travel:
    """What is left of an adjuster: how far it can still be pressed in, and come out."""

    used: float
    inward: float
    outward: float

    @property
    def holds(self) -> bool:
        """Whether it stands inside its travel."""
        return self.inward >= 0 and self.outward >= 0


def travel(preload: float, low: float, high: float) -> Travel:
    """A plunger pressed in by `preload`, allowed from `low` to `high`."""
    check_length(preload, "adjuster", "how far it is pressed in")
    check_ends(low, high, "adjuster", "a travel")
    return Travel(preload, high - preload, preload - low)


def turns(movement: float, pitch: float) -> float:
    """Turns of a screw for a movement along it."""
    check_length(movement, "adjuster", "the movement of its screw")
    check_length(pitch, "adjuster", "the pitch of its thread")
    if pitch <= 0:
        raise FitFault(f"adjuster: a thread's pitch of {pitch:g} mm is not above nothing; what is it, in mm a turn?")
    return movement / pitch
