"""The engine taken apart: each part drawn by how far it has been read, one above the other as it comes off.

Thick outline: read. Dashed: not read. Long dash with two dots: still to come (a new part). Paint: the part that is out.
An engine of two banks shows the top of each bank by itself, side by side over the one block and crankshaft.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from witnessmark.draw import exploded_parts as drawn
from witnessmark.draw.exploded_parts import Drawn, PartState, Row
from witnessmark.draw.shape import Drawing, Line, Shape, Text

__all__ = ["MOST", "PARTS", "Apart", "PartState", "apart"]

MOST = 16  # cylinders in one row
MOST_IN_BANK = 8  # of two
PARTS = ("cam cover", "camshafts", "valves", "head", "head gasket", "pistons and rods", "block", "crankshaft")
_AXIS = 264.0


@dataclass(frozen=True, slots=True)
class Apart:
    """What is drawn: number of cylinders in the row, valves of one kind in a cylinder, and the parts' states by id.

    `banks` holds name and cylinders of each of two banks, drawn side by side; `cylinders` then says nothing. `opposed`
    is the engine whose crankcase is parted between them; with `cam_in_block` one camshaft is drawn for both. Numbers in
    `PartState.out` run through the first bank and on through the second.
    """

    cylinders: int
    inlets: int = 2
    parts: dict[str, PartState] = field(default_factory=dict)
    banks: tuple[tuple[str, int], ...] = ()
    opposed: bool = False
    cam_in_block: bool = False


def apart(engine: Apart, name: str) -> Drawing:
    """The engine taken apart, 800 x 612; parts without a state are left out.

    Raises ValueError for a part that this drawing does not know, for more than sixteen cylinders in a row, and for
    banks other than two of at most eight.
    """
    unknown = [part for part in engine.parts if part not in PARTS]
    if unknown:
        raise ValueError(f"no part {unknown[0]!r} is drawn: name one of {', '.join(PARTS)}")
    rows = _rows(engine)
    shapes: list[Shape] = []
    for part, state in engine.parts.items():
        found = _part(engine, rows, part, state)
        shapes += [shape for one, _ in found for shape in one]
        shapes += _label(rows, state, found[0][1])
    return Drawing(800, 612, name, (*shapes, *_axes(engine, rows)), (0, -6, 800, 606))


_ROWED: Mapping[str, Callable[[Row, PartState], Drawn]] = dict(zip(
    (part for part in PARTS if part != "block"),
    (drawn.cover, drawn.camshafts, drawn.valves, drawn.head, drawn.gasket, drawn.pistons, drawn.crankshaft),
    strict=True,
))  # fmt: skip


def _part(engine: Apart, rows: tuple[Row, ...], part: str, state: PartState) -> list[Drawn]:
    """A part as often as the engine has it."""
    if part == "block":
        return [drawn.block(rows, state, engine.opposed and len(rows) > 1)]
    one = part == "crankshaft" or (part == "camshafts" and engine.cam_in_block)
    return [_ROWED[part](row, state) for row in ((_shared(rows),) if one else rows)]


def _rows(engine: Apart) -> tuple[Row, ...]:
    """One row in the middle, or one to each side of it."""
    if not engine.banks:
        count = engine.cylinders
        if not 1 <= count <= MOST:
            raise ValueError(f"{count} cylinders in a row cannot be drawn: one to {MOST} can, a bank at a time")
        pitch = min(112.0, 448 / count) if count > 1 else 150.0
        return (Row(_AXIS - pitch * count / 2, pitch, count, engine.inlets),)
    counts = [count for _, count in engine.banks]
    if len(counts) != 2 or not all(1 <= count <= MOST_IN_BANK for count in counts):
        told = " and ".join(str(count) for count in counts)
        raise ValueError(f"banks of {told} cannot be drawn: two can, of one to {MOST_IN_BANK} cylinders each")
    pitch = min(112.0, 208 / max(counts))
    left, right = (_AXIS + side * 128 - pitch * count / 2 for side, count in zip((-1, 1), counts, strict=True))
    first = counts[0] * engine.inlets
    return (Row(left, pitch, counts[0], engine.inlets), Row(right, pitch, counts[1], engine.inlets, first))


def _shared(rows: tuple[Row, ...]) -> Row:
    """The row for what both banks share: a throw, or a pair of lobes, for each cylinder of the longer bank."""
    if len(rows) == 1:
        return rows[0]
    count = max(row.count for row in rows)
    pitch = min(112.0, 300 / count)
    return Row(_AXIS - pitch * count / 2, pitch, count, rows[0].per)


def _axes(engine: Apart, rows: tuple[Row, ...]) -> tuple[Shape, ...]:
    if len(rows) == 1:
        return (Line(_AXIS, -2, _AXIS, 606, "centre"),)
    found: list[Shape] = [Line(_AXIS, 426, _AXIS, 606, "centre")]
    for row, (name, _) in zip(rows, engine.banks, strict=True):
        found += [Line(row.middle, -2, row.middle, 297, "centre"), Line(row.middle, 318, row.middle, 430, "centre")]
        found.append(Text(row.middle, 312, f"{name} bank", "label", 16, "middle"))
    return tuple(found)


def _label(rows: tuple[Row, ...], state: PartState, y: float) -> tuple[Shape, ...]:
    title = (Line(max(rows[-1].right + 6, 494), y, 540, y, "thin", start="dot"),
             Text(550, y - 3, state.title, "ink", 18, bold=True))  # fmt: skip
    return (*title, *((Text(550, y + 17, state.note, "label"),) if state.note else ()))
