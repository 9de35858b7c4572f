"""Lash and the shim that sets it.

Units, shapes and errors as in `spring`.
"""

from witnessmark.mechanics.law import Length, Pure, require


def shim_for_lash(lash_shim: Length, valve_lash: Length, target_lash: Length, ratio_at_gap: Pure = 1) -> Length:
    """Shim that brings the lash to its target [mm].

    `ratio_at_gap` is 1 where shim and feeler stand in one line (buckets). Where the shim lies on the valve tip under a
    lever and the feeler goes in at the cam, it is the lever's ratio, valve over cam. Squeezed oil and cam bearing play
    are part of the lash as read; turning the cam to its loaded side keeps them the same from reading to reading.

    Source: derived from the gap as one closed chain.
    """
    require(
        ratio_at_gap > 0,
        "the lever's ratio {ratio:g} must be above nothing: is it valve movement over cam movement?",
        ratio=ratio_at_gap,
    )
    return lash_shim + ratio_at_gap * (valve_lash - target_lash)
