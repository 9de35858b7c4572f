"""Camshaft: what a lobe lifts.

Units, shapes and errors as in `spring`: mm inside, numbers or arrays, OutsideLaw with what to check.
"""

from witnessmark.mechanics.law import Length, require


def lobe_lift(lobe_height: Length, base_circle: Length) -> Length:
    """Lift that a lobe gives its follower [mm]: nose to heel, less the base circle read square to it.

    Holds where the flanks start from a full heel, so that the base circle can be read across; a lobe whose ramp
    reaches round to that place reads a base circle that is too large, and the lift comes out low by as much.

    Source: derived; common practice reads it so.
    """
    require(
        lobe_height >= base_circle,
        "lobe_height {height:g} mm is below base_circle {base:g} mm: were the two readings exchanged?",
        height=lobe_height,
        base=base_circle,
    )
    return lobe_height - base_circle
