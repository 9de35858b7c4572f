"""Flow through openings and leaks behind a tester: textbook nozzles, the line of an aviation circular, standard air."""

from math import pi, sqrt
from pathlib import Path

import numpy as np
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics import leakage
from witnessmark.mechanics.law import OutsideLaw

PSI = 0.006894757  # MPa
AIR = 14.7 * PSI
FORTY, SIXTY = 0.040 * 25.4, 0.060 * 25.4
ALTITUDES = yaml.safe_load((Path(__file__).parents[1] / "truth" / "compression-altitude.yaml").read_text("utf-8"))


@pytest.mark.truth("textbook gas dynamics (question bank seen): critical ratios 0.528, 0.546, 0.577")
@pytest.mark.parametrize(("gamma", "ratio"), [(1.4, 0.528), (1.3, 0.546), (1.135, 0.577)])
def test_critical_ratios(gamma, ratio):
    assert leakage.critical_ratio(gamma) == pytest.approx(ratio, abs=0.0005)


@pytest.mark.truth("Moran, Shapiro, Fundamentals of Engineering Thermodynamics, example 9.14 (companion seen)")
@pytest.mark.parametrize(("back", "flow"), [(0.500, 2.13), (0.784, 1.79)])
def test_one_opening_choked_and_not(back, flow):
    told = leakage.mass_flow(1000, 1.0, back, 360, gas_constant=8314 / 28.97)
    assert told == pytest.approx(flow, abs=0.006)


@pytest.mark.truth("Rajput, Engineering Thermodynamics, example 16.16 (companion seen): 25 mm, 293 K, into 100 kPa")
@pytest.mark.parametrize(("tank", "flow"), [(0.140, 0.149), (0.300, 0.348)])
def test_a_tank_that_empties(tank, flow):
    told = leakage.mass_flow(pi / 4 * 25**2, tank, 0.100, 293, gas_constant=287)
    assert told == pytest.approx(flow, abs=0.0006)


@pytest.mark.truth("Pao, Fluid Mechanics, example 7a (companion seen): half an inch, 114.7 psia, 524.6 R: 0.5233 lb/s")
def test_a_jet_in_pounds_and_rankine():
    told = leakage.mass_flow(pi / 4 * 12.7**2, 114.7 * PSI, 14.7 * PSI, 524.6 / 1.8)
    assert told / 0.45359237 == pytest.approx(0.5233, abs=0.0006)


@pytest.mark.truth("ISO 6358 (from memory): an ideal opening of 5 mm² passes 1 dm³/(s bar) of reference air")
def test_the_sonic_conductance_of_an_ideal_opening():
    density = 1.185  # kg/m³ at 100 kPa, 20 °C, 65 % humidity
    conductance = leakage.mass_flow(1.0, 0.1, 0.0, 293.15) / density * 1000  # dm³/s at 1 bar
    assert conductance == pytest.approx(0.2, abs=0.002)
    assert 1 / conductance == pytest.approx(5.0, abs=0.05)


@given(ratio=st.floats(0.53, 0.999), pressure=st.floats(0.1, 1), gamma=st.floats(1.2, 1.6))
def test_the_flow_is_speed_times_density_of_a_frictionless_jet(ratio, pressure, gamma):
    """From energy and the isentropic law step by step, without the closed form."""
    from hypothesis import assume

    assume(ratio > leakage.critical_ratio(gamma))
    temperature, gas = 293.15, 287.053
    outlet = temperature * ratio ** ((gamma - 1) / gamma)
    speed = sqrt(2 * gamma / (gamma - 1) * gas * (temperature - outlet))
    density = pressure * 1e6 * ratio / (gas * outlet)
    told = leakage.mass_flow(2.0, pressure, ratio * pressure, temperature, gamma, gas)
    assert told == pytest.approx(2e-6 * density * speed, rel=1e-6)


@given(low=st.floats(0, 1), high=st.floats(0, 1))
def test_a_lower_outlet_never_passes_less(low, high):
    low, high = sorted((low, high))
    assert leakage.flow_function(low) >= leakage.flow_function(high)
    assert leakage.flow_function(1.0) == 0


@pytest.mark.truth("FAA AC 43.13-1B, par. 8-14: supply 80 psi, more than 25 % loss suspect: the line reads 60")
def test_the_line_of_the_circular():
    assert leakage.leak_loss(80, 60) == 0.25
    assert leakage.leak_loss(80 * PSI, 60 * PSI) == pytest.approx(0.25)


@pytest.mark.truth("derived with a pencil from two nozzles in series: 80 psi, 0.040 in orifice, air 14.7 psi")
@pytest.mark.parametrize(
    ("reading", "area", "diameter", "on_sixty", "on_075"),
    [(76, 0.35, 0.67, 79.2, 67.7), (72, 0.51, 0.80, 78.3, 57.3), (64, 0.75, 0.98, 76.3, 40.7), (60, 0.86, 1.05, 75.3, 34.1)],
)
def test_one_leak_on_three_testers(reading, area, diameter, on_sixty, on_075):
    leak = leakage.leak_area(80 * PSI, reading * PSI, FORTY, AIR)
    assert leak == pytest.approx(area, abs=0.006)
    assert leakage.equivalent_diameter(leak) == pytest.approx(diameter, abs=0.006)
    assert leakage.reading_of(leak, 80 * PSI, 1.52, AIR) / PSI == pytest.approx(on_sixty, abs=0.06)
    told = leakage.other_tester(reading * PSI, (80 * PSI, FORTY), (80 * PSI, 0.75), AIR)
    assert told / PSI == pytest.approx(on_075, abs=0.2)


def test_the_line_means_two_and_a_quarter_times_the_leak_on_the_larger_restrictor():
    small, large = (leakage.leak_area(80 * PSI, 60 * PSI, orifice, AIR) for orifice in (FORTY, SIXTY))
    assert small == pytest.approx(0.858, abs=0.0005)
    assert large / small == pytest.approx(2.25)


@given(reading=st.floats(1, 79.9), orifice=st.floats(0.5, 3), air=st.floats(0.07, 0.105), supply=st.floats(80, 120))
def test_a_leak_reads_what_it_was_read_from(reading, orifice, air, supply):
    leak = leakage.leak_area(supply * PSI, reading * PSI, orifice, air)
    assert leakage.reading_of(leak, supply * PSI, orifice, air) == pytest.approx(reading * PSI, rel=1e-6)
    into = leakage.mass_flow(pi / 4 * orifice**2, supply * PSI + air, reading * PSI + air)
    assert leakage.mass_flow(leak, reading * PSI + air, air) == pytest.approx(into)


@given(one=st.floats(1, 79), other=st.floats(1, 79))
def test_a_lower_reading_is_a_larger_leak(one, other):
    areas = [leakage.leak_area(80 * PSI, reading * PSI, FORTY, AIR) for reading in sorted((one, other))]
    assert areas[0] >= areas[1]


def test_a_tight_cylinder_reads_its_supply_and_an_open_one_nothing():
    assert leakage.leak_area(80 * PSI, 80 * PSI, FORTY, AIR) == 0
    assert leakage.reading_of(0.0, 80 * PSI, FORTY, AIR) == pytest.approx(80 * PSI)
    assert leakage.reading_of(1e6, 80 * PSI, FORTY, AIR) == pytest.approx(0, abs=1e-6)


def test_the_air_of_the_day_belongs_to_the_reading():
    """At 1500 m the same gauges mean another leak: gauge pressures alone do not say which."""
    low = leakage.leak_area(80 * PSI, 60 * PSI, FORTY, leakage.air_pressure_at(0))
    high = leakage.leak_area(80 * PSI, 60 * PSI, FORTY, leakage.air_pressure_at(1500))
    assert abs(high / low - 1) > 0.003


def test_many_cylinders_at_once():
    readings = np.array([76.0, 60.0]) * PSI
    areas = leakage.leak_area(80 * PSI, readings, FORTY, AIR)
    assert leakage.reading_of(areas, 80 * PSI, FORTY, AIR) == pytest.approx(readings)


@pytest.mark.truth("ISO 2533:1975 (from memory): 101.325 kPa, 89.875 at 1000 m, 79.495 at 2000 m, 54.020 at 5000 m")
@pytest.mark.parametrize(("metres", "kilopascal"), [(0, 101.325), (1000, 89.875), (2000, 79.495), (5000, 54.020)])
def test_the_pressure_of_the_standard_air(metres, kilopascal):
    assert leakage.air_pressure_at(metres) * 1000 == pytest.approx(kilopascal, abs=0.002)


@pytest.mark.truth("ISO 2533:1975 (from memory): density at 1000 m 1.11164, at 3000 m (geopotential) 0.90912, at sea level 1.225 kg/m³")
@pytest.mark.parametrize(("metres", "density"), [(0, 1.225), (1000, 1.11164), (3000, 0.90912)])
def test_the_density_of_the_standard_air(metres, density):
    told = leakage.air_density_ratio(leakage.air_pressure_at(metres), leakage.standard_temperature(metres))
    assert told * 1.225 == pytest.approx(density, abs=0.0001)


@pytest.mark.truth("US Army TM 5-3895-359-14&P, table 1: least compression from 500 to 10 000 ft; psi and kPa agree")
@pytest.mark.parametrize("row", ALTITUDES["rows"], ids=lambda row: f"{row['feet']} ft")
def test_a_table_of_least_compressions_goes_with_the_density_of_the_air(row):
    """With its own densities within one percent; with the standard air within two and a half, in feet and in metres."""
    first = ALTITUDES["rows"][0]

    def density(metres):
        return leakage.air_density_ratio(leakage.air_pressure_at(metres), leakage.standard_temperature(metres))

    assert row["psi"] * PSI * 1000 == pytest.approx(row["kPa"], abs=1)
    assert first["psi"] * row["density"] / first["density"] == pytest.approx(row["psi"], rel=0.01)
    assert first["psi"] * density(row["metres"]) / density(first["metres"]) == pytest.approx(row["psi"], rel=0.025)
    assert density(row["feet"] * 0.3048) == pytest.approx(density(row["metres"]), rel=1e-4)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: leakage.leak_area(0.4, 0.5, 1.0), "were the gauges exchanged"),
        (lambda: leakage.leak_area(0.5, 0.4, 0.0), "orifice 0 mm"),
        (lambda: leakage.leak_area(0.5, 0.0, 1.0), "the leak is beyond this orifice"),
        (lambda: leakage.leak_loss(60, 80), "were the gauges exchanged"),
        (lambda: leakage.mass_flow(1.0, 0.1, 0.2), "not above the inlet"),
        (lambda: leakage.mass_flow(1.0, 0.1, 0.1, -20), "both are absolute"),
        (lambda: leakage.reading_of(-1.0, 0.5, 1.0), "check the four"),
        (lambda: leakage.equivalent_diameter(-1.0), "below nothing"),
        (lambda: leakage.air_pressure_at(30_000), "it is in metres"),
        (lambda: leakage.air_density_ratio(0.1, 20), "is it in degrees"),
    ],
)
def test_misuse_is_asked_about(call, said):
    with pytest.raises(OutsideLaw, match=said):
        call()
