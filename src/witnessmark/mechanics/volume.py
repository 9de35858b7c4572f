"""Volumes of the combustion chamber, compression ratio and squish, and what a cut, a gasket or a valve does to them.

Units mm and mm3; shapes and errors as in `spring`. What is cut off is positive; a piston below the deck is positive.
"""

from math import pi

from witnessmark.mechanics.law import Length, Number, Pure, require


def swept_volume(bore: Length, stroke: Length) -> Number:
    """Volume that a piston sweeps in one stroke [mm3]. Source: derived from the cylinder."""
    return pi / 4 * bore * bore * stroke


def chamber_volume(
    chamber_volume: Number, chamber_area: Number, chamber_area_slope: Number, skimmed: Length, sunk_volume: Number
) -> Number:
    """Volume of the chamber in the head after a skim and with its valves sunk [mm3].

    A cutter takes the mouth of the chamber away, not the bore. Walls that lean make the mouth change with the depth:
    `chamber_area_slope` is by how much its area changes for each mm that comes off; upright walls have 0.

    Source: derived: the integral of the mouth's area over the depth.
    """
    left = chamber_volume - chamber_area * skimmed - chamber_area_slope * skimmed * skimmed / 2 + sunk_volume
    require(left > 0, "a skim of {cut:g} mm leaves no chamber: are area and volume in one unit?", cut=skimmed)
    return left


def clearance_volume(
    chamber_volume: Number, gasket_thickness: Length, gasket_bore: Length, deck_clearance: Length, bore: Length,
    crown_volume: Number, crevice_volume: Number,
) -> Number:  # fmt: skip
    """Volume over the piston at top dead centre [mm3]; a dish in the crown is positive, a dome negative.

    Source: Heywood, Internal Combustion Engine Fundamentals, ch. 2 (from memory); derived.
    """
    gasket = pi / 4 * gasket_bore * gasket_bore * gasket_thickness
    deck = pi / 4 * bore * bore * deck_clearance
    whole = chamber_volume + gasket + deck + crown_volume + crevice_volume
    require(whole > 0, "the volume over the piston comes out as {v:g} mm3: is a dome or a volume in mL?", v=whole)
    return whole


def compression_ratio(swept_volume: Number, clearance_volume: Number) -> Pure:
    """Volume at the bottom of the stroke over volume at its top [1].

    Source: Heywood, Internal Combustion Engine Fundamentals, ch. 2 (from memory); by definition.
    """
    require(
        clearance_volume > 0, "a clearance volume of {volume:g} mm3 is none: check the volumes", volume=clearance_volume
    )
    return (swept_volume + clearance_volume) / clearance_volume


def squish(gasket_thickness: Length, deck_clearance: Length, pad_recess: Length, skimmed: Length) -> Length:
    """Gap between piston and squish pad at top dead centre [mm].

    A pad level with the gasket face goes down with it, and the face still sits on the gasket: a skim of the head does
    not touch this gap. Only a pad that lies deeper than the face comes nearer, until the cutter reaches it.

    Source: derived.
    """
    deeper = pad_recess - skimmed
    return gasket_thickness + deck_clearance + deeper * (deeper > 0)


def skim_for_ratio(swept: Number, chamber_area: Number, ratio: Pure, wanted: Pure) -> Length:
    """Skim that takes a ratio to another one, with upright chamber walls [mm]. Source: derived from the two volumes."""
    require((ratio > 1) & (wanted > 1), "a compression ratio is above 1: check {a:g} and {b:g}", a=ratio, b=wanted)
    return swept / chamber_area * (1 / (ratio - 1) - 1 / (wanted - 1))


def gasket_for_ratio(
    head_cut: Length, block_cut: Length, chamber_area: Number, bore: Length, gasket_bore: Length
) -> Length:
    """How much thicker a gasket holds the ratio after a skim and a decked block [mm].

    Timing, pushrods and piston to valve ask for the whole of both cuts instead, and squish for the block's cut alone:
    after a skim no gasket gives all three.

    Source: derived: what was taken away is put back inside the gasket's fire ring.
    """
    return (chamber_area * head_cut + pi / 4 * bore * bore * block_cut) / (pi / 4 * gasket_bore * gasket_bore)


def cranking_pressure(ratio: Pure, air_pressure: Number, stroke_left: Pure, exponent: Pure = 1.2) -> Number:
    """Gauge pressure that cranking may reach, in the unit of `air_pressure`.

    `stroke_left` is the share of the stroke that is left when the inlet closes in earnest; the exponent allows for heat
    and leakage at cranking speed. For comparing, not for measuring a ratio.

    Source: derived from a polytropic compression; the exponent is a value from memory.
    """
    require(ratio > 1, "a compression ratio is above 1: check {ratio:g}", ratio=ratio)
    return air_pressure * (1 + stroke_left * (ratio - 1)) ** exponent - air_pressure
