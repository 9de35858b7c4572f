"""Where the gauge goes in a valve guide: the bore at three heights, and the rocking reading."""

from witnessmark.draw.scene import (
    Ask,
    Scene,
    beside,
    caption,
    cut,
    direction_words,
    mirrored,
    painted,
    section,
    taken,
)
from witnessmark.draw.shape import Circle, Line, Point, Rect, Shape, polygon

_AXIS, _BORE = 200.0, 18.0
_STATIONS = {"top": 110.0, "middle": 210.0, "bottom": 310.0}


def guide(ask: Ask) -> Scene:
    """Guide bore: a small bore gauge from above at the height of now."""
    y = _STATIONS.get(ask.place, _STATIONS["middle"])
    words = direction_words(ask.direction)
    labels: list[Shape] = []
    for station, level in _STATIONS.items():
        now, values = station == ask.place, ask.read(station)
        if not now:
            labels.append(Line(104, level, _AXIS + 30, level, "thin" if values else "hidden"))
        labels += beside(12, level - 8, station, values, now)
    where = ask.place if ask.place in _STATIONS else "middle"
    if ask.characteristic == "stem_guide_clearance":
        return _clearance(ask, y, labels, f"{where} of the guide, {words[0]}")
    shapes = (
        *_casting(), *labels, *_gauge(y), *section(66, 500, 34, ask.direction or "across", bore=True),
        *caption(150, 486, words[0], *words[1:]),
    )  # fmt: skip
    return Scene(shapes, (_AXIS, y), f"where the bore gauge goes now: {where} of the guide, {words[0]}")


def _clearance(ask: Ask, y: float, labels: list[Shape], place: str) -> Scene:
    """The stem in its guide: what is left between the two readings of one height and direction."""
    stem: list[Point] = [(_AXIS - 10, 30), (_AXIS - 13, 34), (_AXIS - 13, 366)]
    r, small = 34.0, 15.0
    upright = ask.direction == "along"
    gaps = [(66 - 6, 500 + d, 12, 7) if upright else (66 + d, 500 - 6, 7, 12) for d in (-22, 15)]
    shapes = (
        *_casting(), polygon("part", [*stem, *mirrored(stem, _AXIS)]), Line(_AXIS, 16, _AXIS, 384, "centre"), *labels,
        *painted(_AXIS - _BORE, y - 22, 5, 44, "left"), *painted(_AXIS + _BORE - 5, y - 22, 5, 44, "right"),
        Circle(66, 500, r, "part"), Circle(66, 500, r, "section_other"), Circle(66, 500, r, "outline"),
        Circle(66, 500, 22, "part"), Circle(66, 500, small, "part"), *(Rect(*gap, "now") for gap in gaps),
        Circle(66, 500, small, "outline"), Circle(66, 500, 22, "outline"),
        *caption(128, 486, direction_words(ask.direction)[0], "worked out: bore less", "stem, both at this height"),
    )  # fmt: skip
    return Scene(shapes, (_AXIS, y), f"where the clearance is now: {place}, bore less stem")


def _casting() -> tuple[Shape, ...]:
    wall: list[Point] = [(_AXIS - 48, 70), (_AXIS - _BORE, 70), (_AXIS - _BORE, 350), (_AXIS - 48, 350)]
    metal: list[Point] = [(_AXIS - 88, 150), (_AXIS - 48, 150), (_AXIS - 48, 330), (_AXIS - 88, 330)]
    shapes: list[Shape] = []
    for outline, role in ((metal, "section"), (wall, "section_other")):
        shapes += [*cut(role, outline), *cut(role, mirrored(outline, _AXIS))]
    return (*shapes, Line(_AXIS, 54, _AXIS, 372, "centre"))


def _gauge(y: float) -> tuple[Shape, ...]:
    left, right = _AXIS - _BORE, _AXIS + _BORE
    return (
        Circle(_AXIS, 30, 24, "phantom_part"),
        Line(_AXIS, 30, _AXIS + 13, 16, "thin"),
        Rect(_AXIS - 5, 54, 10, y - 70, "phantom"),
        Rect(_AXIS - 10, y - 16, 20, 32, "phantom_part"),
        *painted(left, y - 19, 7, 38, "left"),
        *painted(right - 7, y - 19, 7, 38, "right"),
    )


def rock(ask: Ask) -> Scene:
    """Rocking reading: the valve lifted by a stated amount, an indicator against the edge of its head."""
    way = "across the thrust" if ask.direction == "across" else "along the thrust"
    stem: list[Point] = [(_AXIS - 16, 30), (_AXIS - 16, 396), (_AXIS - 90, 428), (_AXIS - 90, 444)]
    valve = polygon("part", [*stem, *mirrored(stem, _AXIS)])
    tip: list[Shape] = [
        Line(40, 436, 96, 436, "phantom"),
        Circle(40, 412, 24, "phantom"),
        Line(40, 412, 53, 398, "thin"),
    ]
    shapes = (
        valve, *_casting(), *tip, polygon("now", [(98, 428), (98, 444), (110, 436)]),
        Line(110, 424, 110, 448, "edge", 3),
        Line(122, 456, 278, 456, "thin", start="arrow", end="arrow"),
        *caption(12, 490, "rock it, read the swing", f"{way}; no clearance by itself"), *taken(ask, 12, 546),
    )  # fmt: skip
    return Scene(shapes, (150, 425), f"where the indicator goes now: at the edge of the head, rocked {way}")
