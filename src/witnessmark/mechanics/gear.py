"""Valve gear: what a sunk valve, a smaller base circle or a head that comes nearer does to lash and to plunger travel.

    lash is a gap and grows to the loose side; a plunger's preload is how far it is pressed in, and grows to the tight

Ratios are valve movement over cam (or lifter) movement. `base_lost` is on the radius. `cam_lowered` is how far the cam
line has come down towards the valves. Units, shapes and errors as in `spring`; angles enter by their cosines.
"""

from witnessmark.mechanics.law import Length, Number, Pure, require


def direct_lash(
    valve_lash: Length, valve_sunk: Length, tip_ground: Length, new_valve_longer: Length, cap_added: Length,
    lash_shim_change: Length, base_lost: Length, cam_lowered: Length,
) -> Length:  # fmt: skip
    """Lash of a bucket that the lobe presses itself, shim over or under it [mm].

    Below nothing the cam holds the valve open by as much.

    Source: derived: cam, shim, bucket, tip and seat stand in one line.
    """
    rise = valve_sunk - tip_ground + new_valve_longer + cap_added
    return valve_lash - rise - lash_shim_change + base_lost - cam_lowered


def direct_preload(
    hla_preload: Length, valve_sunk: Length, tip_ground: Length, new_valve_longer: Length, cap_added: Length,
    base_lost: Length, cam_lowered: Length,
) -> Length:  # fmt: skip
    """How far the plunger of a hydraulic bucket is pressed in [mm]. Source: derived, as `direct_lash`."""
    return hla_preload + valve_sunk - tip_ground + new_valve_longer + cap_added - base_lost + cam_lowered


def rocker_lash(
    valve_lash: Length, valve_sunk: Length, tip_ground: Length, new_valve_longer: Length, cap_added: Length,
    base_lost: Length, cam_lowered: Length, rocker_ratio: Pure, lash_set: Length,
) -> Length:  # fmt: skip
    """Lash at the valve of a rocker on a fixed pivot in the head [mm]; `lash_set` is what its screw let out.

    Source: derived: the lever carries the cam end to the valve by its ratio.
    """
    _lever(rocker_ratio)
    rise = valve_sunk - tip_ground + new_valve_longer + cap_added
    return valve_lash - rise + rocker_ratio * (base_lost - cam_lowered) + lash_set


def rocker_preload(
    hla_preload: Length, valve_sunk: Length, tip_ground: Length, new_valve_longer: Length, cap_added: Length,
    base_lost: Length, cam_lowered: Length, rocker_ratio: Pure,
) -> Length:  # fmt: skip
    """How far an adjuster in the valve end of a rocker is pressed in [mm]. Source: derived, as `rocker_lash`."""
    _lever(rocker_ratio)
    rise = valve_sunk - tip_ground + new_valve_longer + cap_added
    return hla_preload + rise - rocker_ratio * (base_lost - cam_lowered)


def finger_preload(
    hla_preload: Length, valve_sunk: Length, tip_ground: Length, new_valve_longer: Length, cap_added: Length,
    base_lost: Length, cam_lowered: Length, rocker_ratio: Pure, cam_normal_cosine: Pure, valve_cosine: Pure,
) -> Length:  # fmt: skip
    """How far the pivot under a finger follower is pressed in [mm].

    The finger turns on its contact with the lobe, so what the valve end goes up, the pivot end goes down by the share
    of the arms: 1 / (R - 1) where contact normal, valve and plunger are parallel. The cosines are those of the contact
    normal and of the valve axis to the plunger axis. First order: half a millimetre of sink costs 1 %.

    Source: derived from the lever's balance of small turns; held against the exact geometry in the tests.
    """
    _finger(rocker_ratio)
    rise = valve_sunk - tip_ground + new_valve_longer + cap_added
    share = rocker_ratio * cam_normal_cosine - valve_cosine
    require(
        share > 0.05,
        "a finger of ratio {ratio:g} has no pivot arm left at these angles: check the ratio, the lean of the lobe's "
        "contact and that of the valve, both counted from the plunger",
        ratio=rocker_ratio,
    )
    return hla_preload + (rise - rocker_ratio * (base_lost - cam_lowered * cam_normal_cosine)) / share


def finger_lash(
    valve_lash: Length, valve_sunk: Length, tip_ground: Length, new_valve_longer: Length, cap_added: Length,
    base_lost: Length, cam_lowered: Length, rocker_ratio: Pure, lash_set: Length,
) -> Length:  # fmt: skip
    """Lash at the cam of a finger on a screw pivot [mm]; `lash_set` is what the screw let out, counted at the cam.

    Source: derived: the finger turns on its pivot, so the valve end's rise comes to the cam by 1 / R.
    """
    _finger(rocker_ratio)
    rise = valve_sunk - tip_ground + new_valve_longer + cap_added
    return valve_lash - rise / rocker_ratio + base_lost - cam_lowered + lash_set


def pushrod_preload(
    hla_preload: Length, head_approach: Length, valve_sunk: Length, tip_ground: Length, new_valve_longer: Length,
    cap_added: Length, pivot_raised: Length, rod_longer: Length, base_lost: Length, rocker_ratio: Pure,
    pushrod_cosine: Pure, lifter_cosine: Pure, valve_cosine: Pure,
) -> Length:  # fmt: skip
    """How far the plunger of a hydraulic lifter is pressed in [mm].

    Pivot and valve ride on the head, so a head that comes nearer by `head_approach` brings the pushrod's cup nearer to
    the lifter. `pushrod_cosine` is that of the rod's lean to the cylinder axis, `lifter_cosine` that of the rod's lean
    to the lifter's bore, along which a plunger is measured; `rocker_ratio` is valve lift over lifter lift.

    Source: derived from the closed loop lifter, rod, rocker, valve, for small turns.
    """
    per_rod = _per_rod(rocker_ratio, lifter_cosine)
    rise = valve_sunk - tip_ground + new_valve_longer + cap_added
    along = (
        head_approach * pushrod_cosine
        + rise / per_rod
        - pivot_raised * (pushrod_cosine + valve_cosine / per_rod)
        + rod_longer
    )
    return hla_preload + along / lifter_cosine - base_lost


def pushrod_lash(
    valve_lash: Length, head_approach: Length, valve_sunk: Length, tip_ground: Length, new_valve_longer: Length,
    cap_added: Length, pivot_raised: Length, rod_longer: Length, base_lost: Length, rocker_ratio: Pure,
    pushrod_cosine: Pure, lifter_cosine: Pure, valve_cosine: Pure, lash_set: Length,
) -> Length:  # fmt: skip
    """Lash at the valve of a pushrod gear with a mechanical lifter [mm]. Source: derived, as `pushrod_preload`."""
    per_rod = _per_rod(rocker_ratio, lifter_cosine)
    rise = valve_sunk - tip_ground + new_valve_longer + cap_added
    rod = head_approach * pushrod_cosine + rod_longer - base_lost * lifter_cosine
    pivot = pivot_raised * (valve_cosine + per_rod * pushrod_cosine)
    return valve_lash - per_rod * rod - rise + pivot + lash_set


def valve_lift(valve_lift: Length, lift_lost: Length) -> Length:
    """Lift at the valve with the lash taken up [mm]. Source: derived."""
    return valve_lift - lift_lost


def swing(valve_lift: Length, rocker_arm: Length) -> Number:
    """How far a rocker turns while it opens the valve [rad]: the lift is the chord.

    Source: derived: 2 arcsin(lift / 2 arm).
    """
    from numpy import arcsin

    require(
        (rocker_arm > 0) & (valve_lift < 2 * rocker_arm),
        "an arm of {arm:g} mm cannot lift a valve by {lift:g} mm: pivot to pad is meant",
        arm=rocker_arm, lift=valve_lift,
    )  # fmt: skip
    return 2 * arcsin(valve_lift / 2 / rocker_arm)


def tip_sweep(rocker_arm: Length, swing: Number, offset: Length = 0) -> Length:
    """How far a rocker's pad sweeps over the stem's tip while it opens the valve [mm].

    The arm of `rocker_arm` swings by `swing` [rad] in all, half to either side of square; a tip that stands off by
    `offset` from where the arm is square at half lift makes one side of the swing the larger.

    Source: derived: arm (1 - cos(swing / 2 + offset / arm)).
    """
    from numpy import cos

    require(rocker_arm > 0, "rocker_arm {arm:g} mm must be above nothing: pivot to pad is meant", arm=rocker_arm)
    return rocker_arm * (1 - cos(swing / 2 + abs(offset) / rocker_arm))


def _lever(ratio: Pure) -> None:
    require(
        ratio > 0,
        "the lever's ratio {ratio:g} must be above nothing: is it valve movement over cam movement?",
        ratio=ratio,
    )


def _finger(ratio: Pure) -> None:
    require(
        ratio > 1,
        "a finger's ratio is valve movement over cam movement, above 1, for its lobe runs between pivot and valve; "
        "{ratio:g} is not: was it entered upside down?",
        ratio=ratio,
    )


def _per_rod(ratio: Pure, lifter_cosine: Pure) -> Pure:
    """Valve travel over travel along the rod, from valve lift over lifter lift."""
    _lever(ratio)
    return ratio / lifter_cosine
