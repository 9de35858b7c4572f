"""The verdict mark: a body that must fit in the gap between the walls.

    within             solid bar, filled disc
    too close to call  hollow bar, ring
    out                solid bar with a halo, saltire
    so far             the same pen, nothing filled, dashed: the series is not finished
    leaves             a bar from the leaf that enters to the leaf that does not; left end capped, right end open
    not measured       a dashed line

The bar runs over the doubt that decided the verdict: it is clear of the wall exactly where the verdict is `within` and
wholly in the wall where it is `out`. Shape and word carry the verdict; the pen only repeats it.

Sizes   row 262 x 56 (any width), cell 48 x 29 to 104 x 36, word 46 x 20.
"""

from dataclasses import dataclass, field
from math import floor, pi

from witnessmark.draw.scale import Scale, Wall
from witnessmark.draw.shape import Circle, Drawing, Line, Path, Rect, Shape, path, polygon

WITHIN, OUT, CLOSE = "within", "out", "too close to call"
_ROLE = {WITHIN: "within", OUT: "out", CLOSE: "close"}
_REACH = 16.0  # how far from the end a mark stands whose value lies off the scale: room for its arrow


@dataclass(frozen=True, slots=True)
class Mark:
    """One judged value, in the unit of its limits.

    `bar` is the stretch of doubt that decided; `interval` stands instead of `value` for leaves (upper end None: the
    thickest leaf enters); `raws` are the single readings; `before` the value from which a prediction starts.
    """

    value: float | None = None
    wall: Wall = field(default_factory=Wall)
    bar: tuple[float, float] | None = None
    verdict: str = ""
    so_far: bool = False
    raws: tuple[float, ...] = ()
    interval: tuple[float, float | None] | None = None
    before: float | None = None


@dataclass(frozen=True, slots=True)
class Size:
    """Measures of one size of mark, in pixels; `point` is the disc's radius, the ring's is that of its centre line."""

    point: float
    ring: float
    ring_width: float
    open_ring: float
    saltire: float
    bar: float
    cap: float
    leaf: float
    leaf_cap: float
    open_cap: float


ROW = Size(6.2, 5.2, 2.4, 6.2, 5.7, 9, 14, 9, 14, 12)
CELL = Size(5.4, 4.4, 2.1, 5.2, 5.0, 5, 10, 6, 11, 10)
WORD = Size(5.2, 5.0, 2.3, 5.2, 5.5, 5, 10, 6, 11, 10)


def row(mark: Mark, scale: Scale, name: str, wall: bool = False, height: float = 56) -> Drawing:
    """The mark of one row. The wall of a column is drawn once, by `column.wall`; `wall=True` draws this row's own."""
    own = walls(mark.wall, scale, height, "wall") if wall else ()
    return Drawing(scale.width, height, name, (*own, *_row(mark, scale)))


def _row(mark: Mark, scale: Scale) -> tuple[Shape, ...]:
    axis = 28.0
    if mark.value is None and mark.interval is None:
        return (Line(0, axis, scale.width, axis, "hidden"),)
    line = Line(0, axis, scale.width, axis, "hair")
    ticks = tuple(
        Line(scale.x(raw), 9, scale.x(raw), 15, "thin") for raw in mark.raws if scale.shows(raw) and mark.before is None
    )
    return (line, *_gap(mark.wall, scale, axis), *ticks, *_before(mark, scale, 9), *body(mark, scale, axis + 2, ROW))


def cell(mark: Mark, scale: Scale, name: str, height: float = 29, framed: bool = True) -> Drawing:
    """The mark in a cell of a table. Here the verdict rules the place: see `_ruled`.

    A cell that is out has a frame where many cells are scanned; a table of a few rows goes without (`framed=False`).
    """
    middle = height / 2
    shapes = walls(mark.wall, scale, height, "wall_small")
    if mark.value is None and mark.interval is None:
        empty = Line(4, middle, scale.width - 4, middle, "hidden", dash=_DASH)
        return Drawing(scale.width, height, name, (*shapes, empty))
    ruled = _ruled(_shortened(mark, scale), scale)
    out = mark.verdict == OUT
    # The halo of a saltire must not eat the edge it lies beside, so the edge comes once more on top of it.
    top = edges(mark.wall, scale, height, "wall_small") if out and not mark.so_far else ()
    frame = (Rect(1, 1, scale.width - 2, height - 2, "out_line", 2),) if out and framed else ()
    seen = (*_gap(mark.wall, scale, middle), *_before(mark, scale, middle - 9), *body(ruled, scale, middle, CELL))
    return Drawing(scale.width, height, name, (*shapes, *seen, *top, *frame))


def word(verdict: str, so_far: bool = False) -> Drawing:
    """The small mark that stands before a verdict word: two walls and the point; a dashed line for not measured."""
    if not verdict:
        return Drawing(46, 20, "not measured", (Line(2, 10, 44, 10, "hidden", dash=_DASH),))
    scale = Scale(0, 46, 46)
    value = {WITHIN: 23.0, CLOSE: 36.0, OUT: 40.0}[verdict]
    bar = {WITHIN: (15.0, 31.0), CLOSE: (27.0, 45.0), OUT: None}[verdict]
    mark = Mark(value, Wall(10, 36), bar, verdict, so_far)
    top = edges(mark.wall, scale, 20, "wall_small") if verdict == OUT and not so_far else ()
    shapes = (*walls(mark.wall, scale, 20, "wall_small"), *body(mark, scale, 10, WORD), *top)
    return Drawing(46, 20, verdict + (", so far" if so_far else ""), shapes)


_DASH = "4 2.6"


def walls(wall: Wall, scale: Scale, height: float, role: str) -> tuple[Shape, ...]:
    """Hatch from each limit to the end of the scale, and the heavy edge at the limit."""
    top = 0.0 if role == "wall" else 2.0
    hatch = tuple(
        Rect(left, top, right - left, height - 2 * top, role)
        for limit, low in ((wall.low, True), (wall.high, False))
        if limit is not None
        for left, right in (((0.0, scale.clip(limit)) if low else (scale.clip(limit), scale.width)),)
        if right > left
    )
    return (*hatch, *edges(wall, scale, height, role))


def edges(wall: Wall, scale: Scale, height: float, role: str) -> tuple[Shape, ...]:
    """The heavy edges alone: 3 px through the full row, 2 px in small marks."""
    inset, width = (0.0, 3.0) if role == "wall" else (1.0, 2.0)
    limits = [limit for limit in (wall.low, wall.high) if limit is not None and scale.shows(limit)]
    return tuple(Line(scale.x(x), inset, scale.x(x), height - inset, "edge", width) for x in limits)


def _gap(wall: Wall, scale: Scale, y: float) -> tuple[Shape, ...]:
    """A dashed line through a gap in which this gauge can prove nothing."""
    if wall.settles or wall.low is None or wall.high is None:
        return ()
    return (Line(scale.clip(wall.low), y, scale.clip(wall.high), y, "close_line", 1.5, _DASH),)


def _before(mark: Mark, scale: Scale, y: float) -> tuple[Shape, ...]:
    """Tick at the value before the work, phantom line to the predicted place, tick down to the mark."""
    if mark.before is None or mark.value is None:
        return ()
    was, now = scale.clip(mark.before), scale.clip(mark.value)
    return (
        Line(was, y - 5, was, y + 5, "thin"),
        Line(was, y, now, y, "phantom"),
        Line(now, y - 3, now, y + 6, "thin"),
    )


def _shortened(mark: Mark, scale: Scale) -> Mark:
    """In a cell a bar of half length 7 or less says nothing, and a leaf interval that short becomes a point."""
    if mark.interval is not None:
        low, high = mark.interval
        if high is None or abs(scale.x(high) - scale.x(low)) / 2 > 7:
            return mark
        return Mark((low + high) / 2, mark.wall, None, mark.verdict, mark.so_far)
    if mark.bar and (scale.x(mark.bar[1]) - scale.x(mark.bar[0])) / 2 > 7:
        return mark
    return Mark(mark.value, mark.wall, None, mark.verdict, mark.so_far)


def _ruled(mark: Mark, scale: Scale) -> Mark:
    """At this size the verdict rules the place: a disc stays 2.5 px clear of the wall, a saltire wholly inside it."""
    if mark.value is None or not scale.shows(mark.value):
        return mark
    x, wall = scale.x(mark.value), mark.wall
    low, high = (None if limit is None else scale.x(limit) for limit in (wall.low, wall.high))
    if mark.verdict == WITHIN:
        room = CELL.point + 2.5
        left, right = (low or 0) + room if low is not None else CELL.point, scale.width - CELL.point
        right = high - room if high is not None else right
        x = (left + right) / 2 if left > right else min(max(x, left), right)
    elif mark.verdict == OUT:
        x = _inside(x, low, high, scale.width)
    else:
        x = min(max(x, CELL.point), scale.width - CELL.point)
    return Mark(scale.lo + x / scale.width * (scale.hi - scale.lo), wall, mark.bar, mark.verdict, mark.so_far)


def _inside(x: float, low: float | None, high: float | None, width: float) -> float:
    """Wholly inside the nearer wall, and inside the picture."""
    reach = CELL.saltire + 0.5
    in_low = high is None or (low is not None and abs(x - low) < abs(x - high))
    if in_low and low is not None:
        x = min(x, low - reach)
    elif high is not None:
        x = max(x, high + reach)
    return min(max(x, reach), width - reach)


def body(mark: Mark, scale: Scale, y: float, size: Size) -> tuple[Shape, ...]:
    """Bar and point (or leaf interval) of a mark on the line `y`."""
    if mark.interval is not None:
        return _leaf_body(mark, scale, y, size)
    if mark.value is None:
        return ()
    if not scale.shows(mark.value):
        return _off(mark, scale, y, size)
    bar: tuple[Shape, ...] = ()
    if mark.bar and mark.wall.settles:
        left, right = (scale.clip(end) for end in mark.bar)
        bar = _bar(mark, left, right, y, size, caps=tuple(scale.clip(end) for end in mark.bar if scale.shows(end)))
    return (*bar, *point(mark.verdict, mark.so_far, scale.x(mark.value), y, size))


def _off(mark: Mark, scale: Scale, y: float, size: Size) -> tuple[Shape, ...]:
    """A value off the scale: the point near the end, an arrow outward."""
    assert mark.value is not None
    low = mark.value < scale.lo
    x = _REACH if low else scale.width - _REACH
    return (*point(mark.verdict, mark.so_far, x, y, size), _outward(low, scale, y))


def _outward(low: bool, scale: Scale, y: float) -> Path:
    tip, back = (1.0, 7.0) if low else (scale.width - 1, scale.width - 7)
    return polygon("ink", [(tip, y), (back, y - 3.5), (back, y + 3.5)])


def _leaf_body(mark: Mark, scale: Scale, y: float, size: Size) -> tuple[Shape, ...]:
    assert mark.interval is not None
    low, high = mark.interval
    left = scale.clip(low)
    right = scale.width - 8 if high is None else scale.clip(high)
    arrow: tuple[Shape, ...] = ()
    if high is None or low > scale.hi:
        left, right = min(left, scale.width - _REACH - 4), scale.width - 9
        arrow = (_outward(False, scale, y),)
    elif high < scale.lo:
        left, right = 9.0, _REACH + 4
        arrow = (_outward(True, scale, y),)
    caps = (left,) if scale.shows(low) else ()
    return (*_bar(mark, left, right, y, size, caps=caps, leaf=True), *arrow)


def _bar(
    mark: Mark, left: float, right: float, y: float, size: Size, *, caps: tuple[float, ...], leaf: bool = False
) -> tuple[Shape, ...]:
    """The bar by its verdict, with a cap at each place of `caps`."""
    role = _ROLE.get(mark.verdict, "close")
    thick, tall = (size.leaf, size.leaf_cap) if leaf else (size.bar, size.cap)
    if mark.so_far:
        half = size.open_cap / 2
        line = Line(left, y, right, y, f"{role}_line", 1.5, _DASH)
        return (line, *(Line(x, y - half, x, y + half, f"{role}_line", 1.5) for x in caps))
    closed = tuple(Rect(x - 1, y - tall / 2, 2, tall, role) for x in caps)
    solid = Rect(left, y - thick / 2, right - left, thick, "close_open" if role == "close" else role)
    if role == "out":
        halo = Rect(left - 1.5, y - thick / 2 - 1.5, right - left + 3, thick + 3, "sheet")
        return (halo, solid, *closed)
    return (solid, *closed)


def point(verdict: str, so_far: bool, x: float, y: float, size: Size = WORD) -> tuple[Shape, ...]:
    """The point alone: disc, ring or saltire; a dashed ring for a series that is not finished."""
    role = _ROLE.get(verdict)
    if role is None:
        return (Circle(x, y, 3, "ink"),)
    if so_far:
        step = 2 * pi * size.open_ring / 7  # seven dashes
        return (Circle(x, y, size.open_ring, f"{role}_open", 1.6, f"{step * 0.62:.2f} {step * 0.38:.2f}"),)
    if role == "within":
        return (Circle(x, y, size.point, "within_disc"),)
    if role == "close":
        return (Circle(x, y, size.ring, "close_open", size.ring_width),)
    return saltire(x, y, size.saltire, 0.42 * size.point)


def saltire(x: float, y: float, half: float, width: float) -> tuple[Shape, ...]:
    """A cross on its side over a halo of the sheet."""
    steps = ("M", x - half, y - half, "L", x + half, y + half, "M", x + half, y - half, "L", x - half, y + half)
    return (path("halo", *steps, width=width + 3), path("out_line", *steps, width=width))


def chance(p: float) -> str:
    """A chance in two decimals, rounded towards doubt: 0.9452 is 0.94, so that it can never read 0.95.

    >>> chance(0.9452), chance(0.0511), chance(0.74)
    ('0.94', '0.06', '0.74')
    """
    hundredths = floor(p * 100 + 1e-9) if p >= 0.5 else -floor(-p * 100 + 1e-9)
    return f"{hundredths / 100:.2f}"


_SPOKEN = {"mm": "millimetre", "in": "inch", "N": "newton", "lbf": "pound-force", "N/mm": "newton per millimetre",
           "°": "degree", "deg": "degree", "µm": "micrometre"}  # fmt: skip


def mark_name(
    place: str, value: str, unit: str, *, verdict: str, limit: str, p: float | None = None, so_far: str = ""
) -> str:
    """What a mark says aloud: "Inl 2F 5.941 millimetre, too close to call, least 5.940, chance 0.74"."""
    if not value:
        return f"{place} not measured"
    said = verdict or "no limit entered"
    parts = [f"{place} {value} {_SPOKEN.get(unit, unit)}".rstrip(), f"{said} so far, {so_far}" if so_far else said]
    parts += [limit] if limit else []
    parts += [f"chance {chance(p)}"] if verdict == CLOSE and p is not None else []
    return ", ".join(parts)
