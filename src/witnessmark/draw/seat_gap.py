"""The gap between a valve's face and its seat: where the seat runs out, and where the two angles differ."""

from witnessmark.draw.scene import Ask, Scene, caption, taken
from witnessmark.draw.seat import insert
from witnessmark.draw.shape import Line, Point, Shape, polygon

_TOP, _LOW = (198.0, 222.0), (148.0, 272.0)  # the ends of the seat's band
_ANGLED = ("gap at the far edge", "contact starts at the chamber's edge;", "the other stands off")
_OFF = ("gap by the runout", "the widest, normal to the face,", "before the valve bends")


def seat_gap(ask: Ask) -> Scene:
    """`contact_gap`: face and seat touch at one edge; else the face stands off the seat by one width."""
    angled = ask.characteristic == "contact_gap"
    near, far = (0.0, 16.0) if angled else (12.0, 12.0)
    (x1, y1), (x2, y2) = _TOP, _LOW
    one, other = (x1 + far, y1 + far), (x2 + near, y2 + near)
    valve: list[Point] = [(286, 60), (286, 150), one, other, (other[0], other[1] + 24), (340, other[1] + 24)]
    shapes: tuple[Shape, ...] = (
        *insert(), polygon("phantom", valve, closed=False), polygon("now", [_TOP, one, other, _LOW]),
        Line(x1, y1, x2, y2, "edge", 3), Line(x1 - 14, y1 - 14, x1, y1, "thin", end="arrow"),
        Line(one[0] + 14, one[1] + 14, *one, "thin", end="arrow"),
    )  # fmt: skip
    bold, *lines = _ANGLED if angled else _OFF
    return Scene((*shapes, *caption(12, 400, bold, *lines), *taken(ask, 12, 480)), (180, 250),
                 f"where the gap stands now, between face and seat: {bold}")  # fmt: skip
