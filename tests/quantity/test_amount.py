"""An amount keeps what was written: value, unit, step and text."""

from fractions import Fraction

from witnessmark.quantity.read import read


def test_the_zero_at_the_end_is_the_step_of_the_gauge():
    fine, coarse = read("5.950", "mm"), read("5.95", "mm")
    assert fine.value == coarse.value
    assert (fine.step, coarse.step) == (Fraction(1, 1000), Fraction(1, 100))
    assert (fine.text, coarse.text) == ("5.950", "5.95")


def test_the_step_inside_is_in_millimetre_also_for_inch():
    assert read("0.2345", "in").step_inside == Fraction("0.00254")
    assert read("5/8", "in").step_inside == Fraction("3.175")


def test_the_step_of_a_temperature_has_no_offset():
    assert read("68", "°F", dimension="temperature").step_inside == Fraction(5, 9)


def test_inside_is_the_nearest_number_to_the_exact_value():
    assert read("0.0025", "in").inside == 0.0635
    assert read("0.1", "mm").inside == 0.1
    assert read("0.1", "mm").inside_exact == Fraction(1, 10)
