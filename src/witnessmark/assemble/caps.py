"""Turning cam caps so that the camshaft stays level: rounds of one small turn over all caps.

The caps over which lobes press go first in each round, then those nearest to the middle of the shaft.
Common practice, no source.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import pairwise

Round = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Cap:
    """One cap: its name, its place along the shaft, its bolts across the shaft, and whether a lobe presses there."""

    name: str
    x: float
    bolts: tuple[str, ...]
    pressed: bool = False


def cap_order(caps: Sequence[Cap]) -> tuple[Cap, ...]:
    """Pressed caps first, then from the middle of the shaft outwards; of two as near the front one first."""
    if not caps:
        return ()
    centre = (min(cap.x for cap in caps) + max(cap.x for cap in caps)) / 2
    return tuple(sorted(caps, key=lambda cap: (not cap.pressed, round(abs(cap.x - centre), 9), cap.x)))


def rounds(caps: Sequence[Cap], turns: int) -> tuple[Round, ...]:
    """The bolts of each round, until the caps are seated after `turns` rounds; each bolt once in each round."""
    if turns < 1:
        raise ValueError(f"{turns} rounds seat no cap; give at least 1")
    _named_once(caps)
    one = tuple(bolt for cap in cap_order(caps) for bolt in cap.bolts)
    return (one,) * turns


def loosened(tightened: Sequence[Round]) -> tuple[Round, ...]:
    """The same rounds backwards: last turned is first let go, one small turn each."""
    return tuple(tuple(reversed(one)) for one in reversed(tightened))


def unevenness(caps: Sequence[Cap], done: Sequence[Round]) -> float:
    """The most by which two neighbouring caps ever differ, in rounds; at most 1 keeps the shaft level."""
    along = sorted(caps, key=lambda cap: cap.x)
    count: dict[str, int] = {bolt: 0 for cap in caps for bolt in cap.bolts}
    most = 0.0
    for bolt in (bolt for one in done for bolt in one):
        count[bolt] += 1
        turned = [sum(count[name] for name in cap.bolts) / len(cap.bolts) for cap in along]
        most = max([most, *(abs(a - b) for a, b in pairwise(turned))])
    return most


def _named_once(caps: Sequence[Cap]) -> None:
    seen: set[str] = set()
    for cap in caps:
        if not cap.bolts:
            raise ValueError(f"cap {cap.name} has no bolt; name its bolts")
        if twice := _twice(cap.bolts, seen):
            raise ValueError(f"bolt {twice} is named twice; give each bolt of the caps its own name")
        seen.update(cap.bolts)


def _twice(bolts: Sequence[str], seen: Collection[str]) -> str:
    return next((bolt for n, bolt in enumerate(bolts) if bolt in seen or bolt in bolts[:n]), "")
