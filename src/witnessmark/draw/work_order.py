"""The line of a plan in working order, one node at a time, so that a page can set words beside each."""

from witnessmark.draw.shape import Circle, Drawing, Line, Rect, Shape, Text


def node(number: int | None, first: bool = False, last: bool = False, height: float = 66) -> Drawing:
    """One node, 36 wide: a numbered circle for a step, a square with ! (`number` None) for a gate; the line through it.

    The line reaches the upper edge unless `first` and the lower edge unless `last`, so that nodes set under each other
    join without a gap.
    """
    middle = 26.0
    line: list[Shape] = []
    line += [] if first else [Line(18, 0, 18, middle - 17, "outline")]
    line += [] if last else [Line(18, middle + 17, 18, height, "outline")]
    if number is None:
        sign: tuple[Shape, ...] = (
            Rect(2, middle - 16, 32, 32, "part", 3),
            Text(18, middle + 7, "!", "ink", 20, "middle", bold=True),
        )
        return Drawing(36, height, "gate: nothing after it is begun before it is passed", (*line, *sign))
    sign = (
        Circle(18, middle, 17, "part"),
        Text(18, middle + 6.5, str(number), "ink", 18, "middle", bold=True, face="serif"),
    )
    return Drawing(36, height, f"step {number}", (*line, *sign))
