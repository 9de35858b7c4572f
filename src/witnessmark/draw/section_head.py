"""The head round one valve in section: metal with its port, seat insert, guide and seal; valve, spring and keepers."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, pi, sin, tan

from witnessmark.draw.scene import cut, mirrored
from witnessmark.draw.shape import Circle, Point, Rect, Shape, polygon

AXIS = 165.0
FACE = 522.0  # the gasket face
COILS = 6
WIRE = 1.7  # mm, radius
LAND, COLLAR, HUB = 3.6, 2.4, 5.0  # mm: tip to retainer, its thickness, its hub below
INSERT, THROAT = 7.0, 2.6  # mm: depth of the seat insert, seat's width across
GUIDE, ABOVE, BELOW = 3.0, 6.0, 14.0  # mm: wall of the guide, its ends over and under the spring seat
LEFT, RIGHT = 46.0, 286.0  # broken edges of the metal


@dataclass(frozen=True, slots=True)
class Full:
    """One state of a valve, in mm, angles in radian; nothing of it is left open."""

    stem_height: float
    installed_height: float
    stem_diameter: float
    head_diameter: float
    valve_length: float
    margin: float
    seat_width: float
    seat_angle: float
    gap: float
    sunk: float
    shim: float
    top_angle: float
    bottom_angle: float
    base_circle: float
    bucket: float


@dataclass(frozen=True, slots=True)
class Frame:
    """Where things stand on the sheet: `scale` in pixels for a millimetre, from the gasket face up."""

    was: Full
    now: Full
    scale: float

    @property
    def seat(self) -> float:
        """The surface under the spring, without its shims."""
        return FACE - (self.was.valve_length - self.was.stem_height) * self.scale

    def tip(self, one: Full) -> float:
        """The stem's tip."""
        return self.seat - one.stem_height * self.scale

    @property
    def floor(self) -> float:
        """What the spring stands on."""
        return self.seat - self.now.shim * self.scale

    @property
    def under(self) -> float:
        """The retainer's underside."""
        return self.floor - self.now.installed_height * self.scale


def bow(start: Point, end: Point, count: int = 9) -> list[Point]:
    """A quarter of an ellipse from one point to another, level at the first and upright at the second."""
    (x1, y1), (x2, y2) = start, end
    turns = [pi / 2 * n / (count - 1) for n in range(count)]
    return [(x1 + (x2 - x1) * sin(t), y1 + (y2 - y1) * (1 - cos(t))) for t in turns]


def valve_shapes(frame: Frame, one: Full, role: str) -> tuple[Shape, ...]:
    """Stem, tulip and margin of one state; with retainer, keepers and spring where it is the one after the work."""
    k, x = frame.scale, AXIS
    r, big = one.stem_diameter * k / 2, one.head_diameter * k / 2
    tip = frame.tip(one)
    face = FACE - (one.sunk - frame.was.sunk) * k
    rim = face - one.margin * k
    in_ = big - min(THROAT, one.head_diameter / 4) * k
    cone = rim - (big - in_) * tan(one.seat_angle)
    neck = cone - min(0.55 * (in_ - r), (cone - tip) * 0.4)
    tulip = bow((x - in_, cone), (x - r, neck))
    half: list[Point] = [(x - r + 2, tip), (x - r, tip + 2), *reversed(tulip), (x - big, rim), (x - big, face)]
    outline = polygon(role, [*half, *mirrored(half, x)])
    return (outline,) if role == "phantom" else (outline, *_spring(frame))


def _spring(frame: Frame) -> tuple[Shape, ...]:
    """Coils between what they stand on and the retainer, with its keepers; shims under it as a plate."""
    k, x, now = frame.scale, AXIS, frame.now
    r, wire = now.stem_diameter * k / 2, WIRE * k
    middle, under, floor = r + 6.2 * k, frame.under, frame.floor
    step = (floor - under - 2 * wire) / (COILS - 1)
    coils = [Circle(x + side * middle, under + wire + (n + shift) * step, wire, "part")
             for side, shift, count in ((-1, 0.0, COILS), (1, 0.5, COILS - 1)) for n in range(count)]  # fmt: skip
    top, wide, hub = under - COLLAR * k, r + 8.6 * k, r + 2.6 * k
    collar: list[Point] = [(x - r - 1.2 * k, top), (x - wide, top), (x - wide, under), (x - hub - 1.6 * k, under),
                           (x - hub, under + HUB * k * 0.5), (x - r, under + HUB * k * 0.5)]  # fmt: skip
    keeper: list[Point] = [(x - r, top), (x - r - 1.2 * k, top), (x - r, under + HUB * k * 0.5)]
    plate: tuple[Shape, ...] = ()
    if now.shim > 0:
        plate = tuple(Rect(left, floor, 3.8 * k, now.shim * k, "part") for left in (x - r - 8.2 * k, x + r + 4.4 * k))
    return (*coils, *cut("section", collar), *cut("section", mirrored(collar, x)), polygon("ink", keeper),
            polygon("ink", mirrored(keeper, x)), *plate)  # fmt: skip


def head_shapes(frame: Frame) -> tuple[Shape, ...]:
    """The metal of the head as it was found, with the seat where the valve now shuts on it."""
    k, x, was = frame.scale, AXIS, frame.was
    r, big, seat = was.stem_diameter * k / 2, was.head_diameter * k / 2, frame.seat
    guide, pocket = r + GUIDE * k, r + 10.4 * k
    throat, hole = big - THROAT * k, big + 2.4 * k
    top, deck = FACE - INSERT * k, seat - 9 * k
    low = min(seat + BELOW * k, top - 12 * k)
    roof, floor = seat + 8 * k, min(seat + 24 * k, top - 6 * k)
    upper: list[Point] = [(x - guide, seat), (x - pocket, seat), (x - pocket, deck), (LEFT, deck), (LEFT, roof),
                          *bow((LEFT, roof), (x - guide, low))]  # fmt: skip
    lower: list[Point] = [(LEFT, floor), *bow((LEFT, floor), (x - throat, top)), (x - hole, top), (x - hole, FACE),
                          (LEFT, FACE)]  # fmt: skip
    right: list[Point] = [(x + guide, seat), (x + pocket, seat), (x + pocket, deck), (RIGHT, deck), (RIGHT, FACE),
                          (x + hole, FACE), (x + hole, top), (x + throat, top),
                          *reversed(bow((x + guide, low), (x + throat, top)))]  # fmt: skip
    return (*cut("section", upper), *cut("section", lower), *cut("section", right), *_insert(frame, top),
            *_guide(frame, low), *_breaks(deck, roof, floor))  # fmt: skip


def _insert(frame: Frame, top: float) -> tuple[Shape, ...]:
    """The seat insert, its face where the valve now touches it."""
    k, x, now = frame.scale, AXIS, frame.now
    big = now.head_diameter * k / 2
    rim = FACE - (now.sunk - frame.was.sunk + now.margin) * k
    inner = rim - THROAT * k * tan(now.seat_angle)
    half: list[Point] = [(x - big + THROAT * k, top), (x - big - 2.4 * k, top), (x - big - 2.4 * k, FACE),
                         (x - big - 0.8 * k, FACE), (x - big, rim), (x - big + THROAT * k, inner)]  # fmt: skip
    return (*cut("section_other", half), *cut("section_other", mirrored(half, x)))


def _guide(frame: Frame, low: float) -> tuple[Shape, ...]:
    k, x = frame.scale, AXIS
    r = frame.was.stem_diameter * k / 2
    wall, top = r + GUIDE * k, frame.seat - ABOVE * k
    half: list[Point] = [(x - r - 0.6, top), (x - wall, top), (x - wall, low), (x - r - 0.6, low)]
    seal: list[Point] = [(x - wall - 1.2 * k, top + 3 * k), (x - wall - 1.2 * k, top - 1.8 * k),
                         (x - r - 0.4 * k, top - 1.8 * k)]  # fmt: skip
    return (*cut("section_other", half), *cut("section_other", mirrored(half, x)),
            polygon("outline", seal, closed=False), polygon("outline", mirrored(seal, x), closed=False))  # fmt: skip


def _breaks(deck: float, roof: float, floor: float) -> Sequence[Shape]:
    """Broken edges are thin and waved; the hatch ends at them."""
    return [_wave(LEFT, deck, roof), _wave(LEFT, floor, FACE), _wave(RIGHT, deck, FACE)]


def _wave(x: float, top: float, low: float) -> Shape:
    points = [(x + 3 * sin(n * pi / 3), top + (low - top) * n / 12) for n in range(13)]
    return polygon("thin", points, closed=False)
