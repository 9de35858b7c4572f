"""Where the gauge goes on a camshaft's lobe and journal."""

from math import sqrt

from witnessmark.draw.scene import (
    Ask,
    Scene,
    beside,
    caption,
    direction_words,
    height_dimension,
    micrometer,
    painted,
    section,
    taken,
)
from witnessmark.draw.shape import Circle, Line, Path, Rect, Shape, path, polygon

_X, _BASE_Y, _BASE = 190.0, 230.0, 66.0
_NOSE_Y, _NOSE = 124.0, 26.0


def outline(x: float, base_y: float, base: float, nose_y: float, nose: float) -> Path:
    """A lobe of two circles and their common tangents; `nose_y` lies above `base_y`."""
    lean = (base - nose) / (base_y - nose_y)
    wide = sqrt(1 - lean**2)
    return path(
        "part", "M", x - base * wide, base_y - base * lean,
        "A", base, base, 0, 1, 0, x + base * wide, base_y - base * lean,
        "L", x + nose * wide, nose_y - nose * lean,
        "A", nose, nose, 0, 0, 0, x - nose * wide, nose_y - nose * lean, "Z",
    )  # fmt: skip


def lobe(ask: Ask) -> Scene:
    """Lobe height nose to heel, or the base circle a quarter turn from the nose."""
    across = ask.characteristic == "base_circle" or ask.place == "heel"
    top, low = _NOSE_Y - _NOSE, _BASE_Y + _BASE
    shape = (outline(_X, _BASE_Y, _BASE, _NOSE_Y, _NOSE), Circle(_X, _BASE_Y, 22, "thin"),
             Line(_X, top - 40, _X, low + 40, "centre"),
             Line(_X - 96, _BASE_Y, _X + 96, _BASE_Y, "centre"))  # fmt: skip
    if ask.characteristic == "lobe_lift":
        gauge = _nose_over_heel(top)
        words = ("lift of the lobe", "lobe height less base circle, both", "with one micrometer; worked out")
    elif across:
        gauge = _anvils_across()
        words = ("base circle", "quarter turn from the nose, off", "the ramps")
    else:
        gauge = _anvils_upright(top, low)
        words = ("lobe height", "from nose to heel, the greatest", "reading over the nose")
    view = _edge_view(ask)
    focus = (_X, _BASE_Y) if across else (_X, top + 20)
    where = "across the base circle" if across else "from the nose to the heel of the lobe"
    name = f"where the micrometer goes now: {where}"
    if ask.characteristic == "lobe_lift":
        name = "where the lift is now: from the base circle to the nose of the lobe"
    return Scene((*shape, *gauge, *view, *caption(12, 412, *words)), focus, name)


def _nose_over_heel(top: float) -> tuple[Shape, ...]:
    """What the nose stands higher than the base circle."""
    circle = _BASE_Y - _BASE
    return (
        Circle(_X, _BASE_Y, _BASE, "phantom"), *painted(_X - 14, top - 8, 28, 8, "bottom"),
        *height_dimension(_X - 110, top, circle, _X),
    )  # fmt: skip


def _anvils_across() -> tuple[Shape, ...]:
    left, right = _X - _BASE, _X + _BASE
    return (
        Rect(left - 56, _BASE_Y - 14, 48, 28, "phantom"), Rect(right + 8, _BASE_Y - 14, 48, 28, "phantom"),
        *painted(left - 8, _BASE_Y - 16, 7, 32, "right"), *painted(right + 1, _BASE_Y - 16, 7, 32, "left"),
    )  # fmt: skip


def _anvils_upright(top: float, low: float) -> tuple[Shape, ...]:
    frame = polygon("phantom", [(_X - 14, top - 44), (60, top - 44), (60, low + 44), (_X - 14, low + 44)], closed=False)
    return (
        Rect(_X - 14, top - 62, 28, 54, "phantom"), Rect(_X - 14, low + 8, 28, 48, "phantom"), frame,
        *painted(_X - 16, top - 8, 32, 7, "bottom"), *painted(_X - 16, low + 1, 32, 7, "top"),
    )  # fmt: skip


def _edge_view(ask: Ask) -> tuple[Shape, ...]:
    """The lobe seen from the side: front edge left, rear edge right, the place of now painted."""
    left, right, top, low = 190.0, 286.0, 476.0, 536.0
    shapes: list[Shape] = [Rect(left, top, right - left, low - top, "part")]
    shapes += [Line(left - 30, (top + low) / 2, left, (top + low) / 2, "outline"),
               Line(right, (top + low) / 2, right + 30, (top + low) / 2, "outline")]  # fmt: skip
    for x, station in ((left + 22, "front"), (right - 22, "rear")):
        if station == ask.place:
            shapes += [Rect(x - 6, top, 12, low - top, "now"), Line(x, top - 8, x, low + 8, "edge", 3)]
        else:
            shapes.append(Line(x, top, x, low, "thin" if ask.read(station) else "hidden"))
    if ask.place not in {"front", "rear"}:
        return (*shapes, *taken(ask, 12, 500))
    values = [text for station in ("front", "rear") for text in beside(
        12 if station == "front" else 90, 492, station, ask.read(station)[-1:], station == ask.place)]  # fmt: skip
    return (*shapes, *values)


def journal(ask: Ask) -> Scene:
    """Journal diameter: near its front and its rear edge, in two directions."""
    axis, half, top, low = 190.0, 34.0, 130.0, 290.0
    places = {"front": 160.0, "rear": 260.0}
    y = places.get(ask.place, (top + low) / 2)
    shaft: list[Shape] = [Rect(axis - 18, 50, 36, 80, "part"), Rect(axis - 18, low, 36, 110, "part")]
    shaft += [Rect(axis - 52, 70, 104, 36, "part"), Rect(axis - 40, 340, 80, 36, "part")]
    shaft += [Rect(axis - half, top, 2 * half, low - top, "part"), Line(axis, 30, axis, 420, "centre")]
    labels: list[Shape] = []
    for station, level in places.items():
        now, values = station == ask.place, ask.read(station)
        if not now:
            labels.append(Line(axis - half - 20, level, axis + half + 8, level, "thin" if values else "hidden"))
        labels += beside(8, level - 24, station, values, now)
    bold, *rest = direction_words(ask.direction)
    words = ("in the direction of the", "valve's push on the cam") if ask.direction == "along" else rest
    shapes = (*shaft, *labels, *micrometer(axis - half, axis + half, y),
              *section(66, 500, 34, ask.direction or "across"), *caption(150, 486, bold, *words))  # fmt: skip
    where = f"{ask.place} of the journal" if ask.place in places else "middle of the journal"
    return Scene(shapes, (axis + 17, y + 9), f"where the micrometer goes now: {where}, {bold}")
