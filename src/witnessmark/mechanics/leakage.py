"""Leak-down readings as the size of a leak, and the air of the day: gauges, orifices, altitude.

A tester feeds the cylinder from its supply through an orifice; the leak lets it out to the open. Both pass the same
flow, so the reading between them tells how large the leak is against the orifice. The equivalent leak is the area of
one ideal round nozzle: it compares testers, and is no dimension of any gap.

Pressures in MPa: `supply` and `cylinder` as gauges read, all others ABSOLUTE. Gauge readings get `air_pressure` of the
day added before any ratio is taken. Areas in mm², temperatures in K, flows in kg/s (1 mm² MPa is 1 N).
Shapes and errors as in `spring`.
"""

from math import pi
from typing import Annotated

from witnessmark.mechanics.law import Area, Length, Number, Pure, Stress, require
from witnessmark.mechanics.tester import leak_down

GAMMA = 1.4  # of air
GAS_CONSTANT = 287.053  # J/(kg K) of dry air, ISO 2533
SEA_LEVEL = 0.101325  # MPa, ISO 2533
ROOM = 293.15  # K
STANDARD = 288.15  # K at sea level, ISO 2533
LAPSE = 0.0065  # K/m
TROPOPAUSE = 11_000.0  # m
GRAVITY = 9.80665  # m/s²
HALVINGS = 80

Kelvin = Annotated[Number, "K"]
Metre = Annotated[Number, "m"]
Flow = Annotated[Number, "kg/s"]


def critical_ratio(gamma: Pure = GAMMA) -> Pure:
    """Outlet over inlet pressure at and below which the flow chokes [1]. Source: textbook gas dynamics."""
    return (2 / (gamma + 1)) ** (gamma / (gamma - 1))


def flow_function(ratio: Pure, gamma: Pure = GAMMA) -> Pure:
    """Flow of an opening made free of area, pressure and temperature; level below the critical ratio [1].

    Source: isentropic nozzle flow, as in Moran and Shapiro, Fundamentals of Engineering Thermodynamics, ch. 9.
    """
    from numpy import maximum, sqrt

    require(
        (ratio >= 0) & (ratio <= 1),
        "a ratio of {ratio:g}: the outlet is not below nothing and not above the inlet; were the gauges exchanged?",
        ratio=ratio,
    )
    held = maximum(ratio, critical_ratio(gamma))
    return sqrt(2 * gamma / (gamma - 1) * maximum(held ** (2 / gamma) - held ** ((gamma + 1) / gamma), 0.0))


def mass_flow(
    area: Area, upstream: Stress, downstream: Stress, temperature: Kelvin = ROOM, gamma: Pure = GAMMA,
    gas_constant: Number = GAS_CONSTANT,
) -> Flow:  # fmt: skip
    """Flow through an ideal opening between two absolute pressures [kg/s]. Source: as `flow_function`."""
    from numpy import sqrt

    require(
        (upstream > 0) & (temperature > 0),
        "{pressure:g} MPa and {kelvin:g} K upstream: both are absolute and above nothing",
        pressure=upstream,
        kelvin=temperature,
    )
    return area * upstream * flow_function(downstream / upstream, gamma) / sqrt(gas_constant * temperature)


def leak_area(supply: Stress, cylinder: Stress, orifice: Length, air_pressure: Stress = SEA_LEVEL) -> Area:
    """Equivalent leak from the two gauges of a tester, the diameter of its orifice and the air of the day [mm²].

    Source: derived from two nozzles in series with one mass flow and one temperature.
    """
    require(cylinder > 0, "a cylinder gauge at nothing: all of the air goes, and the leak is beyond this orifice")
    require(
        (air_pressure > 0) & (orifice > 0) & (cylinder <= supply),
        "supply {supply:g} and cylinder {cylinder:g} MPa by gauge, orifice {orifice:g} mm, air {air:g} MPa absolute: "
        "the cylinder reads at most the supply; were the gauges exchanged?",
        supply=supply,
        cylinder=cylinder,
        orifice=orifice,
        air=air_pressure,
    )
    before, between = supply + air_pressure, cylinder + air_pressure
    into = pi / 4 * orifice * orifice * before * flow_function(between / before)
    return into / (between * flow_function(air_pressure / between))


def reading_of(leak: Area, supply: Stress, orifice: Length, air_pressure: Stress = SEA_LEVEL) -> Stress:
    """What the cylinder gauge of a tester reads on a leak of an equivalent area [MPa by gauge].

    Source: `leak_area` turned round, by halving.
    """
    from numpy import asarray, broadcast_arrays, float64, where

    require(
        (leak >= 0) & (supply > 0) & (orifice > 0) & (air_pressure > 0),
        "leak {leak:g} mm², supply {supply:g} MPa, orifice {orifice:g} mm, air {air:g} MPa: check the four",
        leak=leak,
        supply=supply,
        orifice=orifice,
        air=air_pressure,
    )
    wanted, high = (asarray(one, float64) for one in broadcast_arrays(leak, supply + 0 * leak))
    low = 0 * high
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        leaks_more = leak_area(supply, where(middle > 0, middle, 1e-300), orifice, air_pressure) > wanted
        low, high = where(leaks_more, middle, low), where(leaks_more, high, middle)
    return (low + high) / 2


def other_tester(
    cylinder: Stress, tester: tuple[Stress, Length], other: tuple[Stress, Length], air_pressure: Stress = SEA_LEVEL
) -> Stress:
    """What another tester would read on the same leak [MPa by gauge]; a tester is (supply, orifice).

    Source: derived from `leak_area` and `reading_of`.
    """
    return reading_of(leak_area(tester[0], cylinder, tester[1], air_pressure), *other, air_pressure)


def equivalent_diameter(area: Area) -> Length:
    """Diameter of the round hole of an area [mm]. Source: derived."""
    require(area >= 0, "an area of {area:g} mm² is below nothing", area=area)
    return (4 * area / pi) ** 0.5


def leak_loss(supply: Stress, cylinder: Stress) -> Pure:
    """Share of the supply that the cylinder gauge is short, both by gauge [1].

    Source: FAA AC 43.13-1B, par. 8-14, whose line of 25 percent reads 60 at a supply of 80 psi.
    """
    require(
        (supply > 0) & (cylinder >= 0) & (cylinder <= supply),
        "supply {supply:g} and cylinder {cylinder:g}: the cylinder is not above the supply; were the gauges exchanged?",
        supply=supply,
        cylinder=cylinder,
    )
    return leak_down(supply, cylinder)


def air_pressure_at(altitude: Metre, sea_level: Stress = SEA_LEVEL) -> Stress:
    """Absolute pressure of the standard air at an altitude [MPa]; `sea_level` may be the day's, reduced.

    Source: ISO 2533:1975, standard atmosphere, troposphere (the same as ICAO Doc 7488); constants from memory.
    """
    return sea_level * _warmth(altitude) ** (GRAVITY / (GAS_CONSTANT * LAPSE))


def standard_temperature(altitude: Metre) -> Kelvin:
    """Temperature of the standard air at an altitude [K]. Source: ISO 2533:1975, troposphere."""
    return STANDARD * _warmth(altitude)


def air_density_ratio(air_pressure: Stress, temperature: Kelvin) -> Pure:
    """Density of the air against that of the standard air at sea level, from its pressure and temperature [1].

    Source: the law of an ideal gas; ISO 2533:1975 for the standard.
    """
    require(
        (air_pressure > 0) & (temperature > 200),
        "{pressure:g} MPa and {kelvin:g} K: the pressure is absolute, and a shop is not as cold; is it in degrees?",
        pressure=air_pressure,
        kelvin=temperature,
    )
    return air_pressure / SEA_LEVEL * STANDARD / temperature


def _warmth(altitude: Metre) -> Pure:
    require(
        (altitude >= -1000) & (altitude <= TROPOPAUSE),
        "an altitude of {altitude:g} m is none of a shop: it is in metres, 1000 ft are 304.8",
        altitude=altitude,
    )
    return 1 - LAPSE * altitude / STANDARD
