"""What a sheet of a whole part is made of: its shapes and the place of each characteristic; and drawing to scale."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from witnessmark.draw.shape import Circle, Group, Line, Path, Point, Rect, Shape, flat

MIDDLE = 350.0
"""The middle of the sheet from left to right; a part has 110 on each side of it."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where one characteristic is on the part: the point its leader runs to, its side, and its dimension lines."""

    at: Point
    side: str  # left | right
    shapes: tuple[Shape, ...] = ()


@dataclass(frozen=True, slots=True)
class Part:
    """A part on the sheet, the places of all that is measured on it, by characteristic, and its name."""

    name: str
    shapes: tuple[Shape, ...]
    spots: Mapping[str, Spot]


def scaled(shapes: Iterable[Shape], k: float, dx: float, dy: float) -> tuple[Shape, ...]:
    """Shapes `k` times as large about the origin, then moved; stroke widths and letters keep their size."""
    return tuple(_scaled(shape, k, dx, dy) for shape in flat(shapes))


def _scaled(shape: Shape, k: float, dx: float, dy: float) -> Shape:
    if isinstance(shape, Line):
        return replace(shape, x1=k * shape.x1 + dx, y1=k * shape.y1 + dy, x2=k * shape.x2 + dx, y2=k * shape.y2 + dy)
    if isinstance(shape, Circle):
        return replace(shape, x=k * shape.x + dx, y=k * shape.y + dy, r=k * shape.r, ry=k * shape.ry)
    if isinstance(shape, Rect):
        return replace(shape, x=k * shape.x + dx, y=k * shape.y + dy, w=k * shape.w, h=k * shape.h)
    if isinstance(shape, Path):
        return replace(shape, steps=tuple((letter, _steps(letter, n, k, dx, dy)) for letter, n in shape.steps))
    if isinstance(shape, Group):
        return Group(scaled(shape.shapes, k, 0, 0), k * shape.dx + dx, k * shape.dy + dy)
    return replace(shape, x=k * shape.x + dx, y=k * shape.y + dy)


def _steps(letter: str, numbers: tuple[float, ...], k: float, dx: float, dy: float) -> tuple[float, ...]:
    if letter == "A":
        return (k * numbers[0], k * numbers[1], *numbers[2:5], k * numbers[5] + dx, k * numbers[6] + dy)
    return tuple(k * n + (dy if i % 2 else dx) for i, n in enumerate(numbers))


def upright(x: float, y1: float, y2: float, part: float) -> tuple[Shape, ...]:
    """A vertical dimension line at `x` between two heights, with its extension lines from the part's edge at `part`."""
    past = 5 if x > part else -5
    return (Line(part, y1, x + past, y1, "faint"), Line(part, y2, x + past, y2, "faint"),
            Line(x, y1, x, y2, "thin", start="arrow", end="arrow"))  # fmt: skip


def level(y: float, x1: float, x2: float, part: float) -> tuple[Shape, ...]:
    """A horizontal dimension line at `y` between two places, with extension lines from the part's edge at `part`."""
    past = 5 if y > part else -5
    return (Line(x1, part, x1, y + past, "faint"), Line(x2, part, x2, y + past, "faint"),
            Line(x1, y, x2, y, "thin", start="arrow", end="arrow"))  # fmt: skip


def pinched(y: float, x1: float, x2: float, reach: float = 22) -> tuple[Shape, ...]:
    """A horizontal dimension of something narrow: arrows from outside."""
    return (Line(x1 - reach, y, x1, y, "thin", end="arrow"), Line(x2 + reach, y, x2, y, "thin", end="arrow"))
