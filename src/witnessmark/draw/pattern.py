"""The bolts of a joint as they lie on the engine, and the next one large.

A stripe of paint on the casting stays where it is; the stripe on the head of the bolt goes with it, so that the picture
shows the angle as the joint does. Front is left, the inlet side above.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, hypot, radians, sin

from witnessmark.draw.shape import Circle, Drawing, Line, Path, Point, Shape, Text, path, polygon

WIDTH, HEIGHT = 832.0, 530.0
LEFT, TOP, RIGHT, BOTTOM = 16.0, 62.0, 816.0, 506.0
BIGGEST, LEAST = 44.0, 15.0  # radius of a bolt's washer
WAITING, NOW, DOUBT, OUT, DONE = "waiting", "now", "doubt", "out", "done"


@dataclass(frozen=True, slots=True)
class Spot:
    """One bolt in the picture: its place (along from the front, across to the inlet side), its state, its angle.

    `turned` in degrees since it was snug; `words` are said beside it, strong and faint; `cross` puts a saltire there.
    """

    bolt: str
    x: float
    y: float
    state: str = WAITING
    turned: float = 0.0
    strong: str = ""
    faint: str = ""
    cross: bool = False


def pattern(spots: Sequence[Spot], order: Sequence[str], done: int, name: str,
            cylinders: Sequence[tuple[str, float]] = ()) -> Drawing:  # fmt: skip
    """The whole joint. Of `order`, that of the stage, the first `done` are turned; the way to the rest is dashed."""
    at, radius = _laid_out(spots)
    shapes: list[Shape] = [
        _rounded(LEFT, TOP, RIGHT, BOTTOM, 12), Text(26, 48, "front", "label", 16),
        Line(110, 43, 70, 43, "thin", end="arrow"),
        *_cylinders(spots, at, cylinders),
    ]  # fmt: skip
    for n, (one, other) in enumerate(pairwise(order), 1):
        if one in at and other in at:
            shapes += _link(at[one], at[other], radius, n < done + 1, list(at.values()))
    for spot in spots:
        shapes += _bolt(spot, *at[spot.bolt], radius)
    return Drawing(WIDTH, HEIGHT, name, tuple(shapes))


def _laid_out(spots: Sequence[Spot]) -> tuple[dict[str, Point], float]:
    """Where each bolt stands in the picture, and how large: to scale along and across, as far as there is room."""
    xs, ys = [one.x for one in spots], [one.y for one in spots]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    across, down = RIGHT - LEFT - 168, BOTTOM - TOP - 204
    scale = min((room / span for room, span in ((across, wide), (down, high)) if span > 0), default=1.0)
    middle_x, middle_y = (LEFT + RIGHT) / 2, (TOP + BOTTOM) / 2
    stretch_y = min(down / (high * scale), 2.2) if high > 0 else 1.0
    stretch_x = min(across / (wide * scale), 2.2) if wide > 0 else 1.0
    at = {one.bolt: (middle_x + (one.x - (max(xs) + min(xs)) / 2) * scale * stretch_x,
                     middle_y - (one.y - (max(ys) + min(ys)) / 2) * scale * stretch_y) for one in spots}  # fmt: skip
    nearest = min((hypot(a[0] - b[0], a[1] - b[1]) for i, a in enumerate(at.values())
                   for b in list(at.values())[:i]), default=2 * BIGGEST / 0.55)  # fmt: skip
    return at, max(LEAST, min(BIGGEST, 0.34 * nearest))


def _cylinders(spots: Sequence[Spot], at: dict[str, Point], cylinders: Sequence[tuple[str, float]]) -> list[Shape]:
    xs = sorted({(one.x, at[one.bolt][0]) for one in spots})
    if not cylinders or len(xs) < 2 or xs[0][0] == xs[-1][0]:
        return []
    (low, left), (high, right) = xs[0], xs[-1]
    middle = sum(y for _, y in at.values()) / len(at)
    places = [left + (x - low) / (high - low) * (right - left) for _, x in cylinders]
    gap = min((b - a for a, b in pairwise(places)), default=200.0)
    radius = min(0.43 * gap, 68.0)
    shapes: list[Shape] = [Line(LEFT - 12, middle, RIGHT + 12, middle, "hair")]
    for (number, _), x in zip(cylinders, places, strict=True):
        shapes += [Circle(x, middle, radius, "centre"),
                   Text(x, middle + 7, number, "label", 22, "middle", True, "serif")]
    return shapes


def _rounded(left: float, top: float, right: float, bottom: float, r: float) -> Path:
    return path("outline", "M", left + r, top, "L", right - r, top, "Q", right, top, right, top + r, "L", right,
                bottom - r, "Q", right, bottom, right - r, bottom, "L", left + r, bottom, "Q", left, bottom, left,
                bottom - r, "L", left, top + r, "Q", left, top, left + r, top, "Z", width=2.5)  # fmt: skip


def _link(one: Point, other: Point, radius: float, done: bool, bolts: Iterable[Point]) -> list[Shape]:
    """The way of the wrench from one bolt to the next: straight where nothing lies between, else round it."""
    role, width = ("thin", 1.25) if done else ("hidden", 1.25)
    reach, length = radius + 6, hypot(other[0] - one[0], other[1] - one[1])
    if length <= 2 * reach:
        return []
    ux, uy = (other[0] - one[0]) / length, (other[1] - one[1]) / length
    between = any(0 < (px - one[0]) * ux + (py - one[1]) * uy < length
                  and abs((px - one[0]) * uy - (py - one[1]) * ux) < radius
                  for px, py in bolts if (px, py) not in (one, other))  # fmt: skip
    start, end = (one[0] + ux * reach, one[1] + uy * reach), (other[0] - ux * reach, other[1] - uy * reach)
    if not between:
        return [Line(*start, *end, role, width, end="arrow" if done else "")]
    inward = 1.0 if one[1] < (TOP + BOTTOM) / 2 else -1.0
    bow = min(0.22 * length, 96.0) * inward
    nx, ny = one[0] + ux * reach * 0.6, one[1] + inward * reach * 0.8
    mx, my = other[0] - ux * reach * 0.6, other[1] + inward * reach * 0.8
    curve = path(role, "M", nx, ny, "Q", (nx + mx) / 2, (ny + my) / 2 + bow, mx, my, width=width)
    return [curve, *_head(mx, my, (nx + mx) / 2, (ny + my) / 2 + bow, done)]


def _head(x: float, y: float, from_x: float, from_y: float, done: bool) -> list[Shape]:
    """An arrowhead at the end of a curve."""
    if not done:
        return []
    length = hypot(x - from_x, y - from_y) or 1.0
    ux, uy = (x - from_x) / length, (y - from_y) / length
    return [polygon("ink", [(x, y), (x - 13 * ux - 3 * uy, y - 13 * uy + 3 * ux),
                            (x - 13 * ux + 3 * uy, y - 13 * uy - 3 * ux)])]  # fmt: skip


def _bolt(spot: Spot, x: float, y: float, radius: float) -> list[Shape]:
    shapes: list[Shape] = []
    if spot.state in (NOW, DOUBT):
        shapes.append(Circle(x, y, radius + 6, "now"))
    ring = {NOW: ("part", 4.0, ""), DOUBT: ("part", 2.4, "7 5"), OUT: ("thin_part", 1.5, "6 4")}
    role, width, dash = ring.get(spot.state, ("thin_part", 1.5, ""))
    shapes.append(Circle(x, y, radius, role, width, dash))
    if spot.state != OUT:
        corners = [_at(x, y, 0.84 * radius, 60 * i + 30 - spot.turned) for i in range(6)]
        shapes.append(polygon("part", corners, 2.5))
        shapes += _stripe(x, y, 0.46 * radius, 0.80 * radius, 90 - spot.turned, radius)
    shapes += _stripe(x, y, radius + 2, radius + 13, 90, radius)
    size = 28 if radius > 36 else max(14.0, 0.62 * radius)
    shapes.append(Text(x, y + 0.36 * size, spot.bolt, "ink", size, "middle", True))
    return shapes + _beside(spot, x, y, radius)


def _stripe(x: float, y: float, inner: float, outer: float, angle: float, radius: float) -> list[Shape]:
    """A stripe of paint with its ink edge, pointing away from the middle."""
    ax, ay = _at(x, y, inner, angle)
    bx, by = _at(x, y, outer, angle)
    broad = max(6.0, 0.27 * radius)
    ux, uy = (bx - ax) / (outer - inner), (by - ay) / (outer - inner)
    wide: list[Shape] = [Line(ax - ux, ay - uy, bx + ux, by + uy, "edge", broad)]
    px, py, half = -uy, ux, broad / 2 - 2
    inside = [(ax + px * half, ay + py * half), (bx + px * half, by + py * half), (bx - px * half, by - py * half),
              (ax - px * half, ay - py * half)]  # fmt: skip
    return [*wide, polygon("now", inside)]


def _beside(spot: Spot, x: float, y: float, radius: float) -> list[Shape]:
    """What is said of a bolt: above it in the upper half, below it in the lower."""
    strong, faint = spot.strong, spot.faint
    if not strong and not faint:
        return []
    upper = y < (TOP + BOTTOM) / 2
    size = 18.0 if radius > 30 else 14.0
    line = y - radius - 26 if upper else y + radius + 34 - (18 - size)
    shapes: list[Shape] = []
    if spot.cross:
        cx = x - 0.22 * size * (len(strong) + len(faint)) - 13
        for dx, dy in ((7, 7), (7, -7)):
            shapes.append(Line(cx - dx, line - 6 - dy, cx + dx, line - 6 + dy, "out_line", 3.2))
    whole = f"{strong} {faint}".strip()
    role = "out" if spot.cross else "ink" if strong else "label"
    shapes.append(Text(x, line, whole, role, size, "middle", bool(strong), halo=True))
    return shapes


def _at(x: float, y: float, r: float, angle: float) -> Point:
    return x + r * cos(radians(angle)), y - r * sin(radians(angle))


def next_bolt(bolt: str, words: str, name: str, turn: float = 0.0, before: float = 0.0, back: bool = False) -> Drawing:
    """The bolt of now, large: how far it is to go round from where it is. `turn` and `before` in degrees.

    A stage without an angle shows no sector: the wrench says when. `back` turns the other way: it comes out.
    """
    x, y, r = 170.0, 160.0, 112.0
    shapes: list[Shape] = [Circle(x, y, r, "thin")]
    shapes += [Line(*_at(x, y, r, 10 * n), *_at(x, y, r - (16 if n % 9 == 0 else 10 if n % 3 == 0 else 5), 10 * n),
                    "thin") for n in range(36)]  # fmt: skip
    if turn:
        start = 90 - before
        shapes += _sector(x, y, r, start, min(turn, 359.0))
    shapes += _arc(x, y, r + 20, 86.0 if not turn else 90 - before - 4, min(turn, 300.0) if turn else 78.0, back)
    facing = 90 - before
    shapes.append(polygon("part", [_at(x, y, 76, 60 * n + facing - 90) for n in range(6)], 3))
    shapes += _stripe(x, y, 46, 62, facing, 44)
    size = 92 if len(bolt) < 3 else 60
    shapes.append(Text(x, y + 0.35 * size, bolt, "ink", size, "middle", True))
    shapes.append(Text(338, 30, words, "ink", 30 if len(words) < 5 else 24, "end", True))
    return Drawing(340, 292, name, tuple(shapes))


def _sector(x: float, y: float, r: float, start: float, turn: float) -> list[Shape]:
    ax, ay = _at(x, y, r, start)
    bx, by = _at(x, y, r, start - turn)
    large = 1 if turn > 180 else 0
    steps = ("M", x, y, "L", ax, ay, "A", r, r, 0, large, 1, bx, by, "Z")
    return [path("now", *steps), path("outline", *steps)]


def _arc(x: float, y: float, r: float, start: float, turn: float, back: bool) -> list[Shape]:
    """The arrow outside the dial, the way the bolt goes."""
    end = start - turn
    ax, ay = _at(x, y, r, start)
    bx, by = _at(x, y, r, end)
    large = 1 if turn > 180 else 0
    curve = path("edge", "M", ax, ay, "A", r, r, 0, large, 1, bx, by)
    tip, angle, way = ((ax, ay), start, 1.0) if back else ((bx, by), end, -1.0)
    tx, ty = way * -sin(radians(angle)), way * -cos(radians(angle))
    nx, ny = -ty, tx
    head = polygon("ink", [(tip[0] + 12 * tx, tip[1] + 12 * ty), (tip[0] - 6 * tx + 8 * nx, tip[1] - 6 * ty + 8 * ny),
                           (tip[0] - 6 * tx - 8 * nx, tip[1] - 6 * ty - 8 * ny)])  # fmt: skip
    return [curve, head]


