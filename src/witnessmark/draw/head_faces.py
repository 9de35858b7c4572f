"""Where the gauge goes on the faces of the head: roughness, marks of the fire rings, upper face, metal taken off."""

from dataclasses import replace

from witnessmark.draw.face import MARGIN, PITCH, Face, casting, lay_out
from witnessmark.draw.gasket import EDGE_STATIONS, FaceLine, FaceLook, span, strokes
from witnessmark.draw.handtool import dial, lens, noted
from witnessmark.draw.lash import gap
from witnessmark.draw.scene import Ask, Scene, caption, cut, height_dimension, painted, painted_ring
from witnessmark.draw.shape import Circle, Group, Line, Point, Rect, Shape, path, polygon

_ROOM = 268.0


def _upper_half(shapes: tuple[Shape, ...], face: Face) -> tuple[tuple[Shape, ...], float]:
    """A plan of the face in the upper part of the field, and the height at which what follows may begin."""
    return (Group(shapes, _shift(face), 24),), max(face.depth + 24, 112.0)


def _plan(extra: tuple[Shape, ...], face: Face) -> tuple[tuple[Shape, ...], float]:
    return _upper_half((*casting(face), *extra), face)


def _face(ask: Ask) -> Face:
    return lay_out(replace(ask.face, room=_ROOM))


def _index(ask: Ask) -> int:
    numbers = ask.face.cylinders
    return numbers.index(ask.number) if ask.number in numbers else 0


def finish(ask: Ask) -> Scene:
    """Roughness along a trace across the marks of the cutter; `deck_marks` is looked at over the whole face."""
    face = _face(ask)
    if ask.characteristic == "deck_marks":
        return _marks(ask, face)
    shown = ask.station if ask.station in {"trace-1", "trace-2", "trace-3"} else "trace-1"
    traces: list[Shape] = []
    for name, (x1, y1, x2, y2) in _traces(face).items():
        traces += [Line(x1, y1, x2, y2, "now_line", 10)] if name == shown else []
        traces.append(Line(x1, y1, x2, y2, "outline" if name == shown or ask.values.get(name) else "hidden"))
    plan, low = _plan(tuple(traces), face)
    words = {"trace-1": "beside a fire ring", "trace-2": "over a water land", "trace-3": "at the end of the face"}[
        shown
    ]
    shapes = (
        *plan, *_stylus(low + 76), *caption(12, low + 174, words, "stylus across the marks of the cutter,",
                                             "or a comparator plate and a fingernail"),
        *noted(ask, low + 250),
    )  # fmt: skip
    x1, y1, x2, y2 = _traces(face)[shown]
    return Scene(shapes, (_shift(face) + (x1 + x2) / 2, 24 + (y1 + y2) / 2), f"where the stylus goes now: {words}")


def _shift(face: Face) -> float:
    return 175 - face.width / 2


def _traces(face: Face) -> dict[str, tuple[float, float, float, float]]:
    """Three short traces along the head: near the first chamber, over the water holes, at the rear end."""
    s, right = face.scale, face.width
    x, half = face.centre(0), 34 * s
    end = right - 24 * s
    return {
        "trace-1": (x - 54 * s, 23 * s, x - 15 * s, 23 * s),
        "trace-2": (right / 2 - half, 234 * s, right / 2 + half, 234 * s),
        "trace-3": (end, 129 * s - half, end, 129 * s + half),
    }


def _stylus(y: float) -> tuple[Shape, ...]:
    """The profile under the stylus, much enlarged, and the drive unit that pulls it."""
    ridge: list[Point] = [(30 + 10 * i, y - (0, 8, 2, 11, 4, 7)[i % 6]) for i in range(30)]
    metal = [*ridge, (320, y + 40), (30, y + 40)]
    return (
        *cut("section", metal), Rect(204, y - 62, 120, 34, "phantom"), Line(204, y - 45, 132, y - 45, "phantom"),
        polygon("now", [(132, y - 50), (140, y - 50), (140, y - 2), (136, y - 2)]),
        Line(132, y - 50, 136, y - 2, "edge", 3), Line(108, y - 45, 60, y - 45, "thin", end="arrow"),
    )  # fmt: skip


def _marks(ask: Ask, face: Face) -> Scene:
    s = face.scale
    rings = tuple(
        shape
        for i in range(len(face.plan.cylinders))
        for shape in painted_ring(face.centre(i), 129 * s, 97 * s, 109 * s)
    )
    plan, low = _plan(rings, face)
    y = low + 40
    lamp = polygon("phantom", [(40, y - 14), (72, y - 12), (84, y - 6), (80, y + 14), (40, y + 8)])
    rays = tuple(Line(86, y + dy, 196, y + 26 + dy / 3, "faint") for dy in (-4, 4, 10))
    metal: list[Point] = [(30, y + 32), (186, y + 32), (192, y + 42), (206, y + 42), (212, y + 32), (320, y + 32),
                          (320, y + 66), (30, y + 66)]  # fmt: skip
    shapes = (
        *plan, *cut("section", metal), lamp, *rays, *lens(202, y + 26, 28, 30),
        *caption(12, y + 104, "marks on the gasket face", "lamp low from the side, fingernail across:",
                 "scraper marks, tracks of the fire rings"),
        *noted(ask, y + 180),
    )  # fmt: skip
    return Scene(shapes, (_shift(face) + face.centre(0) + 90 * s, 24 + 129 * s),
                 "where the eye goes now: over the gasket face, first the tracks of the fire rings")  # fmt: skip


def fire_ring(ask: Ask) -> Scene:
    """Depth of a fire ring's track, or flatness over one chamber (`head_flatness_local`) with a short straight-edge."""
    face, i = _face(ask), _index(ask)
    s = face.scale
    x, y = face.centre(i), 129 * s
    local = ask.characteristic == "head_flatness_local"
    if local:
        half = 112 * s
        end = (x, y - half, x, y + half) if ask.direction == "across" else (x - half, y, x + half, y)
        extra: tuple[Shape, ...] = (Line(*end, "now_line", 10), Line(*end, "outline"))
    else:
        # On paper the paint is gone and a ring of a long head is small: an arrow says which.
        extra = (*painted_ring(x, y, 97 * s, 109 * s), Line(x, -22, x, 18 * s, "outline", end="arrow"))
    plan, low = _plan(extra, face)
    words = _local_words(ask) if local else ("track of the fire ring", "indicator zeroed on the face beside it,",
                                             "deepest place once round")  # fmt: skip
    below = _leaf(low + 56) if local else _groove(low + 84)
    base = low + (124 if local else 164)
    shapes = (*plan, *below, *caption(12, base, *words), *noted(ask, base + 76))
    name = f"the short straight-edge goes now: {ask.direction or 'along'} one chamber" if local else (
        "the depth indicator goes now: in the track of the fire ring")  # fmt: skip
    return Scene(shapes, (_shift(face) + x + (0 if local else 100 * s), 24 + y), f"where {name}")


def _local_words(ask: Ask) -> tuple[str, ...]:
    way = "across the head" if ask.direction == "across" else "along the head"
    return (f"over one chamber, {way}", "short straight-edge over both tracks:", "leaf that enters, leaf that does not")


def _leaf(y: float) -> tuple[Shape, ...]:
    return (Rect(60, y - 42, 230, 32, "phantom"), Rect(30, y, 290, 34, "section"), Line(30, y, 320, y, "outline"),
            *gap(130, y - 10, 80, 10), Rect(210, y - 10, 126, 10, "phantom"))  # fmt: skip


def _groove(y: float) -> tuple[Shape, ...]:
    """The track cut across, an indicator on its foot over it."""
    metal: list[Point] = [
        (30, y),
        (150, y),
        (156, y + 14),
        (196, y + 14),
        (202, y),
        (320, y),
        (320, y + 42),
        (30, y + 42),
    ]
    foot = (
        Rect(96, y - 20, 70, 20, "phantom"),
        Rect(186, y - 20, 70, 20, "phantom"),
        Rect(96, y - 32, 160, 12, "phantom"),
    )
    return (*cut("section", metal), *foot, *painted(100, y - 8, 40, 8, "bottom"), *painted(212, y - 8, 40, 8, "bottom"),
            *dial(176, y + 14, 90, 56, 20), *height_dimension(286, y, y + 14, 202))  # fmt: skip


def upper_face(ask: Ask) -> Scene:
    """The upper face, which carries the cover or the cams: its six lines as on the gasket face."""
    face = _face(ask)
    known = [*EDGE_STATIONS, *([ask.station] if ask.station and ask.station not in EDGE_STATIONS else [])]
    now = ask.station or EDGE_STATIONS[0]
    lines = [FaceLine(station) for station in known]
    spans = {line.station: span(face, line.station) for line in lines}
    look = FaceLook(now, read=tuple(station for station, value in ask.values.items() if value))
    plan, low = _upper_half((*_rail(face, ask.gear), *strokes(lines, spans, look)), face)
    words = now.replace("-", " ")
    shapes = (
        *plan, *_leaf(low + 66), *caption(12, low + 134, f"upper face, {words}", "thickest leaf that enters, and the",
                                            "thinnest that does not"),
        *noted(ask, low + 210),
    )  # fmt: skip
    (x1, y1), (x2, y2) = spans[now]
    return Scene(shapes, (_shift(face) + (x1 + x2) / 2, 24 + (y1 + y2) / 2),
                 f"where the straight-edge goes now: {words} of the upper face")  # fmt: skip


def _rail(face: Face, gear: str) -> tuple[Shape, ...]:
    """The rim of the head from above: cam saddles across it with wells for the plugs, or the studs of the rockers."""
    s, right, low = face.scale, face.width, face.depth
    shapes: list[Shape] = [Rect(0, 0, right, low, "part", 2.5)]
    shapes.append(Rect(22 * s, 22 * s, right - 44 * s, low - 44 * s, "outline", 1.5))
    if gear.startswith("pushrod"):
        spots = [(face.centre(i) + dx * s, y * s) for i in range(len(face.plan.cylinders)) for dx in (-40, 40)
                 for y in (92, 168)]  # fmt: skip
        return (*shapes, *(Circle(x, y, (12 if i % 2 else 20) * s, "outline") for i, (x, y) in enumerate(spots)))
    for i in range(len(face.plan.cylinders) + 1):
        x = (MARGIN + i * PITCH) * s
        shapes += [Rect(min(max(x - 14 * s, 22 * s), right - 50 * s), y * s, 28 * s, 40 * s, "thin") for y in (54, 156)]
    for i in range(len(face.plan.cylinders)):
        shapes += [Circle(face.centre(i), 125 * s, 26 * s, "outline"), Circle(face.centre(i), 125 * s, 12 * s, "thin")]
    return tuple(shapes)


_SIDES: dict[str, tuple[str, Point, Point, Point]] = {
    "deck_removed": ("gasket face", (60, 286), (290, 286), (0, 24)),
    "upper_face_removed": ("upper face", (76, 96), (274, 96), (0, -24)),
    "manifold_face_removed": ("manifold face", (46, 168), (54, 236), (-24, 2)),
}


def removed(ask: Ask) -> Scene:
    """What earlier cuts took off a face of the head, seen from its end: old face as phantom, gone metal painted."""
    name, a, b, (dx, dy) = _SIDES.get(ask.characteristic, _SIDES["deck_removed"])
    old = [(a[0] + dx, a[1] + dy), (b[0] + dx, b[1] + dy)]
    gone = (
        polygon("now", [a, b, old[1], old[0]]),
        polygon("phantom", [a, *old, b], closed=False),
        Line(*a, *b, "edge", 3),
    )
    shapes = (
        *_end_view(ask.gear), *gone, *_gone_dimension(a, b, dx, dy),
        *caption(12, 400, f"taken off the {name}", "from the record of earlier cuts, or the",
                 "size when new less the size found"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), f"where the metal counts now: taken off the {name}")


def _gone_dimension(a: Point, b: Point, dx: float, dy: float) -> tuple[Shape, ...]:
    if dx:
        y = a[1] - 26
        return (Line(a[0], a[1], a[0], y - 6, "faint"), Line(a[0] + dx, a[1] + dy, a[0] + dx, y - 6, "faint"),
                Line(a[0] + dx - 22, y, a[0] + dx, y, "thin", end="arrow"),
                Line(a[0] + 22, y, a[0], y, "thin", end="arrow"))  # fmt: skip
    x = b[0] + 26
    return (Line(*b, x + 6, b[1], "faint"), Line(b[0], b[1] + dy, x + 6, b[1] + dy, "faint"),
            Line(x, b[1] + (28 if dy < 0 else -28), x, b[1], "thin", end="arrow"),
            Line(x, b[1] + dy + (28 if dy > 0 else -28), x, b[1] + dy, "thin", end="arrow"))  # fmt: skip


def _end_view(gear: str) -> tuple[Shape, ...]:
    """The head from its front end: gasket face below, cover face above, ports at its sides, cams where it has any."""
    body = path(
        "part", "M", 60, 286, "L", 290, 286, "L", 290, 250, "L", 296, 236, "L", 304, 168, "L", 274, 140, "L", 274, 96,
        "L", 76, 96, "L", 76, 140, "L", 46, 168, "L", 54, 236, "L", 60, 250, "Z",
    )  # fmt: skip
    cams: list[Shape] = []
    for x in () if gear.startswith("pushrod") else (175,) if gear.startswith("rocker") else (124, 226):
        cams += [
            Circle(x, 124, 16, "outline"),
            Line(x - 24, 124, x + 24, 124, "centre"),
            Line(x, 100, x, 148, "centre"),
        ]
    valves = tuple(Line(x1, 146, x2, 276, "centre") for x1, x2 in ((124, 148), (226, 202)))
    return (body, *cams, *valves, Line(175, 80, 175, 300, "centre"), Line(76, 150, 274, 150, "thin"),
            Line(60, 270, 290, 270, "thin"))  # fmt: skip
