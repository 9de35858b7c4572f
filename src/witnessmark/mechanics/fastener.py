"""Fasteners of the head: a waist where the bolt has yielded, and the room that is left under it.

Units, shapes and errors as in `spring`.
"""

from math import pi

from witnessmark.mechanics.law import Angle, Length, require


def bolt_necking(bolt_full_diameter: Length, bolt_least_diameter: Length) -> Length:
    """Loss of diameter where a bolt has drawn out thinnest, against the same feature where it has not [mm].

    Both are of one kind: crests of the thread against crests, or shank against shank. A negative answer is an answer:
    the two places were exchanged, or differ by the micrometer.

    Source: derived; common practice looks for it beneath the last engaged thread.
    """
    return bolt_full_diameter - bolt_least_diameter


def hole_spare(hole_depth: Length, bolt_reach: Length) -> Length:
    """Depth that stays free under the end of a bolt once the head is down [mm]. Below nothing: it bottoms.

    `bolt_reach` is what the bolt stands out below the gasket face of the head with the gasket in place at its pressed
    thickness. Every millimetre that is cut from the head or the block takes a millimetre from here.

    Source: derived; the two stand on one line.
    """
    return hole_depth - bolt_reach


def pitch_diameter(nominal: Length, pitch: Length) -> Length:
    """Basic pitch diameter of a metric thread [mm]: nominal less 3/8 of the root of 3, times the pitch.

    Source: ISO 724:1993, basic profile after ISO 68-1 (from memory).
    """
    return nominal - 3 / 8 * 3**0.5 * _pitch(nominal, pitch)


def minor_diameter(nominal: Length, pitch: Length) -> Length:
    """Basic minor diameter of a metric thread [mm]: nominal less 5/8 of the root of 3, times the pitch.

    Source: ISO 724:1993, basic profile after ISO 68-1 (from memory).
    """
    return nominal - 5 / 8 * 3**0.5 * _pitch(nominal, pitch)


def root_diameter(nominal: Length, pitch: Length) -> Length:
    """Diameter at the rounded root of an outside metric thread, its core [mm]: nominal less 17/24 root of 3 pitches.

    Nothing may be read below it on a thread that has kept its shape.

    Source: ISO 898-1 uses it (d3) for its stress areas; formula from memory.
    """
    return nominal - 17 / 24 * 3**0.5 * _pitch(nominal, pitch)


def turned_stretch(turn: Angle, pitch: Length) -> Length:
    """Lengthening of a bolt that is turned on by `turn` radians past snug, in a joint that does not give [mm].

    The upper bound: a joint that is pressed takes its share of the screw's travel.

    Source: derived; the screw moves by its pitch in one turn.
    """
    return pitch * turn / (2 * pi)


def _pitch(nominal: Length, pitch: Length) -> Length:
    require(
        (pitch > 0) & (pitch < nominal / 2),
        "a pitch of {pitch:g} mm does not belong to a thread of {nominal:g} mm: were the two exchanged?",
        pitch=pitch,
        nominal=nominal,
    )
    return pitch
