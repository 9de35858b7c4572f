"""Where the gauge goes on a bolt and its hole: its waist, its stretch, the depth and the threads of the hole."""

from witnessmark.draw.handtool import dial, noted
from witnessmark.draw.scene import Ask, Scene, caption, cut, height_dimension, micrometer, mirrored, painted
from witnessmark.draw.shape import Line, Path, Point, Rect, Shape, polygon

_AXIS = 196.0


def necking(ask: Ask) -> Scene:
    """The diameter of a bolt where it is whole and where it has thinned, a straight edge along its thread crests."""
    thin = any(word in f"{ask.characteristic} {ask.station}" for word in ("neck", "waist", "least", "min", "thin"))
    y = 272.0 if thin else 326.0
    edge = (Rect(_AXIS + 25, 204, 12, 142, "phantom"),) if thin else ()
    words = ("the bolt at its waist", "thinnest thread under the shank,",
             "over the crests, turn for the least") if thin else (
        "the bolt where it is whole", "last threads, never strained,", "over the crests")  # fmt: skip
    half = 20.0 if thin else 24.0
    shapes = (
        *_bolt(), *edge, *micrometer(_AXIS - half, _AXIS + half, y), *caption(12, 438, *words), *noted(ask, 512),
    )  # fmt: skip
    place = "in the waist under the shank" if thin else "on the threads that carried nothing"
    return Scene(shapes, (_AXIS, y), f"where the micrometer goes now: {place}")


def _bolt() -> tuple[Shape, ...]:
    """Bolt with head, washer face, shank, and a thread that has thinned below the shank."""
    x = _AXIS
    half: list[Point] = [(x - 34, 24), (x - 34, 58), (x - 44, 58), (x - 44, 68), (x - 24, 68), (x - 24, 210)]
    crest: list[Point] = []
    for i in range(17):
        y = 210 + 9.0 * i
        r = 24 - 4 * max(0.0, 1 - abs(y - 272) / 44)
        crest += [(x - r, y), (x - r + 5, y + 4.5)]
    body = polygon("part", [*half, *crest, (x - 16, 370), *mirrored([*half, *crest, (x - 16, 370)], x)])
    turns = tuple(Line(x - 18, y, x + 18, y + 4, "hair") for y in range(216, 358, 9))
    lines = (Line(x - 12, 24, x - 12, 58, "thin"), Line(x + 12, 24, x + 12, 58, "thin"),
             Line(x - 34, 58, x + 34, 58, "thin"))  # fmt: skip
    return (body, *turns, *lines, Line(x, 10, x, 388, "centre"))


def stretch(ask: Ask) -> Scene:
    """The length of a bolt in place, both ends within reach: gauge set to zero loose, read when drawn up."""
    x, top, low = _AXIS - 6, 120.0, 340.0
    frame = polygon("phantom", [(x - 4, low + 6), (x - 4, low + 40), (64, low + 40), (64, top - 86), (x - 20, top - 86),
                                (x - 20, top - 62), (88, top - 62), (88, low + 16), (x - 14, low + 16)],
                                closed=False)  # fmt: skip
    shapes = (
        *_clamped(x, top, low), frame, *dial(x, top, 90, 60, 22),
        polygon("now", [(x, low), (x - 8, low + 11), (x + 8, low + 11)]), Line(x - 14, low, x + 14, low, "edge", 3),
        *height_dimension(306, top, low, x + 24),
        *caption(12, 424, "stretch of the bolt", "zero with the nut loose, read when it",
                 "is drawn up: both ends, same spots"),
        *noted(ask, 506),
    )  # fmt: skip
    return Scene(shapes, (x, top + 20), "where the stretch gauge goes now: over both ends of the bolt in its place")


def _clamped(x: float, top: float, low: float) -> tuple[Shape, ...]:
    """Two parts held by a bolt with its head above and its nut below."""
    parts: list[Shape] = []
    for y1, y2, role in ((top + 34, 232.0, "section"), (232.0, low - 36, "section_other")):
        half: list[Point] = [(x - 84, y1), (x - 22, y1), (x - 22, y2), (x - 84, y2)]
        parts += [*cut(role, half), *cut(role, mirrored(half, x))]
    bolt: tuple[Shape, ...] = (
        Rect(x - 36, top, 72, 34, "part"), Line(x - 14, top, x - 14, top + 34, "thin"),
        Line(x + 14, top, x + 14, top + 34, "thin"), Rect(x - 18, top + 34, 36, low - top - 34, "part"),
        Rect(x - 36, low - 36, 72, 28, "part"), Line(x - 14, low - 36, x - 14, low - 8, "thin"),
        Line(x + 14, low - 36, x + 14, low - 8, "thin"),
        *(Line(x - 18, low - 7 + 3 * i, x + 18, low - 6 + 3 * i, "hair")
                                                           for i in range(2)),
    )  # fmt: skip
    return (*parts, *bolt, Line(x, top - 14, x, low + 26, "centre"))


def bolt_hole(ask: Ask) -> Scene:
    """A blind hole: its depth with the bar of a depth gauge, or its threads with a screw gauge by hand."""
    scenes = {"hole_depth": _depth, "bolt_reach": _reach, "hole_spare": _reach}
    return scenes.get(ask.characteristic, _thread)(ask)


def _depth(ask: Ask) -> Scene:
    x, deck, low = _AXIS, 150.0, 352.0
    gauge = (
        Rect(x - 80, deck - 26, 160, 26, "phantom"), Rect(x - 5, 50, 10, low - 50, "phantom"),
        Rect(x - 20, 24, 40, 100, "phantom"), Line(x - 20, 54, x + 20, 54, "thin"),
        Line(x - 20, 72, x + 20, 72, "thin"),
    )  # fmt: skip
    shapes = (
        *_block(deck, low), *gauge, *painted(x - 72, deck - 8, 36, 8, "bottom"),
        *painted(x + 36, deck - 8, 36, 8, "bottom"),
        *painted(x - 10, low - 8, 20, 8, "bottom"), *height_dimension(64, deck, low, x - 30),
        *caption(12, 440, "depth of the hole", "blown dry, to the flat of the bottom;", "the bolt must never touch it"),
        *noted(ask, 520),
    )  # fmt: skip
    return Scene(shapes, (x, deck + 30), "where the depth gauge goes now: from the face to the bottom of the bolt hole")


def _reach(ask: Ask) -> Scene:
    """How far the bolt stands in its hole, washer and head in place; and what is left under it."""
    x, deck, low, tip = _AXIS, 190.0, 372.0, 306.0
    spare = ask.characteristic == "hole_spare"
    bolt: tuple[Shape, ...] = (
        Rect(x - 38, 96, 76, 44, "part"), Line(x - 14, 96, x - 14, 140, "thin"), Line(x + 14, 96, x + 14, 140, "thin"),
        Rect(x - 60, 140, 120, 50, "phantom_part"), Rect(x - 27, 140, 54, tip - 140, "part"),
        *(Line(x - 27, y, x + 27, y + 4, "hair") for y in range(200, int(tip) - 4, 9)),
    )  # fmt: skip
    ends = (tip, low - 8) if spare else (deck, tip)
    words = ("how deep the bolt reaches", "head off: its gasket face to the tip", "of the bolt, less pressed gasket")
    if spare:
        words = ("spare under the bolt", "worked out: depth of the hole", "less how deep the bolt reaches")
    shapes = (
        *_block(deck, low), *bolt, *painted(x - 10, tip, 20, 8, "top"), *height_dimension(64, *ends, x - 30),
        *caption(12, 440, *words), *noted(ask, 520),
    )  # fmt: skip
    name = "where the caliper goes now: from the face to the tip of the bolt"
    if spare:
        name = "where the room is that is asked for now: left under the bolt, worked out"
    return Scene(shapes, (x, tip), name)


def _thread(ask: Ask) -> Scene:
    x, deck, low = _AXIS, 190.0, 372.0
    plug: tuple[Shape, ...] = (
        Rect(x - 26, 130, 52, 160, "phantom"), *(Line(x - 26, y, x + 26, y + 4, "hair") for y in range(196, 290, 9)),
        Rect(x - 36, 58, 72, 72, "phantom"),
        *(Line(x - 24 + 12 * i, 64, x - 24 + 12 * i, 124, "hair") for i in range(5)),
    )  # fmt: skip
    shapes = (
        *_block(deck, low), *plug, *painted(x - 34, deck + 8, 8, 76, "left"),
        *painted(x + 26, deck + 8, 8, 76, "right"),
        Line(x - 62, 92, x - 62, 150, "outline", end="arrow"), *painted(x - 66, deck - 8, 32, 8, "bottom"),
        *painted(x + 34, deck - 8, 32, 8, "bottom"),
        *caption(12, 448, "threads and hole", "screw gauge by hand to its full depth;",
                 "face not pulled up, no oil, no chips"),
        *noted(ask, 526),
    )  # fmt: skip
    return Scene(shapes, (x, deck + 20), "where the screw gauge and the eye go now: into the threads of the bolt hole")


def _block(deck: float, low: float) -> tuple[Shape, ...]:
    """A blind threaded hole cut through, with the cone that the drill left."""
    x = _AXIS
    flank: list[Point] = []
    for i in range(int((low - deck - 40) // 9)):
        y = deck + 8 + 9 * i
        flank += [(x - 27, y), (x - 32, y + 4.5)]
    metal: list[Point] = [(x - 104, deck), (x - 33, deck), *flank, (x - 27, low - 22), (x - 27, low - 8), (x - 10, low),
                          (x, low), (x, low + 34), (x - 104, low + 34)]  # fmt: skip
    both = polygon("section", [*metal[:-2], *mirrored(metal[:-2], x)[1:], (x + 104, low + 34), (x - 104, low + 34)])
    return (*_sides(both), Line(x, deck - 18, x, low + 44, "centre"))


def _sides(shape: Path) -> tuple[Shape, ...]:
    return (shape, Path(shape.steps, "outline"))
