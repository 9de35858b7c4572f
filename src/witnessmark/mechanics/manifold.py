"""Heads of a V that come down and together: where the inlet faces go, and what must be cut to bring the ports back.

`total` is what head and deck have lost together, less what the gasket has gained; `half_angle` half the angle of the V;
`face_angle` the tilt of the inlet face from upright. Units, shapes and errors as in `spring`.
"""

from witnessmark.mechanics.law import Angle, Length, require

STEEPEST = 0.05  # cosine: beyond some 87 degrees from upright a cut no longer moves the ports along the face
LIES_FLAT = "a face that lies flat cannot be cut back into line: slot the holes or fit another gasket"


def face_cut(total: Length, half_angle: Angle, face_angle: Angle) -> Length:
    """What comes off each inlet face, or off each side of the manifold, so that the ports meet again [mm].

    Source: derived from the section of the V; the usual table of the trade holds for 90 degrees only.
    """
    from numpy import cos, sin

    require(cos(face_angle) > STEEPEST, LIES_FLAT)
    return total * sin(half_angle) / cos(face_angle)


def manifold_drop(total: Length, half_angle: Angle, face_angle: Angle) -> Length:
    """How much lower the manifold then sits [mm]. Source: derived."""
    from numpy import cos

    require(cos(face_angle) > STEEPEST, LIES_FLAT)
    return total * cos(half_angle - face_angle) / cos(face_angle)


def port_mismatch(total: Length, half_angle: Angle, face_angle: Angle) -> Length:
    """How far ports and bolt holes miss each other along the face while nothing is cut [mm]. Source: derived."""
    from numpy import sin

    require(sin(face_angle) > 0.05, "an upright face lets the ports miss without end: cut it back")
    return total * sin(half_angle) / sin(face_angle)


def angle_mill_edge(width: Length, angle: Angle) -> Length:
    """Cut at the deep edge when a face of `width` is milled at an angle, nothing at the other edge [mm].

    Source: derived.
    """
    from numpy import tan

    return width * tan(angle)


def bow_that_binds(clearance: Length) -> Length:
    """Bow of a cam line, ends against middle, at which a straight shaft in three bores of one clearance is held [mm].

    A skim makes the gasket face flat and leaves the cam line bowed as it was.

    Source: derived: the ends give half of the diametral clearance one way and the middle half the other way.
    """
    return clearance


def hot_clearance(cold: Length, diameter: Length, housing: float, shaft: float, rise: float) -> Length:
    """Clearance after both parts have grown with a rise of temperature [K], expansions per kelvin [mm].

    An upper bound where a shell of another metal lies between them.

    Source: derived from linear expansion.
    """
    return cold + (housing - shaft) * diameter * rise
