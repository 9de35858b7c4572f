"""The axes along which an engine's state is laid out, and how one lies upon another.

    engine    one                    bank      one of each head          chamber   one of each cylinder
    cam       one of each camshaft   valve     one of each valve, with its guide, seat, spring and follower

Along each axis the order is that of a hand's walk. A value of a coarser axis is carried to a finer one by an index.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from witnessmark.engine.place import parse
from witnessmark.engine.shape import Layout
from witnessmark.engine.walk import locations, related

AXES = ("engine", "bank", "cam", "chamber", "valve")

Indices = NDArray[np.intp]


@dataclass(frozen=True, slots=True, eq=False)
class Axes:
    """Locations along each axis, and the index of each element upon the coarser ones.

    locations   axis -> places in machine form: ("head",) or ("left/head", "right/head"), ("chamber-1", ...).
    upon        (finer, coarser) -> for each element of the finer axis its index on the coarser (n_finer,).
    inlet       (n_valves,) true for an inlet valve.
    rank        (n_valves,) how many valves of the same chamber stand before it.
    """

    locations: Mapping[str, tuple[str, ...]]
    upon: Mapping[tuple[str, str], Indices]
    inlet: NDArray[np.bool_]
    rank: Indices

    def size(self, axis: str) -> int:
        """How many elements an axis has."""
        return len(self.locations[axis])

    def index(self, axis: str, location: str) -> int:
        """Where a location stands on an axis; KeyError where it does not."""
        try:
            return self.locations[axis].index(location)
        except ValueError:
            raise KeyError(f"'{location}' is none of the {axis}s: {', '.join(self.locations[axis])}") from None


@lru_cache(maxsize=64)
def axes_of(layout: Layout) -> Axes:
    """The axes of a layout."""
    found = {
        "engine": ("engine",),
        "bank": locations(layout, "head"),
        "cam": locations(layout, "cam"),
        "chamber": locations(layout, "chamber"),
        "valve": locations(layout, "valve"),
    }
    upon: dict[tuple[str, str], Indices] = {}
    for finer, coarser, at in (
        ("valve", "chamber", "chamber"),
        ("valve", "bank", "head"),
        ("valve", "cam", "cam"),
        ("chamber", "bank", "head"),
    ):
        there = {place: n for n, place in enumerate(found[coarser])}
        upon[finer, coarser] = np.array([there[related(place, at, layout)] for place in found[finer]], np.intp)
    banks = {place.rpartition("/")[0]: n for n, place in enumerate(found["bank"])}
    upon["cam", "bank"] = np.array(
        [banks.get(place.rpartition("/")[0], 0) for place in found["cam"]], np.intp
    )  # a cam in the block belongs to no head; its drive does not move with one
    for axis in AXES[1:]:
        upon[axis, "engine"] = np.zeros(len(found[axis]), np.intp)
    chamber = upon["valve", "chamber"]
    rank = np.array([int((chamber[:n] == chamber[n]).sum()) for n in range(len(chamber))], np.intp)
    inlet = np.array([parse(place).side == "inl" for place in found["valve"]])
    return Axes(found, upon, inlet, rank)
