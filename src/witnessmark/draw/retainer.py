"""Where the gauge or the eye goes at the retainer: gap to the seal, the seal itself, keepers, rotator."""

from witnessmark.draw.handtool import caliper_upright, lens, noted
from witnessmark.draw.scene import Ask, Scene, caption, cut, height_dimension, mirrored, painted
from witnessmark.draw.shape import Circle, Line, Point, Rect, Shape, path, polygon

_AXIS, _STEM = 178.0, 13.0
_SEAT = 350.0
_SEAL_TOP = 212.0


def retainer_seal(ask: Ask) -> Scene:
    """From the seal to under the retainer, valve shut; the clearance shows the retainer where full lift brings it."""
    under, lift = 120.0, 66.0
    low = ask.characteristic == "retainer_seal_clearance"
    end = under + lift if low else under
    tools: tuple[Shape, ...] = (polygon("phantom", _collar(under + lift), closed=False),
             polygon("phantom", mirrored(_collar(under + lift), _AXIS), closed=False))  # fmt: skip
    if not low:
        tools = caliper_upright(under, _SEAL_TOP, 60, _AXIS - 20, paint=22)
    words = ("left over the seal at full lift", "worked out: the gap, valve shut,", "less the lift of this valve")
    if not low:
        words = ("gap from retainer to seal", "valve shut, the seal that goes in,", "no spring or a light one")
    paint = (*painted(_AXIS - 34, end, 20, 8, "top"), *painted(_AXIS - 34, _SEAL_TOP - 8, 20, 8, "bottom"))
    shapes = (
        *_head(), *_seal(), *_valve(62), *_retainer(under), *tools, *(paint if low else ()),
        *height_dimension(276, end, _SEAL_TOP, _AXIS + 34), *caption(12, 436, *words), *noted(ask, 510),
    )  # fmt: skip
    name = "the retainer comes now at full lift: clear of the seal" if low else (
        "the caliper goes now: from the top of the seal to under the retainer")  # fmt: skip
    return Scene(shapes, (_AXIS - 24, (end + _SEAL_TOP) / 2), f"where {name}")


def stem_seal(ask: Ask) -> Scene:
    """The seal on its guide: looked at, and tried with two fingers, up and round."""
    x = _AXIS
    turn = path("thin", "M", x - 74, 296, "C", x - 60, 322, x + 60, 322, x + 70, 300)
    shapes = (
        *_head(), *_seal(), *_valve(62, low=True), *painted(x - 38, 240, 8, 50, "right"),
        *painted(x + 30, 240, 8, 50, "left"),
        Rect(x - 30, _SEAL_TOP - 8, 17, 8, "now"), Rect(x + 13, _SEAL_TOP - 8, 17, 8, "now"),
        Line(x - 30, _SEAL_TOP, x + 30, _SEAL_TOP, "edge", 3),
        Line(x - 66, 256, x - 66, 202, "thin", end="arrow"), Line(x + 66, 256, x + 66, 202, "thin", end="arrow"), turn,
        Line(x + 66, 306, x + 72, 296, "thin", end="arrow"), *lens(x + 20, _SEAL_TOP - 14, 40, 35),
        *caption(12, 436, "the seal on its guide", "lip and case whole, down on its stop,", "neither lifts nor turns"),
        *noted(ask, 510),
    )  # fmt: skip
    return Scene(shapes, (x, 236), "where the eye and two fingers go now: lip and case of the seal on its guide")


def retainer_keeper(ask: Ask) -> Scene:
    """Retainer with both keepers, cut through and from above: level, and a gap left between the halves."""
    x, top = 176.0, 96.0
    cone: list[Point] = [(x - 24, top), (x - 100, top), (x - 100, top + 26), (x - 62, top + 32), (x - 58, top + 62),
                         (x - 17, top + 62)]  # fmt: skip
    key: list[Point] = [(x - 24, top), (x - 13, top), (x - 13, top + 14), (x - 8, top + 17), (x - 8, top + 27),
                        (x - 13, top + 30), (x - 13, top + 60), (x - 17, top + 60)]  # fmt: skip
    stem: list[Point] = [(x - 13, top - 40), (x - 13, top + 14), (x - 8, top + 17), (x - 8, top + 27),
                         (x - 13, top + 30), (x - 13, top + 130)]  # fmt: skip
    parts = (*cut("section", cone), *cut("section", mirrored(cone, x)), *cut("section_other", key),
             *cut("section_other", mirrored(key, x)))  # fmt: skip
    shapes = (
        *parts, polygon("part", [*stem, *mirrored(stem, x)]), Line(x, top - 54, x, top + 150, "centre"),
        Rect(x - 46, top - 8, 33, 8, "now"), Rect(x + 13, top - 8, 33, 8, "now"),
        Line(x - 46, top, x + 46, top, "edge", 3),
        Line(x - 120, top - 26, x - 48, top - 8, "thin", end="arrow"),
        *_above(x, 314), *caption(12, 430, *_key_words(ask)), *noted(ask, 506),
    )  # fmt: skip
    return Scene(
        shapes, (x, top + 20), "where the eye goes now: keepers level in the retainer, a gap between the halves"
    )


def _key_words(ask: Ask) -> tuple[str, ...]:
    if "gap" in ask.characteristic:
        return ("gap between the keepers", "leaf between the halves, both ends,", "seated by a light blow")
    return ("keepers and retainer", "halves level, a gap at both ends;", "no shine round the taper, no cracks")


def _above(x: float, y: float) -> tuple[Shape, ...]:
    """From above: stem, the two halves with the gaps painted, the taper and the rim of the retainer."""
    rings = (Circle(x, y, 66, "part"), Circle(x, y, 30, "outline"), Circle(x, y, 16, "part"))
    gaps: list[Shape] = []
    for s in (-1, 1):
        gaps.append(Rect(x - 4, y + (17 if s > 0 else -29), 8, 12, "now"))
        gaps += [Line(x + dx, y + s * 16, x + dx, y + s * 30, "edge", 2) for dx in (-4, 4)]
    leaf = polygon("phantom", [(x - 2, y + 26), (x - 2, y + 84), (x + 2, y + 84), (x + 2, y + 26)])
    return (*rings, *gaps, leaf, Line(x - 80, y, x + 80, y, "centre"))


def rotator(ask: Ask) -> Scene:
    """A rotator under or over the spring: pressed and let go it turns on, always the same way."""
    x, top = 176.0, 130.0
    body: tuple[Shape, ...] = (
        Rect(x - 96, top, 192, 20, "part"), Rect(x - 86, top + 20, 172, 22, "part"),
        Rect(x - 60, top + 42, 120, 14, "part"),
        *(Circle(x - 64 + 32 * i, top + 30, 7, "part") for i in range(5)),
        *(Line(x - 76 + 32 * i, top + 41, x - 56 + 32 * i, top + 37, "thin") for i in range(5)),
    )  # fmt: skip
    coils = tuple(
        shape
        for i in range(4)
        for shape in (Line(x - 66, top + 68 + 40 * i, x + 66, top + 88 + 40 * i, "thin"),
                      Line(x - 66, top + 88 + 40 * i, x + 66, top + 108 + 40 * i, "thin"),
                      Circle(x - 66, top + 78 + 40 * i, 10, "part"), Circle(x + 66, top + 98 + 40 * i, 10, "part"))
    )  # fmt: skip
    turn = path("outline", "M", x - 60, 88, "C", x - 50, 64, x + 50, 64, x + 58, 82)
    shapes = (
        *coils, *body, Rect(x - 15, 40, 30, top - 40, "part"), Line(x, 26, x, 330, "centre"), turn,
        Line(x + 48, 74, x + 61, 88, "outline", end="arrow"), *painted(x - 104, top, 8, 42, "right"),
        *painted(x + 96, top, 8, 42, "left"), Line(x - 130, 60, x - 130, 116, "outline", end="arrow"),
        *caption(12, 400, "does the rotator turn?", "press and let go: a step each time,",
                 "always the same way, no grit felt"),
        *noted(ask, 480),
    )  # fmt: skip
    return Scene(shapes, (x, top + 10), "where the fingers go now: round the rotator, pressed and let go")


def _head() -> tuple[Shape, ...]:
    """Casting with its spring seat, the guide standing out of it."""
    x = _AXIS
    metal: list[Point] = [(x - 96, _SEAT), (x - 30, _SEAT), (x - 30, 396), (x - 96, 396)]
    wall: list[Point] = [(x - 30, 236), (x - _STEM, 236), (x - _STEM, 396), (x - 30, 396)]
    return (*cut("section", metal), *cut("section", mirrored(metal, x)), *cut("section_other", wall),
            *cut("section_other", mirrored(wall, x)))  # fmt: skip


def _seal() -> tuple[Shape, ...]:
    """A positive seal in section: case over the guide, lip on the stem, its garter spring."""
    x = _AXIS
    half: list[Point] = [(x - _STEM, _SEAL_TOP), (x - 30, _SEAL_TOP), (x - 38, _SEAL_TOP + 12), (x - 38, 300),
                         (x - 30, 300), (x - 30, 236), (x - _STEM - 6, 234), (x - _STEM, 222)]  # fmt: skip
    rubber = tuple(polygon("sheet", part) for part in (half, mirrored(half, x)))
    lines = (polygon("outline", half), polygon("outline", mirrored(half, x)))
    garter = tuple(Circle(x + dx, _SEAL_TOP + 10, 3.5, "thin_part") for dx in (-22, 22))
    return (*rubber, *lines, *garter)


def _valve(tip: float, low: bool = False) -> tuple[Shape, ...]:
    x = _AXIS
    sides = polygon("outline", [(x - _STEM, 404), (x - _STEM, tip + 3), (x - _STEM + 3, tip), (x + _STEM - 3, tip),
                                (x + _STEM, tip + 3), (x + _STEM, 404)], closed=False)  # fmt: skip
    groove = () if not low else (Line(x - _STEM, tip + 24, x + _STEM, tip + 24, "thin"),
                                 Line(x - _STEM, tip + 32, x + _STEM, tip + 32, "thin"))  # fmt: skip
    return (sides, *groove, Line(x, tip - 20, x, 414, "centre"))


def _collar(under: float) -> list[Point]:
    x = _AXIS
    return [(x - _STEM, under - 40), (x - 74, under - 40), (x - 74, under - 18), (x - 40, under - 12), (x - 36, under),
            (x - _STEM, under)]  # fmt: skip


def _retainer(under: float) -> tuple[Shape, ...]:
    half = _collar(under)
    return (*cut("section", half), *cut("section", mirrored(half, _AXIS)))
