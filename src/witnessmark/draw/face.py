"""The gasket face by itself: where bores, valves, plug, bolt and water holes lie, computed from a layout.

The picture is a plan, not to any engine's scale: bores stand on one pitch, inlet side up, front to the left. At the
natural size one cylinder takes 225.6 px; more than `room` allows makes everything smaller by one factor.
"""

from dataclasses import dataclass, field

from witnessmark.draw.shape import Box, Circle, Line, Point, Shape, path

PITCH, BORE, MARGIN, DEPTH = 225.6, 94.0, 30.0, 250.0
_INLETS = {1: ((0, -47, 46),), 2: ((-40, -41, 36.5), (40, -41, 36.5)), 3: ((-56, -29, 27), (0, -55, 27), (56, -29, 27))}
_EXHAUSTS = {1: ((0, 49, 38),), 2: ((-38, 45, 32), (38, 45, 32)), 3: ((-54, 28, 25), (0, 53, 25), (54, 28, 25))}
_PLUGS = {(1, 1): (62, 0), (1, 2): (0, 12), (1, 3): (0, 12), (2, 1): (0, -5), (3, 1): (0, -5)}
_LETTERS = {"f": "F", "m": "M", "r": "R", "inl": "Inl", "exh": "Exh"}


@dataclass(frozen=True, slots=True)
class FacePlan:
    """What the face is computed from.

    `cylinders` are the numbers of one head from front to rear; `inlets` and `exhausts` the positions of one cylinder's
    valves ("f", "m", "r", or "" where there is one); `room` is the width that the face may take.
    """

    cylinders: tuple[int, ...] = (1, 2, 3, 4)
    inlets: tuple[str, ...] = ("f", "r")
    exhausts: tuple[str, ...] = ("f", "r")
    room: float = 4 * PITCH + 2 * MARGIN


@dataclass(frozen=True, slots=True)
class ValveSpot:
    """Where one valve lies on the face: its id (`inl-3f`), centre, head radius and letter."""

    id: str
    x: float
    y: float
    r: float
    letter: str


@dataclass(frozen=True, slots=True)
class Face:
    """A face laid out. The top left corner of the casting is (0, 0)."""

    plan: FacePlan
    scale: float
    width: float
    depth: float
    valves: tuple[ValveSpot, ...] = field(default=())

    def centre(self, index: int) -> float:
        """The axis of the cylinder at `index` from the front."""
        return (MARGIN + (index + 0.5) * PITCH) * self.scale

    @property
    def box(self) -> Box:
        """Outline of the casting."""
        return (0.0, 0.0, self.width, self.depth)


def lay_out(plan: FacePlan) -> Face:
    """The face of one head; raises ValueError with the cure for a layout that cannot be drawn."""
    if not plan.cylinders:
        raise ValueError("this head has no cylinder to draw: name at least one cylinder number")
    for word, valves in (("inlet", plan.inlets), ("exhaust", plan.exhausts)):
        if not 1 <= len(valves) <= 3:
            raise ValueError(f"{len(valves)} {word} valves a cylinder cannot be drawn: enter one, two or three")
    natural = len(plan.cylinders) * PITCH + 2 * MARGIN
    scale = min(1.0, plan.room / natural)
    face = Face(plan, scale, natural * scale, DEPTH * scale)
    spots = tuple(spot for i, number in enumerate(plan.cylinders) for spot in _spots(face, i, number))
    return Face(plan, scale, face.width, face.depth, spots)


def _spots(face: Face, index: int, number: int) -> tuple[ValveSpot, ...]:
    x, y, s = face.centre(index), _axis(face), face.scale
    sides = (("inl", face.plan.inlets, _INLETS), ("exh", face.plan.exhausts, _EXHAUSTS))
    return tuple(
        ValveSpot(f"{kind}-{number}{at}", x + dx * s, y + dy * s, r * s, _LETTERS[at or kind])
        for kind, positions, places in sides
        for at, (dx, dy, r) in zip(positions, places[len(positions)], strict=True)
    )


def _axis(face: Face) -> float:
    return 129 * face.scale


def casting(face: Face) -> tuple[Shape, ...]:
    """Everything of the bare face: outline, drive opening, bolts, water, bores, plugs, valves."""
    s, right, low, corner = face.scale, face.width, face.depth, 10 * face.scale
    outline = path(
        "part", "M", corner, 0, "L", right - corner, 0, "Q", right, 0, right, corner, "L", right, low - corner,
        "Q", right, low, right - corner, low, "L", corner, low, "Q", 0, low, 0, low - corner, "L", 0, corner,
        "Q", 0, 0, corner, 0, "Z", width=2.5,
    )  # fmt: skip
    opening = path(
        "outline", "M", 0, 62 * s, "L", 13 * s, 62 * s, "Q", 19 * s, 62 * s, 19 * s, 70 * s,
        "L", 19 * s, 180 * s, "Q", 19 * s, 188 * s, 13 * s, 188 * s, "L", 0, 188 * s,
    )  # fmt: skip
    axis = Line(-16 * s, _axis(face), right + 16 * s, _axis(face), "centre")
    bores = tuple(shape for i in range(len(face.plan.cylinders)) for shape in _bore(face, i))
    heads = tuple(shape for spot in face.valves for shape in _head(spot))
    return (outline, opening, *_bolts(face), *_water(face), *bores, *heads, axis)


def _bolts(face: Face) -> tuple[Shape, ...]:
    s = face.scale
    found: list[Shape] = []
    for i in range(len(face.plan.cylinders) + 1):
        for y in (30 * s, 220 * s):
            x = (MARGIN + i * PITCH) * s
            found.append(Circle(x, y, 11 * s, "outline"))
            found += [Line(x - 17 * s, y, x + 17 * s, y, "faint"), Line(x, y - 17 * s, x, y + 17 * s, "faint")]
    return tuple(found)


def _water(face: Face) -> tuple[Shape, ...]:
    s = face.scale
    return tuple(
        Circle(face.centre(i) + dx * s, y * s, r * s, "thin", ry=6 * s)
        for i in range(len(face.plan.cylinders))
        for dx, r in ((-66, 8), (0, 13), (66, 8))
        for y in (16, 234)
    )


def plug(face: Face, index: int) -> Point:
    """The middle of the plug hole of the cylinder at `index` from the front."""
    dx, dy = _PLUGS.get((len(face.plan.inlets), len(face.plan.exhausts)), (0, 0))
    return (face.centre(index) + dx * face.scale, _axis(face) + dy * face.scale)


def _bore(face: Face, index: int) -> tuple[Shape, ...]:
    x, y, s = face.centre(index), _axis(face), face.scale
    hole = plug(face, index)
    return (
        Circle(x, y, 103 * s, "centre"),
        Circle(x, y, BORE * s, "outline", 1.5),
        Circle(*hole, 12 * s, "outline"),
        Circle(*hole, 8 * s, "thin"),
    )


def _head(spot: ValveSpot) -> tuple[Shape, ...]:
    return (Circle(spot.x, spot.y, spot.r, "part"), Circle(spot.x, spot.y, spot.r - min(5.0, spot.r / 6), "thin"))
