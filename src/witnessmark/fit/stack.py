"""Spring shims in whole stacks, and how much travel an adjuster has left.

Lengths in mm. A stack is made of whole shims; the fewest pieces that bring the height into its window are taken, then
the one nearest to the wanted height.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations_with_replacement

from witnessmark.fit.fault import FitFault

MOST_PIECES = 4
NEAR = 1e-9


@dataclass(frozen=True, slots=True)
class Stack:
    """Shims under one spring: their sizes, what they add up to, the height they give."""

    pieces: tuple[float, ...]
    total: float
    height: float


def stack(
    height: float, low: float, high: float, target: float, sizes: Sequence[float], most: float
) -> Stack | None:
    """The stack that brings a spring of `height` into [low, high], or None where none does; () where none is needed.

    `most` is the most that may lie under one spring (common practice: 1.5 mm). Raises FitFault without sizes.
    """
    if not sizes:
        raise FitFault("no spring shim exists in the list: enter the sizes that can be bought")
    if any(size <= 0 for size in sizes):
        raise FitFault("a shim of no thickness does not exist; sizes are above nothing")
    found: list[tuple[int, float, Stack]] = []
    for count in range(MOST_PIECES + 1):
        for pieces in combinations_with_replacement(sorted(sizes), count):
            total = sum(pieces)
            after = height - total
            if total <= most + NEAR and low - NEAR <= after <= high + NEAR:
                found.append((count, abs(after - target), Stack(pieces, total, after)))
        if found:
            break
    return min(found, key=lambda one: one[:2])[2] if found else None


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
    if low > high:
        raise FitFault(f"a travel from {low:g} to {high:g} mm holds nothing; check the limits of the adjuster")
    return Travel(preload, high - preload, preload - low)


def turns(movement: float, pitch: float) -> float:
    """Turns of a screw for a movement along it."""
    if pitch <= 0:
        raise FitFault("a thread's pitch is above nothing: what is it, in mm a turn?")
    return movement / pitch
