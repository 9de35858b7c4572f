"""Where the gauge goes on the head of a valve: runout and angle of its face, how much was ground off, its diameter."""

from witnessmark.draw.handtool import block, caliper_level, caliper_upright, dial, noted, plate
from witnessmark.draw.scene import Ask, Scene, caption
from witnessmark.draw.shape import Circle, Line, Path, Point, Rect, Shape, Text, path, polygon


def lying(axis: float, tip: float, flat: float, half: float = 12, reach: float = 76) -> Path:
    """A valve that lies along the sheet, from the x of `tip` to that of `flat`; `reach` is the radius of its head."""
    groove = tip + 15
    steps: list[str | float] = ["M", tip, axis - half + 3]
    upper: list[Point] = [(tip + 3, axis - half), (groove, axis - half), (groove + 3, axis - half + 4),
                          (groove + 9, axis - half + 4), (groove + 12, axis - half), (flat - 84,
                                                                                      axis - half)]  # fmt: skip
    for x, y in upper:
        steps += ["L", x, y]
    inner = axis - reach + 14
    steps += ["C", flat - 52, axis - half - 2, flat - 36, inner + 22, flat - 28, inner,
              "L", flat - 14, axis - reach, "L", flat, axis - reach]  # fmt: skip
    steps += ["L", flat, axis + reach, "L", flat - 14, axis + reach, "L", flat - 28, 2 * axis - inner]
    steps += ["C", flat - 36, 2 * axis - inner - 22, flat - 52, axis + half + 2, flat - 84, axis + half]
    for x, y in reversed(upper[:-1]):
        steps += ["L", x, 2 * axis - y]
    return path("part", *steps, "L", tip, axis + half - 3, "Z")


def face_runout(ask: Ask) -> Scene:
    """Runout of the face: stem on V-blocks, tip against a stop, indicator square to the face."""
    axis, flat, reach = 262.0, 322.0, 76.0
    x, y = flat - 21, axis - reach + 7
    stop = (polygon("phantom", [(8, axis - 22), (26, axis - 22), (26, axis + 22), (8, axis + 22)]),
            Circle(31, axis, 5, "phantom_part"))  # fmt: skip
    shapes = (
        lying(axis, 36, flat, 12, reach), Line(6, axis, 344, axis, "centre"), *block(88, axis, 12), *block(206, axis,
                                                                                                           12),
        *stop, *dial(x, y, 135, 64, 24), Line(flat - 14, axis - reach, flat - 14, axis + reach, "thin"),
        *caption(12, 400, "runout of the face", "stem on V-blocks, tip at a stop;", "square to the face, one turn"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (x - 12, y - 12), "where the indicator goes now: square to the valve face, stem on V-blocks")


_AXIS, _EDGE = 214.0, 96.0
_FACE = ((_EDGE + 46, 214.0), (_EDGE, 260.0))
_FLAT = 284.0


def _standing() -> tuple[Shape, ...]:
    """The head of a valve that stands on its flat, with the stem cut short."""
    (x1, y1), (x2, y2) = _FACE
    steps: list[str | float] = [
        "M",
        _AXIS - 20,
        36,
        "L",
        _AXIS - 20,
        130,
        "C",
        _AXIS - 22,
        176,
        _AXIS - 44,
        200,
        x1,
        y1,
    ]
    right = [2 * _AXIS - x for x in (x1, x2)]
    shape = path("part", *steps, "L", x2, y2, "L", x2, _FLAT, "L", right[1], _FLAT, "L", right[1], y2,
                 "L", right[0], y1, "C", _AXIS + 44, 200, _AXIS + 22, 176, _AXIS + 20, 130, "L", _AXIS + 20,
                 36)  # fmt: skip
    return (shape, Line(x2, y2, right[1], y2, "thin"), Line(x1, y1, right[0], y1, "thin"),
            Line(_AXIS, 16, _AXIS, 316, "centre"))  # fmt: skip


def _painted_face(off: float = 6) -> tuple[Shape, ...]:
    (x1, y1), (x2, y2) = _FACE
    band = polygon("now", [(x1, y1), (x2, y2), (x2 - off, y2 - off), (x1 - off, y1 - off)])
    return (band, Line(x1, y1, x2, y2, "edge", 3))


def face_angle(ask: Ask) -> Scene:
    """Angle of the face from the plane of the head; `face_removed` shows what was ground off."""
    if ask.characteristic == "face_removed":
        return _removed(ask)
    (x1, y1), (x2, y2) = _FACE
    foot = x2 - (_FLAT - y2)
    blade = [(x1 + 34, y1 - 34), (foot, _FLAT), (foot - 20, _FLAT), (x1 + 20, y1 - 40)]
    arc = path("thin", "M", foot + 96, _FLAT, "A", 96, 96, 0, 0, 0, foot + 68, _FLAT - 68)
    stock = Rect(12, _FLAT - 26, 34, 26, "phantom")
    shapes = (
        *_standing(), polygon("phantom", blade), stock, *_painted_face(), *plate(_FLAT), arc,
        *caption(12, 372, "angle of the face", "from the flat of the head; protractor,", "no light under its blade"),
        *noted(ask, 454),
    )  # fmt: skip
    return Scene(shapes, (x2 + 20, y2 - 20), "where the protractor goes now: its blade along the face of the valve")


def _removed(ask: Ask) -> Scene:
    """What grinding took, along the axis: the face as it was lies nearer to the tip."""
    (x1, y1), (x2, y2) = _FACE
    off = 30.0
    x, y = (x1 + x2) / 2, (y1 + y2) / 2
    along = (Line(x, y - off - 34, x, y - off, "thin", end="arrow"), Line(x, y + 36, x, y, "thin", end="arrow"))
    shapes = (
        *_standing(), *_painted_face(), polygon("phantom", [(x1, y1 - off), (x2, y2 - off), (x2, y2)], closed=False),
        *along, Text(12, 116, "face before", "label"), Line(54, 124, x2 + 6, y2 - off - 6, "faint", end="dot"),
        *caption(12, 372, "ground off the face so far", "along the axis: stem height after the",
                 "grind less before, all grinds together"),
        *noted(ask, 454),
    )  # fmt: skip
    return Scene(shapes, (x, y), "where the grinding shows now: on the face, along the axis of the valve")


def valve_head(ask: Ask) -> Scene:
    """Diameter of the head, seen on its flat: caliper in two directions."""
    x, y, r = 186.0, 196.0, 96.0
    upright = ask.place in {"2", "across"} or ask.direction == "across"
    if upright:
        gauge: tuple[Shape, ...] = caliper_upright(y - r, y + r, 40, x + 20, paint=40)
        focus = (x, y - r)
    else:
        gauge = caliper_level(x - r, x + r, 40, y + 20, paint=40)
        focus = (x - r, y)
    shapes = (
        Circle(x, y, r, "part"), Circle(x, y, r - 7, "thin"), Circle(x, y, 6, "thin"),
        Line(x - r - 14, y, x + r + 14, y, "centre"), Line(x, y - r - 14, x, y + r + 14, "centre"), *gauge,
        *caption(12, 400, "diameter of the head", "on the margin, then a quarter turn on;",
                 "keep off burnt or nicked places"),
        *noted(ask, 480),
    )  # fmt: skip
    way = "a quarter turn on" if upright else "across the margin"
    return Scene(shapes, focus, f"where the caliper goes now: over the head of the valve, {way}")
