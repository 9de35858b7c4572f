"""Shapes into SVG: classes for the page, plain black for paper; and a recorder for tests.

On the page a shape carries `class="wm-ROLE"` and `css()` gives each role its pen as a custom property (`--ink`,
`--blue`, ...), so day, night and forced colours are the page's affair. On paper every shape carries its ink itself:
black, hatch #555, nothing by reference to a style sheet, which a typesetter can take as it stands.
Widths, dashes and sizes are attributes in both, so the two never differ in geometry.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import atan2, cos, pi, sin
from xml.sax.saxutils import escape, quoteattr

from witnessmark.draw.extent import around, box
from witnessmark.draw.hatch import strokes
from witnessmark.draw.shape import Box, Circle, Drawing, Group, Line, Path, Rect, Shape, Text, flat


@dataclass(frozen=True, slots=True)
class Pen:
    """How a role is drawn: custom properties for stroke and fill, stroke width, dashes."""

    stroke: str = ""
    fill: str = ""
    width: float = 1.0
    dash: str = ""


_HATCHES = {"wall": (7.0, True, 1.0), "wall_small": (4.5, True, 0.9), "section": (7.0, True, 1.0),
            "section_other": (7.0, False, 1.0)}  # fmt: skip

PENS: dict[str, Pen] = {
    "outline": Pen("ink", "", 2),
    "part": Pen("ink", "sheet", 2),
    "thin": Pen("ink", "", 1),
    "thin_part": Pen("ink", "sheet", 1),
    "faint": Pen("ink2", "", 1),
    "centre": Pen("ink2", "", 1, "14 3 2 3"),
    "phantom": Pen("ink", "", 1.25, "12 3 2 3 2 3"),
    "phantom_part": Pen("ink", "sheet", 1.25, "12 3 2 3 2 3"),
    "hidden": Pen("ink2", "", 1.25, "6 4"),
    "usual": Pen("ink2", "", 1, "1.5 3"),
    "hair": Pen("hair", "", 1),
    "edge": Pen("ink", "", 3),
    "ink": Pen("", "ink"),
    "label": Pen("", "ink2"),
    "on_now": Pen("", "onnow"),
    "sheet": Pen("", "sheet"),
    "now": Pen("", "now"),
    "now_line": Pen("now", "", 6),
    "new_limit": Pen("", "bluew"),
    "within": Pen("", "blue"),
    "within_disc": Pen("sheet", "blue", 1.5),
    "within_line": Pen("blue", "", 2),
    "within_open": Pen("blue", "sheet", 1.6),
    "out": Pen("", "red"),
    "out_line": Pen("red", "", 2.6),
    "out_open": Pen("red", "sheet", 1.6),
    "close": Pen("", "ink"),
    "close_line": Pen("ink", "", 1.5),
    "close_open": Pen("ink", "sheet", 1.5),
    "halo": Pen("sheet", "", 5.6),
    **{role: Pen("hatch", "", _HATCHES[role][2]) for role in _HATCHES},
}
"""Every role a shape may have."""

_PAPER = {"ink": "#000", "ink2": "#333", "hair": "#999", "sheet": "#fff", "blue": "#000", "red": "#000",
          "bluew": "#eee", "now": "#fff", "onnow": "#000", "hatch": "#555"}  # fmt: skip
_FACES = {"sans": "Atkinson Hyperlegible Next", "serif": "Source Serif 4"}


def svg(drawing: Drawing, prefix: str = "d", printed: bool = False, named: bool = True) -> str:
    """One `<svg>` element, complete in itself.

    `prefix` keeps the ids of several drawings on one page apart. `printed` gives the black variant for paper.
    `named=False` hides the drawing from readers of the page where the same is said beside it.
    """
    left, top, right, bottom = drawing.frame
    view = " ".join(_number(n) for n in (left, top, right - left, bottom - top))
    size = f'width="{_number(drawing.width)}" height="{_number(drawing.height)}" viewBox="{view}"'
    title = f"{prefix}-name"
    role = f'role="img" aria-labelledby={quoteattr(title)}' if named else 'aria-hidden="true"'
    name = f"<title id={quoteattr(title)}>{escape(drawing.name)}</title>" if named else ""
    body = "".join(_element(shape, printed) for shape in drawing.shapes)
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size} {role}>{name}{body}</svg>'


def css() -> str:
    """The style rules that give every role its pen on the page, by the page's custom properties."""
    rules = []
    for role, pen in PENS.items():
        rules.append(f".wm-{role}{{{_paint(pen, lambda token: f'var(--{token})')}}}")
    rules.append(".wm-sans{font-family:var(--sans)}.wm-serif{font-family:var(--serif)}")
    rules.append(".wm-sans,.wm-serif{font-variant-numeric:tabular-nums}")
    rules.append(".wm-letters{paint-order:stroke;stroke:var(--sheet);stroke-linejoin:round}")
    return "\n".join([*rules, _forced()])


def _forced() -> str:
    """Forced colours: lines, hatch and letters in the system's text colour, paper in its background."""
    strokes = ",".join(f".wm-{role}" for role, pen in PENS.items() if pen.stroke not in {"", "sheet"})
    fills = ",".join(f".wm-{role}" for role, pen in PENS.items() if pen.fill in {"ink", "ink2", "blue", "red"})
    return (
        f"@media (forced-colors:active){{{strokes}{{stroke:CanvasText}}{fills}{{fill:CanvasText}}"
        ".wm-now{fill:Highlight}.wm-on_now{fill:HighlightText}}"
    )


def record(drawing: Drawing) -> list[tuple[str, Box, str]]:
    """What was drawn, for tests: role, box and text of every shape, in order."""
    return [
        (shape.role, _rounded(box(shape)), shape.text if isinstance(shape, Text) else "")
        for shape in flat(drawing.shapes)
        if not isinstance(shape, Group)
    ]


def _rounded(one: Box) -> Box:
    left, top, right, bottom = (round(n, 2) for n in one)
    return (left, top, right, bottom)


def _number(value: float) -> str:
    text = f"{round(value, 2):.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _paint(pen: Pen, colour: Callable[[str], str]) -> str:
    return f"fill:{colour(pen.fill) if pen.fill else 'none'}" + (f";stroke:{colour(pen.stroke)}" if pen.stroke else "")


def _style(role: str, width: float, dash: str, printed: bool) -> str:
    """The attributes that all shapes share; a role that is not in PENS is a mistake of the caller and stops here."""
    pen = PENS[role]
    parts = [f' class="wm-{role}"'] if not printed else []
    if printed:
        parts.append(f' fill="{_PAPER[pen.fill] if pen.fill else "none"}"')
        if pen.stroke:
            parts.append(f' stroke="{_ink(role, pen)}"')
    if pen.stroke:
        parts.append(f' stroke-width="{_number(width or pen.width)}"')
        if dash or pen.dash:
            parts.append(f' stroke-dasharray="{dash or pen.dash}"')
    return "".join(parts)


def _ink(role: str, pen: Pen) -> str:
    # Paint that rings a part must still be seen in black; paint that fills leaves the paper white.
    return "#000" if role == "now_line" else _PAPER[pen.stroke]


def _element(shape: Shape, printed: bool) -> str:
    if isinstance(shape, Group):
        inside = "".join(_element(one, printed) for one in shape.shapes)
        return f'<g transform="translate({_number(shape.dx)},{_number(shape.dy)})">{inside}</g>'
    if isinstance(shape, Text):
        return _letters(shape, printed)
    style = _style(shape.role, shape.width, shape.dash, printed)
    if shape.role in _HATCHES and not isinstance(shape, Line):
        return _hatched(shape, style)
    if isinstance(shape, Line):
        return _line(shape, style, printed)
    if isinstance(shape, Circle):
        return _round(shape, style)
    if isinstance(shape, Rect):
        x, y, w, h = (_number(n) for n in (shape.x, shape.y, shape.w, shape.h))
        return f'<rect x="{x}" y="{y}" width="{w}" height="{h}"{style}/>'
    steps = "".join(letter + " ".join(_number(n) for n in numbers) for letter, numbers in shape.steps)
    return f'<path d="{steps}"{style}/>'


def _hatched(shape: Rect | Circle | Path, style: str) -> str:
    pitch, rising, _ = _HATCHES[shape.role]
    cuts = strokes(shape, pitch, rising)
    steps = "".join(f"M{_number(a)} {_number(b)}L{_number(c)} {_number(d)}" for (a, b), (c, d) in cuts)
    return f'<path d="{steps}"{style}/>' if steps else ""


def _round(shape: Circle, style: str) -> str:
    place = f'cx="{_number(shape.x)}" cy="{_number(shape.y)}"'
    if shape.ry:
        return f'<ellipse {place} rx="{_number(shape.r)}" ry="{_number(shape.ry)}"{style}/>'
    return f'<circle {place} r="{_number(shape.r)}"{style}/>'


def _line(shape: Line, style: str, printed: bool) -> str:
    ends = ((shape.start, shape.x1, shape.y1, shape.x2, shape.y2), (shape.end, shape.x2, shape.y2, shape.x1, shape.y1))
    tips = "".join(_element(tip, printed) for kind, *at in ends if kind for tip in (_tip(kind, *at),))
    a, b, c, d = (_number(n) for n in (shape.x1, shape.y1, shape.x2, shape.y2))
    return f'<line x1="{a}" y1="{b}" x2="{c}" y2="{d}"{style}/>{tips}'


def _tip(kind: str, x: float, y: float, from_x: float, from_y: float) -> Shape:
    """A filled arrowhead 13 long and 5.2 wide whose point is at (x, y), or a dot there."""
    if kind == "dot":
        return Circle(x, y, 3, "ink")
    turn = atan2(y - from_y, x - from_x) + pi
    sides = [(x + 13 * cos(turn) + s * 2.6 * sin(turn), y + 13 * sin(turn) - s * 2.6 * cos(turn)) for s in (1, -1)]
    return Path((("M", (x, y)), ("L", sides[0]), ("L", sides[1]), ("Z", ())), "ink")


def _letters(shape: Text, printed: bool) -> str:
    parts = [f' x="{_number(shape.x)}" y="{_number(shape.y)}" font-size="{_number(shape.size)}"']
    parts.append(f' text-anchor="{shape.anchor}"' if shape.anchor != "start" else "")
    parts.append(' font-weight="600"' if shape.bold else "")
    parts.append(' font-style="italic"' if shape.italic else "")
    text = escape(shape.text)
    if not printed:
        letters = (" wm-letters", ' stroke-width="5"') if shape.halo else ("", "")
        return f'<text class="wm-{shape.role} wm-{shape.face}{letters[0]}"{letters[1]}{"".join(parts)}>{text}</text>'
    parts.append(f' font-family="{_FACES[shape.face]}"')
    ink = f' fill="{_PAPER[PENS[shape.role].fill]}"'
    front = f"<text{''.join(parts)}{ink}>{text}</text>"
    if not shape.halo:
        return front
    # A typesetter may not know paint-order: the halo is its own text underneath.
    halo = 'fill="#fff" stroke="#fff" stroke-width="5" stroke-linejoin="round"'
    return f"<text{''.join(parts)} {halo}>{text}</text>{front}"


def extent(drawing: Drawing) -> Box:
    """The box round everything in the drawing, texts included."""
    return around(box(shape) for shape in flat(drawing.shapes))
