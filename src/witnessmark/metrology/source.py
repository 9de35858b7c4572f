"""Sources of doubt that several readings share, and the table in which each of them stands once.

A source is one unknown error drawn once: the calibration of a gauge, one setting of a bore gauge to its master, the
difference in temperature between part and gauge. Whatever draws on the same source is correlated through it, and
through nothing else; so sources are independent by construction.

Units   `u` is in the unit of the source itself: mm (or N) for most, K for temperature. A reading's contribution in mm
        is that `u` times the reading's slope.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import inf, sqrt
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]
Flags = NDArray[np.bool_]
Shape = Literal["normal", "uniform"]

UNIFORM = sqrt(3.0)  # half-width over standard uncertainty of a uniform source; JCGM 100:2008, 4.3.7


@dataclass(frozen=True, slots=True)
class Source:
    """One shared error: what it is, its name, its standard uncertainty, degrees of freedom and shape."""

    kind: str
    key: str
    u: float
    dof: float = inf
    shape: Shape = "normal"


def bounded(kind: str, key: str, half_width: float) -> Source:
    """A source of which only the bounds ± `half_width` are known: uniform, u = half-width / √3.

    Source: JCGM 100:2008, 4.3.7.
    """
    return Source(kind, key, half_width / UNIFORM, inf, "uniform")


@dataclass(frozen=True, slots=True)
class Sources:
    """The table: `rows` (S) with u, 1/dof and shape beside them as arrays (S,)."""

    rows: tuple[Source, ...]
    u: Floats
    per_dof: Floats
    uniform: Flags


def intern(sources: Iterable[Source]) -> tuple[Sources, dict[tuple[str, str], int]]:
    """Put each source into the table once, by kind and key, and give the place of each.

    Raises ValueError when one kind and key is given twice with different figures: two errors would pass for one.
    """
    rows: dict[tuple[str, str], Source] = {}
    for source in sources:
        known = rows.setdefault((source.kind, source.key), source)
        if known is not source and known != source:
            raise ValueError(f"source {source.kind} {source.key!r} is described in two ways: {known}, {source}")
    table = tuple(rows.values())
    dof = np.array([source.dof for source in table], float)
    return (
        Sources(
            table,
            np.array([source.u for source in table], float),
            1.0 / dof,
            np.array([source.shape == "uniform" for source in table], bool),
        ),
        {name: place for place, name in enumerate(rows)},
    )
