"""What a straight-edge tells of a face, line by line: how far each is hollow or crowned, and how far all is twisted.

A straight-edge survey is a lower bound of flatness: it sees the lines it was laid on. A saddle shows on the diagonals
alone, one crowned and one hollow.

Sign    Crowned (the middle stands high, the edge rocks) is positive, hollow (a gap below the edge) is negative. mm.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from witnessmark.form.straightness import end_points

Floats = NDArray[np.float64]


def bow(position: ArrayLike, height: ArrayLike) -> float:
    """Greatest departure of a line from the straight through its ends, with its sign [mm]."""
    away = end_points(position, height).away
    return float(away[np.argmax(np.abs(away))])


def signed(gap: ArrayLike, crowned: ArrayLike) -> Floats:
    """Bow of lines from the greatest gap below a straight-edge and whether the line rocks (crowned) or not [mm].

    For a crowned line the gap is the one at either end with the edge held level. Raises ValueError for a gap below 0.
    """
    gap = np.asarray(gap, float)
    if (gap < 0).any():
        raise ValueError(
            f"a gap of {float(gap.min()):g} mm is less than nothing; give its size and say hollow or crowned"
        )
    found: Floats = np.where(np.asarray(crowned, bool), gap, -gap)
    return found


def twist(diagonal_1: ArrayLike, diagonal_2: ArrayLike) -> Floats:
    """Bow of the first diagonal less that of the second [mm]; 0 while the four corners lie in one plane.

    The middle is common to both, so it drops out; one corner standing out of the plane of the other three by e makes
    it e/2 (derived).
    """
    found: Floats = np.asarray(diagonal_1, float) - np.asarray(diagonal_2, float)
    return found


def lower_bound(bows: ArrayLike) -> float:
    """Flatness that a survey of lines has seen [mm]: the greatest bow of any line, without sign."""
    return float(np.max(np.abs(np.asarray(bows, float))))
