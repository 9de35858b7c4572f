"""A pressure against what is expected: a thin dotted bracket, never a wall, with the reading as a point.

Nobody entered the bracket as a limit, so it accepts nothing and forbids nothing. The stroke in it is the middle; an
open ring is the reading before the work.
"""

from witnessmark.draw.scale import Scale
from witnessmark.draw.shape import Circle, Drawing, Line, Shape, path, polygon

HEIGHT, AXIS, FOOT, TOP, R = 36.0, 24.0, 18.0, 6.0, 5.4


def against_expected(
    scale: Scale, expected: tuple[float, float, float] | None, value: float | None, before: float | None, name: str
) -> Drawing:
    """One row; `scale` is that of all cylinders. A value off it stands at the end with an arrow outward."""
    shapes: list[Shape] = [Line(0, AXIS, scale.width, AXIS, "hair" if value is not None else "hidden")]
    if expected is not None:
        low, middle, high = map(scale.clip, expected)
        shapes += [path("usual", "M", low, FOOT, "L", low, TOP, "L", high, TOP, "L", high, FOOT),
                   Line(middle, TOP, middle, TOP + 8, "thin")]  # fmt: skip
    for reading, role in ((before, "thin"), (value, "ink")):
        if reading is not None:
            shapes += _point(scale, reading, role)
    return Drawing(scale.width, HEIGHT, name, tuple(shapes))


def _point(scale: Scale, value: float, role: str) -> tuple[Shape, ...]:
    x = min(max(scale.x(value), R + 8), scale.width - R - 8)
    point = Circle(x, AXIS, R, role)
    if scale.shows(value):
        return (Circle(scale.clip(value), AXIS, R, role),)
    side = -1 if value < scale.lo else 1
    tip = x + side * (R + 7)
    return (point, polygon("ink", [(tip, AXIS), (tip - 6 * side, AXIS - 3.5), (tip - 6 * side, AXIS + 3.5)]))
