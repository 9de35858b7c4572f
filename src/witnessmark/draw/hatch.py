"""Hatching as strokes: lines at 45 degrees cut to the outline of a shape.

The strokes are computed and not left to a pattern fill: at one pixel to the pixel some browsers drop a pattern of
4.5 px from small pictures, typesetters differ in how they take one, and a wall must never go missing.
"""

from collections.abc import Iterator
from itertools import pairwise
from math import cos, pi, sin, sqrt

from witnessmark.draw.shape import Circle, Path, Point, Rect

Segment = tuple[Point, Point]
_OFF = 0.0137  # keeps a stroke from running exactly through a corner, where in and out cannot be told


def strokes(shape: Rect | Circle | Path, pitch: float, rising: bool = True) -> tuple[Segment, ...]:
    """Strokes `pitch` apart inside a shape; `rising` from left to right, or falling for a neighbouring part."""
    loops = tuple(_loops(shape))
    sign = 1 if rising else -1
    edges = [edge for loop in loops for edge in zip(loop, loop[1:] + loop[:1], strict=True)]
    sums = [x + sign * y for loop in loops for x, y in loop]
    step = pitch * sqrt(2)
    first, last = int(min(sums) // step), int(max(sums) // step) + 1
    found: list[Segment] = []
    for k in range(first, last + 1):
        cuts = sorted(_cuts(edges, k * step + _OFF, sign))
        found.extend(zip(cuts[::2], cuts[1::2], strict=False))
    return tuple(found)


def _cuts(edges: list[Segment], level: float, sign: int) -> Iterator[Point]:
    """Where the line x + sign y = level crosses the edges."""
    for (x1, y1), (x2, y2) in edges:
        one, other = x1 + sign * y1 - level, x2 + sign * y2 - level
        if (one < 0) != (other < 0):
            part = one / (one - other)
            yield (x1 + part * (x2 - x1), y1 + part * (y2 - y1))


def _loops(shape: Rect | Circle | Path) -> Iterator[list[Point]]:
    """Outlines as straight strokes; curves are cut fine enough for hatching (half a pixel)."""
    if isinstance(shape, Rect):
        right, bottom = shape.x + shape.w, shape.y + shape.h
        yield [(shape.x, shape.y), (right, shape.y), (right, bottom), (shape.x, bottom)]
    elif isinstance(shape, Circle):
        turns = [2 * pi * i / 48 for i in range(48)]
        yield [(shape.x + shape.r * cos(t), shape.y + (shape.ry or shape.r) * sin(t)) for t in turns]
    else:
        yield from _path_loops(shape)


def _path_loops(shape: Path) -> Iterator[list[Point]]:
    loop: list[Point] = []
    for letter, n in shape.steps:
        points = list(zip(n[::2], n[1::2], strict=True))
        if letter == "M" and loop:
            yield loop
            loop = []
        if letter in {"M", "L"}:
            loop += points
        elif letter in {"C", "Q"}:
            loop += _curve([loop[-1], *points])
    if loop:
        yield loop


def _curve(points: list[Point]) -> list[Point]:
    """Twelve points along a Bezier curve, by repeated halving between control points (de Casteljau)."""
    found = []
    for i in range(1, 13):
        part, row = i / 12, points
        while len(row) > 1:
            row = [(a + part * (c - a), b + part * (d - b)) for (a, b), (c, d) in pairwise(row)]
        found.append(row[0])
    return found
