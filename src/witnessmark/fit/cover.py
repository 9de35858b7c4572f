"""Which sizes to have at hand before the need is known for good, so that none of its range is left unserved.

Lengths in mm.
"""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from witnessmark.fit.fault import MOST_SIZE, SAME, FitFault, check_ends, check_length, check_sizes, check_some

WHERE = "the need to cover"


def cover(needed: float, spread: float, low: float, high: float, sizes: Sequence[float]) -> tuple[float, ...]:
    """For every need within `needed` ± `spread` the size nearest to it among those that fit it, each size once.

    [low, high] is the window of thickness that fits at `needed`; it moves along with the need. () where no size fits
    any need of the range. A need half-way between two sizes takes the thinner.
    """
    check_some(sizes, "shim")
    check_sizes(sizes, "sizes that can be bought")
    check_length(needed, WHERE, "the thickness needed", MOST_SIZE)
    check_length(spread, WHERE, "its doubt", MOST_SIZE)
    check_ends(low, high, WHERE, "the window", MOST_SIZE)
    if spread < 0:
        raise FitFault(f"{WHERE}: a doubt of {spread:g} mm is below nothing; write it without the sign")
    rising = np.sort(np.asarray(sizes, float))
    below, above, first, last = needed - low, high - needed, needed - spread, needed + spread
    # the choice changes only where two sizes are equally near, and where one enters or leaves the window
    changes = np.concatenate([(rising[1:] + rising[:-1]) / 2, rising - above, rising + below])
    edges = np.unique(np.concatenate([[first], changes[(changes > first) & (changes < last)], [last]]))
    needs = np.concatenate([[first, last], (edges[1:] + edges[:-1]) / 2])
    return tuple(float(size) for size in rising[_served(needs, below, above, rising)])


def _served(needs: np.ndarray, below: float, above: float, rising: np.ndarray) -> np.ndarray:
    """Which sizes are chosen by some need: indices, rising."""
    least = np.searchsorted(rising, needs - below - SAME)
    most = np.searchsorted(rising, needs + above + SAME, side="right") - 1
    over = np.searchsorted(rising, needs)
    thinner, thicker = np.clip(over - 1, least, most), np.clip(over, least, most)
    chosen = np.where(needs - rising[thinner] <= rising[thicker] - needs + SAME, thinner, thicker)
    return np.unique(chosen[least <= most])


def step_of(sizes: Sequence[float]) -> float:
    """The widest step between neighbouring sizes; nothing where there is but one."""
    return max((b - a for a, b in pairwise(sorted(sizes))), default=0.0)
