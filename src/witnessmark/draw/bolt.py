"""Where the caliper goes on a head bolt: its length under the head."""

from witnessmark.draw.scene import Ask, Scene, caption, height_dimension, painted, taken
from witnessmark.draw.shape import Line, Rect, Shape, polygon


def bolt(ask: Ask) -> Scene:
    """Length of a head bolt from under the head to its end."""
    x, under, end = 190.0, 100.0, 400.0
    threads: list[Shape] = [Line(x - 20, y, x + 20, y + 6, "thin") for y in range(290, 390, 10)]
    body = (
        Rect(x - 34, under - 46, 68, 34, "part"), Line(x - 12, under - 46, x - 12, under - 12, "thin"),
        Line(x + 12, under - 46, x + 12, under - 12, "thin"), Rect(x - 44, under - 12, 88, 12, "part"),
        Rect(x - 18, under, 36, 180, "part"),
        polygon("part", [(x - 20, 280), (x + 20, 280), (x + 20, end - 8), (x + 14, end), (x - 14, end),
                         (x - 20, end - 8)]),
    )  # fmt: skip
    jaws = (
        polygon("phantom", [(x - 22, under), (x - 112, under), (x - 112, under + 34), (x - 40, under + 16)]),
        polygon("phantom", [(x + 10, end), (x - 112, end), (x - 112, end + 34), (x - 30, end + 22)]),
    )
    shapes = (
        *body, *threads, Line(x, 36, x, 430, "centre"), *jaws, *painted(x - 44, under, 24, 8, "top"),
        *painted(x - 14, end, 28, 8, "top"), *height_dimension(300, under, end, x + 20),
        *caption(12, 470, "length under the head", "clean the thread end; longer than", "entered is not used again"),
        *taken(ask, 12, 546),
    )  # fmt: skip
    return Scene(shapes, (160, under + 10), "where the caliper goes now: from under the head of the bolt to its end")
