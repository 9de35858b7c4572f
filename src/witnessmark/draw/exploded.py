"""The engine taken apart: each part drawn by how far it has been read, one above the other as it comes off.

Thick outline: read. Dashed: not read. Long dash with two dots: still to come (a new part). Paint: the part that is out.
"""

from dataclasses import dataclass, field

from witnessmark.draw.mark import saltire
from witnessmark.draw.shape import Circle, Drawing, Line, Rect, Shape, Text, path, polygon

_LINE = {"read": "part", "not read": "hidden", "to come": "phantom"}
MOST = 16  # cylinders in one row
PARTS = ("cam cover", "camshafts", "valves", "head", "head gasket", "pistons and rods", "block", "crankshaft")


@dataclass(frozen=True, slots=True)
class PartState:
    """How one part stands: `state` is read, not read or to come; `note` what is said under its name.

    `out` are the places (from 0, front first) of its pieces that are out of an entered limit; `painted` marks the part
    where work goes on now.
    """

    title: str
    state: str = "not read"
    note: str = ""
    out: tuple[int, ...] = ()
    painted: bool = False


@dataclass(frozen=True, slots=True)
class Apart:
    """What is drawn: number of cylinders in the row, valves of one kind in a cylinder, and the parts' states by id."""

    cylinders: int
    inlets: int = 2
    parts: dict[str, PartState] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Row:
    """One row of cylinders across the picture: left edge, pitch, right edge."""

    left: float
    pitch: float
    count: int
    per: int

    @property
    def right(self) -> float:
        return self.left + self.pitch * self.count

    def centre(self, index: int) -> float:
        return self.left + (index + 0.5) * self.pitch

    def fit(self, size: float) -> float:
        """A size that suits up to eight cylinders, less where more stand closer."""
        return size * min(1.0, self.pitch / 56)

    def valve(self, index: int) -> float:
        """The place of a valve, front first."""
        cylinder, place = divmod(index, self.per)
        step = self.pitch * 0.46
        return self.centre(cylinder) + (place - (self.per - 1) / 2) * step


def apart(engine: Apart, name: str) -> Drawing:
    """The engine of one row taken apart, 800 x 612; parts without a state are left out.

    Raises ValueError for a part that this drawing does not know, and for more than sixteen cylinders in a row.
    """
    unknown = [part for part in engine.parts if part not in PARTS]
    if unknown:
        raise ValueError(f"no part {unknown[0]!r} is drawn: name one of {', '.join(PARTS)}")
    if not 1 <= engine.cylinders <= MOST:
        raise ValueError(f"{engine.cylinders} cylinders in a row cannot be drawn: one to {MOST} can, a bank at a time")
    pitch = min(112.0, 448 / engine.cylinders) if engine.cylinders > 1 else 150.0
    row = _Row(264 - pitch * engine.cylinders / 2, pitch, engine.cylinders, engine.inlets)
    shapes: list[Shape] = []
    for part, state in engine.parts.items():
        drawn, level = _DRAW[part](row, state)
        shapes += [*drawn, *_label(row, state, level)]
    shapes.append(Line(264, -2, 264, 606, "centre"))
    return Drawing(800, 612, name, tuple(shapes), (0, -6, 800, 606))


def _label(row: _Row, state: PartState, y: float) -> tuple[Shape, ...]:
    title = (Line(max(row.right + 6, 494), y, 540, y, "thin", start="dot"),
             Text(550, y - 3, state.title, "ink", 18, bold=True))  # fmt: skip
    return (*title, *((Text(550, y + 17, state.note, "label"),) if state.note else ()))


_Drawn = tuple[tuple[Shape, ...], float]


def _pen(state: PartState) -> str:
    if state.state not in _LINE:
        raise ValueError(f"a part is read, not read or to come, not {state.state!r}")
    return _LINE[state.state]


def _cover(row: _Row, state: PartState) -> _Drawn:
    pen, left, right = _pen(state), row.left + 6, row.right - 6
    body = path(pen, "M", left, 48, "L", left, 22, "Q", left, 12, left + 12, 12, "L", right - 12, 12,
                "Q", right, 12, right, 22, "L", right, 48, "Z")  # fmt: skip
    half = row.fit(14)
    ribs = tuple(Line(row.centre(i) - half, 30, row.centre(i) + half, 30, "thin") for i in range(row.count))
    rim = polygon(pen, [(left - 8, 48), (right + 8, 48), (right + 8, 54), (left - 8, 54)])
    return (Rect(left + 34, 2, 44, 10, pen), body, rim, *ribs), 29


def _camshafts(row: _Row, state: PartState) -> _Drawn:
    pen = _pen(state)
    shapes: list[Shape] = [Rect(row.left - 18, 80, row.pitch * row.count + 22, 10, pen)]
    shapes.append(Rect(row.left - 30, 63, 14, 44, pen))
    for i in range(row.count):
        x = row.centre(i)
        shapes.append(Rect(x - row.fit(9), 76, row.fit(18), 18, pen))
        for place, (top, low) in ((-0.27, (70, 94) if i % 2 == 0 else (76, 100)), (0.27, (76, 100))):
            shapes.append(Rect(x + place * row.pitch - row.fit(8), top, row.fit(16), low - top, pen))
    return tuple(shapes), 85


def _valves(row: _Row, state: PartState) -> _Drawn:
    pen = _pen(state)
    shapes: list[Shape] = []
    for i in range(row.count * row.per):
        x = row.valve(i)
        half = min(15.0, row.pitch * 0.2)
        sides = [(x - 2.5, 118), (x - 2.5, 168), (x - half, 175), (x - half, 178)]
        shapes.append(polygon(pen, [*sides, *((2 * x - a, b) for a, b in reversed(sides))], 1.6))
        if i in state.out:
            shapes += saltire(x + row.fit(17), 136, row.fit(6.4), 2.9)
    return tuple(shapes), 148


def _head(row: _Row, state: PartState) -> _Drawn:
    pen = _pen(state)
    left, right = row.left, row.right
    paint = (Rect(left, 258, right - left, 12, "now"),) if state.painted else ()
    width = 3.0 if pen == "part" else 0.0
    sides = (Rect(left, 196, right - left, 74, pen, width),)
    lines = (Line(left, 212, right, 212, "thin"), Line(left, 258, right, 258, "thin"))
    ports = tuple(Circle(row.valve(i), 235, min(16, row.pitch * 0.2), pen, ry=12) for i in range(row.count * row.per))
    return (*sides, *paint, *((Rect(left, 196, right - left, 74, "outline", 3),) if paint else ()), *lines, *ports), 233


def _gasket(row: _Row, state: PartState) -> _Drawn:
    return (Rect(row.left, 288, row.right - row.left, 7, _pen(state)),), 292


def _pistons(row: _Row, state: PartState) -> _Drawn:
    pen = _pen(state)
    shapes: list[Shape] = []
    for i in range(row.count):
        x, top = row.centre(i), 318 + (6 if i % 4 in {1, 2} else 0)
        half = row.pitch * 0.32
        shapes.append(Rect(x - half, top, 2 * half, 36, pen))
        shapes += [Line(x - half, top + y, x + half, top + y, pen if pen != "part" else "thin") for y in (7, 13)]
        shapes += [Circle(x, top + 24, row.fit(7), pen), Circle(x, top + 76, row.fit(13), pen)]
        rod = "outline" if pen == "part" else pen
        shapes += [Line(x + s * row.fit(6), top + 36, x + s * row.fit(9), top + 64, rod) for s in (-1, 1)]
    return tuple(shapes), 363


def _block(row: _Row, state: PartState) -> _Drawn:
    pen, left, right = _pen(state), row.left, row.right
    body = polygon(pen, [(left, 420), (right, 420), (right, 508), (right - 10, 508), (right - 10, 524),
                         (left + 10, 524), (left + 10, 508), (left, 508)])  # fmt: skip
    bore = row.pitch * 0.33
    walls = tuple(
        Line(row.centre(i) + s * bore, 420, row.centre(i) + s * bore, 492, "outline" if pen == "part" else pen)
        for i in range(row.count)
        for s in (-1, 1)
    )
    return (body, *walls), 472


def _crankshaft(row: _Row, state: PartState) -> _Drawn:
    pen = _pen(state)
    shapes: list[Shape] = [Rect(row.left - 24, 554, 24, 12, pen)]
    for i in range(row.count + 1):
        shapes.append(Rect(row.left + i * row.pitch - row.fit(11), 548, row.fit(22), 24, pen))
    for i in range(row.count):
        up = i % 4 in {1, 2}
        x, half = row.centre(i), row.pitch * 0.143
        web, pin = (530, 534) if up else (548, 562)
        shapes.append(Rect(x - half, pin, 2 * half, 24, pen))
        outer = row.pitch / 2 - row.fit(11)
        shapes += [Rect(x - outer, web, outer - half, 42, pen), Rect(x + half, web, outer - half, 42, pen)]
    return tuple(shapes), 560


_DRAW = dict(zip(PARTS, (_cover, _camshafts, _valves, _head, _gasket, _pistons, _block, _crankshaft), strict=True))
