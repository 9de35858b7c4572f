"""Where the burette goes: volume of a combustion chamber, its roof pitched or flat as the valve gear has it."""

from witnessmark.draw.handtool import noted
from witnessmark.draw.scene import Ask, Scene, caption, cut
from witnessmark.draw.shape import Circle, Line, Path, Point, Rect, Shape, polygon

_X, _DECK, _HOLE = 176.0, 214.0, 244.0


def chamber(ask: Ask) -> Scene:
    """Volume of a chamber: the head on its back and level, a clear plate over the chamber, filled from a burette."""
    inside = _flat() if ask.gear.startswith("pushrod") else _pitched()
    shapes = (
        *inside, *_burette(), Rect(56, _DECK - 14, _HOLE - 64, 14, "phantom"),
        Rect(_HOLE + 8, _DECK - 14, 302 - _HOLE, 14, "phantom"), Rect(_HOLE - 8, _DECK, 16, 10, "now"),
        Line(_HOLE - 14, _DECK, _HOLE + 14, _DECK, "edge", 3),
        *caption(12, 400, "volume of the chamber", "level, valves greased and shut, plug in;",
                 "full to the plate, no air under it"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (_HOLE - 30, _DECK), "where the burette goes now: to the hole in the plate over the chamber")


def _burette() -> tuple[Shape, ...]:
    marks = tuple(Line(_HOLE - 9, 34 + 9 * i, _HOLE - (1 if i % 2 else -3), 34 + 9 * i, "hair") for i in range(12))
    spout = [(_HOLE - 5, 154.0), (_HOLE + 5, 154.0), (_HOLE + 2, 196.0), (_HOLE - 2, 196.0)]
    return (Rect(_HOLE - 9, 24, 18, 118, "phantom"), *marks, Rect(_HOLE - 14, 142, 28, 12, "phantom"),
            polygon("phantom", spout))  # fmt: skip


def _metal(roof: list[Point]) -> tuple[Path, Path]:
    return cut("section", [(30, _DECK), *roof, (322, _DECK), (322, _DECK + 136), (30, _DECK + 136)])


def _pitched() -> tuple[Shape, ...]:
    """A roof with a valve in each slope and the plug between them."""
    half: list[Point] = [(104, 0), (92, 30), (20, 86)]
    roof = [(_X - dx, _DECK + dy) for dx, dy in half] + [(_X + dx, _DECK + dy) for dx, dy in reversed(half)]
    levels = tuple(
        Line(_X - 96 + 8 * i, y, _X + 96 - 8 * i, y, "hair") for i in range(4) for y in (_DECK + 16 + 18 * i,)
    )
    valves = (
        *_seated((_X - 84, _DECK + 36), (_X - 30, _DECK + 78)),
        *_seated((_X + 30, _DECK + 78), (_X + 84, _DECK + 36)),
    )
    return (*_metal(roof), *levels, *valves, *_plug())


def _flat() -> tuple[Shape, ...]:
    """A flat roof with both valves side by side, the hole of the plug in the wall behind them."""
    roof: list[Point] = [(_X - 124, _DECK), (_X - 116, _DECK + 62), (_X + 116, _DECK + 62), (_X + 124, _DECK)]
    levels = tuple(Line(_X - 118 + i, y, _X + 118 - i, y, "hair") for i in range(3) for y in (_DECK + 14 + 16 * i,))
    valves = (
        *_seated((_X - 104, _DECK + 58), (_X - 10, _DECK + 58)),
        *_seated((_X + 22, _DECK + 58), (_X + 104, _DECK + 58)),
    )
    plug = (Circle(_X + 10, _DECK + 30, 12, "part"), Circle(_X + 10, _DECK + 30, 5, "thin"))
    return (*_metal(roof), *levels, *valves, *plug)


def _seated(a: Point, b: Point) -> tuple[Shape, ...]:
    """A valve shut in the roof, its head from `a` on the left to `b`, its stem down into the casting."""
    far = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
    ux, uy = (b[0] - a[0]) / far, (b[1] - a[1]) / far
    x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2

    def at(along: float, deep: float) -> Point:
        return (x + along * ux - deep * uy, y + along * uy + deep * ux)

    half = far / 2
    head = [at(-half, -4), at(half, -4), at(half, 3), at(5, 18), at(5, 52), at(-5, 52), at(-5, 18), at(-half, 3)]
    return (polygon("part", head, 1.5),)


def _plug() -> tuple[Shape, ...]:
    top, low = _DECK + 82, _DECK + 136
    body = polygon("part", [(_X - 9, top), (_X + 9, top), (_X + 9, low), (_X - 9, low)], 1.5)
    turns = tuple(Line(_X - 9, top + 8 * i, _X + 9, top + 8 * i + 3, "hair") for i in range(1, 6))
    return (body, *turns, Line(_X - 3, top - 6, _X + 3, top - 6, "thin"), Line(_X, top - 6, _X, top, "thin"))
