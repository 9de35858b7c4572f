"""Straightness of a line of heights: by its ends, by least squares, and by the minimum zone.

Points  (n,) positions along the line and heights, in mm, positions rising.
Source  ISO 12780-1:2011 for the reference lines (terms; values from memory).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Line:
    """A reference line height = offset + slope · position, with the zone [mm] and each point's height above it (n,)."""

    zone: float
    offset: float
    slope: float
    away: Floats


def heights_from_tilts(tilt: ArrayLike, base: float) -> Floats:
    """Heights (n + 1,) from n tilts [rad] of a carriage with feet `base` apart, stepped heel to toe; first point 0."""
    return np.concatenate([[0.0], np.cumsum(np.asarray(tilt, float) * base)])


def end_points(position: ArrayLike, height: ArrayLike) -> Line:
    """The line through the first and the last point, and the zone upright to it [mm]."""
    x, z = _line(position, height)
    slope = float((z[-1] - z[0]) / (x[-1] - x[0]))
    return _upright(x, z, slope, float(z[0] - slope * x[0]))


def least_squares(position: ArrayLike, height: ArrayLike) -> Line:
    """The line with the least sum of squares of upright distances, and the zone upright to it [mm]."""
    x, z = _line(position, height)
    away = x - x.mean()
    slope = float(away @ z / (away @ away))
    return _upright(x, z, slope, float(z.mean() - slope * x.mean()))


def minimum_zone(position: ArrayLike, height: ArrayLike) -> Line:
    """The two parallel lines nearest to each other, upright, as their middle [mm].

    One of them runs along an edge of the convex hull of the points; all edges are tried, so the answer is exact.
    """
    x, z = _line(position, height)
    over, under = _hull(x, z), _hull(x, -z)
    starts = np.concatenate([over[:-1], under[:-1]])
    ends = np.concatenate([over[1:], under[1:]])
    slopes = (z[ends] - z[starts]) / (x[ends] - x[starts])
    away = z - slopes[:, None] * x
    best = int(np.argmin(np.ptp(away, axis=1)))
    return _upright(x, z, float(slopes[best]), float((away[best].max() + away[best].min()) / 2))


def across(line: Line) -> float:
    """Zone square to the line instead of upright [mm]."""
    return line.zone / float(np.sqrt(1 + line.slope**2))


def _hull(x: Floats, z: Floats) -> NDArray[np.int64]:
    """Points of the upper hull, left to right (Andrew's chain, 1979)."""
    kept: list[int] = []
    for i in range(len(x)):
        while len(kept) > 1 and _left_turn(x, z, kept[-2], kept[-1], i):
            kept.pop()
        kept.append(i)
    return np.array(kept)


def _left_turn(x: Floats, z: Floats, a: int, b: int, c: int) -> bool:
    return bool((x[b] - x[a]) * (z[c] - z[a]) >= (z[b] - z[a]) * (x[c] - x[a]))


def _upright(x: Floats, z: Floats, slope: float, offset: float) -> Line:
    away = z - (offset + slope * x)
    return Line(float(np.ptp(away)), offset, slope, away)


def _line(position: ArrayLike, height: ArrayLike) -> tuple[Floats, Floats]:
    x, z = np.asarray(position, float), np.asarray(height, float)
    if x.shape != z.shape or x.ndim != 1 or len(x) < 2:
        raise ValueError(f"a line needs two points and one height for each; shapes are {x.shape} and {z.shape}")
    if not (np.isfinite(x).all() and np.isfinite(z).all()):
        raise ValueError("a point of the line has no height or no position; leave it out or measure it")
    if not (np.diff(x) > 0).all():
        raise ValueError("the positions along the line do not rise; enter them from one end to the other, each once")
    return x, z
