"""Where eye, lamp and air go on the head casting: cracks, and the jacket under pressure."""

from math import hypot

from witnessmark.draw.face import Face, FacePlan, casting, lay_out, plug
from witnessmark.draw.handtool import lens, noted
from witnessmark.draw.scene import Ask, Scene, caption, cut, painted_ring
from witnessmark.draw.shape import Circle, Group, Line, Path, Point, Rect, Shape, path, polygon

_WORDS = {
    "between-seats": "bridge between the seats", "seat-to-plug": "from seat to plug hole",
    "deck": "deck round the chamber", "insert": "round and under the inserts", "injector": "round the injector hole",
    "bolt-hole": "round the bolt holes",
}  # fmt: skip


def cracks(ask: Ask) -> Scene:
    """One chamber from below with the metal to look at painted; a cam saddle from the side where that is asked."""
    if ask.station == "saddle":
        return _saddle(ask)
    face = lay_out(FacePlan((ask.number or 1,), ask.face.inlets, ask.face.exhausts, 300))
    paint = _painted(face, ask.station)
    words = _WORDS.get(ask.station, "every bridge of the chamber")
    dx, dy = (350 - face.width) / 2, 16.0
    focus = _focus(face, ask.station)
    shapes = (
        Group((*casting(face), *paint), dx, dy), *_raking(322),
        *caption(12, 420, words, "clean, lamp low from the side, lens;", "then dye or magnetic powder"),
        *noted(ask, 500),
    )  # fmt: skip
    return Scene(shapes, (focus[0] + dx, focus[1] + dy), f"where the eye goes now: {words}")


def _focus(face: Face, station: str) -> Point:
    x, y = face.centre(0), 129 * face.scale
    return {"deck": (x + 103 * face.scale, y), "bolt-hole": (30.0, 30.0),
            "insert": (face.valves[0].x, face.valves[0].y),
            "seat-to-plug": plug(face, 0), "injector": _injector(face)}.get(station, (x, y))  # fmt: skip


def _painted(face: Face, station: str) -> tuple[Shape, ...]:
    """Paint for one station; every bridge where no station is named."""
    s, x = face.scale, face.centre(0)
    if station == "deck":
        return painted_ring(x, 129 * s, 97 * s, 109 * s)
    if station == "insert":
        return tuple(shape for v in face.valves for shape in painted_ring(v.x, v.y, v.r - 6, v.r + 1))
    if station == "bolt-hole":
        holes = [(30 * s + i * (face.width - 60 * s), y * s) for i in (0, 1) for y in (30, 220)]
        return tuple(shape for at in holes for shape in painted_ring(*at, 12 * s, 20 * s))
    if station == "injector":
        at = _injector(face)
        return (Circle(*at, 9 * s, "part"), *painted_ring(*at, 9 * s, 17 * s))
    return tuple(shape for a, b, w in _bridges(face, station) for shape in _bridge(a, b, w))


def _bridges(face: Face, station: str) -> list[tuple[Point, Point, float]]:
    """Both ends of each narrow wall, between seats and from seat to plug hole, and half the width of its paint."""
    found: list[tuple[Point, Point, float]] = []
    rounds = [(v.x, v.y, v.r) for v in face.valves]
    hole = (*plug(face, 0), 12 * face.scale)
    if station != "seat-to-plug":
        pairs = [(a, b) for i, a in enumerate(rounds) for b in rounds[i + 1 :]]
        found += [(*_wall(a, b), 11.0) for a, b in pairs if _between(a, b) < 24 * face.scale]
    if station != "between-seats":
        nearest = min(_between(one, hole) for one in rounds)
        found += [(*_wall(one, hole), 7.0) for one in rounds if _between(one, hole) < nearest + 12 * face.scale]
    return found


_Round = tuple[float, float, float]


def _between(a: _Round, b: _Round) -> float:
    return hypot(a[0] - b[0], a[1] - b[1]) - a[2] - b[2]


def _wall(a: _Round, b: _Round) -> tuple[Point, Point]:
    far = hypot(a[0] - b[0], a[1] - b[1])
    ux, uy = (b[0] - a[0]) / far, (b[1] - a[1]) / far
    return (a[0] + ux * a[2], a[1] + uy * a[2]), (b[0] - ux * b[2], b[1] - uy * b[2])


def _bridge(a: Point, b: Point, w: float) -> tuple[Shape, ...]:
    """A painted patch over a wall, twice `w` along it, heavy ink on the two edges that meet it."""
    far = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    ux, uy = (b[0] - a[0]) / far, (b[1] - a[1]) / far
    one = ((a[0] - uy * w, a[1] + ux * w), (a[0] + uy * w, a[1] - ux * w))
    two = ((b[0] + uy * w, b[1] - ux * w), (b[0] - uy * w, b[1] + ux * w))
    return (polygon("now", [*one, *two]), Line(*one[0], *one[1], "edge", 3), Line(*two[0], *two[1], "edge", 3))


def _injector(face: Face) -> Point:
    """A place for an injector's hole that no valve and no plug has taken."""
    s, x, y = face.scale, face.centre(0), 129 * face.scale
    taken = [*((v.x, v.y, v.r) for v in face.valves), (*plug(face, 0), 12 * s)]
    spots = [(0, -76), (-76, 0), (76, 0), (0, 78), (-66, 50), (66, 50), (-66, -50), (0, 0)]
    places = [(x + dx * s, y + dy * s) for dx, dy in spots]
    return max(places, key=lambda at: min(5.0 * s, *(_between((*at, 9 * s), one) for one in taken)))


def _raking(top: float) -> tuple[Shape, ...]:
    """Lamp held low over a crack in the face, cut through, and the lens over it."""
    x = 196.0
    metal: list[Point] = [(40, top + 38), (x - 4, top + 38), (x + 1, top + 62), (x + 4, top + 38), (330, top + 38),
                          (330, top + 72), (40, top + 72)]  # fmt: skip
    rays = tuple(Line(84, top + 16 + dy, x - 8, top + 34 + dy / 4, "faint") for dy in (-6, 2, 10))
    return (
        *cut("section", metal), polygon("phantom",
                                        [(40, top), (72, top + 2), (84, top + 8), (80, top + 28), (40, top + 22)]),
        *rays, *lens(x, top + 30, 22, 30),
    )  # fmt: skip


def _saddle(ask: Ask) -> Scene:
    body = path("part", "M", 43, 330, "L", 43, 170, "L", 115, 170, "A", 60, 60, 0, 0, 0, 235, 170, "L", 307, 170,
                "L", 307, 330, "Z")  # fmt: skip
    holes = tuple(Line(x + dx, 170, x + dx, 270, "hidden") for x in (79, 271) for dx in (-12, 12))
    paint = (Rect(99, 170, 16, 30, "now"), Rect(235, 170, 16, 30, "now"), Line(115, 170, 122, 198, "edge", 3),
             Line(235, 170, 228, 198, "edge", 3))  # fmt: skip
    shapes = (
        body, *holes, *paint, Line(175, 150, 175, 344, "centre"), *lens(112, 182, 34, 150), *_raking(30),
        *caption(12, 400, "cam saddle", "from the bearing to the bolt hole,", "clean, lamp low from the side"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (123, 185), "where the eye goes now: corners of the cam saddle to its bolt holes")


def pressure_test(ask: Ask) -> Scene:
    """The head under water with its jacket blanked: air in, bubbles where it leaks."""
    outer: list[Point] = [(46, 150), (304, 150), (304, 300), (46, 300)]
    jacket = path("sheet", "M", 86, 196, "C", 110, 176, 150, 190, 175, 186, "C", 210, 180, 250, 176, 270, 200, "L",
                  270, 270,
                  "C", 240, 284, 220, 252, 176, 254, "C", 130, 252, 110, 284, 86, 268, "Z")  # fmt: skip
    openings = tuple(Rect(x, 262, 20, 38, "sheet") for x in (92, 240))
    sides = tuple(Line(x + dx, 268, x + dx, 300, "outline") for x in (92, 240) for dx in (0, 20))
    plates = (
        Rect(36, 300, 278, 8, "section_other"),
        Rect(36, 300, 278, 8, "outline"),
        Rect(28, 308, 294, 16, "phantom"),
    )
    air: tuple[Shape, ...] = (
        path("phantom", "M", 262, 198, "L", 262, 108, "L", 290, 92), Circle(306, 66, 28, "phantom_part"),
        Line(306, 66, 320, 50, "thin"), Line(306, 42, 306, 48, "thin"), Line(262, 128, 262, 158, "thin", end="arrow"),
    )  # fmt: skip
    bubbles = tuple(Circle(x, y, r, "thin") for x, y, r in ((151, 138, 4), (147, 124, 3), (154, 114, 5), (149, 98, 4)))
    shapes = (
        Rect(14, 50, 322, 306, "phantom"), Line(14, 86, 258, 86, "thin"), Line(30, 92, 60, 92, "hair"),
        Line(90, 92, 120, 92, "hair"), *cut("section", outer), jacket, Path(jacket.steps, "outline"), *openings, *sides,
        *plates, *air, path("outline", "M", 152, 150, "L", 147, 162, "L", 154, 174, "L", 150, 187, width=1.5),
        Rect(138, 142, 28, 8, "now"), Line(138, 150, 166, 150, "edge", 3), *bubbles,
        *caption(12, 400, "does the jacket hold?", "all openings blanked, water warm; the",
                 "gauge stands, no bubbles rise"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (175, 170), "where the eye goes now: over the casting in the bath, its jacket under air")
