"""Two results for one and the same thing, held against each other: the E_n score.

Source  ISO 13528:2015, 9.7 and ISO/IEC 17043:2010, B.3.1.3: E_n = (x1 − x2) / √(U1² + U2²), with expanded uncertainties
        for k = 2; |E_n| ≤ 1 speaks for both. Formula from memory. It holds for results whose errors are independent.
"""

import numpy as np
from numpy.typing import ArrayLike

from witnessmark.metrology.source import Floats

MOST = 1.0


def compare(first: ArrayLike, second: ArrayLike, U1: ArrayLike, U2: ArrayLike) -> Floats:
    """E_n of each pair (broadcast), values and expanded uncertainties (k = 2) in one unit.

    Two results without any doubt agree only when they are equal: then 0, else infinite with the sign of the
    difference. Raises ValueError for an expanded uncertainty below zero or not finite.
    """
    a, b, u, v = np.broadcast_arrays(*(np.asarray(each, float) for each in (first, second, U1, U2)))
    if not (np.isfinite(u) & np.isfinite(v) & (u >= 0) & (v >= 0)).all():
        raise ValueError("an expanded uncertainty is a size of 0 or more; copy it from the certificate")
    apart, together = a - b, np.hypot(u, v)
    sure = np.where(apart == 0, 0.0, np.copysign(np.inf, apart))
    return np.where(together > 0, apart / np.where(together > 0, together, 1.0), sure)


def agrees(score: float) -> bool:
    """Whether an E_n speaks for both results."""
    return abs(score) <= MOST
