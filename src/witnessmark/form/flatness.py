"""Flatness of a surveyed face: the least distance of two parallel planes that hold every point between them.

Points  (n,) positions x, y and heights z, in mm; at least three that do not lie in one line.
Source  ISO 12781-1:2011 for the minimum zone and least squares reference planes (terms; values from memory).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Plane:
    """A reference plane z = offset + slope_x x + slope_y y, the zone [mm], and each point's height above it (n,)."""

    zone: float
    offset: float
    slope_x: float
    slope_y: float
    away: Floats


def minimum_zone(x: ArrayLike, y: ArrayLike, z: ArrayLike) -> Plane:
    """The two parallel planes nearest to each other, as their middle; zone across the planes, not upright [mm].

    A linear programme in the upright distance, then turned square to the plane; for a face that is nearly level the two
    differ by the square of the slope. Raises ValueError for fewer than three points or points in one line.
    """
    from scipy.optimize import linprog

    x, y, z = _survey(x, y, z)
    design, scale = _scaled(x, y)
    height = max(float(np.ptp(z)), 1e-300)
    z1 = (z - z.mean()) / height
    ones = np.ones((len(z), 1))
    found = linprog(
        [0, 0, 0, 1.0],
        A_ub=np.block([[design, -ones], [-design, -ones]]),
        b_ub=np.concatenate([z1, -z1]),
        bounds=[(None, None)] * 3 + [(0, None)],
    )
    if found.x is None:
        raise ArithmeticError(f"no plane was found for {len(z)} points: {found.message}")
    return _plane(x, y, z, found.x[:3] * height, scale)


def least_squares(x: ArrayLike, y: ArrayLike, z: ArrayLike) -> Plane:
    """The plane with the least sum of squares of upright distances, and the zone that the points then need [mm].

    Never less than the minimum zone. Raises ValueError for fewer than three points or points in one line.
    """
    x, y, z = _survey(x, y, z)
    design, scale = _scaled(x, y)
    solution = np.linalg.lstsq(design, z - z.mean(), rcond=None)[0]
    return _plane(x, y, z, solution, scale)


def _plane(x: Floats, y: Floats, z: Floats, solution: Floats, scale: tuple[float, float, float]) -> Plane:
    mid_x, mid_y, reach = scale
    slope_x, slope_y = float(solution[1] / reach), float(solution[2] / reach)
    offset = float(z.mean() + solution[0] - slope_x * mid_x - slope_y * mid_y)
    away = (z - (offset + slope_x * x + slope_y * y)) / np.sqrt(1 + slope_x**2 + slope_y**2)
    return Plane(float(np.ptp(away)), offset, slope_x, slope_y, away)


def _survey(x: ArrayLike, y: ArrayLike, z: ArrayLike) -> tuple[Floats, Floats, Floats]:
    x, y, z = (np.asarray(a, float) for a in (x, y, z))
    if not x.shape == y.shape == z.shape or x.ndim != 1:
        raise ValueError(f"x, y and z need one figure for each point; they have shapes {x.shape}, {y.shape}, {z.shape}")
    if not np.isfinite(np.concatenate([x, y, z])).all():
        raise ValueError("a point of the survey has no height or no position; leave it out or measure it")
    away = np.stack([x - x.mean(), y - y.mean()]) if len(x) else np.zeros((2, 0))
    if len(x) < 3 or np.linalg.matrix_rank(away, tol=1e-9 * max(float(np.abs(away).max()), 1e-300)) < 2:
        raise ValueError(
            "the points lie in one line, so no plane is fixed; survey three that do not, or judge straightness"
        )
    return x, y, z


def _scaled(x: Floats, y: Floats) -> tuple[Floats, tuple[float, float, float]]:
    """Positions about their middle and in their own size, so that the solver's tolerances fit any unit."""
    mid_x, mid_y = float(x.mean()), float(y.mean())
    reach = float(max(np.ptp(x), np.ptp(y)))
    return np.stack([np.ones_like(x), (x - mid_x) / reach, (y - mid_y) / reach], 1), (mid_x, mid_y, reach)
