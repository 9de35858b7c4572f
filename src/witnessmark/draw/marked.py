"""What was found, and where: a saltire or a ring with its number, put on any drawing at a share of its size."""

from dataclasses import replace

from witnessmark.draw.extent import overlap, text_box, text_width, texts
from witnessmark.draw.shape import Box, Circle, Drawing, Line, Shape, Text

SORTS = ("bad", "doubt")
_R, _SIZE = 9.0, 16.0


def mark_on(drawing: Drawing, x: float, y: float, number: int = 1, sort: str = "bad") -> Drawing:
    """The drawing with a mark at the share (`x`, `y`) of what it shows: (0, 0) top left, (1, 1) low right.

    A saltire is something bad, a ring something in doubt; `number` ties it to the list of what was found. The mark has
    the same size on the page whatever the window. Raises ValueError for a place outside the drawing or another sort.
    """
    if not (0 <= x <= 1 and 0 <= y <= 1):
        raise ValueError(f"the mark at {x:g}, {y:g} lies off the drawing: give shares from 0 to 1, from the top left")
    if sort not in SORTS:
        raise ValueError(f"a mark is {' or '.join(SORTS)}, not {sort!r}")
    left, top, right, low = drawing.frame
    unit = (right - left) / drawing.width
    cx, cy = left + x * (right - left), top + y * (low - top)
    label = _label(drawing, cx, cy, unit, str(number))
    shapes = (*drawing.shapes, *_sign(cx, cy, unit, sort), label)
    return replace(drawing, name=f"{drawing.name}; mark {number}", shapes=shapes)


def _sign(x: float, y: float, unit: float, sort: str) -> tuple[Shape, ...]:
    r = _R * unit
    if sort == "doubt":
        return (Circle(x, y, r, "halo", 7 * unit), Circle(x, y, r, "close_line", 2.6 * unit))
    ends = ((x - r, y - r, x + r, y + r), (x - r, y + r, x + r, y - r))
    halo = tuple(Line(*end, "halo", 9 * unit) for end in ends)
    return (*halo, *(Line(*end, "out_line", 4.5 * unit) for end in ends))


def _label(drawing: Drawing, x: float, y: float, unit: float, text: str) -> Text:
    """The number at the first side of the mark where it stays on the drawing and lies over no other letters."""
    size, off = _SIZE * unit, (_R + 5) * unit
    wide = text_width(text, size, True)
    level, under = y + size / 3, y + off + size * 0.7
    spots = [(x + off, level), (x - off - wide, level), (x - wide / 2, y - off), (x - wide / 2, under)]
    spots += [(a, b + s * off) for s in (1, -1) for a, b in spots[:2]]
    found = [Text(a, b, text, "ink", size, bold=True, halo=True) for a, b in spots]
    others = [text_box(one) for one in texts(drawing.shapes)]
    inside = [one for one in found if _within(text_box(one), drawing.frame)]
    clear = [one for one in inside if not any(overlap(text_box(one), other) for other in others)]
    return (clear or inside or found)[0]


def _within(one: Box, frame: Box) -> bool:
    return one[0] >= frame[0] and one[1] >= frame[1] and one[2] <= frame[2] and one[3] <= frame[3]
