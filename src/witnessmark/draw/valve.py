"""Where the gauge goes on a valve: its stem, its margin, its height over the spring seat."""

from witnessmark.draw.scene import (
    Ask,
    Scene,
    beside,
    caption,
    cut,
    direction_words,
    height_dimension,
    listed,
    micrometer,
    mirrored,
    painted,
    section,
    taken,
)
from witnessmark.draw.shape import Circle, Line, Path, Point, Rect, Shape, Text, path, polygon

AXIS = 168.0
_HALF = 21.0  # half the stem on the sheet
_STATIONS = {"top": 110.0, "middle": 196.0, "bottom": 282.0}


def stem(ask: Ask) -> Scene:
    """Stem diameter: guide as neighbour, three heights, micrometer at the one of now."""
    y = _STATIONS.get(ask.place, _STATIONS["middle"])
    words = direction_words(ask.direction)
    shapes = (
        *_valve(), *_guide_runs(132 if ask.place != "top" else 228), *_heights(ask),
        *micrometer(AXIS - _HALF, AXIS + _HALF, y), *section(66, 500, 34, ask.direction or "across"),
        *caption(150, 486, words[0], *words[1:]),
    )  # fmt: skip
    where = ask.place if ask.place in _STATIONS else "middle"
    return Scene(shapes, (AXIS + 17, y + 9), f"where the micrometer goes now: {where} of the stem, {words[0]}")


def _valve() -> tuple[Shape, ...]:
    """Tip with its keeper groove, stem shortened by a break, head."""
    left, right = AXIS - _HALF, AXIS + _HALF
    sides: list[Shape] = []
    for x, s in ((left, 1), (right, -1)):
        tip = [(AXIS, 18), (x + 3 * s, 18), (x, 22), (x, 40), (x + 5 * s, 44), (x + 5 * s, 52), (x, 56), (x, 352)]
        sides.append(polygon("outline", tip, closed=False))
        neck = path("outline", "M", x, 364, "C", x - 2 * s, 392, x - 32 * s, 408, x - 74 * s, 412,
                    "L", x - 82 * s, 420, "L", x - 82 * s, 428, "L", AXIS, 428)  # fmt: skip
        sides.append(neck)
    lines = [Line(x + 5, y, 2 * AXIS - x - 5, y, "thin") for x, y in ((left, 44), (left, 52))]
    lines += [Line(left, y, right, y, "thin") for y in (40, 56)]
    lines += [Line(73, 412, 263, 412, "thin"), Line(65, 420, 271, 420, "thin")]
    worn = [Line(left, y, right, y, "faint", dash="3 3") for y in (92, 300)]
    return (*sides, *lines, *worn, *_break(354), *_break(362), Line(AXIS, 4, AXIS, 440, "centre"))


def _break(y: float) -> tuple[Path]:
    left = AXIS - 29
    waves = [step for i in range(4) for step in ("Q", left + 14.5 * i + 7, y + (-6 if i % 2 == 0 else 6),
                                                 left + 14.5 * (i + 1), y)]  # fmt: skip
    return (path("thin", "M", left, y, *waves),)


def _guide_runs(y: float) -> tuple[Shape, ...]:
    return (
        Rect(AXIS - 47, 92, 22, 208, "phantom"),
        Rect(AXIS + 25, 92, 22, 208, "phantom"),
        Text(223, y, "runs in the", "label"),
        Text(223, y + 19, "guide here", "label"),
    )


def _heights(ask: Ask) -> tuple[Shape, ...]:
    found: list[Shape] = []
    for station, y in _STATIONS.items():
        values = ask.read(station)
        now = station == ask.place
        if not now:
            found.append(Line(101, y, 195, y, "thin" if values else "hidden"))
        found += beside(12, y - 8, station, values, now)
    return tuple(found)


def margin(ask: Ask) -> Scene:
    """The margin: the cylindrical edge between the face and the head's flat, at places round the head."""
    axis, edge = 190.0, 80.0
    half: list[Point] = [
        (axis - 22, 40),
        (axis - 22, 190),
        (axis - 40, 226),
        (edge + 42, 246),
        (edge, 288),
        (edge, 330),
    ]
    outline = polygon("part", [*half, *mirrored(half, axis)])
    round_places = {"1": (0, -1), "2": (1, 0), "3": (0, 1), "4": (-1, 0)}
    dots: list[Shape] = [Circle(66, 500, 40, "part"), Circle(66, 500, 30, "thin"), Circle(66, 500, 5, "thin")]
    for station, (dx, dy) in round_places.items():
        now = station == ask.station or (not ask.station and station == "1")
        dots.append(Circle(66 + 40 * dx, 500 + 40 * dy, 7 if now else 4, "now" if now else "ink"))
        dots += [Circle(66 + 40 * dx, 500 + 40 * dy, 7, "outline")] if now else []
    stations = [station for station in round_places if station in ask.values or station == ask.station]
    shapes = (
        outline, Line(edge, 288, 2 * axis - edge, 288, "thin"), Line(axis, 26, axis, 346, "centre"),
        *_jaws(edge, 288, 330), *painted(edge - 8, 288, 8, 42, "right"), *height_dimension(44, 288, 330, edge),
        *dots, *caption(12, 386, "margin", "straight edge between face", "and flat, least of the places"),
        *(listed(150, 468, ask, stations) if stations else taken(ask, 150, 500)),
    )  # fmt: skip
    return Scene(shapes, (edge + 60, 305), "where the caliper goes now: the margin at the edge of the valve head")


def _jaws(edge: float, top: float, low: float) -> tuple[Shape, ...]:
    return (
        polygon("phantom", [(edge + 26, top), (edge - 62, top), (edge - 62, top - 34), (edge - 20, top - 34)]),
        polygon("phantom", [(edge + 26, low), (edge - 62, low), (edge - 62, low + 30), (edge - 20, low + 30)]),
    )


_SEAT, _TIP = 340.0, 70.0


def stem_height(ask: Ask) -> Scene:
    """Stem height: from the spring seat to the tip, spring off, valve held on its seat."""
    column = polygon("phantom", [(262, _SEAT - 3), (262, 40), (166, 40), (166, _TIP - 8), (188, _TIP - 8),
                                 (188, 58), (238, 58), (238, _SEAT - 3)])  # fmt: skip
    shapes = (
        *_in_head(), *_stem(_TIP), column, *painted(166, _TIP - 8, 22, 8, "bottom"),
        *painted(238, _SEAT - 8, 24, 8, "bottom"), *height_dimension(64, _TIP, _SEAT, 165),
        *caption(12, 486, "spring seat to tip", "spring off, valve held on its seat"), *taken(ask, 12, 546),
    )  # fmt: skip
    return Scene(shapes, (185, 105), "where the height gauge goes now: from the spring seat to the tip of the stem")


def installed_height(ask: Ask) -> Scene:
    """Installed height: from the spring seat to the underside of the retainer, keepers in, valve held shut."""
    under = 176.0
    collar: list[Point] = [(165, 150), (110, 150), (110, under), (140, under), (150, under + 16), (165, under + 16)]
    gauge = tuple(Rect(x, under, 20, _SEAT - under, "phantom") for x in (112, 224))
    shapes = (
        *_in_head(), *_stem(118), polygon("part", collar), polygon("part", mirrored(collar, 178)), *gauge,
        *painted(112, under, 20, 8, "top"), *painted(112, _SEAT - 8, 20, 8, "bottom"),
        *painted(224, under, 20, 8, "top"), *painted(224, _SEAT - 8, 20, 8, "bottom"),
        *height_dimension(64, under, _SEAT, 110),
        *caption(12, 486, "spring seat to retainer", "keepers in, valve held shut"), *taken(ask, 12, 546),
    )  # fmt: skip
    return Scene(shapes, (170, 210), "where the height gauge goes now: from the spring seat to under the retainer")


def _stem(tip: float) -> tuple[Shape, ...]:
    sides = [polygon("outline", [(165, 440), (165, tip + 3), (168, tip), (188, tip), (191, tip + 3), (191, 440)],
                     closed=False)]  # fmt: skip
    return (*sides, Line(178, tip - 24, 178, 456, "centre"))


def _in_head() -> tuple[Shape, ...]:
    """Casting with its spring seat, and the guide standing out of it."""
    casting: list[Point] = [(90, _SEAT), (90, 440), (146, 440), (146, _SEAT)]
    guide: list[Point] = [(146, 300), (164, 300), (164, 440), (146, 440)]
    shapes: list[Shape] = []
    for outline, role in ((casting, "section"), (guide, "section_other")):
        shapes += [*cut(role, outline), *cut(role, mirrored(outline, 178))]
    return tuple(shapes)
