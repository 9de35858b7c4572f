"""Where the bolts of a joint lie, and which of them stand in one column or in one ring about its middle.

x runs along the engine from its front, y across towards the inlet side; any unit, the same for both.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from statistics import median

SAME = 0.45  # of the usual step between columns: bolts nearer than that along the engine are one column


@dataclass(frozen=True, slots=True)
class Bolt:
    """One bolt by its name and place."""

    name: str
    x: float
    y: float


Columns = tuple[tuple[Bolt, ...], ...]


def grid(rows: int, columns: int, along: float = 1.0, across: float = 1.0) -> tuple[Bolt, ...]:
    """A regular pattern with names 1, 2, 3 ... row by row from the front of the lowest row."""
    return tuple(Bolt(str(row * columns + column + 1), column * along, row * across)
                 for row in range(rows) for column in range(columns))  # fmt: skip


def middle(bolts: Sequence[Bolt]) -> tuple[float, float]:
    """The middle of the joint: half-way between its outermost bolts along and across."""
    xs, ys = [one.x for one in bolts], [one.y for one in bolts]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def columns(bolts: Sequence[Bolt]) -> Columns:
    """Bolts in columns across the engine, front first, each from its lowest y; rows need not be quite straight."""
    ordered = sorted(bolts, key=lambda one: (one.x, one.y, one.name))
    near = SAME * _step(ordered)
    found: list[list[Bolt]] = []
    for bolt in ordered:
        if found and bolt.x - found[-1][0].x <= near and all(other.y != bolt.y for other in found[-1]):
            found[-1].append(bolt)
        else:
            found.append([bolt])
    return tuple(tuple(sorted(one, key=lambda bolt: (bolt.y, bolt.name))) for one in found)


def _step(ordered: Sequence[Bolt]) -> float:
    """The usual step along the engine: the median of those that are no scatter within a column."""
    steps = [b.x - a.x for a, b in pairwise(ordered)]
    longest = max(steps, default=0.0)
    real = [one for one in steps if one > 0.2 * longest]
    return median(real) if real else 0.0


def rings(bolts: Sequence[Bolt]) -> Columns:
    """Bolts in rings of columns about the middle, the innermost ring first: a column and the one opposite it."""
    across = columns(bolts)
    half = len(across) // 2
    found = [tuple(across[half])] if len(across) % 2 else []
    for n in range(half):
        front = across[half - 1 - n]
        rear = across[half + n + len(across) % 2]
        found.append((*rear, *front))
    return tuple(found)


def apart(one: Bolt, other: Bolt) -> float:
    """Distance of two bolts."""
    return hypot(one.x - other.x, one.y - other.y)
