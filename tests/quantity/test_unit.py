"""Units held against NIST SP 811, against a general units library, and against themselves."""

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pint
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.quantity.amount import Amount
from witnessmark.quantity.read import read
from witnessmark.quantity.unit import ANGLES, UNITS, WORDS, OtherDimension, UnknownUnit, names, spelled, unit

TRUTH = yaml.safe_load((Path(__file__).parents[1] / "truth" / "units.yaml").read_text("utf-8"))


def half_of_last_digit(printed):
    return Fraction(Decimal((0, (5,), Decimal(printed).as_tuple().exponent - 1)))


@pytest.mark.truth("NIST SP 811 (2008), Appendix B")
@pytest.mark.parametrize("row", TRUTH["sp811"]["factors"], ids=lambda row: row["unit"])
def test_factors_are_those_printed_by_the_standards_institute(row):
    printed, factor = Fraction(row["printed"]), unit(row["unit"], row["dimension"]).factor / Fraction(row["per"])
    assert abs(factor - printed) <= (0 if row["exact"] else half_of_last_digit(row["printed"]))


@pytest.mark.truth("NIST SP 811 (2008), Appendix B: value from memory, worked out again in exact fractions")
@pytest.mark.parametrize("case", TRUTH["chains"]["cases"], ids=lambda case: case["text"])
def test_torques_rates_and_pressures_of_tightening_and_spring_sheets(case):
    amount = read(case["text"], case["to"], dimension=case["dimension"])
    assert abs(amount.to(case["to"]) - Fraction(case["printed"])) <= half_of_last_digit(case["printed"])


@pytest.mark.truth("NIST SP 811 (2008), Appendix B; ISO 1: 20 degree Celsius")
@pytest.mark.parametrize("point", TRUTH["fahrenheit"]["points"], ids=lambda point: point["f"])
def test_fahrenheit_is_a_scale_with_an_offset(point):
    celsius = read(point["f"], "°F", dimension="temperature").to("°C")
    assert abs(celsius - Fraction(point["c"])) <= (0 if "." not in point["c"] else half_of_last_digit(point["c"]))


@pytest.mark.truth("NIST SP 811 (2008), Appendix B: 1 degree Fahrenheit of difference is 5/9 K")
def test_a_difference_in_fahrenheit_has_no_offset():
    row = TRUTH["fahrenheit"]["difference"]
    kelvin = read(f"{row['f']} °F", "K", dimension="temperature_difference").inside_exact
    assert kelvin == Fraction(100, 9)
    assert abs(kelvin - Fraction(row["k"])) <= half_of_last_digit(row["k"])


@pytest.mark.truth("arithmetic: binary inch fractions are finite decimals in inch and in millimetre")
@pytest.mark.parametrize("row", TRUTH["inch_fractions"]["rows"], ids=lambda row: row["fraction"])
def test_inch_fractions_are_exact_in_inch_and_in_millimetre(row):
    amount = read(row["fraction"], "in")
    assert (amount.to("in"), amount.to("mm")) == (Fraction(row["inch"]), Fraction(row["mm"]))
    assert amount.inside == float(row["mm"])


PINT = {
    "µm": "micrometer",
    "in": "inch",
    "thou": "thou",
    "tenths": "1e-4 inch",
    "lbf": "force_pound",
    "kgf": "force_kilogram",
    "deg crank": "degree",
    "deg cam": "degree",
    "deg": "degree",
    "K": "kelvin",
    "°C": "kelvin",
    "°F": "5/9 kelvin",
    "°F difference": "5/9 kelvin",
    "inHg": "inHg",
    "mL": "milliliter",
    "mm³": "mm**3",
    "L": "liter",
    "in³": "inch**3",
    "N·m": "N*m",
    "N·mm": "N*mm",
    "lbf·ft": "force_pound*foot",
    "lbf·in": "force_pound*inch",
    "kgf·m": "force_kilogram*m",
    "lbf/in": "force_pound/inch",
    "kgf/mm": "force_kilogram/mm",
    "1": "1",
    "%": "0.01",
    "lb": "pound",
    "oz": "ounce",
    "min": "minute",
}
INSIDE = {
    "length": "mm",
    "force": "N",
    "pressure": "MPa",
    "volume": "mm**3",
    "torque": "N*mm",
    "rate": "N/mm",
    "mass": "kg",
    "time": "s",
    "ratio": "",
    "temperature": "kelvin",
    "temperature_difference": "kelvin",
} | dict.fromkeys((*ANGLES, "angle_plane"), "radian")


def test_a_general_units_library_agrees_with_every_factor():
    registry = pint.UnitRegistry()
    for one in UNITS:
        theirs = (
            registry.Quantity(f"1 * {PINT.get(one.name, one.name)}")
            .to(INSIDE[one.dimension] or "dimensionless")
            .magnitude
        )
        # a general library keeps inch of mercury to seven figures
        assert float(one.factor) == pytest.approx(theirs, rel=1e-6 if "Hg" in one.name else 1e-12), one.name


@pytest.mark.parametrize(
    ("spelling", "name", "dimension"),
    [
        ("mm", "mm", "length"),
        ("MM", "mm", "length"),
        ("um", "µm", "length"),
        ("\u00b5m", "µm", "length"),
        ("\u03bcm", "µm", "length"),
        ("m", "m", "length"),
        ("cm", "cm", "length"),
        ("in", "in", "length"),
        ("IN", "in", "length"),
        ("in.", "in", "length"),
        ("inch", "in", "length"),
        ('"', "in", "length"),
        ("″", "in", "length"),
        ("”", "in", "length"),
        ("thou", "thou", "length"),
        ("mil", "thou", "length"),
        ("mils", "thou", "length"),
        ("tenths", "tenths", "length"),
        ("tenth", "tenths", "length"),
        ("N", "N", "force"),
        ("kN", "kN", "force"),
        ("lbf", "lbf", "force"),
        ("lb", "lbf", "force"),
        ("kgf", "kgf", "force"),
        ("deg crank", "deg crank", "angle_crank"),
        ("crank deg", "deg crank", "angle_crank"),
        ("° cam", "deg cam", "angle_cam"),
        ("°C", "°C", "temperature"),
        ("C", "°C", "temperature"),
        ("°F", "°F", "temperature"),
        ("f", "°F", "temperature"),
        ("kPa", "kPa", "pressure"),
        ("bar", "bar", "pressure"),
        ("psi", "psi", "pressure"),
        ("mL", "mL", "volume"),
        ("cc", "mL", "volume"),
        ("N·m", "N·m", "torque"),
        ("Nm", "N·m", "torque"),
        ("N m", "N·m", "torque"),
        ("lbf·ft", "lbf·ft", "torque"),
        ("ft-lb", "lbf·ft", "torque"),
        ("FT LB", "lbf·ft", "torque"),
        ("lbf·in", "lbf·in", "torque"),
        ("N/mm", "N/mm", "rate"),
        ("lbf/in", "lbf/in", "rate"),
        ("lb/in", "lbf/in", "rate"),
        ("%", "%", "ratio"),
    ],
)
def test_bench_spellings_are_known(spelling, name, dimension):
    assert unit(spelling, dimension).name == name


def test_every_spelling_finds_its_unit_and_every_dimension_has_a_word():
    for one in UNITS:
        assert one.dimension in WORDS
        for spelling in one.spellings:
            assert one in spelled(spelling), (one.name, spelling)
            assert [other for other in spelled(spelling) if other.dimension == one.dimension] == [one], spelling
    assert {one.dimension for one in UNITS} == set(WORDS)


@pytest.mark.parametrize("spelling", ["M", "nm", "NM", "mpa", "MBAR", "S", "furlong", ""])
def test_a_spelling_whose_case_would_change_its_meaning_is_not_guessed(spelling):
    with pytest.raises(UnknownUnit, match="no unit is called"):
        unit(spelling)


def test_an_unknown_unit_names_the_near_word():
    with pytest.raises(UnknownUnit, match="no unit for a length is called 'thuo'; did you mean 'thou'"):
        unit("thuo", "length")
    with pytest.raises(UnknownUnit, match="write N, kN, lbf, kgf"):
        unit("§", "force")


def test_the_same_name_measures_what_is_asked_for():
    assert (unit("lb", "force").dimension, unit("lb", "mass").dimension) == ("force", "mass")
    assert names("force") == ("N", "kN", "lbf", "kgf")


def test_an_amount_is_not_turned_into_what_it_does_not_measure():
    amount = Amount(Fraction(1), "in", None, "1")
    with pytest.raises(OtherDimension, match="'N' measures a force, and '1' is a length"):
        amount.to("N")
    with pytest.raises(UnknownUnit):
        amount.to("furlong")
    crank = Amount(Fraction(20), "deg crank", Fraction(1), "20", "angle_crank")
    with pytest.raises(OtherDimension, match="cam angle"):
        crank.to("deg cam")


@given(st.fractions(max_denominator=10**6), st.sampled_from(UNITS), st.data())
def test_there_and_back_is_exact(value, one, data):
    other = data.draw(st.sampled_from([unit_ for unit_ in UNITS if unit_.dimension == one.dimension]))
    there = Amount(value, one.name, None, "", one.dimension).to(other.name)
    assert Amount(there, other.name, None, "", other.dimension).to(one.name) == value
