"""Where the gauge goes in the cam bores of a head: bore by bore, along their line, and at the caps."""

from witnessmark.draw.handtool import lens, noted
from witnessmark.draw.lash import gap
from witnessmark.draw.scene import Ask, Scene, caption, painted
from witnessmark.draw.shape import Circle, Line, Path, Rect, Shape, Text, path, polygon

_X, _Y, _R = 175.0, 160.0, 62.0


def cam_bore(ask: Ask) -> Scene:
    """A cam bore with its cap torqued: bore gauge along the push of the valves or across it, near one edge."""
    upright = ask.direction != "across"
    shapes = (
        *_saddle(), *_cap(), Circle(_X, _Y, _R, "outline"), *_gauge(upright), Line(_X, 46, _X, 268, "centre"),
        Line(60, _Y, 290, _Y, "centre"), *_edges(ask, 316),
        *caption(12, 414, "cam bore, cap torqued",
                 f"{'along the push of the valves' if upright else 'across the push, by the parting'},",
                 f"near the {ask.place} edge" if ask.place in {"front", "rear"} else "near both edges"),
        *noted(ask, 490),
    )  # fmt: skip
    way = "along the push of the valves" if upright else "across the push of the valves"
    edge = f"{ask.place} edge, " if ask.place in {"front", "rear"} else ""
    return Scene(shapes, (_X + (0 if upright else 20), _Y), f"where the bore gauge goes now: {edge}{way}, cap torqued")


def _saddle() -> tuple[Shape, ...]:
    steps: tuple[str | float, ...] = ("M", _X - 128, 262, "L", _X - 128, _Y, "L", _X - _R, _Y, "C", _X - _R, _Y + 82,
                                      _X + _R,
                                     _Y + 82, _X + _R, _Y, "L", _X + 128, _Y, "L", _X + 128, 262, "Z")  # fmt: skip
    return (path("section", *steps), Path(path("outline", *steps).steps, "outline"))


def _cap() -> tuple[Shape, ...]:
    steps: tuple[str | float, ...] = (
        "M", _X - 112, _Y, "L", _X - 112, _Y - 42, "L", _X - 76, _Y - 42, "C", _X - 66, _Y - 96, _X + 66, _Y - 96,
        _X + 76, _Y - 42,
        "L", _X + 112, _Y - 42, "L", _X + 112, _Y, "L", _X + _R, _Y, "C", _X + _R, _Y - 82, _X - _R, _Y - 82, _X - _R,
        _Y, "Z",
    )  # fmt: skip
    bolts: list[Shape] = []
    for x in (_X - 94, _X + 94):
        bolts += [Rect(x - 15, _Y - 60, 30, 18, "part"), Rect(x - 8, _Y - 42, 16, 92, "part"),
                  *(Line(x - 8, _Y + 6 + 8 * i, x + 8, _Y + 9 + 8 * i, "hair") for i in range(5))]  # fmt: skip
    return (path("section_other", *steps), Path(path("outline", *steps).steps, "outline"), *bolts)


def _gauge(upright: bool) -> tuple[Shape, ...]:
    """The head of a bore gauge seen along the cam, its two contacts painted."""
    reach, w = _R - 8, 6.0
    if upright:
        body = polygon("phantom", [(_X - w, _Y - reach), (_X + w, _Y - reach), (_X + w, _Y - 16), (_X + w, _Y + reach),
                                   (_X - w, _Y + reach)])  # fmt: skip
        ends = (*painted(_X - 15, _Y - _R, 30, 8, "top"), *painted(_X - 15, _Y + _R - 8, 30, 8, "bottom"))
    else:
        body = polygon(
            "phantom", [(_X - reach, _Y - w), (_X + reach, _Y - w), (_X + reach, _Y + w), (_X - reach, _Y + w)]
        )
        ends = (*painted(_X - _R, _Y - 15, 8, 30, "left"), *painted(_X + _R - 8, _Y - 15, 8, 30, "right"))
    return (body, Circle(_X, _Y, 16, "phantom_part"), *ends)


def _edges(ask: Ask, top: float) -> tuple[Shape, ...]:
    """The bearing from the side, front to the left: the edge of now painted."""
    left, right, low = 118.0, 232.0, top + 48
    shapes: list[Shape] = [
        Rect(left, top, right - left, low - top, "part"),
        Line(left - 24, top + 24, right + 24, top + 24, "centre"),
    ]
    for x, name in ((left + 16, "front"), (right - 16, "rear")):
        if name == ask.place:
            shapes += [Rect(x - 6, top, 12, low - top, "now"), Line(x, top - 6, x, low + 6, "edge", 3)]
        else:
            shapes.append(Line(x, top, x, low, "thin" if ask.read(name) else "hidden"))
    now = ask.place
    return (*shapes, Text(left - 30, top + 30, "front", "ink" if now == "front" else "label", 18, "end",
                          now == "front"),
            Text(right + 30, top + 30, "rear", "ink" if now == "rear" else "label", 18,
                 bold=now == "rear"))  # fmt: skip


def cam_line(ask: Ask) -> Scene:
    """The line of the cam bores: leaf under a straight mandrel in the open saddles, or its height over the plate."""
    return _alignment(ask) if ask.characteristic == "cam_bore_alignment" else _height(ask)


def _alignment(ask: Ask) -> Scene:
    count = len(ask.face.cylinders) + 1
    xs = [44 + 262 * i / (count - 1) for i in range(count)]
    i = min(max((ask.number or (count + 1) // 2) - 1, 0), count - 1)
    x, top = xs[i], 136.0
    paint = (Rect(x - 9, top - 8, 18, 8, "now"), Line(x - 9, top, x + 9, top, "edge", 3))
    shapes = (
        *_row(xs, top, 252), Rect(16, top - 26, 318, 18, "phantom"), *paint,
        Line(10, top - 17, 340, top - 17, "centre"),
        *_detail(330), *caption(12, 414, "line of the cam bores", "caps off, mandrel in the saddles: leaf",
                                "that enters at this one, and that does not"),
        *noted(ask, 492),
    )  # fmt: skip
    return Scene(shapes, (x, top), "where the leaf goes now: between the straight mandrel and the saddle")


def _row(xs: list[float], top: float, low: float, ends: tuple[float, float] = (28, 322)) -> tuple[Shape, ...]:
    """The head from the side: a saddle at each of the places, the casting under them."""
    left, right = ends
    shapes: list[Shape] = [Rect(left, top + 46, right - left, low - top - 46, "part"),
                           Line(left, low - 16, right, low - 16, "thin")]  # fmt: skip
    half = min(11.0, 90 / len(xs))
    return (*shapes, *(Rect(x - half, top, 2 * half, 46, "part") for x in xs))


def _detail(y: float) -> tuple[Shape, ...]:
    return (Rect(30, y - 44, 290, 34, "phantom"), Rect(100, y, 150, 40, "section"), Rect(100, y, 150, 40, "outline"),
            *gap(130, y - 10, 90, 10), Rect(220, y - 10, 118, 10, "phantom"))  # fmt: skip


def _height(ask: Ask) -> Scene:
    """Height of a mandrel in the bores over the plate on which the gasket face lies, at the front and at the rear."""
    top, low = 132.0, 280.0
    shown = [ask.place] if ask.place in _ENDS else list(_ENDS)
    gauge = tuple(shape for name in shown for shape in _stand(*_ENDS[name], top - 16, low))
    shapes = (
        *_row([100 + 150 * i / 3 for i in range(4)], top, low, (74, 276)), Rect(36, top - 16, 278, 16, "phantom_part"),
        Line(28, top - 8, 322, top - 8, "centre"), Line(4, low, 346, low, "outline", 3),
        Rect(4, low, 342, 14, "phantom"), *gauge,
        *caption(12, 352, "gasket face to the cam line", "gasket face on the plate, mandrel in",
                 "the bores, its top at both ends"),
        *noted(ask, 432),
    )  # fmt: skip
    x, side = _ENDS[shown[0]]
    return Scene(
        shapes,
        (x - 30 * side, top),
        f"where the height gauge goes now: over the mandrel in the cam bores, {' and '.join(shown)}",
    )


_ENDS = {"front": (50.0, -1), "rear": (300.0, 1)}


def _stand(x: float, side: int, y: float, low: float) -> tuple[Shape, ...]:
    """A height gauge on the plate beyond one end, its finger on the mandrel at (x, y)."""
    column = x + side * 30
    return (
        Rect(column - 6, y - 70, 12, low - y + 56, "phantom"), Rect(column - 14, low - 14, 28, 14, "phantom"),
        Rect(column - 12, y - 30, 24, 20, "phantom_part"),
        Rect(x - 18, y - 22, 36, 14, "phantom"),
        *painted(x - 12, y - 8, 24, 8, "bottom"),
        Line(x - side * 14, y + 1, x - side * 14, low, "thin", start="arrow", end="arrow"),
    )  # fmt: skip


def cam_cap(ask: Ask) -> Scene:
    """A cam cap set on its saddle by hand: number, arrow, dowels, parting face."""
    number = str(ask.number or 3)
    joint = (Rect(_X - 112, _Y - 8, 40, 8, "now"), Rect(_X + 72, _Y - 8, 40, 8, "now"),
             Line(_X - 112, _Y, _X - _R, _Y, "edge", 3), Line(_X + _R, _Y, _X + 112, _Y, "edge", 3))  # fmt: skip
    shake = (Line(_X - 166, _Y - 24, _X - 118, _Y - 24, "outline", end="arrow"),
             Line(_X + 166, _Y - 24, _X + 118, _Y - 24, "outline",
                                                                                    end="arrow"))  # fmt: skip
    shapes = (
        *_saddle(), *_cap(), *joint, *shake, Line(_X, 60, _X, 272, "centre"), *_from_above(number),
        *lens(_X + 88, 326, 26, 30),
        *caption(12, 414, "cam cap on its saddle", "number and arrow to its place, no shake",
                 "on its dowels, face never filed"),
        *noted(ask, 490),
    )  # fmt: skip
    return Scene(shapes, (_X - 60, _Y), "where the hand and the eye go now: cap on its saddle, its number, its dowels")


def _from_above(number: str) -> tuple[Shape, ...]:
    top, low = 296.0, 356.0
    bolts = tuple(
        shape for x in (_X - 94, _X + 94) for shape in (Circle(x, 326, 15, "outline"), Circle(x, 326, 8, "thin"))
    )
    return (Rect(_X - 118, top, 236, low - top, "part"), *bolts, Rect(_X - 46, 308, 36, 36, "now"),
            Rect(_X - 46, 308, 36, 36, "thin"),
            Text(_X - 28, 334, number, "on_now", 22, "middle", True),
            Line(_X + 44, 326, _X + 4, 326, "outline", end="arrow"))  # fmt: skip
