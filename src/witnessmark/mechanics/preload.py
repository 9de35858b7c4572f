"""From torque to clamp and back: where the torque goes, what a bolt bears, and what friction makes of both.

    torque = preload (pitch / 2 pi  +  pitch diameter mu_thread / (2 cos 30)  +  bearing diameter mu_head / 2)

VDI 2230-1 prints 0.16 and 0.58 for the first two factors. Its guide table for fine threads is met to the last printed
figure in 28 of 36 torques by the factors as they stand here, in 23 by the rounded ones, so they are not rounded here.

Names   mu_thread, mu_head: coefficients of friction in the thread and under the turned face; bearing_diameter: mean of
        the face's outside diameter and its hole, D_Km.
Units, shapes and errors as in `spring`; torques in N·mm.
"""

from dataclasses import dataclass
from math import cos, pi, radians

from witnessmark.mechanics.law import Area, Force, Length, Number, OutsideLaw, Pure, Stress, Torque, require
from witnessmark.mechanics.spread import Part, Spread

LIFT = 1 / (2 * pi)
FLANK = 1 / cos(radians(30))  # a flank of 30 degrees presses harder than a square thread
OFTEN = 0.9  # share of the yield strength that VDI 2230 tables are made for

CONDITIONS: dict[str, tuple[float, float]] = {
    "dry": (0.14, 0.24),
    "oiled": (0.10, 0.14),
    "paste": (0.07, 0.10),
    "plated": (0.08, 0.15),
    "sealant": (0.10, 0.15),
}
"""Coefficient of friction, low and high, of plain steel threads by condition. Values from memory (compare the friction
classes of VDI 2230-1 and the torque coefficients in Bickford); a document or a test of the same bolts goes before."""

SCATTER: dict[str, tuple[float, float]] = {
    "yield or angle controlled": (0.05, 0.12),
    "hydraulic stretcher": (0.09, 0.23),
    "torque wrench, torque found by test": (0.17, 0.23),
    "torque wrench, friction estimated": (0.23, 0.28),
    "powered driver": (0.26, 0.43),
}
"""Share by which preload scatters to either side, best and worst, by method. Source: VDI 2230 (1986), as reprinted."""


@dataclass(frozen=True, slots=True)
class Strength:
    """Least strengths of a property class [MPa]: proof stress, yield (0.2 %), tensile."""

    proof: float
    yields: float
    tensile: float


CLASSES: dict[str, Strength] = {
    "8.8": Strength(580, 640, 800),
    "9.8": Strength(650, 720, 900),
    "10.9": Strength(830, 940, 1040),
    "12.9": Strength(970, 1100, 1220),
    "SAE 5": Strength(586, 634, 827),
    "SAE 8": Strength(827, 896, 1034),
}
"""Sources: ISO 898-1:2013, table 3 (proof loads seen in reprints, yield from memory); SAE J429 to 1 in (memory)."""

LARGE_8_8 = Strength(600, 660, 830)  # class 8.8 above M16


def strength(name: str, nominal: Length = 10.0) -> Strength:
    """Strength of a property class; class 8.8 has higher figures above 16 mm, 9.8 ends there. Source: ISO 898-1."""
    plain = name.strip().upper()
    if plain not in CLASSES:
        raise OutsideLaw(f"no strengths are known for the class '{name}': known are {', '.join(CLASSES)}")
    if plain == "9.8" and nominal > 16:
        raise OutsideLaw(f"class 9.8 ends at 16 mm and this bolt has {nominal:g} mm: look at the head again")
    return LARGE_8_8 if plain == "8.8" and nominal > 16 else CLASSES[plain]


def friction(condition: str) -> tuple[float, float]:
    """Low and high coefficient of friction of a condition of the threads. Values from memory, see `CONDITIONS`."""
    if condition not in CONDITIONS:
        raise OutsideLaw(f"no friction is known for threads '{condition}': known are {', '.join(CONDITIONS)}")
    return CONDITIONS[condition]


@dataclass(frozen=True, slots=True)
class Shares:
    """Shares of the torque: what clamps, what rubs in the thread, what rubs under the head. Together 1."""

    pitch: Number
    thread: Number
    head: Number


def torque_lever(
    pitch: Length, pitch_diameter: Length, bearing_diameter: Length, mu_thread: Pure, mu_head: Pure
) -> Length:
    """Torque over preload, as a lever [mm]. Source: VDI 2230-1, assembly torque."""
    return sum(_levers(pitch, pitch_diameter, bearing_diameter, mu_thread, mu_head))


def _levers(
    pitch: Length, pitch_diameter: Length, bearing_diameter: Length, mu_thread: Pure, mu_head: Pure
) -> tuple[Length, Length, Length]:
    require(
        (mu_thread >= 0) & (mu_head >= 0) & (mu_thread < 1) & (mu_head < 1),
        "friction of {thread:g} in the thread and {head:g} under the head: steel lies between 0.04 and 0.5",
        thread=mu_thread,
        head=mu_head,
    )
    require(
        (pitch > 0) & (pitch < pitch_diameter / 2) & (pitch_diameter < bearing_diameter),
        "pitch {pitch:g}, pitch diameter {thread:g} and bearing diameter {head:g} mm do not stand in that order: were "
        "two exchanged?",
        pitch=pitch,
        thread=pitch_diameter,
        head=bearing_diameter,
    )
    return pitch * LIFT, FLANK / 2 * pitch_diameter * mu_thread, bearing_diameter * mu_head / 2


def torque_at(
    preload: Force, pitch: Length, pitch_diameter: Length, bearing_diameter: Length, mu_thread: Pure, mu_head: Pure
) -> Torque:
    """Torque that a preload takes [N·mm]. Source: VDI 2230-1, assembly torque."""
    return preload * torque_lever(pitch, pitch_diameter, bearing_diameter, mu_thread, mu_head)


def preload_at(
    torque: Torque, pitch: Length, pitch_diameter: Length, bearing_diameter: Length, mu_thread: Pure, mu_head: Pure
) -> Force:
    """Preload that a torque makes [N], in a joint that is closed. Source: VDI 2230-1, assembly torque turned round."""
    return torque / torque_lever(pitch, pitch_diameter, bearing_diameter, mu_thread, mu_head)


def torque_shares(
    pitch: Length, pitch_diameter: Length, bearing_diameter: Length, mu_thread: Pure, mu_head: Pure
) -> Shares:
    """Where a torque goes: clamp, thread, head [1]. Source: VDI 2230-1, the three terms of the assembly torque."""
    levers = _levers(pitch, pitch_diameter, bearing_diameter, mu_thread, mu_head)
    return Shares(*(one / sum(levers) for one in levers))


def torque_coefficient(
    nominal: Length, pitch: Length, pitch_diameter: Length, bearing_diameter: Length, mu_thread: Pure, mu_head: Pure
) -> Pure:
    """K of the short form torque = K preload nominal [1]. Source: by definition from VDI 2230-1."""
    return torque_lever(pitch, pitch_diameter, bearing_diameter, mu_thread, mu_head) / nominal


def thread_torque(preload: Force, pitch: Length, pitch_diameter: Length, mu_thread: Pure) -> Torque:
    """Part of the torque that goes down the bolt and twists it [N·mm]. Source: VDI 2230-1."""
    return preload * (pitch * LIFT + FLANK / 2 * pitch_diameter * mu_thread)


def preload_at_yield(
    yield_strength: Stress, pitch: Length, pitch_diameter: Length, stress_diameter: Length, mu_thread: Pure,
    utilisation: Pure = OFTEN,
) -> Force:  # fmt: skip
    """Preload at which pull and twist of tightening together use a share of the yield strength [N].

    Twist counts as fully plastic, so its share is 3/2 where an elastic bolt would have 2. A waist below the stress
    diameter goes in as `stress_diameter`.

    Source: VDI 2230-1, assembly preload; its guide table of fine threads is met within 0.3 percent.
    """
    require(
        (utilisation > 0) & (utilisation <= 1), "a share of the yield of {share:g} is not above 0 and at most 1",
        share=utilisation,
    )  # fmt: skip
    twist = 1.5 * pitch_diameter / stress_diameter * (pitch / (pi * pitch_diameter) + FLANK * mu_thread)
    return utilisation * yield_strength * pi / 4 * stress_diameter**2 / (1 + 3 * twist * twist) ** 0.5


def yield_share(preload: Force, twisting: Torque, stress_diameter: Length, yield_strength: Stress) -> Pure:
    """Share of the yield strength that pull and twist use together, after von Mises [1]. From 1 on it yields.

    `twisting` is `thread_torque` while the wrench is on; afterwards VDI 2230-1 leaves half of it, and nothing is the
    bolt with its twist gone.

    Source: VDI 2230-1, the comparison stress of tightening, twist fully plastic.
    """
    require(stress_diameter > 0, "a stress diameter of {d:g} mm bears nothing", d=stress_diameter)
    pull = preload / (pi / 4 * stress_diameter**2)
    shear = 12 * twisting / (pi * stress_diameter**3)
    return (pull * pull + 3 * shear * shear) ** 0.5 / yield_strength


def proof_share(preload: Force, stress_area: Area, proof: Stress) -> Pure:
    """Share of the proof load that the preload uses [1]. Source: ISO 898-1, proof load is proof stress times area."""
    return preload / (stress_area * proof)


def preload_range(
    torque: Torque, pitch: Length, pitch_diameter: Length, bearing_diameter: Length, mu_low: Pure, mu_high: Pure,
    wrench_share: Pure = 0.04,
) -> Spread:  # fmt: skip
    """Preload from a torque with the ends that friction and wrench leave open [N].

    Thread and head share the friction; the middle has the middle friction. The low end has the high friction and a
    wrench that reads too much, the high end the opposite; `made_of` says what each does alone.

    Source: derived from VDI 2230-1.
    """
    require(
        (mu_low <= mu_high) & (wrench_share >= 0) & (wrench_share < 1),
        "friction from {low:g} to {high:g}, wrench share {wrench:g}: low before high, and 4 percent is 0.04",
        low=mu_low,
        high=mu_high,
        wrench=wrench_share,
    )

    def at(mu: Pure) -> Force:
        return preload_at(torque, pitch, pitch_diameter, bearing_diameter, mu, mu)

    least, middle, most = at(mu_high), at((mu_low + mu_high) / 2), at(mu_low)
    short, over = 1 - wrench_share, 1 + wrench_share
    parts = (Part("friction", least, most), Part("wrench", middle * short, middle * over))
    return Spread(least * short, middle, most * over, parts)


def lubricant_change(
    pitch: Length, pitch_diameter: Length, bearing_diameter: Length, meant: tuple[float, float],
    used: tuple[float, float],
) -> Spread:  # fmt: skip
    """How many times the meant clamp the SAME torque makes when thread and head are otherwise than meant [1].

    A warning and nothing else: no torque is to be changed by it. `meant` and `used` are low and high friction. With
    friction that is not what the torque was written for, the torque is no longer right: clean and lubricate as written.

    Source: derived from VDI 2230-1.
    """

    def lever(mu: Pure) -> Length:
        return torque_lever(pitch, pitch_diameter, bearing_diameter, mu, mu)

    was, now = lever(sum(meant) / 2), lever(sum(used) / 2)
    parts = (
        Part("friction that was meant", lever(meant[0]) / now, lever(meant[1]) / now),
        Part("friction that was used", was / lever(used[1]), was / lever(used[0])),
    )
    return Spread(lever(meant[0]) / lever(used[1]), was / now, lever(meant[1]) / lever(used[0]), parts)
