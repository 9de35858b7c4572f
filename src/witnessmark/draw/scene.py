"""What the drawings of "where the gauge goes now" share: paint, dimensions, sections, captions, and their two sizes.

Large, 350 x 560, stands in the first field of the bench page; small, 236 x 106, is the strip of a phone: the same
scene without letters, cut out round the place that is painted.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from witnessmark.draw.extent import around, box, text_width
from witnessmark.draw.face import FacePlan
from witnessmark.draw.mark import CLOSE, OUT, WITHIN, word
from witnessmark.draw.shape import Circle, Drawing, Group, Line, Path, Point, Rect, Shape, Text, flat, path, polygon

LARGE = (350.0, 560.0)
SMALL = (236.0, 106.0)
_CUT = (290.0, 290.0 * 106 / 236)  # what the small one shows of the large one's plane


@dataclass(frozen=True, slots=True)
class Ask:
    """What a scene is told: the station of now, the readings so far as shown (by station), and what is measured.

    `verdict` (within, out, close, so far) and `limit_words` ("least 5.940") are drawn under it on cards and in reports.
    `location` is the place without its station ("chamber-3"), for scenes that show a whole row of them.
    """

    station: str = ""
    values: Mapping[str, str] = field(default_factory=dict)
    characteristic: str = ""
    gear: str = "bucket_shim"
    face: FacePlan = field(default_factory=FacePlan)
    verdict: str = ""
    limit_words: str = ""
    location: str = ""

    @property
    def place(self) -> str:
        """The station without its direction: "middle" of "middle/across"."""
        return self.station.split("/")[0]

    @property
    def direction(self) -> str:
        """The direction of the station: "along", "across" or ""."""
        last = self.station.rsplit("/", maxsplit=1)[-1]
        return last if last in {"along", "across"} else ""

    @property
    def number(self) -> int | None:
        """The number at the end of the location: 3 of "chamber-3" or "cam-inl/journal-3"; None where there is none."""
        digits = self.location.rsplit("-", maxsplit=1)[-1].rstrip("fmr")
        return int(digits) if digits.isdecimal() else None

    def read(self, place: str) -> tuple[str, ...]:
        """Readings at one place, whatever their direction, in the order they came in."""
        return tuple(text for station, text in self.values.items() if text and station.split("/")[0] == place)


@dataclass(frozen=True, slots=True)
class Scene:
    """A scene: its shapes, the point that is painted, and the sentence that names it."""

    shapes: tuple[Shape, ...]
    focus: Point
    name: str


def large(scene: Scene, ask: Ask | None = None) -> Drawing:
    """The scene for the bench page, the card and the report, with its verdict under it where one is asked for.

    A scene that leaves no room under its words is drawn a little smaller, so that the size stays the same.
    """
    if ask is None or not ask.verdict:
        return Drawing(*LARGE, scene.name, scene.shapes)
    low = around(box(shape) for shape in flat(scene.shapes))[3]
    line = verdict_line(12, low + 32, ask.verdict, ask.limit_words)
    end = max(LARGE[1], around(box(shape) for shape in flat(line))[3] + 4)
    side = (end * LARGE[0] / LARGE[1] - LARGE[0]) / 2
    said = f"{scene.name}; {_VERDICTS[ask.verdict][0]}" + (f", {ask.limit_words}" if ask.limit_words else "")
    return Drawing(*LARGE, said, (*scene.shapes, *line), (-side, 0, LARGE[0] + side, end))


def small(scene: Scene) -> Drawing:
    """The strip for a phone: no letters, the painted place in the middle."""
    x, y = scene.focus
    left, top = x - _CUT[0] / 2, y - _CUT[1] / 2
    mute = tuple(shape for shape in flat(scene.shapes) if not isinstance(shape, Text))
    return Drawing(*SMALL, scene.name, mute, (left, top, left + _CUT[0], top + _CUT[1]))


_VERDICTS = {"within": (WITHIN, False), "out": (OUT, False), "close": (CLOSE, False), "so far": ("so far", True)}


def verdict_line(x: float, y: float, verdict: str, limit_words: str = "") -> tuple[Shape, ...]:
    """The mark in word size, the word of the verdict and the limit in its box, on the baseline `y`.

    Raises ValueError for another word than within, out, close or so far.
    """
    if verdict not in _VERDICTS:
        raise ValueError(f"no verdict is called {verdict!r}: say one of {', '.join(_VERDICTS)}")
    said, open_mark = _VERDICTS[verdict]
    mark = word(CLOSE if open_mark else said, open_mark)
    after = x + mark.width + 10
    shapes: tuple[Shape, ...] = (Group(mark.shapes, x, y - 16), Text(after, y, said, "ink", 18, bold=not open_mark))
    if not limit_words:
        return shapes
    wide, right = text_width(limit_words, 17), after + text_width(said, 18, True) + 20
    left, level = (right, y) if right + wide <= LARGE[0] - 10 else (x + 8, y + 32)
    return (*shapes, Rect(left - 7, level - 19, wide + 14, 26, "thin"), Text(left, level, limit_words, "ink", 17))


def painted(x: float, y: float, w: float, h: float, side: str) -> tuple[Shape, ...]:
    """Paint where the gauge touches, with heavy ink on the `side` that is the part's surface."""
    right, low = x + w, y + h
    edge = {"left": (x, y, x, low), "right": (right, y, right, low), "top": (x, y, right, y),
            "bottom": (x, low, right, low)}[side]  # fmt: skip
    return (Rect(x, y, w, h, "now"), Line(*edge, "edge", 3))


def painted_ring(x: float, y: float, inner: float, outer: float) -> tuple[Shape, ...]:
    """Paint round a hole or a bore, with heavy ink on its inner edge; on paper the two edges remain."""
    steps: list[str | float] = []
    for r, turns in ((outer, ((0, -1), (1, 0), (0, 1), (-1, 0))), (inner, ((0, 1), (1, 0), (0, -1), (-1, 0)))):
        steps += ["M", x - r, y]
        for dx, dy in turns:
            steps += ["A", r, r, 0, 0, 1 if r == outer else 0, x + r * dx, y + r * dy]
        steps.append("Z")
    return (path("now", *steps), Circle(x, y, inner, "edge", 2.5), Circle(x, y, outer, "thin"))


def caption(x: float, y: float, bold: str, *lines: str) -> tuple[Text, ...]:
    """Where and how, under the drawing: one bold line and what follows from it."""
    rest = tuple(Text(x, y + 24 + 21 * i, line, "label", 18) for i, line in enumerate(lines))
    return (Text(x, y, bold, "ink", 20, bold=True), *rest)


def beside(x: float, y: float, title: str, values: Iterable[str], now: bool) -> tuple[Text, ...]:
    """A station's name with its readings under it; bold where the gauge goes now."""
    head = Text(x, y, title, "ink" if now else "label", 18, bold=now)
    return (head, *(Text(x, y + 22 * (i + 1), value, "ink", 20) for i, value in enumerate(tuple(values)[-2:])))


def listed(x: float, y: float, ask: Ask, stations: Sequence[str], step: float = 22) -> tuple[Text, ...]:
    """Short station names with their readings, one a line; "–" where nothing is read."""
    found: list[Text] = []
    for i, station in enumerate(stations):
        now = station == ask.station
        found.append(Text(x, y + step * i, station, "ink" if now else "label", 18, bold=now))
        found.append(Text(x + 32, y + step * i, ask.values.get(station) or "–", "ink", 18))
    return tuple(found)


def taken(ask: Ask, x: float, y: float) -> tuple[Text, ...]:
    """The reading of a characteristic with a single station, if there is one."""
    value = ask.values.get(ask.station)
    return (Text(x, y, "read", "label", 18), Text(x + 44, y, value, "ink", 20)) if value else ()


def height_dimension(x: float, y1: float, y2: float, part: float) -> tuple[Shape, ...]:
    """A vertical dimension line at `x` between two heights, with extension lines from the part's edge at `part`."""
    past = 6 if x > part else -6
    return (
        Line(part, y1, x + past, y1, "faint"),
        Line(part, y2, x + past, y2, "faint"),
        Line(x, y1, x, y2, "thin", start="arrow", end="arrow"),
    )


def section(x: float, y: float, r: float, direction: str, bore: bool = False) -> tuple[Shape, ...]:
    """The round section with the direction of now: arrows from outside on a stem, from inside in a bore."""
    upright = direction == "along"
    solid: tuple[Shape, ...] = (Circle(x, y, r, "part"), Circle(x, y, r, "section"))
    inner = r - 12
    ring = (*solid, Circle(x, y, r, "outline"), *((Circle(x, y, inner, "part"),) if bore else ()))
    axis = Line(x - r - 16, y, x + r + 16, y, "centre") if upright else Line(x, y - r - 16, x, y + r + 16, "centre")
    reach = inner if bore else r
    faces: list[Shape] = []
    for sign in (-1, 1):
        face = _face(x, y, sign * (reach - 5 if bore else reach), upright, sign)
        start, stop = (sign * 4, sign * (reach - 6)) if bore else (sign * (r + (20 if upright else 32)), sign * (r + 7))
        ends = (x, y + start, x, y + stop) if upright else (x + start, y, x + stop, y)
        faces += [face, Line(*ends, "thin", end="arrow")]
    return (*ring, axis, *faces)


def _face(x: float, y: float, at: float, upright: bool, sign: int) -> Rect:
    low = at if sign > 0 else at - 5
    return Rect(x - 12, y + low, 24, 5, "now") if upright else Rect(x + low, y - 12, 5, 24, "now")


def direction_words(direction: str) -> tuple[str, ...]:
    """Bold line and explanation of a direction."""
    if direction == "across":
        return ("across the thrust", "quarter turn from the", "rocking direction")
    if direction == "along":
        return ("along the thrust", "in the direction in which", "the valve rocks")
    return ("where it is smallest", "turn the gauge and keep", "the least reading")


def micrometer(left: float, right: float, y: float) -> tuple[Shape, ...]:
    """An outside micrometer as a neighbour (phantom), its faces painted on a round part between `left` and `right`."""
    frame = path(
        "phantom", "M", left - 44, y - 17, "C", left - 70, y - 17, left - 70, y + 78, left - 10, y + 78,
        "L", right + 46, y + 78, "L", right + 46, y + 27,
    )  # fmt: skip
    thimble = right + 40
    rings = tuple(Line(thimble + 10 + 8 * i, y - 26, thimble + 10 + 8 * i, y + 26, "hair") for i in range(4))
    return (
        Rect(left - 44, y - 17, 41, 34, "sheet"),
        Line(left - 3, y - 17, left - 44, y - 17, "phantom"),
        Line(left - 3, y + 17, left - 44, y + 17, "phantom"),
        Line(right + 3, y - 17, right + 70, y - 17, "phantom"),
        Line(right + 3, y + 17, right + 70, y + 17, "phantom"),
        Rect(thimble, y - 26, 70, 52, "phantom"),
        *rings,
        frame,
        *painted(left - 8, y - 19, 7, 38, "right"),
        *painted(right + 1, y - 19, 7, 38, "left"),
    )


def indicator(x: float, y: float, length: float = 70, r: float = 24) -> tuple[Shape, ...]:
    """A dial indicator from above as a neighbour, its tip painted at (x, y)."""
    centre = y - length - r
    return (
        Circle(x, centre, r, "phantom"),
        Line(x, centre, x + r * 0.5, centre - r * 0.6, "thin"),
        Rect(x - 4, y - length, 8, length - 8, "phantom"),
        polygon("now", [(x - 8, y - 10), (x + 8, y - 10), (x, y)]),
        Line(x - 14, y, x + 14, y, "edge", 3),
    )


def vee(x: float, y: float, size: float = 26) -> tuple[Shape, ...]:
    """A V-block as a neighbour under a round part whose lowest point is at (x, y)."""
    top, low = y - size * 0.35, y + size
    return (
        path("phantom", "M", x - size, top, "L", x - size, low, "L", x + size, low, "L", x + size, top,
             "L", x, y + 6, "Z"),
    )  # fmt: skip


def mirrored(points: Sequence[Point], axis: float) -> list[Point]:
    """The same points on the other side of a vertical axis, in reverse order, to close an outline."""
    return [(2 * axis - x, y) for x, y in reversed(points)]


def cut(role: str, points: Sequence[Point]) -> tuple[Path, Path]:
    """Material in section: hatch and outline of one closed outline."""
    shape = polygon(role, points)
    return (shape, replace(shape, role="outline"))
