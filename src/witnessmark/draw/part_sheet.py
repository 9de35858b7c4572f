"""One whole part on one sheet, every characteristic of it as a dimension: term, value so far, mark and limit.

The part stands in the middle, true to its own proportions; the words stand left and right of it in the order in which
their places come from the top, so that no two leaders of one side cross. Only what is asked for is dimensioned.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from witnessmark.draw.extent import spread, text_width
from witnessmark.draw.mark import CLOSE, OUT, WITHIN, word
from witnessmark.draw.part import Part, Spot
from witnessmark.draw.part_cam import cam, journal, lobe
from witnessmark.draw.part_drive import drive
from witnessmark.draw.part_follower import follower
from witnessmark.draw.part_head import bolt, guide, seat
from witnessmark.draw.part_valve import spring, valve
from witnessmark.draw.shape import Drawing, Group, Line, Rect, Shape, Text

WIDTH, HEIGHT = 700.0, 560.0
COLUMN = 232.0  # room for words on each side
_TOP, _LOW = 3.0, 557.0
_MARKS = {"within": (WITHIN, False), "out": (OUT, False), "close": (CLOSE, False), CLOSE: (CLOSE, False),
          "so far": (CLOSE, True)}  # fmt: skip

PARTS: Mapping[str, Callable[[str], Part]] = {
    "valve": valve, "guide": guide, "seat": seat, "spring": spring, "follower": follower, "cam": cam, "lobe": lobe,
    "journal": journal, "drive": drive, "bolt": bolt,
}  # fmt: skip
"""Every part that has a sheet, by kind; what it takes is the valve gear, for the drive chain, belt or gear."""


@dataclass(frozen=True, slots=True)
class Row:
    """One characteristic as it is to be shown.

    `value` is "" where nothing is read; `mark_kind` is within, out, close, so far or "" (no verdict); `limit_words` are
    those of an entered limit ("least 5.940") or "".
    """

    id: str
    term: str
    value: str = ""
    mark_kind: str = ""
    limit_words: str = ""


@dataclass(frozen=True, slots=True)
class _Size:
    """One size of words: letters of term and limit, of the value, the air between two labels and between two lines."""

    small: float
    value: float
    gap: float
    lead: float = 3.0


_SIZES = (_Size(16, 20, 10), _Size(15, 18, 6), _Size(14, 16, 2), _Size(14, 14, 0, 0.5))


@dataclass(frozen=True, slots=True)
class _Label:
    """The words of one row with their place on the part; `shapes` stand from a top of 0 and a left of 0."""

    spot: Spot
    shapes: tuple[Shape, ...]
    height: float


def carried(kind: str, gear: str = "bucket_shim") -> tuple[str, ...]:
    """The ids of all characteristics that have a place on the sheet of this part, in no order of the trade.

    Raises ValueError for a part that has no sheet.
    """
    return tuple(_part(kind, gear).spots)


def part_sheet(kind: str, rows: Sequence[Row], gear: str = "bucket_shim") -> Drawing:
    """The sheet of one part, 700 x 560, with a label for each of `rows`; for the drive `gear` is chain, belt or gear.

    Raises ValueError for a part without a sheet, for a characteristic that the part does not have, for a mark that does
    not exist, and for more words than the sheet holds.
    """
    part = _part(kind, gear)
    strange = [row.id for row in rows if row.id not in part.spots]
    if strange:
        raise ValueError(f"{', '.join(strange)}: not on the sheet of this {kind}; it shows {', '.join(part.spots)}")
    left, right = _columns(part, rows)
    shapes: list[Shape] = [*part.shapes]
    for row in rows:
        shapes += part.spots[row.id].shapes
    for labels, at_left in ((left, True), (right, False)):
        shapes += _placed(labels, at_left)
    return Drawing(WIDTH, HEIGHT, _name(part, rows), tuple(shapes))


def _part(kind: str, gear: str) -> Part:
    if kind not in PARTS:
        raise ValueError(f"there is no sheet of a {kind}: name one of {', '.join(PARTS)}")
    return PARTS[kind](gear)


def _name(part: Part, rows: Sequence[Row]) -> str:
    read = sum(bool(row.value) for row in rows)
    return f"{part.name} with {len(rows)} dimensions, {read} read"


def _columns(part: Part, rows: Sequence[Row]) -> tuple[list[_Label], list[_Label]]:
    """Labels left and right at the largest size that fits; only then does what one side cannot hold go over."""
    for over in (False, True):
        for size in _SIZES:
            labels = [_label(row, part.spots[row.id], size) for row in rows]
            left = [label for label in labels if label.spot.side == "left"]
            right = [label for label in labels if label.spot.side == "right"]
            if over:
                _relieve(left, right, size.gap, 1)
                _relieve(right, left, size.gap, -1)
            if max(_tall(left, size.gap), _tall(right, size.gap)) <= _LOW - _TOP:
                return _sorted(left), _sorted(right)
    raise ValueError(f"{len(rows)} rows are more than one sheet holds: show them on two sheets")


def _sorted(labels: Iterable[_Label]) -> list[_Label]:
    return sorted(labels, key=lambda label: (label.spot.at[1], label.spot.at[0]))


def _tall(labels: Sequence[_Label], gap: float) -> float:
    return sum(label.height for label in labels) + gap * max(len(labels) - 1, 0)


def _relieve(full: list[_Label], other: list[_Label], gap: float, towards: int) -> None:
    """Move the labels whose places lie nearest to the other side until the side fits or both are alike."""
    while _tall(full, gap) > _LOW - _TOP and _tall(other, gap) < _tall(full, gap):
        nearest = max(full, key=lambda label: towards * label.spot.at[0])
        full.remove(nearest)
        other.append(nearest)


def _label(row: Row, spot: Spot, size: _Size) -> _Label:
    """Term, then mark and value, then the limit in its box: on the line of the value where it fits."""
    if row.mark_kind and row.mark_kind not in _MARKS:
        raise ValueError(f"{row.id}: no mark is called {row.mark_kind!r}: say one of {', '.join(_MARKS)} or nothing")
    shapes: list[Shape] = []
    y = 0.0
    for line in wrapped(row.term, size.small, COLUMN):
        y += size.small * 0.95 + size.lead
        shapes.append(Text(0, y - 2, line, "label", size.small))
    x = 54.0 if row.mark_kind else 0.0
    base = y + size.value * 0.8 + size.lead
    if row.mark_kind:
        shapes.append(Group(word(*_MARKS[row.mark_kind]).shapes, 0, base - size.value * 0.34 - 10))
    bold = row.mark_kind in {"out", "close", CLOSE}
    for i, line in enumerate(wrapped(row.value or "–", size.value, COLUMN - x, bold)):
        base += (size.value + size.lead) * bool(i)
        shapes.append(Text(x, base, line, "ink", size.value, bold=bold))
    y = base + size.value * 0.22 + size.lead
    if row.limit_words:
        used = x + text_width(row.value or "–", size.value, bold) + 14
        beside = used + text_width(row.limit_words, size.small) + 7 <= COLUMN
        limit, y = _limit(row.limit_words, size, used if beside else 8.0, base if beside else 0.0, y)
        shapes += limit
    return _Label(spot, tuple(shapes), y)


def _limit(words: str, size: _Size, x: float, base: float, y: float) -> tuple[list[Shape], float]:
    """The limit in its box, beside the value where `base` says so, else on lines of its own; and where it ends."""
    lines = wrapped(words, size.small, COLUMN - x - 8)
    first = base or y + size.small * 0.8 + 2
    wide = max(text_width(line, size.small) for line in lines)
    step = size.small + 2
    low = first + step * (len(lines) - 1) + size.small * 0.22 + 2
    box = Rect(x - 6, first - size.small * 0.8 - 1, wide + 12, low - first + size.small * 0.8, "thin")
    texts = [Text(x, first + step * i, line, "ink", size.small) for i, line in enumerate(lines)]
    return [box, *texts], max(y, low)


def wrapped(text: str, size: float, room: float, bold: bool = False) -> list[str]:
    """The words of `text` on as few lines as `room` allows; a single word that is too long is cut where it must."""
    lines: list[str] = []
    for each in text.split():
        piece = each
        if lines and text_width(f"{lines[-1]} {piece}", size, bold) <= room:
            lines[-1] = f"{lines[-1]} {piece}"
            continue
        while text_width(piece, size, bold) > room and len(piece) > 1:
            keep = next(n for n in range(len(piece) - 1, 0, -1) if n == 1 or text_width(piece[:n], size, bold) <= room)
            lines.append(piece[:keep])
            piece = piece[keep:]
        lines.append(piece)
    return lines or ["–"]


def _placed(labels: Sequence[_Label], at_left: bool) -> list[Shape]:
    """The labels of one side beside their places, each with its leader."""
    if not labels:
        return []
    gap = min(10.0, (_LOW - _TOP - _tall(labels, 0)) / max(len(labels) - 1, 1))
    wanted = [(label.spot.at[1], label.height) for label in labels]
    x = 6.0 if at_left else WIDTH - COLUMN - 4
    found: list[Shape] = []
    for label, centre in zip(labels, _spread(wanted, gap), strict=True):
        top = centre - label.height / 2
        found.append(Group(label.shapes, x, top))
        found += _leader(label, top, at_left)
    return found


def _spread(wanted: Sequence[tuple[float, float]], gap: float) -> tuple[float, ...]:
    """Centres in the order given, also where two places are at one height."""
    nudged = [(centre + 1e-6 * i, tall) for i, (centre, tall) in enumerate(wanted)]
    return spread(nudged, _TOP, _LOW, gap)


def _leader(label: _Label, top: float, at_left: bool) -> tuple[Shape, ...]:
    """A short line under the term's level towards the part, then straight to the place."""
    y = top + 10
    edge = COLUMN + 6 if at_left else WIDTH - COLUMN - 8
    knee = edge + (8 if at_left else -8)
    x, at = label.spot.at
    return (Line(knee, y, x, at, "faint", end="dot"), Line(edge, y, knee, y, "faint"))
