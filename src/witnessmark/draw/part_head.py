"""The sheets of a guide and a seat in the head, and of a head bolt in its hole."""

from witnessmark.draw.handtool import broken
from witnessmark.draw.part import MIDDLE, Part, Spot, pinched, scaled, upright
from witnessmark.draw.scene import cut, mirrored
from witnessmark.draw.shape import Circle, Line, Path, Point, Rect, Shape, path, polygon

_X = MIDDLE
_TIP, _SPRING, _DECK, _FLAT = 30.0, 241.0, 524.0, 520.0  # 4.8 px to the millimetre, as the valve's own sheet
_INSERT: tuple[Point, ...] = ((268, 490), (284, 490), (284, 503), (273, 514), (271, 524), (268, 524))


def _section() -> tuple[Shape, ...]:
    """Head, guide, insert and the valve shut, in section through the valve's axis."""
    roof: list[Point] = [(242, _SPRING), (324, _SPRING), (324, 336), (300, 350), (242, 358)]
    floor: list[Point] = [(242, 426), (262, 434), (284, 462), (284, 490), (268, 490), (268, _DECK), (242, _DECK)]
    guide: list[Point] = [(324, 180), (336, 180), (336, 366), (328, 366), (324, 340)]
    pieces: list[Shape] = []
    for outline, role in ((roof, "section"), (floor, "section"), (guide, "section_other"), (_INSERT, "section_other")):
        pieces += [*cut(role, outline), *cut(role, mirrored(outline, _X))]
    return (*pieces, _valve(), Line(_X, _TIP - 18, _X, 550, "centre"))


def _valve() -> Path:
    left, right, head = _X - 13, _X + 13, 77.0
    return path("part", "M", left, _TIP + 3, "L", left, 420, "C", left, 468, left - 20, 486, _X - head + 13, 502,
                "L", _X - head, 514, "L", _X - head, _FLAT, "L", _X + head, _FLAT, "L", _X + head, 514,
                "L", _X + head - 13, 502, "C", right + 20, 486, right, 468, right, 420, "L", right, _TIP + 3,
                "L", right - 3, _TIP, "L", left + 3, _TIP, "Z")  # fmt: skip


def guide(_: str) -> Part:
    """The guide in the head, the valve in it."""
    spots = {
        "guide_od": Spot((302, 200), "left", pinched(200, 324, 376)),
        "guide_height": Spot((292, 212), "left", upright(292, 180, _SPRING, 324)),
        "guide_bore": Spot((336, 290), "left"),
        "stem_guide_clearance": Spot((364, 260), "right"),
        "guide_fit": Spot((376, 284), "right"),
        "guide_hole": Spot((376, 316), "right"),
        "stem_wobble": Spot((427, 517), "right"),
    }
    return Part("the guide in the head", _section(), spots)


_ZOOM, _FROM = 3.6, (242.0, 484.0)


def _at(x: float, y: float) -> Point:
    """A point of the section where the detail shows it, 3.6 times as large."""
    return (_FROM[0] + _ZOOM * (x - _FROM[0]), 340 + _ZOOM * (y - _FROM[1]))


def _detail() -> tuple[Shape, ...]:
    """The seat enlarged: casting, insert with its three cuts, and the edge of the valve on it."""
    casting = [_at(*p) for p in ((242, 484), (284, 484), (284, 490), (268, 490), (268, 524), (242, 524))]
    insert = [_at(*p) for p in ((268, 490), (284, 490), (284, 499), (281, 506), (275, 512), (268, 516))]
    face, edge, flat = _at(287, 500), _at(272.5, 514.5), _at(272.5, 520)
    neck, cut_off = _at(302, 490), _at(302, 520)
    valve = path("part", "M", *cut_off, "L", *flat, "L", *edge, "L", *face, "Q", *_at(296, 496), *neck)
    return (*cut("section", casting), *cut("section_other", insert), valve,
            Line(*_at(281, 506), *_at(275, 512), "edge", 3))  # fmt: skip


def seat(_: str) -> Part:
    """The seat in the head with the valve shut on it, and the seat enlarged."""
    k, dy = 0.58, -4.0
    dx = _X - k * _X
    ring = (Circle(k * 276 + dx, k * 507 + dy, 18, "thin"),)
    small = scaled(_section(), k, dx, dy)
    tip, spring, right = k * _TIP + dy, k * _SPRING + dy, k * 436 + dx
    deep, deck, rest = _at(268, 490), _at(268, 524), _at(300, 520)
    a, b = _at(281, 506), _at(275, 512)
    band = (Line(a[0] + 16, a[1] + 16, b[0] + 16, b[1] + 16, "thin", start="arrow", end="arrow"),
            Line(*a, a[0] + 20, a[1] + 20, "faint"), Line(*b, b[0] + 20, b[1] + 20, "faint"))  # fmt: skip
    sunk = (Line(deck[0], deck[1], rest[0] + 6, deck[1], "faint"), Line(rest[0], rest[1] - 22, *rest, "thin",
                                                                        end="arrow"),
            Line(rest[0], deck[1] + 22, rest[0], deck[1], "thin", end="arrow"))  # fmt: skip
    spots = {
        "stem_height": Spot((right, 70), "right", upright(right, tip, spring, _X + k * 13)),
        "seat_seal_test": Spot((k * 300 + dx, k * 400 + dy), "left"),
        "seat_insert_bore": Spot(_at(268, 494), "left"),
        "seat_insert_depth": Spot((_at(256, 500)), "left", upright(_at(256, 0)[0], deep[1], deck[1], deep[0])),
        "relief_angle_bottom": Spot(_at(282.5, 502.5), "left"),
        "seat_angle": Spot(_at(279, 508), "left"),
        "seat_runout": Spot(_at(277, 510), "left"),
        "seat_leak_gap": Spot(_at(276, 511), "left"),
        "seat_removed": Spot(_at(275.5, 511.5), "left"),
        "relief_angle_top": Spot(_at(271, 514.3), "left"),
        "seat_insert_od": Spot(_at(276, 490), "right"),
        "seat_insert_fit": Spot(_at(268, 498), "right"),
        "seat_and_face_removed": Spot(_at(280, 507), "right"),
        "seat_width": Spot(((a[0] + b[0]) / 2 + 16, (a[1] + b[1]) / 2 + 16), "right", band),
        "seat_contact_position": Spot(_at(278, 509), "right"),
        "seat_contact": Spot(_at(273.5, 513.5), "right"),
        "contact_gap": Spot(_at(272.5, 514.3), "right"),
        "seat_recession": Spot((rest[0], deck[1] + 10), "right", sunk),
    }
    return Part("the seat in the head", (*small, *ring, *_detail()), spots)


def bolt(_: str) -> Part:
    """A head bolt in its place: head of the engine above, block with its hole below."""
    under, joint, end, bottom = 96.0, 330.0, 470.0, 506.0
    above: list[Point] = [(246, under), (326, under), (326, joint), (246, joint)]
    block: list[Point] = [(328, joint), (246, joint), (246, 546), (454, 546), (454, joint), (372, joint), (372,
                                                                                                           bottom - 12),
             (_X, bottom), (328, bottom - 12)]  # fmt: skip
    threads: list[Shape] = [Line(_X - 22, y, _X + 22, y + 4, "thin") for y in range(362, round(end) - 8, 8)]
    shank: list[Point] = [(_X - 20, under), (_X - 20, 300), (_X - 16, 312), (_X - 16, 330), (_X - 20, 344), (_X - 22,
                                                                                                             356),
                          (_X - 22, end - 7), (_X - 15, end)]  # fmt: skip
    shapes = (
        *cut("section", above), *cut("section", mirrored(above, _X)), *cut("section_other", block),
        polygon("part", [*shank, *mirrored(shank, _X)]), *threads, Rect(_X - 34, under - 50, 68, 40, "part"),
        Line(_X - 12, under - 50, _X - 12, under - 10, "thin"), Line(_X + 12, under - 50, _X + 12, under - 10, "thin"),
        Rect(_X - 46, under - 10, 92, 10, "part"), *broken(_X, 220, 30), Line(_X, 20, _X, 552, "centre"),
    )  # fmt: skip
    spots = {
        "snug_torque": Spot((_X - 20, under - 50), "left"),
        "tightening_torque": Spot((_X - 34, under - 30), "left"),
        "tightening_angle": Spot((_X + 34, under - 30), "right"),
        "bolt_stretch": Spot((_X + 8, under - 50), "right"),
        "bolt_length": Spot((264, 240), "left", upright(264, under, end, _X - 20)),
        "bolt_full_diameter": Spot((_X + 20, 170), "right"),
        "bolt_necking": Spot((_X + 20, 298), "right"),
        "bolt_least_diameter": Spot((_X + 16, 320), "right"),
        "bolt_reach": Spot((292, 400), "left", upright(292, joint, end, _X - 22)),
        "thread_and_hole": Spot((_X + 22, 410), "right"),
        "hole_depth": Spot((432, 430), "right", upright(432, joint, bottom, 372)),
        "hole_spare": Spot((_X + 6, (end + bottom) / 2), "right"),
    }
    return Part("a head bolt in its hole", shapes, spots)
