"""What is usual for a size, as a thin dotted bracket, with the limits that were entered as strokes across it.

The bracket accepts nothing and forbids nothing, so it has no hatch and no wall: it only shows at a glance whether a
point or a unit of an entered limit is misplaced.
"""

from collections.abc import Sequence

from witnessmark.draw.shape import Drawing, Line, Shape, path

WIDTH, HEIGHT = 120.0, 24.0
MARGIN = 0.16  # of the width, beyond either end of the bracket: a limit off the usual is seen there
FOOT, TOP = 20.0, 8.0


def usual_bracket(usual: tuple[float, float], limits: Sequence[float], name: str) -> Drawing:
    """The bracket over `usual`, with a stroke at each of `limits`, in one unit; `name` says it in words.

    A limit far beyond stands at the end of the drawing, with its stroke dashed.
    """
    low, high = usual
    left, right = WIDTH * MARGIN, WIDTH * (1 - MARGIN)
    wide = (high - low) or 1.0
    shapes: list[Shape] = [path("usual", "M", left, FOOT, "L", left, TOP, "L", right, TOP, "L", right, FOOT)]
    for limit in sorted(set(limits)):
        at = left + (limit - low) / wide * (right - left)
        held = min(max(at, 1.5), WIDTH - 1.5)
        shapes.append(Line(held, 2.0, held, HEIGHT - 1, "thin" if held == at else "hidden"))
    return Drawing(WIDTH, HEIGHT, name, tuple(shapes))
