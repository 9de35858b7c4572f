"""Torque over angle: the bolt shown in ink over paint, the others of the joint as thin lines, key points as shapes.

A curve of thousands of points is thinned to the least and the most of each column of pixels, so no tooth is lost.
Each key point has its own shape and its word above the field. Torques come in the unit that the axis names.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, log10

import numpy as np
from numpy.typing import NDArray

from witnessmark.draw.extent import spread, text_width
from witnessmark.draw.shape import Circle, Drawing, Line, Path, Shape, Text, path, polygon

Floats = NDArray[np.float64]
LEFT, TOP, RIGHT, BOTTOM = 66.0, 74.0, 14.0, 52.0
OWN, OTHERS = 1.0, 4.0  # pixels of a column


@dataclass(frozen=True, slots=True)
class Curve:
    """A trace: degrees, and torque in the unit of the axis."""

    bolt: str
    angle: Floats
    torque: Floats


@dataclass(frozen=True, slots=True)
class Mark:
    """A key point: its kind (alignment, snug, origin, yield, end), word, and where it is."""

    kind: str
    word: str
    angle: float
    torque: float


@dataclass(frozen=True, slots=True)
class Field:
    """The field of the curves: its size on the sheet, and the largest angle and torque that it shows."""

    width: float
    height: float
    low: float
    high: float
    step: float
    most: float
    torque_step: float

    def x(self, angle: float) -> float:
        """Pixels from the left edge of the picture."""
        return LEFT + (angle - self.low) / (self.high - self.low) * (self.width - LEFT - RIGHT)

    def y(self, torque: float) -> float:
        """Pixels from the top; torques below nothing stand on the axis."""
        share = min(max(torque / self.most, 0.0), 1.0)
        return self.height - BOTTOM - share * (self.height - TOP - BOTTOM)


def trace(
    shown: Curve, others: Sequence[Curve], marks: Sequence[Mark], unit: str, line: tuple[float, float] | None = None,
    width: float = 820, height: float = 460,
) -> Drawing:  # fmt: skip
    """One bolt's trace among those of its joint. `line` is the elastic line as (angle at no torque, slope)."""
    field = _field(shown, others, width, height)
    shapes: list[Shape] = [*_axes(field, unit)]
    for other in others:
        if len(other.angle):
            shapes.append(polygon("faint", thinned(other, field, OTHERS), closed=False))
    own = thinned(shown, field, OWN)
    shapes += [polygon("now_line", own, 7, closed=False), polygon("outline", own, closed=False)]
    if line is not None:
        shapes += _elastic(line, field)
    shapes += _marks(marks, field)
    among = f" among {len(others) + 1}" if others else ""
    told = ", ".join(f"{mark.word} {mark.angle:.0f}°" for mark in marks)
    name = f"torque over angle, bolt {shown.bolt}{among}, in {unit}" + (f": {told}" if told else "")
    return Drawing(width, height, name, tuple(shapes))


def _field(shown: Curve, others: Sequence[Curve], width: float, height: float) -> Field:
    curves = [one for one in (shown, *others) if len(one.angle)]
    low = min((float(one.angle.min()) for one in curves), default=0.0)
    high = max((float(one.angle.max()) for one in curves), default=1.0)
    most = max((float(one.torque.max()) for one in curves), default=1.0)
    step, torque_step = _step(max(high - low, 1.0) / 8), _step(max(most, 1e-6) / 6)
    low, high = floor(low / step) * step, -floor(-max(high, low + 1.0) / step) * step
    return Field(width, height, low, high, step, -floor(-max(most, 1e-6) / torque_step) * torque_step, torque_step)


def _step(least: float) -> float:
    """The next of 1, 2, 5, 10, ... upwards."""
    ten = 10.0 ** floor(log10(least))
    return next(ten * n for n in (1, 2, 5, 10) if ten * n >= least * (1 - 1e-9))


def thinned(curve: Curve, field: Field, column: float) -> list[tuple[float, float]]:
    """The points of a curve on the sheet: of each column of pixels the first, the least, the most and the last."""
    x = LEFT + (curve.angle - field.low) / (field.high - field.low) * (field.width - LEFT - RIGHT)
    share = np.clip(curve.torque / field.most, 0.0, 1.0)
    y = field.height - BOTTOM - share * (field.height - TOP - BOTTOM)
    starts = np.flatnonzero(np.diff(np.floor(x / column), prepend=-np.inf))
    if len(starts) * 4 >= len(x):
        return [(float(a), float(b)) for a, b in zip(x, y, strict=True)]
    lows, highs = np.minimum.reduceat(y, starts), np.maximum.reduceat(y, starts)
    last = np.append(starts[1:], len(x)) - 1
    columns = np.stack([y[starts], lows, highs, y[last]], axis=1).ravel()
    ends = np.stack([x[starts], x[starts], x[last], x[last]], axis=1).ravel()
    points = np.stack([ends, columns], axis=1)
    fresh = np.append(True, np.any(np.abs(np.diff(points, axis=0)) > 0.005, axis=1))
    return [(float(a), float(b)) for a, b in points[fresh]]


def _axes(field: Field, unit: str) -> list[Shape]:
    left, low, right = field.x(field.low), field.y(0), field.width - RIGHT
    shapes: list[Shape] = []
    for n in range(round(field.most / field.torque_step) + 1):
        value = n * field.torque_step
        y = field.y(value)
        shapes += [Line(left, y, right, y, "hair"), Text(left - 8, y + 5, _shown(value), "label", 16, "end")]
    for n in range(round((field.high - field.low) / field.step) + 1):
        angle = field.low + n * field.step
        x = field.x(angle)
        anchor = "end" if x > right - 12 else "middle"
        shapes += [Line(x, low, x, low + 6, "thin"),
                   Text(min(x, right), low + 23, f"{_shown(angle)}°", "label", 16, anchor)]  # fmt: skip
    shapes += [Line(left, low, right, low, "thin"), Line(left, TOP - 8, left, low, "thin"),
               Text(left - 8, TOP - 16, unit, "ink", 16, "end" if text_width(unit, 16) < left - 10 else "middle"),
               Text((left + right) / 2, low + 44, "angle", "ink", 16, "middle")]  # fmt: skip
    return shapes


def _shown(value: float) -> str:
    return f"{value:.6g}".replace("-", "−")


def _elastic(line: tuple[float, float], field: Field) -> list[Shape]:
    """The elastic line, dashed, from no torque to the top of the field."""
    begin, slope = line
    ends = [(begin, 0.0), (begin + field.most / slope, field.most)]
    inside = [_cut(ends, angle) for angle in (max(begin, field.low), min(ends[1][0], field.high))]
    (a, b), (c, d) = inside
    return [Line(field.x(a), field.y(b), field.x(c), field.y(d), "phantom")] if c > a else []


def _cut(ends: list[tuple[float, float]], angle: float) -> tuple[float, float]:
    (a, b), (c, d) = ends
    return angle, b + (angle - a) / (c - a) * (d - b)


def _marks(marks: Sequence[Mark], field: Field) -> list[Shape]:
    """Shapes at the points, and their words above the field, each with a thin line down to its point."""
    words = [f"{mark.word} {mark.angle:.0f}°" for mark in marks]
    at = spread([(field.x(mark.angle), text_width(word, 16)) for mark, word in zip(marks, words, strict=True)],
                LEFT + 4, field.width - 2)  # fmt: skip
    shapes: list[Shape] = []
    for mark, word, place in zip(marks, words, at, strict=True):
        x, y = field.x(mark.angle), field.y(mark.torque)
        shapes += [path("faint", "M", place, 27, "L", place, 33, "L", x, 52, "L", x, y - 9),
                   Text(place, 21, word, "ink", 16, "middle")]  # fmt: skip
    return [*shapes, *(_shape(mark.kind, field.x(mark.angle), field.y(mark.torque)) for mark in marks)]


def _shape(kind: str, x: float, y: float) -> Circle | Path:
    if kind == "alignment":
        return polygon("close_open", [(x - 7, y + 6), (x, y - 7), (x + 7, y + 6)])
    if kind == "origin":
        return path("close_line", "M", x - 8, y, "L", x + 8, y, "M", x, y - 8, "L", x, y + 8, width=2.4)
    if kind == "yield":
        return polygon("close_open", [(x - 8, y), (x, y - 8), (x + 8, y), (x, y + 8)])
    if kind == "end":
        return polygon("ink", [(x - 6, y - 6), (x + 6, y - 6), (x + 6, y + 6), (x - 6, y + 6)])
    return Circle(x, y, 7, "close_open", 2.4)
