"""Cranking compression: what a gauge may be expected to read, with its doubt, and how readings compare.

Expected values are for comparing. A gauge on a cranked engine does not measure a compression ratio: battery, heat, oil,
rings and the closing of the inlet all speak in it.

Units, shapes and errors as in `spring`; pressures by gauge in the unit of the air pressure, which is absolute.
"""

from math import pi

from witnessmark.mechanics.crank import piston_drop
from witnessmark.mechanics.law import Angle, Number, Pure, require
from witnessmark.mechanics.spread import Part, Spread
from witnessmark.mechanics.volume import cranking_pressure

EXPONENT = (1.15, 1.2, 1.25)  # heat and leakage at cranking speed; judgement, no source


def stroke_left(closing_after_bdc: Angle, rod_ratio: Pure) -> Pure:
    """Share of the stroke that is left to compress when the inlet closes so far after bottom dead centre [1].

    `rod_ratio` is length of the rod over the THROW, half the stroke: 2.8 to 4.4 in engines. The angle is that of the
    closing in earnest; at cranking speed that is near the one at a checking lift of 1 mm.

    Source: derived from the triangle crank, rod, line of stroke.
    """
    require(
        rod_ratio > 2.2,
        "a rod of {ratio:g} throws is shorter than any engine has: was it given over the stroke? Then double it",
        ratio=rod_ratio,
    )
    require(
        (closing_after_bdc > -pi / 2) & (closing_after_bdc < pi),
        "closing {angle:g} rad after bottom: it lies between a quarter turn before and half a turn after",
        angle=closing_after_bdc,
    )
    return piston_drop(pi + closing_after_bdc, 2.0, rod_ratio) / 2


def cranking_range(
    ratio: Pure, air_pressure: Number, stroke_left: Pure, exponents: tuple[Pure, Pure, Pure] = EXPONENT
) -> Spread:
    """Gauge pressure that cranking may reach, with the ends that the exponent leaves, in the unit of `air_pressure`.

    Source: `volume.cranking_pressure`; the exponent 1.2 from memory, 1.15 to 1.25 judgement.
    """
    low, middle, high = (cranking_pressure(ratio, air_pressure, stroke_left, one) for one in exponents)
    return Spread(low, middle, high, (Part("exponent of the compression", low, high),))


def scaled_to_air(reading: Number, measured_air: Number, wanted_air: Number) -> Number:
    """A reading as it would be in another air, in its own unit.

    Give both airs as absolute pressures where the air is as warm in both, or as densities where it is not: an Army
    table of least pressures goes with the density.

    Source: derived: a compression of one exponent multiplies the pressure that it begins with.
    """
    require(
        (measured_air > 0) & (wanted_air > 0),
        "airs of {measured:g} and {wanted:g}: both are absolute and above nothing",
        measured=measured_air,
        wanted=wanted_air,
    )
    return reading * wanted_air / measured_air


def lowest_share(readings: Number) -> Pure:
    """Lowest reading over the highest [1]. Source: common practice; 0.75 is a usual line, many want 0.85."""
    from numpy import asarray, max, min

    given = asarray(readings, float)
    require(given > 0, "a compression of {reading:g} is none: leave out a cylinder that was not tried", reading=given)
    return min(given) / max(given)


def wet_gain(dry: Number, wet: Number) -> Number:
    """What a spoon of oil adds to a reading, in its unit. Source: common practice: a marked gain points to rings."""
    return wet - dry
