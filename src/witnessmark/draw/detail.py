"""Round details: what lies inside a circle, cut to it, so that no clip is needed on page or paper."""

from collections.abc import Sequence
from math import cos, hypot, pi, sin

from witnessmark.draw.shape import Point, Shape, polygon

Side = tuple[Point, float]
"""A point on a straight edge and the direction of the edge (radian, y down); kept is what lies to its right."""


def disc(x: float, y: float, r: float) -> list[Point]:
    """The circle as 72 straight strokes."""
    return [(x + r * cos(2 * pi * i / 72), y + r * sin(2 * pi * i / 72)) for i in range(72)]


def kept(points: Sequence[Point], side: Side) -> list[Point]:
    """The part of a convex outline on the kept side of one edge (Sutherland and Hodgman 1974)."""
    (x, y), turn = side
    over = [(py - y) * cos(turn) - (px - x) * sin(turn) for px, py in points]
    found: list[Point] = []
    for i, (px, py) in enumerate(points):
        before, (bx, by) = over[i - 1], points[i - 1]
        if (before < 0) != (over[i] < 0):
            part = before / (before - over[i])
            found.append((bx + part * (px - bx), by + part * (py - by)))
        if over[i] >= 0:
            found.append((px, py))
    return found


def metal(points: Sequence[Point], sides: Sequence[Side], role: str) -> tuple[Shape, ...]:
    """Material in section inside an outline and on the kept side of every edge; nothing where none is left."""
    left = list(points)
    for side in sides:
        left = kept(left, side)
    if len(left) < 3:
        return ()
    return (polygon("part", left), polygon(role, left), polygon("outline", left))


def chord(x: float, y: float, r: float, side: Side) -> tuple[Point, Point] | None:
    """Both ends of a straight line cut to a circle; None where it passes by."""
    (px, py), turn = side
    off = (py - y) * cos(turn) - (px - x) * sin(turn)
    if abs(off) >= r:
        return None
    foot = (x - off * sin(turn), y + off * cos(turn))
    half = hypot(r, 0) * (1 - (off / r) ** 2) ** 0.5
    return ((foot[0] - half * cos(turn), foot[1] - half * sin(turn)),
            (foot[0] + half * cos(turn), foot[1] + half * sin(turn)))  # fmt: skip
