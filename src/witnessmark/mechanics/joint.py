"""A bolt and what it clamps as two springs: how stiff each is, what a turn of the bolt does, what settling takes.

Bolt and clamped parts bear the same force, and their deflections add: a turn of the bolt stretches the one and presses
the other. The rate of the joint, kb kj / (kb + kj), is force for travel of the thread.

Segments are (length, area, modulus), one after another along the bolt; stiffness in N/mm. A rigid part has a rate of
infinity. Units, shapes and errors as in `spring`.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import pi, radians

from witnessmark.mechanics.law import Angle, Area, Force, Length, Number, Pure, Rate, Stress, require
from witnessmark.mechanics.spread import Part, Spread

STEEL, IRON, LIGHT_ALLOY = 205_000.0, 110_000.0, 70_000.0  # modulus, MPa; values from memory, grey iron 90 to 130 GPa
CONE = radians(30)  # half angle of the cone of pressure
HEAD, ENGAGED, NUT, TAPPED = 0.4, 0.5, 0.4, 0.33  # of the nominal diameter

Segment = tuple[Number, Number, Number]  # length mm, area mm², modulus MPa


def circle(diameter: Length) -> Area:
    """Area of a round section [mm²]."""
    return pi / 4 * diameter * diameter


def bolt_rate(segments: Sequence[Segment]) -> Rate:
    """Stiffness of a bolt from its segments, ends included [N/mm]. Source: VDI 2230-1, elastic resilience."""
    give: Number = 0
    for length, area, modulus in segments:
        require(
            (length >= 0) & (area > 0) & (modulus > 0),
            "a segment of {length:g} mm, {area:g} mm² and {modulus:g} MPa cannot be stretched: check the three",
            length=length,
            area=area,
            modulus=modulus,
        )
        give = give + length / (area * modulus)
    require(give > 0, "the segments have no length together: give the free parts of the bolt")
    return 1 / give


def end_segments(
    nominal: Length, root_area: Area, held: str = "nut", modulus: Stress = STEEL, tapped_modulus: Stress = IRON
) -> tuple[Segment, Segment, Segment]:
    """What gives beyond the free parts: the head, the thread that is engaged, and the nut or the tapped part.

    `held` is "nut" for a through bolt or "tapped" for a hole in a part of `tapped_modulus`.

    Source: VDI 2230-1: 0.4 d, 0.5 d on the root, 0.4 d (nut) or 0.33 d (tapped part); the last from memory.
    """
    require(held in ("nut", "tapped"), f"a bolt is held by a 'nut' or in a 'tapped' hole, not by '{held}'")
    full = circle(nominal)
    last = (NUT * nominal, full, modulus) if held == "nut" else (TAPPED * nominal, full, tapped_modulus)
    return (HEAD * nominal, full, modulus), (ENGAGED * nominal, root_area, modulus), last


def frustum_rate(
    thickness: Length, small_diameter: Length, hole: Length, modulus: Stress, half_angle: Angle = CONE
) -> Rate:
    """Stiffness of a hollow cone of pressure that begins with `small_diameter` and widens over `thickness` [N/mm].

    Source: Shigley, Mechanical Engineering Design, stiffness of members, conical frusta (from memory).
    """
    from numpy import log, tan

    require(
        (thickness > 0) & (hole > 0) & (small_diameter > hole),
        "a cone {small:g} mm wide on a hole of {hole:g} mm over {thick:g} mm presses nothing: check the three",
        small=small_diameter,
        hole=hole,
        thick=thickness,
    )
    lean = tan(half_angle)
    wide = small_diameter + 2 * thickness * lean
    spread = (wide - hole) * (small_diameter + hole) / ((wide + hole) * (small_diameter - hole))
    return pi * modulus * hole * lean / log(spread)


def clamped_rate(layers: Sequence[tuple[float, float]], bearing: float, hole: float, half_angle: float = CONE) -> float:
    """Stiffness of clamped layers (thickness, modulus) from head to nut, a cone from either end to the middle [N/mm].

    `bearing` is the outside diameter of the faces at both ends. Holds where the parts are wide enough for the cones.
    For a tapped hole let the last layer be half a nominal diameter of the tapped part. A head has walls and passages
    and a gasket that no cone knows: a rate that was measured or printed goes before.

    Source: Shigley, Mechanical Engineering Design, stiffness of members (from memory): half angle 30 degrees.
    """
    from math import tan

    grip = sum(thickness for thickness, _ in layers)
    require(grip > 0, "the clamped layers have no thickness together: give thickness and modulus of each")
    ends, at = {0.0, grip, grip / 2}, 0.0
    for thickness, _ in layers:
        at += thickness
        ends.add(min(at, grip))
    edges = sorted(ends)
    give = 0.0
    for begin, end in pairwise(edges):
        near = min(begin, grip - end)  # from the face where this cone begins
        small = bearing + 2 * near * tan(half_angle)
        if end - begin > 1e-9 * grip:
            give += 1 / float(frustum_rate(end - begin, small, hole, _modulus(layers, (begin + end) / 2), half_angle))
    return 1 / give


def _modulus(layers: Sequence[tuple[float, float]], at: float) -> float:
    deep = 0.0
    for thickness, modulus in layers:
        deep += thickness
        if at < deep:
            return modulus
    return layers[-1][1]


def joint_rate(bolt_rate: Rate, clamped_rate: Rate) -> Rate:
    """Force for each millimetre of travel of the thread [N/mm]; with rigid parts (infinity) that of the bolt.

    Source: derived: two springs under one force.
    """
    require(
        (bolt_rate > 0) & (clamped_rate > 0),
        "rates of {bolt:g} and {joint:g} N/mm: both are above nothing",
        bolt=bolt_rate,
        joint=clamped_rate,
    )
    return bolt_rate / (1 + bolt_rate / clamped_rate)


def bolt_load_share(bolt_rate: Rate, clamped_rate: Rate) -> Pure:
    """Share of an outside load that the bolt takes while the joint stays closed [1].

    Source: Shigley, Mechanical Engineering Design, tension joints (from memory); derived from the two springs.
    """
    return joint_rate(bolt_rate, clamped_rate) / clamped_rate


def preload_per_turn(pitch: Length, bolt_rate: Rate, clamped_rate: Rate) -> Number:
    """Preload that each radian of turn adds in a closed joint that is elastic [N/rad]. Source: derived."""
    return pitch / (2 * pi) * joint_rate(bolt_rate, clamped_rate)


def turned_preload(turn: Angle, pitch: Length, bolt_rate: Rate, clamped_rate: Rate) -> Force:
    """Preload that a turn adds past the torque that closed the joint [N], up to yield. Source: derived."""
    return turn * preload_per_turn(pitch, bolt_rate, clamped_rate)


def turn_for(preload: Force, pitch: Length, bolt_rate: Rate, clamped_rate: Rate) -> Angle:
    """Turn that adds a preload [rad]; in a rigid joint only the bolt stretches. Source: derived."""
    return preload / preload_per_turn(pitch, bolt_rate, clamped_rate)


def bolt_stretch(preload: Force, bolt_rate: Rate) -> Length:
    """Lengthening of the bolt under its preload, while it is elastic [mm]. Source: derived."""
    return preload / bolt_rate


def embedding_loss(embedding: Length, bolt_rate: Rate, clamped_rate: Rate) -> Force:
    """Preload that is lost when faces and flanks settle by `embedding` together [N]. Source: VDI 2230-1, F_Z."""
    require(embedding >= 0, "an embedding of {embedding:g} mm is below nothing", embedding=embedding)
    return embedding * joint_rate(bolt_rate, clamped_rate)


def turned_range(snug: Spread, turn: Angle, turn_error: Angle, pitch: Length, rates: tuple[Rate, Rate, Rate]) -> Spread:
    """Preload after a snug torque and a turn, with its ends [N], by the elastic law.

    `rates` are low, middle and high of the rate of the joint. Past yield the bolt carries less than this says: hold it
    against `preload.preload_at_yield`.

    Source: derived.
    """
    low, middle, high = rates
    require(
        (low <= middle) & (middle <= high) & (turn_error >= 0) & (turn_error <= turn),
        "joint rates {low:g}, {middle:g}, {high:g} N/mm do not rise, or a turn error of {error:g} rad exceeds the turn",
        low=low,
        middle=middle,
        high=high,
        error=turn_error,
    )
    travel = pitch / (2 * pi)
    added = travel * turn * middle
    whole = snug.middle + added
    parts = (
        Part("snug torque", snug.low + added, snug.high + added),
        Part("turn", whole - travel * turn_error * middle, whole + travel * turn_error * middle),
        Part("stiffness", snug.middle + travel * turn * low, snug.middle + travel * turn * high),
    )
    least = snug.low + travel * (turn - turn_error) * low
    most = snug.high + travel * (turn + turn_error) * high
    return Spread(least, whole, most, parts)
