"""What stands above and behind a column of rows: the limit's name and value, the guard band, the new limit."""

from dataclasses import dataclass

from witnessmark.draw.extent import spread, text_width
from witnessmark.draw.mark import walls
from witnessmark.draw.scale import Scale, Wall
from witnessmark.draw.shape import Drawing, Line, Rect, Shape, Text, path


@dataclass(frozen=True, slots=True)
class Head:
    """Words of a column head: limits as they were entered (or converted for display), "" where there is none."""

    low: str = ""
    high: str = ""
    new: str = ""
    kind: str = "service"


def wall(wall: Wall, scale: Scale, height: float, name: str = "limits of this column") -> Drawing:
    """Behind all rows: hatch without a gap, edges, new-limit strip, and the dashed guard band once for the column.

    `height` may be more than the rows need; the page cuts it off.
    """
    shapes: list[Shape] = [*walls(wall, scale, height, "wall"), *_guards(wall, scale, 0, height)]
    strip = _strip(wall, scale)
    if strip:
        left, right = strip
        shapes.append(Rect(left, 0, right - left, height, "new_limit"))
        shapes += [Line(x, 0, x, height, "faint") for x in strip if 0 < x < scale.width]
    return Drawing(scale.width, height, name, tuple(shapes))


def _strip(wall: Wall, scale: Scale) -> tuple[float, float] | None:
    """Left and right of the new limit on the scale; a one-sided one runs to the limit or the end of the scale."""
    if wall.new_low is None and wall.new_high is None:
        return None
    least = wall.new_low if wall.new_low is not None else (wall.low if wall.low is not None else scale.lo)
    most = wall.new_high if wall.new_high is not None else (wall.high if wall.high is not None else scale.hi)
    left, right = scale.clip(least), scale.clip(most)
    return (left, right) if right > left else None


def _guards(wall: Wall, scale: Scale, top: float, bottom: float) -> list[Shape]:
    if not wall.settles:
        return []
    found = [guard for guard in (wall.guard_low, wall.guard_high) if guard is not None and scale.shows(guard)]
    return [Line(scale.x(guard), top, scale.x(guard), bottom, "hidden") for guard in found]


def column_head(
    wall: Wall, scale: Scale, head: Head, height: float = 64, usual: tuple[float, float] | None = None
) -> Drawing:
    """Names and values over the walls, moved aside where they would meet; the least needed word goes first.

    `usual` is the trade's typical range: a thin dotted bracket, never a wall, for it accepts nothing.
    """
    upper, lower = _labels(wall, scale, head)
    if usual:
        upper.append(((scale.clip(usual[0]) + scale.clip(usual[1])) / 2, "usual", "label", False))
    shapes = [*_placed(upper, 17, scale.width), *_placed(lower, 40, scale.width)]
    for limit in (wall.low, wall.high):
        if limit is not None and scale.shows(limit):
            shapes.append(Line(scale.x(limit), 46, scale.x(limit), height, "edge", 3))
    for guard, limit in ((wall.guard_low, wall.low), (wall.guard_high, wall.high)):
        if guard is not None and limit is not None and wall.settles and scale.shows(guard):
            shapes.append(Line(scale.x(limit), 53, scale.x(guard), 53, "thin"))
    shapes += _guards(wall, scale, 46, height)
    strip = _strip(wall, scale)
    if strip:
        shapes += [Line(x, 46, x, height, "thin") for x in strip]
        tips = "arrow" if strip[1] - strip[0] > 30 else ""
        shapes.append(Line(strip[0], 55, strip[1], 55, "thin", start=tips, end=tips))
    if usual:
        left, right = scale.clip(usual[0]), scale.clip(usual[1])
        shapes.append(path("usual", "M", left, height, "L", left, 50, "L", right, 50, "L", right, height))
    return Drawing(scale.width, height, _name(head), tuple(shapes))


def _name(head: Head) -> str:
    limits = [f"least {head.low}"] if head.low and not head.high else []
    limits += [f"most {head.high}"] if head.high and not head.low else []
    limits += [f"{head.low} to {head.high}"] if head.low and head.high else []
    said = f"{head.kind} limit {limits[0]}" if limits else "no limit entered"
    return said + (f", new limit {head.new}" if head.new else "")


_Label = tuple[float, str, str, bool]  # centre wanted, text, role, bold


def _labels(wall: Wall, scale: Scale, head: Head) -> tuple[list[_Label], list[_Label]]:
    """Words of the upper and the lower line, most needed first."""
    upper: list[_Label] = []
    lower: list[_Label] = []
    for limit, text, side in ((wall.low, head.low, -1), (wall.high, head.high, 1)):
        if limit is not None and text:
            x = scale.clip(limit)
            upper.append((x + side * (text_width(head.kind, 16, True) / 2 - 3), head.kind, "ink", True))
            lower.append((x + side * (text_width(text, 16, True) / 2 - 5), text, "ink", True))
    strip = _strip(wall, scale)
    if strip and head.new:
        upper.append(((strip[0] + strip[1]) / 2, "new limit", "ink", True))
        lower.append(((strip[0] + strip[1]) / 2, head.new, "ink", False))
    if not wall.settles and wall.low is not None and wall.high is not None:
        upper.append((scale.x((wall.low + wall.high) / 2), "no guard band", "label", False))
    for guard, side in ((wall.guard_low, 1), (wall.guard_high, -1)):
        if guard is not None and wall.settles and scale.shows(guard):
            upper.append((scale.x(guard) + side * (text_width("guard band", 16) / 2 + 2), "guard band", "label", False))
    return upper, lower


def _placed(labels: list[_Label], y: float, width: float) -> list[Shape]:
    """Labels on one line, the last ones dropped until the rest fit side by side."""
    kept = list(labels)
    while sum(text_width(text, 16, bold) + 6 for _, text, _, bold in kept) > width + 6:
        kept.pop()
    places = spread([(x, text_width(text, 16, bold)) for x, text, _, bold in kept], 0, width)
    return [Text(x, y, text, role, 16, "middle", bold) for x, (_, text, role, bold) in zip(places, kept, strict=True)]
