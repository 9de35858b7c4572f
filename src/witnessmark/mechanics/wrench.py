"""The torque wrench: its setting with an extension on it, its good range, and how far it may be out.

    lever      from the middle of the grip to the middle of the drive
    extension  from the middle of the drive to the middle of the fastener
    angle      of the extension from the line of the wrench: 0 straight out, a right angle needs no correction, half a
               turn is folded back

A hand that pulls square to the wrench with a force H turns the fastener with H (lever + extension cos angle), while the
wrench is marked for H lever. How far the fastener lies to the side does not matter for such a pull.

Torques may be in any unit, the same one throughout; lengths too. Shapes and errors as in `spring`.
"""

from witnessmark.mechanics.law import Angle, Length, Pure, Torque, require

GOOD_FROM, GOOD_TO = 0.2, 1.0  # of the full scale; ISO 6789-1:2017 (from memory) checks at 20, 60 and 100 percent
SMALL = 10_000.0  # N·mm, up to which a wrench may be out by more
FOLDED = (
    "an extension of {extension:g} at {turn:.0f} degrees reaches back past the grip of a lever of {lever:g}: the "
    "pull would loosen the bolt. Take a shorter extension or set it straight out"
)


def reach(lever: Length, extension: Length, angle: Angle) -> Length:
    """Lever of the hand about the fastener, along the wrench [mm]. Source: derived from the balance of moments."""
    from numpy import cos, degrees

    require(
        (lever > 0) & (extension >= 0),
        "a lever of {lever:g} and an extension of {extension:g}: the lever is above nothing, the extension not below; "
        "write a folded one with its angle",
        lever=lever,
        extension=extension,
    )
    whole = lever + extension * cos(angle)
    require(whole > 1e-9 * lever, FOLDED, extension=extension, lever=lever, turn=degrees(angle))
    return whole


def wrench_setting(torque: Torque, lever: Length, extension: Length, angle: Angle = 0.0) -> Torque:
    """Setting of the wrench that brings `torque` to the fastener through an extension, in the unit of `torque`.

    Source: US Army TM 1-1500-204-23-9, fig. 8-16 and 8-17 (straight out and folded back); between derived.
    """
    return torque * lever / reach(lever, extension, angle)


def torque_at_bolt(setting: Torque, lever: Length, extension: Length, angle: Angle = 0.0) -> Torque:
    """Torque that reached the fastener when the wrench showed `setting`, in its unit. Source: as `wrench_setting`."""
    return setting * reach(lever, extension, angle) / lever


def sensed_setting(
    torque: Torque, hand: Length, extension: Length, angle: Angle, sensor: Length, grip: Length
) -> Torque:
    """What a wrench shows at the wanted torque when its sensor or pivot lies off the drive, in the unit of `torque`.

    `hand` is where the hand pulls, `grip` where the maker marks the grip, `sensor` where the wrench senses bending, all
    from the drive. The sensor feels H (hand - sensor). The maker scales it so that a pull at the grip shows the torque
    at the drive, by grip / (grip - sensor). Hence

        shown = torque (hand - sensor) grip / ((grip - sensor) (hand + extension cos angle))

    Pulled at the grip this is `wrench_setting` with lever = grip, wherever the sensor lies. A sensor in the drive
    itself (0) feels the torque there: `wrench_setting` with lever = hand, wherever the grip is.

    Source: derived from the balance of moments.
    """
    require(
        (sensor >= 0) & (sensor < grip) & (sensor < hand),
        "a sensor {sensor:g} from the drive does not lie between drive, hand {hand:g} and grip {grip:g}",
        sensor=sensor,
        hand=hand,
        grip=grip,
    )
    return wrench_setting(torque, hand, extension, angle) * (hand - sensor) * grip / ((grip - sensor) * hand)


def in_good_range(setting: Torque, full_scale: Torque) -> Pure:
    """Whether a setting lies where a wrench is held to its accuracy: from 20 to 100 percent of its full scale.

    Source: ISO 6789-1:2017 (from memory).
    """
    require(full_scale > 0, "a full scale of {full:g} is none: read it on the wrench", full=full_scale)
    return (setting >= GOOD_FROM * full_scale) & (setting <= GOOD_TO * full_scale)


def range_advice(setting: float, full_scale: float) -> str:
    """What to do where a setting lies outside the good range, in words; nothing where it lies inside."""
    if in_good_range(setting, full_scale):
        return ""
    share = setting / full_scale
    if share > GOOD_TO:
        return f"the setting is {share:.0%} of full scale, beyond its end: take a larger wrench"
    return (
        f"the setting is {share:.0%} of full scale, and below {GOOD_FROM:.0%} a wrench is not held to its accuracy: "
        "take a smaller wrench"
    )


def permissible_share(torque: Torque) -> Pure:
    """Share by which an indicating or setting wrench may be out: 6 percent up to 10 N·m, 4 percent above [1].

    `torque` in N·mm. The standard goes by the full scale of the wrench; asked with the setting, the answer is the
    same or the larger.

    Source: ISO 6789-1:2017 (from memory).
    """
    require(torque > 0, "a torque of {torque:g} N·mm is none", torque=torque)
    return 0.04 + 0.02 * (torque <= SMALL)
