"""How much room a text takes, so that drawings can be laid out (and tested) without a browser.

Advance widths are those of Atkinson Hyperlegible Next 400 and 600 with tabular figures, measured once in a browser at
100 px and rounded up; whatever is not in the table counts as a wide letter. Source Serif 4 runs narrower at the same
size and is measured with the same table, which errs on the roomy side.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations

from witnessmark.draw.shape import Box, Circle, Group, Line, Path, Point, Rect, Shape, Text, flat

_FIRST = 32
_REGULAR = (
    28, 29, 31, 66, 60, 92, 74, 16, 30, 30, 49, 61, 21, 37, 21, 30, 64, 64, 64, 64, 64, 64, 64, 64, 64, 64, 21, 21,
    56, 63, 56, 48, 78, 65, 62, 63, 67, 57, 56, 70, 70, 40, 52, 64, 55, 83, 70, 72, 60, 73, 62, 60, 58, 69, 61, 87,
    63, 62, 61, 32, 39, 35, 56, 38, 25, 53, 57, 48, 57, 54, 32, 56, 55, 26, 27, 50, 26, 85, 55, 56, 57, 58, 36, 48,
    33, 54, 49, 71, 51, 48, 46, 35, 24, 35, 56,
)  # fmt: skip
_BOLD = (
    31, 30, 37, 73, 61, 96, 73, 20, 33, 33, 49, 60, 26, 37, 26, 32, 64, 64, 64, 64, 64, 64, 64, 64, 64, 64, 26, 26,
    57, 62, 57, 53, 78, 69, 64, 64, 69, 59, 57, 72, 70, 42, 55, 66, 55, 85, 71, 74, 62, 75, 64, 61, 61, 69, 65, 89,
    67, 67, 62, 34, 43, 35, 58, 40, 28, 55, 59, 49, 59, 56, 36, 59, 57, 29, 29, 54, 30, 87, 57, 57, 59, 60, 38, 50,
    36, 56, 54, 75, 55, 53, 50, 37, 25, 37, 55,
)  # fmt: skip
_OTHER = {"–": 51, "·": 28, "°": 39, "×": 54, "−": 63, "µ": 60, "′": 30, "″": 45, "¼": 90, "½": 90, "¾": 90}
_WIDE = 90
_ASCENT, _DESCENT = 0.74, 0.22  # cap and figure height is 0.668 em; brackets and tails reach a little further


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Width of one line of `text` in pixels at `size` pixels."""
    table = _BOLD if bold else _REGULAR
    total = 0
    for letter in text:
        place = ord(letter) - _FIRST
        total += table[place] if 0 <= place < len(table) else _OTHER.get(letter, _WIDE)
    return total * size / 100


def text_box(text: Text) -> Box:
    """The box that the letters of one text fill."""
    width = text_width(text.text, text.size, text.bold)
    left = text.x - {"start": 0.0, "middle": width / 2, "end": width}[text.anchor]
    return (left, text.y - _ASCENT * text.size, left + width, text.y + _DESCENT * text.size)


def box(shape: Shape) -> Box:
    """The smallest upright box round a shape: exact for straight things, from control points for curves.

    Stroke widths are left out.
    """
    if isinstance(shape, Group):
        return around(box(one) for one in flat((shape,)))
    if isinstance(shape, Line):
        return _ordered(shape.x1, shape.y1, shape.x2, shape.y2)
    if isinstance(shape, Circle):
        ry = shape.ry or shape.r
        return (shape.x - shape.r, shape.y - ry, shape.x + shape.r, shape.y + ry)
    if isinstance(shape, Rect):
        return (shape.x, shape.y, shape.x + shape.w, shape.y + shape.h)
    if isinstance(shape, Path):
        return around((x, y, x, y) for x, y in _points(shape))
    return text_box(shape)


def _points(shape: Path) -> Iterator[Point]:
    for letter, n in shape.steps:
        if letter == "A":
            yield n[5], n[6]
        else:
            yield from zip(n[::2], n[1::2], strict=True)


def _ordered(x1: float, y1: float, x2: float, y2: float) -> Box:
    return (min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))


def around(boxes: Iterable[Box]) -> Box:
    """The smallest box round all of them."""
    left, top, right, bottom = zip(*boxes, strict=True)
    return (min(left), min(top), max(right), max(bottom))


def overlap(one: Box, other: Box, slack: float = 0.0) -> bool:
    """Whether two boxes share room (or come nearer than `slack`)."""
    return (
        one[0] < other[2] + slack
        and other[0] < one[2] + slack
        and one[1] < other[3] + slack
        and other[1] < one[3] + slack
    )


def texts(shapes: Iterable[Shape]) -> tuple[Text, ...]:
    """All texts of a drawing, where they stand."""
    return tuple(shape for shape in flat(shapes) if isinstance(shape, Text))


def overlaps(shapes: Iterable[Shape]) -> tuple[tuple[str, str], ...]:
    """Pairs of texts that lie over each other."""
    found = texts(shapes)
    return tuple((a.text, b.text) for a, b in combinations(found, 2) if overlap(text_box(a), text_box(b), -0.5))


def spread(wanted: Sequence[tuple[float, float]], left: float, right: float, gap: float = 6.0) -> tuple[float, ...]:
    """Centres for labels of the given (centre, width), moved as little as a simple push needs so that none overlap.

    The labels keep their order. They stay between `left` and `right` as long as their widths allow it.
    """
    order = sorted(range(len(wanted)), key=lambda i: wanted[i][0])
    at = [0.0] * len(wanted)
    edge = left
    for i in order:
        centre, width = wanted[i]
        at[i] = max(centre, edge + width / 2)
        edge = at[i] + width / 2 + gap
    edge = right
    for i in reversed(order):
        width = wanted[i][1]
        at[i] = min(at[i], edge - width / 2)
        edge = at[i] - width / 2 - gap
    return tuple(at)
