"""Lash, the shim that sets it, and the lever between lobe and valve.

Units, shapes and errors as in `spring`.
"""

from typing import Annotated

from witnessmark.mechanics.law import Angle, Length, Number, Pure, require

Rise = Annotated[Number, "mm/rad"]


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


def rocker_ratio(valve_lift: Length, follower_lift: Length) -> Pure:
    """Ratio of a rocker: what the valve moves for what its lifter, or the cam end of the rocker, moves [1].

    Both lifts are whole lifts of one turn, without lash. With a pushrod that leans, this ratio holds for the lifter's
    travel and not for the rod's own; the two differ by the cosine of the rod's lean against the lifter bore.

    Source: derived from the definition of a ratio; common practice takes it from two indicators.
    """
    require(
        follower_lift > 0,
        "follower_lift {lift:g} mm must be above nothing: was the indicator at the lifter on the right lobe?",
        lift=follower_lift,
    )
    require(
        valve_lift >= 0,
        "valve_lift {lift:g} mm is below nothing: was the indicator zeroed with the valve shut?",
        lift=valve_lift,
    )
    return valve_lift / follower_lift


def duration_lost(lash_added: Length, ramp: Rise) -> Angle:
    """Crank angle by which a valve opens later when its lash grows, and closes earlier by as much again [rad].

    `ramp` is what the quieting ramp lifts for each radian of the camshaft, at the place where the lash is counted.
    Holds on a ramp of even slope, hence at seat level only; a millimetre off the seat the flank is steep, and the loss
    small.

    Source: derived; the crank turns twice for one turn of the camshaft.
    """
    require(ramp > 0, "ramp {ramp:g} mm for each radian must be above nothing: is it lift over cam angle?", ramp=ramp)
    return 2 * lash_added / ramp
