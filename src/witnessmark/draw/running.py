"""Where the gauge goes on an engine that is together: compression and leakage at the plug hole, pressure of the oil."""

from witnessmark.draw.handtool import noted
from witnessmark.draw.scene import Ask, Scene, caption, cut
from witnessmark.draw.shape import Circle, Line, Path, Point, Rect, Shape, path, polygon

_X, _HOLE, _ROOF, _DECK = 150.0, 126.0, 176.0, 206.0  # axis of the cylinder; plug hole's seat; roof; joint
_WORDS = {
    "cranking_compression": ("compression, dry", "all plugs out, throttle open, warm;",
                             "five to seven strokes, highest"),
    "cranking_first": ("first stroke", "all plugs out, throttle open, warm;", "needle after the first stroke"),
    "cranking_wet": ("compression, wet", "a teaspoon of oil on the piston,", "same number of strokes"),
    "leak_down_supply": ("supply gauge of the set", "piston on top, both valves shut,", "crankshaft locked"),
    "leak_down_cylinder": ("cylinder gauge of the set", "piston on top, both valves shut,", "crankshaft locked"),
}  # fmt: skip
_LOSS = ("leakage", "piston on top, both valves shut,", "crankshaft locked")


def compression(ask: Ask) -> Scene:
    """A gauge screwed into the plug hole, the piston on its way up."""
    bold, *lines = _WORDS.get(ask.characteristic, _WORDS["cranking_compression"])
    shapes = (*_cylinder(270), *_fitting(), *_hose(270, 66), *_gauge(270, 66),
              Line(_X, 346, _X, 322, "thin", end="arrow"), *caption(12, 400, bold, *lines),
              *noted(ask, 480))  # fmt: skip
    return Scene(shapes, (_X, _HOLE), f"where the compression gauge goes now, into the plug hole: {bold}")


def leak_down(ask: Ask) -> Scene:
    """Two gauges with the orifice between them, air into the plug hole, the piston on top."""
    bold, *lines = _WORDS.get(ask.characteristic, _LOSS)
    supply = ask.characteristic == "leak_down_supply"
    throat: list[Point] = [(252, 20), (268, 20), (263, 30), (268, 40), (252, 40), (257, 30)]
    line = (*_hose(220, 30), Line(220, 30, 300, 30, "phantom"), polygon("part", throat))
    here = 300.0 if supply else 220.0
    paint = () if not supply and ask.characteristic != "leak_down_cylinder" else (Rect(here - 8, 50, 16, 8, "now"),)
    shapes = (
        *_cylinder(222), *_fitting(), *line, *_gauge(220, 86), *_gauge(300, 86),
        Line(220, 30, 220, 58, "phantom"), Line(300, 30, 300, 58, "phantom"), *paint,
        Line(342, 30, 306, 30, "thin", end="arrow"), *caption(12, 400, bold, *lines), *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (_X, _HOLE), f"where the air goes now, into the plug hole: {bold}")


def oil_pressure(ask: Ask) -> Scene:
    """A gauge in the place of the sender, on the gallery beyond filter and pump."""
    gallery: list[Point] = [(30, 190), (320, 190), (320, 300), (30, 300)]
    port = Rect(160, 150, 30, 64, "sheet")
    shapes = (
        *cut("section", gallery), Rect(30, 214, 290, 36, "sheet"), Line(30, 214, 160, 214, "outline"),
        Line(190, 214, 320, 214, "outline"), Line(30, 250, 320, 250, "outline"), port,
        Line(160, 190, 160, 214, "outline"), Line(190, 190, 190, 214, "outline"),
        Rect(163, 150, 24, 62, "part"), Rect(155, 136, 40, 16, "part"), Line(175, 136, 175, 96, "phantom"),
        *_gauge(175, 68), Rect(160, 182, 30, 8, "now"), Line(156, 190, 194, 190, "edge", 3),
        Line(50, 232, 110, 232, "thin", end="arrow"), Line(230, 232, 290, 232, "thin", end="arrow"),
        *caption(12, 400, "pressure of the oil", "gauge in the sender's place, oil hot,",
                 "grade and speed written down"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (175, 186), "where the pressure gauge goes now: in the sender's place, on the oil gallery")


def _cylinder(crown: float) -> tuple[Shape, ...]:
    """Head, cylinder walls and a piston whose crown stands at `crown`, the plug hole in the middle of the roof."""
    head: list[Point] = [(40, _DECK), (40, _HOLE), (_X - 11, _HOLE), (_X - 11, _ROOF), (84, _DECK)]
    mirror: list[Point] = [(2 * _X - x, y) for x, y in head]
    walls: list[list[Point]] = [[(x, _DECK), (x + 36, _DECK), (x + 36, 356), (x, 356)] for x in (40.0, 224.0)]
    rings = tuple(Line(x, crown + dy, x + 5, crown + dy, "thin") for dy in (12, 22, 32) for x in (78, 217))
    pieces: list[Path] = []
    for points in (head, mirror):
        pieces += cut("section", points)
    for points in walls:
        pieces += cut("section_other", points)
    valves = tuple(polygon("part", [(a, 200), (b, 184), (b + 3 * s, 190), (a + 3 * s, 206)], 1.5)
                   for a, b, s in ((96.0, 130.0, 1), (204.0, 170.0, -1)))  # fmt: skip
    piston = (Rect(80, crown, 140, min(66.0, 356 - crown), "part"), Circle(_X, crown + 44, 9, "thin"))
    return (*pieces, *valves, *piston, *rings, Line(_X, 100, _X, 366, "centre"))


def _fitting() -> tuple[Shape, ...]:
    """The adapter in the plug hole, painted where it seals."""
    return (Rect(_X - 11, _HOLE, 22, 46, "part"), Rect(_X - 16, _HOLE - 18, 32, 18, "part"),
            Rect(_X - 24, _HOLE - 8, 48, 8, "now"), Line(_X - 26, _HOLE, _X + 26, _HOLE, "edge", 3))  # fmt: skip


def _hose(x: float, y: float) -> tuple[Shape, ...]:
    return (path("phantom", "M", _X, _HOLE - 18, "C", _X, y - 30, _X + 30, y, x, y),)


def _gauge(x: float, y: float) -> tuple[Shape, ...]:
    ticks = (Line(x + dx, y + 14, x + 0.8 * dx, y + 11, "thin") for dx in (-18, 18))
    return (Circle(x, y, 28, "phantom_part"), Line(x, y, x + 14, y - 16, "thin"), *ticks,
            Line(x, y - 24, x, y - 18, "thin"))  # fmt: skip
