"""Where the gauge goes for a seat insert: the counterbore, the ring, the fit of the two, how deep it sits."""

from witnessmark.draw.handtool import bore_gauge, noted
from witnessmark.draw.scene import Ask, Scene, caption, cut, height_dimension, micrometer, mirrored, painted
from witnessmark.draw.shape import Line, Point, Rect, Shape

_X = 178.0
_BORE, _PORT = 74.0, 48.0
_DECK, _FLOOR = 170.0, 226.0


def seat_insert(ask: Ask) -> Scene:
    """By what is measured: `seat_insert_od`, `_depth`, `_fit`; the counterbore where nothing else is named."""
    scenes = {"seat_insert_od": _ring_od, "seat_insert_depth": _depth, "seat_insert_fit": _fit}
    return scenes.get(ask.characteristic, _bore)(ask)


def _way(ask: Ask) -> str:
    return {"along": "along the head", "across": "across the head"}.get(ask.station, "along and across the head")


def _bore(ask: Ask) -> Scene:
    shapes = (
        *_casting(), *bore_gauge(_X - _BORE, _X + _BORE, 200, 60),
        *caption(12, 400, "counterbore", f"{_way(ask)}, at half depth,", "old insert out, cleaned, head cold"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(
        shapes, (_X - 20, 200), f"where the bore gauge goes now: in the counterbore of the insert, {_way(ask)}"
    )


def _ring_od(ask: Ask) -> Scene:
    x, half = 160.0, 64.0
    shapes = (
        *_ring(x, half, 150, 210), *micrometer(x - half, x + half, 180),
        *caption(12, 400, "outside of the insert", "at half height, above its chamfer,", "twice at right angles"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (x, 180), "where the micrometer goes now: over the seat insert at half its height")


def _fit(ask: Ask) -> Scene:
    top, low = 60.0, 112.0
    shapes = (
        *_casting(), *_ring(_X, _BORE, top, low), Line(_X, low + 12, _X, _DECK + 10, "outline", end="arrow"),
        *painted(_X - _BORE - 8, top + 10, 8, 34, "right"), *painted(_X + _BORE, top + 10, 8, 34, "left"),
        *painted(_X - _BORE, _DECK + 10, 8, 36, "left"), *painted(_X + _BORE - 8, _DECK + 10, 8, 36, "right"),
        *caption(12, 400, "fit of the insert", "worked out: outside of the insert", "less the counterbore"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (_X - 40, 150), "where the micrometer and the bore gauge go now: insert and its counterbore")


def _depth(ask: Ask) -> Scene:
    x = _X + 60
    gauge = (
        Rect(60, _DECK - 24, 250, 24, "phantom"), Rect(x - 5, 70, 10, _FLOOR - 70, "phantom"),
        Rect(x - 18, 42, 36, 84, "phantom"),
        Line(x - 18, 68, x + 18, 68, "thin"), Line(x - 18, 84, x + 18, 84, "thin"),
    )  # fmt: skip
    shapes = (
        *_casting(), *gauge, *painted(70, _DECK - 8, 28, 8, "bottom"), *painted(266, _DECK - 8, 28, 8, "bottom"),
        *painted(x - 11, _FLOOR - 8, 22, 8, "bottom"), *height_dimension(34, _DECK, _FLOOR, _X - _BORE),
        *caption(12, 400, "depth of the counterbore", "from the face of the chamber to its",
                 "floor; the insert must bottom"), *noted(ask, 480),
    )  # fmt: skip
    return Scene(
        shapes, (x - 20, 196), "where the depth gauge goes now: from the chamber to the floor of the counterbore"
    )


def _casting() -> tuple[Shape, ...]:
    """The casting cut through the counterbore, chamber side up, port below."""
    half: list[Point] = [(52, _DECK), (_X - _BORE, _DECK), (_X - _BORE, _FLOOR), (_X - _PORT, _FLOOR),
                         (_X - _PORT - 6, 330),
                         (52, 330)]  # fmt: skip
    return (*cut("section", half), *cut("section", mirrored(half, _X)),
            Line(_X - _BORE, _FLOOR, _X + _BORE, _FLOOR, "thin"),
            Line(_X, 130, _X, 346, "centre"))  # fmt: skip


def _ring(x: float, half: float, top: float, low: float) -> tuple[Shape, ...]:
    """A seat insert cut through: its seat not cut yet, a lead-in chamfer at the lower edge."""
    wall: list[Point] = [
        (x - half, top),
        (x - half + 24, top),
        (x - half + 24, low),
        (x - half + 5, low),
        (x - half, low - 6),
    ]
    inside: tuple[Shape, ...] = (Rect(x - half, top, 2 * half, low - top, "sheet"),
                                 Line(x - half, top, x + half, top, "outline"),
                                Line(x - half + 24, low, x + half - 24, low, "outline"))  # fmt: skip
    return (
        *inside,
        *cut("section_other", wall),
        *cut("section_other", mirrored(wall, x)),
        Line(x, top - 20, x, low + 8, "centre"),
    )
