"""The gasket face with its straight-edge lines: where the edge was laid, what was read, how it stands.

Each line that has a reading carries it in a box of its own with the mark of its verdict; boxes are placed so that they
hide neither each other nor a valve's letter, and move outside the casting where there is no room on it. A line not yet
measured is dashed. A line that is out is thick.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from witnessmark.draw.extent import around, box, overlap, text_box, text_width
from witnessmark.draw.face import Face, FacePlan, casting, lay_out
from witnessmark.draw.mark import CLOSE, OUT, WITHIN, point
from witnessmark.draw.shape import Box, Circle, Drawing, Group, Line, Point, Rect, Shape, Text, flat, path

_ROLE = {WITHIN: "within_line", OUT: "out_line", CLOSE: "close_line"}
_FILL = {WITHIN: "within", OUT: "out", CLOSE: "close"}
_TALL = 30.0
EDGE_STATIONS = ("inlet-edge", "exhaust-edge", "front-end", "rear-end", "diagonal-1", "diagonal-2")


@dataclass(frozen=True, slots=True)
class FaceLine:
    """One line: station of the gasket face (`diagonal-1`, `between-1-2`), the reading as shown, its verdict."""

    station: str
    reading: str = ""
    verdict: str = ""
    so_far: bool = False


@dataclass(frozen=True, slots=True)
class FaceLook:
    """How the face is shown.

    `now` is the valve (`exh-3f`) or line that is painted, `picked` are valves ringed because something about them is
    out; `words` adds the sides, the front and the cylinder numbers, `letters` those of the
    valves; `leader` is where a line from the painted valve
    leads, in pixels from the casting's top left corner. `read` are stations whose line is drawn firm though its reading
    stands elsewhere.
    """

    now: str = ""
    picked: tuple[str, ...] = ()
    words: bool = True
    letters: bool = True
    read: tuple[str, ...] = ()
    leader: Point | None = None


def gasket_face(plan: FacePlan, lines: Sequence[FaceLine], name: str, look: FaceLook | None = None) -> Drawing:
    """The face of one head with its lines; the picture is as large as its contents and a margin of 6 px.

    Raises ValueError for a station that a gasket face does not have, naming those it has.
    """
    look = look or FaceLook()
    face = lay_out(plan)
    spans = {line.station: span(face, line.station) for line in lines}
    letters = _letters(face) if look.letters else ()
    words = _words(face) if look.words else ()
    boxes = _boxes(face, lines, spans, letters)
    drawn = (
        *casting(face), *_painted(face, look), *strokes(lines, spans, look), *letters, *_leader(face, look),
        *words, *(shape for group in boxes for shape in (group.tail, group.group) if shape is not None),
    )  # fmt: skip
    return fitted(drawn, name)


def fitted(shapes: tuple[Shape, ...], name: str, margin: float = 6.0) -> Drawing:
    """A drawing as large as its shapes and a margin."""
    left, top, right, bottom = around(box(shape) for shape in flat(shapes))
    window = (left - margin, top - margin, right + margin, bottom + margin)
    return Drawing(window[2] - window[0], window[3] - window[1], name, shapes, window)


def span(face: Face, station: str) -> tuple[Point, Point]:
    """Both ends of the straight-edge on one station of the gasket face."""
    s, right, low = face.scale, face.width, face.depth
    inset = 12 * s
    known: dict[str, tuple[Point, Point]] = {
        "inlet-edge": ((26 * s, 3 * s), (right - 26 * s, 3 * s)),
        "exhaust-edge": ((26 * s, low - 3 * s), (right - 26 * s, low - 3 * s)),
        "front-end": ((8 * s, 26 * s), (8 * s, low - 26 * s)),
        "rear-end": ((right - 8 * s, 26 * s), (right - 8 * s, low - 26 * s)),
        "diagonal-1": ((inset, 14 * s), (right - inset, low - 14 * s)),
        "diagonal-2": ((inset, low - 14 * s), (right - inset, 14 * s)),
        "centre": ((inset, 129 * s), (right - inset, 129 * s)),
    }
    numbers = face.plan.cylinders
    for i in range(len(numbers) - 1):
        x = (face.centre(i) + face.centre(i + 1)) / 2
        known[f"between-{numbers[i]}-{numbers[i + 1]}"] = ((x, 45 * s), (x, low - 45 * s))
    if station not in known:
        raise ValueError(f"a gasket face has no line {station!r}: it has {', '.join(known)}")
    return known[station]


def _letters(face: Face) -> tuple[Text, ...]:
    size = max(14.0, 18 * face.scale)
    return tuple(
        Text(spot.x, spot.y + size / 3, spot.letter, "ink", size, "middle", True, halo=True) for spot in face.valves
    )


def _words(face: Face) -> tuple[Shape, ...]:
    """Cylinder numbers under the face, sides and front beside it."""
    numbers = tuple(
        Text(face.centre(i), face.depth + 36, str(number), "ink", 20, "middle", True, "serif")
        for i, number in enumerate(face.plan.cylinders)
    )
    left, low, middle = -176.0, face.depth, face.depth / 2
    return (
        *numbers,
        Text(left, 12, "inlet", "ink", 18, bold=True),
        Text(left, 30, "side", "label"),
        Text(left, middle + 5, "front", "label"),
        Line(left + 92, middle, left + 50, middle, "thin", end="arrow"),
        Text(left, low - 10, "exhaust", "ink", 18, bold=True),
        Text(left, low + 8, "side", "label"),
    )


def _painted(face: Face, look: FaceLook) -> tuple[Shape, ...]:
    found: list[Shape] = []
    for spot in face.valves:
        if spot.id == look.now:
            found.append(Circle(spot.x, spot.y, spot.r - 2.5, "now_line", 6))
            found.append(Circle(spot.x, spot.y, spot.r + 1, "outline"))
        elif spot.id in look.picked:
            found.append(Circle(spot.x, spot.y, spot.r - 1, "outline", 5))
    return tuple(found)


def _leader(face: Face, look: FaceLook) -> tuple[Shape, ...]:
    spot = next((spot for spot in face.valves if spot.id == look.now), None)
    if look.leader is None or spot is None:
        return ()
    x, y = look.leader
    bend = face.depth + 6
    return (path("thin", "M", spot.x, spot.y + spot.r + 1, "L", spot.x, bend, "L", x, bend + 6, "L", x, y),)


def strokes(lines: Sequence[FaceLine], spans: Mapping[str, tuple[Point, Point]], look: FaceLook) -> tuple[Shape, ...]:
    """Lines, those that are out last so that nothing crosses over them."""
    order = sorted(lines, key=lambda line: (line.verdict == OUT, line.station == look.now))
    return tuple(shape for line in order for shape in _stroke(line, *spans[line.station], look))


def _stroke(line: FaceLine, start: Point, stop: Point, look: FaceLook) -> Iterator[Shape]:
    ends, now = (*start, *stop), line.station == look.now
    if now:
        yield Line(*ends, "now_line", 10)
    else:
        yield Line(*ends, "halo", 8 if line.verdict == OUT else 6)
    if not line.reading:
        yield Line(*ends, "outline" if now or line.station in look.read else "hidden", 2 if now else 1.25)
        return
    width = {OUT: 4.0, WITHIN: 2.0}.get(line.verdict, 2.0)
    dash = "6 4" if line.so_far else ""
    yield Line(*ends, _ROLE.get(line.verdict, "close_line"), width, dash)
    for x, y in (start, stop):
        yield Circle(x, y, 4.5, _FILL.get(line.verdict, "close"))


@dataclass(frozen=True, slots=True)
class _Box:
    group: Group
    area: Box
    tail: Line | None = None


def _boxes(
    face: Face, lines: Sequence[FaceLine], spans: Mapping[str, tuple[Point, Point]], letters: Sequence[Text]
) -> tuple[_Box, ...]:
    """One box a reading, each where nothing lies under it that must be read."""
    taken = [text_box(letter) for letter in letters]
    found: list[_Box] = []
    for line in sorted((line for line in lines if line.reading), key=_need):
        width = text_width(line.reading, 18, True) + 38
        middle, tail = _place(face, spans[line.station], width, taken)
        group = _boxed(line, middle, width)
        area = (middle[0] - width / 2, middle[1] - _TALL / 2, middle[0] + width / 2, middle[1] + _TALL / 2)
        taken.append(area)
        found.append(_Box(group, area, tail))
    return tuple(found)


def _need(line: FaceLine) -> tuple[int, str]:
    """Ends and edges have few places to stand, so they choose first; then what is out."""
    return (0 if line.station.endswith(("edge", "end")) else 1 if line.verdict == OUT else 2, line.station)


def _place(face: Face, ends: tuple[Point, Point], width: float, taken: Sequence[Box]) -> tuple[Point, Line | None]:
    """The first free place: along the line from its middle outward, else outside with a leader."""
    (x1, y1), (x2, y2) = ends
    for step in range(41):
        part = 0.5 + (step + 1) // 2 * 0.0115 * (-1 if step % 2 else 1) * 2
        if not 0 <= part <= 1:
            continue
        x, y = x1 + part * (x2 - x1), y1 + part * (y2 - y1)
        if _free(x, y, width, taken):
            return (x, y), None
    x = face.width + 24 + width / 2
    y = y2
    while not _free(x, y, width, taken):
        y += 6.0 if y2 > face.depth / 2 else -6.0
    return (x, y), Line(x2, y2, x - width / 2, y, "thin")


def _free(x: float, y: float, width: float, taken: Sequence[Box]) -> bool:
    area = (x - width / 2, y - _TALL / 2, x + width / 2, y + _TALL / 2)
    return not any(overlap(area, other, 3) for other in taken)


def _boxed(line: FaceLine, middle: Point, width: float) -> Group:
    frame = Rect(-width / 2, -_TALL / 2, width, _TALL, "sheet")
    rim = replace(frame, role=_ROLE.get(line.verdict, "close_line"), width=1.5)
    mark = point(line.verdict, line.so_far, -width / 2 + 17, 0)
    text = Text(-width / 2 + 29, 6, line.reading, "ink", 18, bold=True)
    return Group((frame, rim, *mark, text), *middle)


def manifold_face(
    ports: int, lines: Sequence[FaceLine], name: str, look: FaceLook | None = None, room: float = 960
) -> Drawing:
    """An inlet, exhaust or upper face with its lengthwise lines (`line-1` at the top to `line-3`).

    Raises ValueError for a station that such a face does not have.
    """
    pitch = min(PORT_PITCH, room / max(ports, 1))
    width = ports * pitch + 40
    depth = min(150.0, max(104.0, 0.42 * width))  # three boxes stand beside it
    high = depth * 0.23
    shapes: list[Shape] = [Rect(0, 0, width, depth, "part", 2.5)]
    for i in range(ports):
        x = 20 + (i + 0.5) * pitch
        shapes.append(Circle(x, depth / 2, pitch * 0.32, "part", ry=high))
        shapes.append(Circle(x, depth / 2, pitch * 0.28, "thin", ry=high - 4))
    for i in range(ports + 1):
        x = 20 + i * pitch
        shapes += [Circle(min(max(x, 16), width - 16), y, 6, "outline") for y in (depth * 0.27, depth * 0.73)]
    rows = {"line-1": 18.0, "line-2": depth / 2, "line-3": depth - 18}
    spans: dict[str, tuple[Point, Point]] = {}
    for line in lines:
        if line.station not in rows:
            raise ValueError(f"a manifold face has no line {line.station!r}: it has {', '.join(rows)}")
        spans[line.station] = ((14, rows[line.station]), (width - 14, rows[line.station]))
    boxes = _face_boxes(lines, spans, width)
    return fitted((*shapes, *strokes(lines, spans, look or FaceLook()), *boxes), name)


PORT_PITCH = 150.0


def _face_boxes(lines: Sequence[FaceLine], spans: Mapping[str, tuple[Point, Point]], width: float) -> tuple[Shape, ...]:
    """Readings stand right of the face, each at the end of its line."""
    return tuple(
        _boxed(line, (width + 14 + (text_width(line.reading, 18, True) + 38) / 2, spans[line.station][1][1]),
               text_width(line.reading, 18, True) + 38)
        for line in lines
        if line.reading
    )  # fmt: skip
