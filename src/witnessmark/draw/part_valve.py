"""The sheet of a valve and that of its spring with what holds it."""

from witnessmark.draw.handtool import section_round
from witnessmark.draw.part import MIDDLE, Part, Spot, level, pinched, upright
from witnessmark.draw.scene import cut, mirrored
from witnessmark.draw.shape import Line, Path, Point, Shape, path, polygon

_X = MIDDLE
_TIP, _FLAT = 40.0, 520.0  # 4.6 px to the millimetre: an invented valve of 104 mm, stem 6 mm, head 32 mm
_STEM, _HEAD = 14.0, 74.0


def valve(_: str) -> Part:
    """A valve from tip to flat, true to its proportions."""
    left, right = _X - _STEM, _X + _STEM
    rim = _FLAT - 6
    face = rim - 12
    shapes: tuple[Shape, ...] = (_outline(), Line(left, _TIP + 20, right, _TIP + 20, "thin"),
                                 Line(left, _TIP + 32, right, _TIP + 32, "thin"),
                                 Line(_X - _HEAD, rim, _X + _HEAD, rim, "thin"),
                                 Line(_X - _HEAD + 12, face, _X + _HEAD - 12, face, "thin"),
                                 Line(_X, _TIP - 18, _X, _FLAT + 14, "centre"))  # fmt: skip
    old = polygon("phantom", [(left, _TIP), (left, _TIP - 8), (right, _TIP - 8), (right, _TIP)], closed=False)
    ground = polygon("phantom", [(_X - _HEAD + 12, face - 8), (_X - _HEAD, rim - 8)], closed=False)
    spots = {
        "valve_lash": Spot((_X + 6, _TIP - 12), "right", (Line(_X - 18, _TIP - 12, _X + 18, _TIP - 12, "phantom"),)),
        "tip_condition": Spot((_X + 6, _TIP), "right"),
        "tip_squareness": Spot((right - 2, _TIP + 3), "right"),
        "tip_removed": Spot((left + 4, _TIP - 8), "left", (old,)),
        "tip_to_groove": Spot((_X - 34, _TIP + 11), "left", upright(_X - 34, _TIP, _TIP + 22, left)),
        "keeper_groove": Spot((right - 4, _TIP + 26), "right"),
        "stem_diameter": Spot((right + 22, 190), "right", pinched(190, left, right)),
        "stem_taper": Spot((right, 250), "right"),
        "stem_runout": Spot((_X, 300), "left"),
        "valve_lift": Spot((left, 220), "left"),
        "valve_neck": Spot((right, 408), "right"),
        "valve_length": Spot((_X - 96, 264), "left", upright(_X - 96, _TIP, _FLAT, _X - 14)),
        "face_removed": Spot((_X - _HEAD + 8, face - 4), "left", (ground,)),
        "face_angle": Spot((_X - _HEAD + 5, rim - 5), "left"),
        "face_runout": Spot((_X + _HEAD - 6, rim - 6), "right"),
        "margin": Spot((_X + _HEAD, rim + 3), "right"),
        "valve_head_diameter": Spot((_X - 40, _FLAT + 18), "left", level(_FLAT + 18, _X - _HEAD, _X + _HEAD, _FLAT)),
    }
    return Part("the valve", shapes, spots)


def _outline() -> Path:
    left, right = _X - _STEM, _X + _STEM
    rim, face = _FLAT - 6, _FLAT - 18
    half: list[Point] = [(left, _TIP + 3), (left, _TIP + 20), (left + 4, _TIP + 23), (left + 4, _TIP + 29),
                         (left, _TIP + 32), (left, 400)]  # fmt: skip
    steps: list[str | float] = ["M", left + 3, _TIP]
    for x, y in half:
        steps += ["L", x, y]
    steps += ["C", left, 456, left - 22, 482, _X - _HEAD + 12, face, "L", _X - _HEAD, rim, "L", _X - _HEAD, _FLAT]
    steps += ["L", _X + _HEAD, _FLAT, "L", _X + _HEAD, rim, "L", _X + _HEAD - 12, face]
    steps += ["C", right + 22, 482, right, 456, right, 400]
    for x, y in reversed(half[:-1]):
        steps += ["L", 2 * _X - x, y]
    return path("part", *steps, "L", right - 3, _TIP, "Z")


def spring(_: str) -> Part:
    """The spring between its seat and its retainer, valve shut, with guide, seal and keepers in section."""
    seat, under = 470.0, 150.0  # 8 px to the millimetre: 40 mm installed, 28 mm over the coils
    outer, wire = 84.0, 15.0
    low = under + 108.0
    guide_top, seal = 330.0, 292.0
    shapes = (*_casting(seat, guide_top), *_stem(under, seal), *_coils(under, seat, outer, wire))
    solid = seat - 7 * 2 * wire
    spots = {
        "retainer_keeper": Spot((_X + 20, under - 22), "right"),
        "rotator": Spot((_X + 60, under - 8), "right"),
        "seat_load": Spot((_X - 64, under - 44), "left", (_push(_X - 64, under),)),
        "open_load": Spot((_X + 44, low), "right", _height(low)),
        "tall_height": Spot((_X - 54, under + 34), "left", _height(under + 34, left=True)),
        "tall_load": Spot((_X - 34, under + 34), "left"),
        "short_height": Spot((_X - 54, low - 12), "left", _height(low - 12, left=True)),
        "short_load": Spot((_X - 34, low - 12), "left"),
        "spring_rate": Spot((_X - 70, 330), "left"),
        "spring_solid_height": Spot((_X - 46, solid), "left", _height(solid, left=True)),
        "coil_bind_clearance": Spot((_X + 48, (low + solid) / 2), "right",
                                    (Line(_X + 48, low, _X + 48, solid, "thin", start="dot", end="dot"),)),
        "installed_height": Spot((_X + 106, 400), "right", upright(_X + 106, under, seat, _X + outer)),
        "spring_free_length": Spot((_X - 106, 440), "left", upright(_X - 106, 84, seat, _X - outer)),
        "spring_squareness": Spot((_X - outer + 2, under + 34), "left"),
        "retainer_seal_gap": Spot((_X + 26, under + 90), "right",
                                  (Line(_X + 26, under + 26, _X + 26, seal, "thin", start="arrow", end="arrow"),)),
        "retainer_seal_clearance": Spot((_X + 30, seal - 6), "right"),
        "stem_seal": Spot((_X + 24, seal + 18), "right"),
        "spring_side_clearance": Spot((_X + outer + 8, seat - 12), "right"),
        "spring_pocket": Spot((_X + 60, seat), "right"),
    }  # fmt: skip
    return Part("the spring with its retainer and seal", shapes, spots)


def _push(x: float, under: float) -> Line:
    return Line(x, under - 70, x, under - 16, "outline", end="arrow")


def _height(y: float, left: bool = False) -> tuple[Shape, ...]:
    """Where the underside of the retainer comes, as the other state: between the coils and the stem."""
    a, b = (_X - 60, _X - 24) if left else (_X + 24, _X + 60)
    return (Line(a, y, b, y, "phantom"),)


def _casting(seat: float, guide_top: float) -> tuple[Shape, ...]:
    metal: list[Point] = [(_X - 110, seat - 20), (_X - 96, seat - 20), (_X - 96, seat), (_X - 30, seat),
                          (_X - 30, 540), (_X - 110, 540)]  # fmt: skip
    guide: list[Point] = [(_X - 30, guide_top), (_X - 14, guide_top), (_X - 14, 540), (_X - 30, 540)]
    return tuple(shape for outline, role in ((metal, "section"), (guide, "section_other"))
                 for side in (outline, mirrored(outline, _X)) for shape in cut(role, side))  # fmt: skip


def _stem(under: float, seal: float) -> tuple[Shape, ...]:
    collar: list[Point] = [(_X - 22, under - 30), (_X - 88, under - 18), (_X - 88, under), (_X - 50, under),
                           (_X - 50, under + 10), (_X - 30, under + 26), (_X - 20, under + 26)]  # fmt: skip
    keeper: list[Point] = [(_X - 22, under - 32), (_X - 12, under - 32), (_X - 10, under - 6), (_X - 12, under + 26),
                           (_X - 19, under + 26)]  # fmt: skip
    lip: list[Point] = [(_X - 26, seal), (_X - 13, seal), (_X - 13, seal + 14), (_X - 30, seal + 38), (_X - 30, 362),
                        (_X - 38, 362), (_X - 38, seal + 30)]  # fmt: skip
    stem = polygon("part", [(_X - 13, 540), (_X - 13, under - 70), (_X - 10, under - 73), (_X + 10, under - 73),
                            (_X + 13, under - 70), (_X + 13, 540)], closed=False)  # fmt: skip
    pieces: list[Shape] = [stem, Line(_X, under - 90, _X, 548, "centre")]
    for outline, role in ((collar, "section"), (keeper, "section_other"), (lip, "section")):
        pieces += [*cut(role, outline), *cut(role, mirrored(outline, _X))]
    return tuple(pieces)


def _coils(under: float, seat: float, outer: float, wire: float) -> tuple[Shape, ...]:
    """Wire in section on both sides, half a pitch apart."""
    turns, shapes = 6, list[Shape]()
    pitch = (seat - under - 2 * wire) / turns
    for i in range(turns + 1):
        y = seat - wire - i * pitch
        shapes += section_round(_X - outer + wire, y, wire)
        if i < turns:
            shapes += section_round(_X + outer - wire, y - pitch / 2, wire)
    return tuple(shapes)
