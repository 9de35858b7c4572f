"""The parts of an engine taken apart, each drawn for one row of cylinders by how far it has been read."""

from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.draw.mark import saltire
from witnessmark.draw.shape import Circle, Line, Rect, Shape, path, polygon

_LINE = {"read": "part", "not read": "hidden", "to come": "phantom"}


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
class Row:
    """One row of cylinders across the picture: left edge, pitch, number, valves of one kind in each.

    `first` is the number of valves in the rows before it.
    """

    left: float
    pitch: float
    count: int
    per: int
    first: int = 0

    @property
    def right(self) -> float:
        """Right edge."""
        return self.left + self.pitch * self.count

    @property
    def middle(self) -> float:
        """The axis of the row."""
        return (self.left + self.right) / 2

    def centre(self, index: int) -> float:
        """The axis of the cylinder at `index` from the front."""
        return self.left + (index + 0.5) * self.pitch

    def fit(self, size: float) -> float:
        """A size that suits up to eight cylinders, less where more stand closer."""
        return size * min(1.0, self.pitch / 56)

    def valve(self, index: int) -> float:
        """The place of a valve, front first."""
        cylinder, place = divmod(index, self.per)
        step = self.pitch * 0.46
        return self.centre(cylinder) + (place - (self.per - 1) / 2) * step


Drawn = tuple[tuple[Shape, ...], float]


def line_of(state: PartState) -> str:
    """The line that tells how far a part has been read."""
    if state.state not in _LINE:
        raise ValueError(f"a part is read, not read or to come, not {state.state!r}")
    return _LINE[state.state]


def cover(row: Row, state: PartState) -> Drawn:
    """The cam or rocker cover."""
    pen, left, right = line_of(state), row.left + 6, row.right - 6
    body = path(pen, "M", left, 48, "L", left, 22, "Q", left, 12, left + 12, 12, "L", right - 12, 12,
                "Q", right, 12, right, 22, "L", right, 48, "Z")  # fmt: skip
    half = row.fit(14)
    ribs = tuple(Line(row.centre(i) - half, 30, row.centre(i) + half, 30, "thin") for i in range(row.count))
    rim = polygon(pen, [(left - 8, 48), (right + 8, 48), (right + 8, 54), (left - 8, 54)])
    return (Rect(left + 34, 2, 44, 10, pen), body, rim, *ribs), 29


def camshafts(row: Row, state: PartState) -> Drawn:
    """One camshaft with its drive, seen from the side."""
    pen = line_of(state)
    shapes: list[Shape] = [Rect(row.left - 18, 80, row.pitch * row.count + 22, 10, pen)]
    shapes.append(Rect(row.left - 30, 63, 14, 44, pen))
    for i in range(row.count):
        x = row.centre(i)
        shapes.append(Rect(x - row.fit(9), 76, row.fit(18), 18, pen))
        for place, (top, low) in ((-0.27, (70, 94) if i % 2 == 0 else (76, 100)), (0.27, (76, 100))):
            shapes.append(Rect(x + place * row.pitch - row.fit(8), top, row.fit(16), low - top, pen))
    return tuple(shapes), 85


def valves(row: Row, state: PartState) -> Drawn:
    """The valves of one kind, a saltire beside each that is out."""
    pen = line_of(state)
    shapes: list[Shape] = []
    for i in range(row.count * row.per):
        x = row.valve(i)
        half = min(15.0, row.pitch * 0.2)
        sides = [(x - 2.5, 118), (x - 2.5, 168), (x - half, 175), (x - half, 178)]
        shapes.append(polygon(pen, [*sides, *((2 * x - a, b) for a, b in reversed(sides))], 1.6))
        if row.first + i in state.out:
            shapes += saltire(x + row.fit(17), 136, row.fit(6.4), 2.9)
    return tuple(shapes), 148


def head(row: Row, state: PartState) -> Drawn:
    """A head with its ports, its gasket face painted where work goes on."""
    pen = line_of(state)
    left, right = row.left, row.right
    paint = (Rect(left, 258, right - left, 12, "now"),) if state.painted else ()
    width = 3.0 if pen == "part" else 0.0
    sides = (Rect(left, 196, right - left, 74, pen, width),)
    lines = (Line(left, 212, right, 212, "thin"), Line(left, 258, right, 258, "thin"))
    ports = tuple(Circle(row.valve(i), 235, min(16, row.pitch * 0.2), pen, ry=12) for i in range(row.count * row.per))
    return (*sides, *paint, *((Rect(left, 196, right - left, 74, "outline", 3),) if paint else ()), *lines, *ports), 233


def gasket(row: Row, state: PartState) -> Drawn:
    """The head gasket."""
    return (Rect(row.left, 288, row.right - row.left, 7, line_of(state)),), 292


def pistons(row: Row, state: PartState) -> Drawn:
    """Pistons and rods."""
    pen = line_of(state)
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


def block(rows: Sequence[Row], state: PartState, opposed: bool = False) -> Drawn:
    """The block under its rows of cylinders: a valley between the decks of two, or the joint of an opposed engine."""
    pen, left, right = line_of(state), rows[0].left, rows[-1].right
    top = [(left, 420.0), (right, 420.0)]
    if len(rows) > 1 and not opposed:
        top[1:1] = [
            (rows[0].right, 420.0),
            (rows[0].right + 8, 452.0),
            (rows[1].left - 8, 452.0),
            (rows[1].left, 420.0),
        ]
    body = polygon(pen, [*top, (right, 508), (right - 10, 508), (right - 10, 524), (left + 10, 524), (left + 10, 508),
                         (left, 508)])  # fmt: skip
    wall = "outline" if pen == "part" else pen
    walls = tuple(
        Line(row.centre(i) + s * row.pitch * 0.33, 420, row.centre(i) + s * row.pitch * 0.33, 492, wall)
        for row in rows
        for i in range(row.count)
        for s in (-1, 1)
    )
    middle = (left + right) / 2
    joint = (Line(middle, 420, middle, 524, wall),) if opposed else ()
    return (body, *walls, *joint), 472


def crankshaft(row: Row, state: PartState) -> Drawn:
    """The crankshaft with a throw for each cylinder of a row."""
    pen = line_of(state)
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
