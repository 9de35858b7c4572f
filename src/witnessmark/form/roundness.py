"""Roundness of a section from points on it: least squares circle, minimum zone of two circles, and two-point gauging.

A two-point gauge sees the diameter in a direction and nothing of lobes in odd number; the zones see them.

Points  (n,) x and y in mm, three at least.
Source  ISO 12181-1:2011 for the reference circles (terms; values from memory).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
ROUNDS = 100  # each halves the step or lessens the zone; the tests need under 20
STILL = 1e-13  # of the size of the section


@dataclass(frozen=True, slots=True)
class Circle:
    """A reference circle: centre, mean radius and the zone between the circles about that centre, in mm."""

    zone: float
    x: float
    y: float
    radius: float


def least_squares(x: ArrayLike, y: ArrayLike) -> Circle:
    """The circle with the least sum of squares of distances square to it (Gauss-Newton from the algebraic circle).

    Raises ValueError for fewer than three points or points in one line.
    """
    x, y = _points(x, y)
    a, b = _algebraic(x, y)
    for _ in range(ROUNDS):
        distance = np.hypot(x - a, y - b)
        slopes = np.stack([-(x - a) / distance, -(y - b) / distance, -np.ones_like(x)], 1)
        step = np.linalg.lstsq(slopes, -distance, rcond=None)[0]
        a, b = a + step[0], b + step[1]
        if np.hypot(step[0], step[1]) < STILL * max(float(np.ptp(x)), float(np.ptp(y))):
            break
    else:
        raise ArithmeticError("the circle did not come to rest: the points bend too little to fix a centre")
    distance = np.hypot(x - a, y - b)
    return Circle(float(np.ptp(distance)), float(a), float(b), float(distance.mean()))


def minimum_zone(x: ArrayLike, y: ArrayLike) -> Circle:
    """The two concentric circles nearest to each other that hold every point between them.

    A linear programme about the present centre, within a reach that halves whenever it does not lessen the zone: near
    the answer four points touch and the steps close in quadratically. Started from the least squares circle.
    """
    x, y = _points(x, y)
    start = least_squares(x, y)
    centre, zone = np.array([start.x, start.y]), start.zone
    size = max(float(np.ptp(x)), float(np.ptp(y)))
    reach = size / 4
    for _ in range(ROUNDS):
        tried = centre + _step(x, y, centre, reach)
        wide = float(np.ptp(np.hypot(x - tried[0], y - tried[1])))
        if wide < zone:
            centre, zone = tried, wide
        else:
            reach /= 4
        if reach < STILL * size:
            break
    distance = np.hypot(x - centre[0], y - centre[1])
    return Circle(zone, float(centre[0]), float(centre[1]), float((distance.max() + distance.min()) / 2))


def _step(x: Floats, y: Floats, centre: Floats, reach: float) -> Floats:
    """Step of the centre that lessens the zone most, the distances taken as linear in it."""
    from scipy.optimize import linprog

    distance = np.hypot(x - centre[0], y - centre[1])
    slopes = -np.stack([(x - centre[0]) / distance, (y - centre[1]) / distance], 1) * reach
    scale = max(float(np.ptp(distance)), reach)
    ones, zeros = np.ones((len(x), 1)), np.zeros((len(x), 1))
    outer = np.block([slopes / scale, -ones, zeros])
    inner = np.block([-slopes / scale, zeros, ones])
    away = (distance - distance.mean()) / scale
    found = linprog(
        [0, 0, 1.0, -1.0],
        A_ub=np.concatenate([outer, inner]),
        b_ub=np.concatenate([-away, away]),
        bounds=[(-1, 1), (-1, 1), (None, None), (None, None)],
    )
    return np.zeros(2) if found.x is None else np.asarray(found.x[:2] * reach, float)


def two_point(x: ArrayLike, y: ArrayLike, direction: ArrayLike) -> Floats:
    """Diameters (d,) that a two-point gauge finds across the points in directions [rad, from x], in mm."""
    x, y = _points(x, y)
    angle = np.asarray(direction, float)[..., None]
    found: Floats = np.ptp(x * np.cos(angle) + y * np.sin(angle), axis=-1)
    return found


def _algebraic(x: Floats, y: Floats) -> tuple[float, float]:
    """Centre of the circle that is linear in its unknowns (Kåsa 1976); good enough to start from."""
    mx, my = x.mean(), y.mean()
    u, v = x - mx, y - my
    solution = np.linalg.lstsq(np.stack([2 * u, 2 * v, np.ones_like(u)], 1), u * u + v * v, rcond=None)[0]
    return float(mx + solution[0]), float(my + solution[1])


def _points(x: ArrayLike, y: ArrayLike) -> tuple[Floats, Floats]:
    x, y = np.asarray(x, float), np.asarray(y, float)
    if x.shape != y.shape or x.ndim != 1 or len(x) < 3:
        raise ValueError(f"a section needs three points, each with x and y; shapes are {x.shape} and {y.shape}")
    if not (np.isfinite(x).all() and np.isfinite(y).all()):
        raise ValueError("a point of the section has no position; leave it out or measure it")
    away = np.stack([x - x.mean(), y - y.mean()])
    if np.linalg.matrix_rank(away, tol=1e-9 * max(float(np.abs(away).max()), 1e-300)) < 2:
        raise ValueError("the points lie in one line, so no circle is fixed; measure round the section")
    return x, y
