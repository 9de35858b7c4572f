"""Where the vacuum cup, the lamp or the liquid goes: whether a valve seals on its seat."""

from witnessmark.draw.handtool import noted
from witnessmark.draw.scene import Ask, Scene, caption, cut
from witnessmark.draw.shape import Circle, Line, Point, Rect, Shape, path, polygon

_AXIS, _DECK = 128.0, 330.0


def seal_test(ask: Ask) -> Scene:
    """The port closed by a cup that is drawn empty; the valve on its seat is what must hold."""
    left, right = _AXIS - 52, _AXIS + 52
    faces = [
        (polygon("now", [(x, 306), (x + s * 18, 288), (x + s * 24, 294), (x + s * 6, 312)]),
         Line(x, 306, x + s * 18, 288, "edge", 3))
        for x, s in ((left, 1), (right, -1))
    ]  # fmt: skip
    leak = (Line(left - 6, _DECK + 44, left + 12, _DECK - 12, "hidden", end="arrow"),
            Line(right + 6, _DECK + 44, right - 12, _DECK - 12, "hidden", end="arrow"))  # fmt: skip
    shapes = (
        *_casting(), *_valve(), *(shape for pair in faces for shape in pair), *leak, *_cup(),
        *caption(12, 420, "does the valve seal?", "port drawn empty: it holds; or liquid:",
                 "no wetting; or a lamp: no light"),
        *noted(ask, 494),
    )  # fmt: skip
    return Scene(shapes, (_AXIS + 20, _DECK - 30), "where the vacuum cup goes now: on the port, the closed valve holds")


def _casting() -> tuple[Shape, ...]:
    """The head cut through one port: roof with its guide, throat, floor, and the manifold face at the right."""
    roof: list[Point] = [(40, 110), (_AXIS - 10, 110), (_AXIS - 10, 204), (96, 214), (84, 250), (88, 280), (94, 288),
                         (76, 306), (66, 312), (58, _DECK), (40, _DECK)]  # fmt: skip
    over: list[Point] = [(_AXIS + 10, 110), (250, 110), (250, 156), (178, 178), (_AXIS + 10, 200)]
    floor: list[Point] = [(162, 288), (168, 272), (250, 236), (250, _DECK), (198, _DECK), (190, 312), (180, 306)]
    return tuple(shape for part in (roof, over, floor) for shape in cut("section", part))


def _valve() -> tuple[Shape, ...]:
    x = _AXIS
    body = path(
        "part", "M", x - 7, 62, "L", x + 7, 62, "L", x + 7, 226, "C", x + 8, 262, x + 22, 276, x + 32, 286,
        "L", x + 54, 308, "L", x + 54, 320, "L", x - 54, 320, "L", x - 54, 308, "L", x - 32, 286,
        "C", x - 22, 276, x - 8, 262, x - 7, 226, "Z",
    )  # fmt: skip
    return (body, Line(x - 54, 308, x + 54, 308, "thin"), Line(x, 46, x, 340, "centre"))


def _cup() -> tuple[Shape, ...]:
    """A pad on the manifold face, its hose and vacuum gauge."""
    hose = path("phantom", "M", 282, 196, "C", 312, 196, 308, 120, 306, 98)
    return (
        Rect(250, 148, 14, 96, "phantom"), polygon("phantom", [(264, 150), (282, 178), (282, 214), (264, 242)]), hose,
        Circle(306, 68, 30, "phantom_part"), Line(306, 68, 322, 52, "thin"), Line(306, 42, 306, 48, "thin"),
        Line(280, 68, 286, 68, "thin"), Line(326, 68, 332, 68, "thin"),
        Line(232, 196, 208, 204, "thin", start="arrow"),
    )  # fmt: skip
