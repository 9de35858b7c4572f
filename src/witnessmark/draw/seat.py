"""Where the gauge goes on a valve seat: its width, its runout to the guide, how deep the valve sits."""

from witnessmark.draw.scene import Ask, Scene, caption, cut, height_dimension, listed, painted, taken
from witnessmark.draw.shape import Line, Point, Rect, Shape, polygon

_INSERT: list[Point] = [(40, 110), (210, 110), (210, 190), (198, 222), (148, 272), (100, 296), (40, 296)]
_TOP, _LOW = (198.0, 222.0), (148.0, 272.0)
_STEM = 300.0


def seat(ask: Ask) -> Scene:
    """The seat by what is measured on it: `seat_runout`, `seat_recession`, else its width."""
    if ask.characteristic == "seat_runout":
        return _runout(ask)
    if ask.characteristic == "seat_recession":
        return _recession(ask)
    return _width(ask)


def insert() -> tuple[Shape, ...]:
    """The seat insert in section, the port above and the chamber below, with the axis of its valve."""
    return (*cut("section_other", _INSERT), Line(_STEM, 60, _STEM, 350, "centre"))


def band(off: float = 6) -> tuple[Shape, ...]:
    """Paint on the seat face between its two relief cuts."""
    (x1, y1), (x2, y2) = _TOP, _LOW
    return (
        polygon("now", [(x1, y1), (x2, y2), (x2 + off, y2 + off), (x1 + off, y1 + off)]),
        Line(x1, y1, x2, y2, "edge", 3),
    )


def _width(ask: Ask) -> Scene:
    (x1, y1), (x2, y2) = _TOP, _LOW
    out = 34.0
    dimension = (
        Line(x1, y1, x1 + out + 5, y1 + out + 5, "faint"),
        Line(x2, y2, x2 + out + 5, y2 + out + 5, "faint"),
        Line(x1 + out, y1 + out, x2 + out, y2 + out, "thin", start="arrow", end="arrow"),
    )
    stations = [station for station in ("1", "2", "3", "4") if station in ask.values or station == ask.station]
    shapes = (
        *insert(), *band(), *dimension,
        *caption(12, 400, "seat width", "along the 45° band, with a", "graticule or scale"),
        *(listed(12, 476, ask, stations) if stations else taken(ask, 12, 476)),
    )  # fmt: skip
    return Scene(shapes, (180, 245), "where the scale goes now: across the contact band of the seat")


def _runout(ask: Ask) -> Scene:
    middle = ((_TOP[0] + _LOW[0]) / 2, (_TOP[1] + _LOW[1]) / 2)
    pilot = (
        Rect(_STEM - 14, 40, 28, 270, "phantom"),
        Rect(_STEM - 60, 310, 120 - 12, 26, "phantom"),
        Line(_STEM - 60, 323, middle[0] + 24, 323, "phantom"),
        Line(middle[0] + 24, 323, middle[0] + 2, middle[1] + 2, "phantom"),
    )
    shapes = (
        *insert(), *pilot, *band(),
        *caption(12, 400, "runout of the seat", "pilot in the finished guide,", "stylus once round; read the swing"),
        *taken(ask, 12, 480),
    )  # fmt: skip
    return Scene(shapes, (195, 265), "where the runout gauge goes now: round the seat, its pilot in the guide")


def _recession(ask: Ask) -> Scene:
    low = 268.0
    valve = polygon("phantom", [(_STEM - 14, 60), (_STEM - 14, 150), (220, 200), (160, 260), (160, low), (340, low)],
                    closed=False)  # fmt: skip
    gauge = (
        Rect(46, 296, 296, 22, "phantom"),
        Rect(246, low + 10, 10, 86, "phantom"),
        Rect(228, 358, 46, 46, "phantom"),
    )
    shapes = (
        *insert(), valve, *gauge, *painted(56, 296, 40, 8, "top"), *painted(236, low, 30, 8, "top"),
        *height_dimension(128, low, 296, 160),
        *caption(12, 440, "deck to valve face", "sunk is plus, standing proud", "is minus; valve on its seat"),
        *taken(ask, 12, 520),
    )  # fmt: skip
    return Scene(shapes, (185, 280), "where the depth gauge goes now: from the gasket face to the face of the valve")
