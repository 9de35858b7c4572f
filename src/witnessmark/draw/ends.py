"""What stands beside the head and moves with it: the inlet side of a V, dowels, nozzle, cover, cam line."""

from math import sqrt

from witnessmark.draw.scene import Ask, Scene, caption, cut, height_dimension, mirrored, painted, taken
from witnessmark.draw.shape import Line, Point, Rect, Shape, polygon

_X, _Y = 175.0, 330.0  # on the crankshaft's side of the V, where the two banks would meet
_HALF = 1 / sqrt(2)
_DECK, _TOP, _SIDE = 138.0, 200.0, 48.0  # along the bank: deck and top of the head; across it: half of its width


def _bank(along: float, across: float) -> Point:
    """A point of the right bank, from the crankshaft along the cylinders and across them, outward positive."""
    return _X + _HALF * (along + across), _Y - _HALF * (along - across)


def inlet_side(ask: Ask) -> Scene:
    """The V from its end: what comes off the inlet faces, how far the manifold drops, or how far the ports miss."""
    head = [_bank(_DECK, -_SIDE), _bank(_TOP, -_SIDE), _bank(_TOP, _SIDE), _bank(_DECK, _SIDE)]
    block = [_bank(62, -_SIDE), _bank(_DECK - 6, -_SIDE), _bank(_DECK - 6, _SIDE), _bank(62, _SIDE)]
    metal: list[Shape] = []
    for side in (head, mirrored(head, _X)):
        metal += cut("section", side)
    metal += [polygon("part", side) for side in (block, mirrored(block, _X))]
    picture = {"manifold_face_cut": _faces, "manifold_drop": _drop}.get(ask.characteristic, _missed)
    shapes, bold, *lines = picture()
    words = caption(12, 420, bold, *lines)
    return Scene((*metal, *shapes, Line(_X, 60, _X, 370, "centre"), *words, *taken(ask, 12, 500)),
                 _bank((_DECK + _TOP) / 2, -_SIDE), f"where the manifold meets the V now: {bold}")  # fmt: skip


def _manifold(drop: float, role: str) -> Shape:
    """The manifold between the two inlet faces, with its plenum above."""
    (x1, y1), (x2, y2) = _bank(_DECK + 12, -_SIDE), _bank(_TOP - 8, -_SIDE)
    right = [(x1, y1 + drop), (x2, y2 + drop), (x2 - 26, y2 - 34 + drop)]
    return polygon(role, [*mirrored(right, _X), *right])


def _faces() -> tuple[tuple[Shape, ...], str, str, str]:
    deep = 8.0
    strip = [_bank(_DECK, -_SIDE), _bank(_TOP, -_SIDE), _bank(_TOP, deep - _SIDE), _bank(_DECK, deep - _SIDE)]
    edges = [(_bank(_DECK, deep - _SIDE), _bank(_TOP, deep - _SIDE))]
    edges += [tuple(mirrored(edge, _X)) for edge in edges]  # type: ignore[misc]
    shapes = [_manifold(0, "phantom"), polygon("now", strip), polygon("now", mirrored(strip, _X))]
    shapes += [Line(*one, *other, "edge", 3) for one, other in edges]
    lines = ("or off each flange of the manifold,", "until the ports are in line again")
    return (tuple(shapes), "off each inlet face", *lines)


def _drop() -> tuple[tuple[Shape, ...], str, str, str]:
    drop = 16.0
    low = _bank(_DECK + 12, -_SIDE)[1]
    shapes = (_manifold(0, "phantom"), _manifold(drop, "outline"),
              *painted(_X - 30, low + drop, 60, 7, "top"), *height_dimension(_X + 46, low, low + drop, _X + 36),
              Line(_X - 60, low + 34, _X + 60, low + 34, "outline", 3))  # fmt: skip
    return shapes, "lower by this", "its underside comes nearer to the", "end rails of the block"


def _missed() -> tuple[tuple[Shape, ...], str, str, str]:
    miss, wide, middle = 10.0, 9.0, (_DECK + _TOP) / 2
    shapes: list[Shape] = [_manifold(0, "phantom")]
    for at, across, role in ((middle, (-_SIDE, -6.0), "outline"), (middle + miss, (-_SIDE - 30, -_SIDE), "phantom")):
        for edge in (-wide, wide):
            one, other = (_bank(at + edge, end) for end in across)
            for a, b in ((one, other), tuple(mirrored([one, other], _X))):
                shapes.append(Line(*a, *b, role))
    for low in (-wide, wide):
        step = [_bank(middle + low, -_SIDE), _bank(middle + low + miss, -_SIDE),
                _bank(middle + low + miss, 5 - _SIDE), _bank(middle + low, 5 - _SIDE)]  # fmt: skip
        shapes += [polygon("now", step), polygon("now", mirrored(step, _X))]
        shapes.append(Line(*_bank(middle + low, -_SIDE), *_bank(middle + low + miss, -_SIDE), "edge", 3))
    return tuple(shapes), "ports step by this", "along the face, while neither head", "nor manifold is cut back"


def dowel_room(ask: Ask) -> Scene:
    """A dowel in the block, and how much of its counterbore in the head is left over it."""
    deck, under, x, wide = 262.0, 250.0, 175.0, 26.0
    block: list[Point] = [(40, deck), (x - wide, deck), (x - wide, deck + 70), (x + wide, deck + 70), (x + wide, deck),
                          (310, deck), (310, 350), (40, 350)]  # fmt: skip
    head: list[Point] = [(40, 120), (310, 120), (310, under), (x + wide + 4, under), (x + wide + 4, under - 66),
                         (x - wide - 4, under - 66), (x - wide - 4, under), (40, under)]  # fmt: skip
    top = under - 44
    shapes = (
        *cut("section", block), *cut("section_other", head), Rect(40, under, x - wide - 44, deck - under, "ink"),
        Rect(x + wide + 4, under, 306 - x - wide, deck - under, "ink"),
        Rect(x - wide, top, 2 * wide, deck + 62 - top, "part", 2.5), Line(x, 100, x, 370, "centre"),
        *painted(x - wide, under - 66, 2 * wide, 22, "bottom"), *height_dimension(330, under - 66, top, x + wide),
        *caption(12, 420, "room over the dowel", "counterbore and gasket, less how far", "the dowel stands out"),
        *taken(ask, 12, 500),
    )  # fmt: skip
    return Scene(shapes, (x, under - 55), "where the depth gauge goes now: dowel to the floor of its counterbore")


def cover_step(ask: Ask) -> Scene:
    """Block with its cover bolted on: how far the cover's top stands over the deck."""
    deck, cover = 210.0, 190.0
    block: list[Point] = [(130, deck), (320, deck), (320, 350), (130, 350)]
    lid: list[Point] = [(60, cover), (128, cover), (128, 350), (60, 350)]
    shapes = (
        *cut("section", block), *cut("section_other", lid), Rect(150, deck - 44, 150, 24, "phantom"),
        Rect(94, cover - 54, 200, 34, "phantom"), Line(111, cover - 20, 111, cover, "phantom"),
        *painted(70, cover, 58, 8, "top"), *height_dimension(34, cover, deck, 60),
        *caption(12, 420, "cover over the deck", "plus where it stands higher;", "a decked block leaves it there"),
        *taken(ask, 12, 500),
    )  # fmt: skip
    return Scene(shapes, (115, cover), "where the depth gauge goes now: over the joint of block and timing cover")


def nozzle(ask: Ask) -> Scene:
    """An injector in its head, gasket face down: how far its tip stands out."""
    face, tip, x = 250.0, 284.0, 175.0
    left: list[Point] = [(40, 110), (x - 34, 110), (x - 34, 190), (x - 14, 200), (x - 14, face), (40, face)]
    shapes = (
        *cut("section", left), *cut("section", mirrored(left, x)),
        polygon("part", [(x - 30, 60), (x + 30, 60), (x + 30, 186), (x + 11, 198), (x + 11, tip - 8), (x, tip),
                         (x - 11, tip - 8), (x - 11, 198), (x - 30, 186)], 2.5),
        Rect(x - 31, 187, 20, 5, "ink"), Rect(x + 11, 187, 20, 5, "ink"), Line(x, 40, x, 320, "centre"),
        Line(20, face, 330, face, "outline", 3), *painted(x - 16, tip, 32, 8, "top"),
        *height_dimension(286, face, tip, x + 16),
        *caption(12, 390, "nozzle out of the face", "plus where it stands out, on the", "washer that goes in"),
        *taken(ask, 12, 470),
    )  # fmt: skip
    return Scene(shapes, (x, tip), "where the depth gauge goes now: gasket face to the tip of the nozzle")


def cam_margin(ask: Ask) -> Scene:
    """A straight shaft in a bowed line of bores: it touches at the ends on one side and in the middle on the other."""
    y, play, bow = 210.0, 26.0, 16.0
    shapes: list[Shape] = [Rect(30, y - 26, 300, 52, "part", 2.5), Line(16, y, 344, y, "centre")]
    for x, rise in ((70.0, -bow / 2), (180.0, bow / 2), (290.0, -bow / 2)):
        top, low = y - 26 - play / 2 - rise, y + 26 + play / 2 - rise
        shapes += [*cut("section", [(x - 20, top - 34), (x + 20, top - 34), (x + 20, top), (x - 20, top)]),
                   *cut("section", [(x - 20, low), (x + 20, low), (x + 20, low + 34), (x - 20, low + 34)])]
        near, side = (y - 26, "top") if rise > 0 else (y + 26, "bottom")
        gap = (top, near - top) if rise > 0 else (near, low - near)
        shapes += painted(x - 20, gap[0], 40, gap[1], side)
    words = caption(12, 360, "what is left of the play", "ends touch on one side, the middle",
                    "on the other: least play less bow")  # fmt: skip
    return Scene((*shapes, *words, *taken(ask, 12, 440)), (180, y - 30),
                 "where the play goes now: a straight camshaft in a bowed line of bores")  # fmt: skip
