"""What a drawing is made of: frozen shapes, each with a role and never with a colour.

A role says what the thing *is* on the sheet (an outline, a centre line, a limit's wall, a value that is out); the
writer of `svg.py` turns it into a class for the page or into black ink for paper. The line types behind the roles
follow ISO 128 (value from memory), in widths 1 : 2 : 3.

Units   Pixels of the sheet at its natural size, x to the right, y down.
Stable  Coordinates are rounded to 0.01 when they are written, so that the same state gives the same bytes.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

Point = tuple[float, float]
Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""


@dataclass(frozen=True, slots=True)
class Path:
    """Straight and curved strokes. `steps` holds (letter, numbers), absolute: M L C Q A Z of SVG path data."""

    steps: tuple[tuple[str, tuple[float, ...]], ...]
    role: str
    width: float = 0.0
    dash: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """One straight stroke; `start` and `end` ask for an arrowhead or a dot there ("arrow", "dot" or "")."""

    x1: float
    y1: float
    x2: float
    y2: float
    role: str
    width: float = 0.0
    dash: str = ""
    start: str = ""
    end: str = ""


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle, or an ellipse where `ry` is given."""

    x: float
    y: float
    r: float
    role: str
    width: float = 0.0
    dash: str = ""
    ry: float = 0.0


@dataclass(frozen=True, slots=True)
class Rect:
    """An upright rectangle by its top left corner."""

    x: float
    y: float
    w: float
    h: float
    role: str
    width: float = 0.0
    dash: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """One line of letters on the baseline `y`; `anchor` is start, middle or end; `face` is sans or serif."""

    x: float
    y: float
    text: str
    role: str = "ink"
    size: float = 16.0
    anchor: str = "start"
    bold: bool = False
    face: str = "sans"
    italic: bool = False
    halo: bool = False


@dataclass(frozen=True, slots=True)
class Group:
    """Shapes moved together by `dx`, `dy`."""

    shapes: tuple["Shape", ...]
    dx: float = 0.0
    dy: float = 0.0


Shape = Path | Line | Circle | Rect | Text | Group


@dataclass(frozen=True, slots=True)
class Drawing:
    """A finished picture: size on the sheet, its one-sentence name, the window it shows, and its shapes."""

    width: float
    height: float
    name: str
    shapes: tuple[Shape, ...]
    window: Box | None = None

    @property
    def frame(self) -> Box:
        """What part of the shapes' plane is seen: left, top, right, bottom."""
        return self.window or (0.0, 0.0, self.width, self.height)


def path(role: str, *steps: str | float, width: float = 0.0, dash: str = "") -> Path:
    """A path from letters and numbers in a row: `path("outline", "M", 0, 0, "L", 9, 0, 9, 5, "Z")`."""
    found: list[tuple[str, list[float]]] = []
    for step in steps:
        if isinstance(step, str):
            found.append((step, []))
        else:
            found[-1][1].append(float(step))
    return Path(tuple((letter, tuple(numbers)) for letter, numbers in found), role, width, dash)


def polygon(role: str, points: Iterable[Point], width: float = 0.0, closed: bool = True, dash: str = "") -> Path:
    """Straight strokes through `points`, closed unless told otherwise."""
    first, *rest = points
    steps = [("M", first), *(("L", point) for point in rest)]
    return Path((*steps, *([("Z", ())] if closed else [])), role, width, dash)


def flat(shapes: Iterable[Shape], dx: float = 0.0, dy: float = 0.0) -> Iterator[Shape]:
    """Every shape outside its groups, in drawing order, moved to where it stands."""
    for shape in shapes:
        if isinstance(shape, Group):
            yield from flat(shape.shapes, dx + shape.dx, dy + shape.dy)
        else:
            yield moved(shape, dx, dy)


def moved(shape: Shape, dx: float, dy: float) -> Shape:
    """The same shape somewhere else."""
    if isinstance(shape, Group):
        return replace(shape, dx=shape.dx + dx, dy=shape.dy + dy)
    if isinstance(shape, Line):
        return replace(shape, x1=shape.x1 + dx, y1=shape.y1 + dy, x2=shape.x2 + dx, y2=shape.y2 + dy)
    if isinstance(shape, Path):
        return replace(shape, steps=tuple((letter, _shift(letter, n, dx, dy)) for letter, n in shape.steps))
    return replace(shape, x=shape.x + dx, y=shape.y + dy)


def _shift(letter: str, numbers: tuple[float, ...], dx: float, dy: float) -> tuple[float, ...]:
    if letter == "A":
        return (*numbers[:5], numbers[5] + dx, numbers[6] + dy)
    return tuple(n + (dy if i % 2 else dx) for i, n in enumerate(numbers))
