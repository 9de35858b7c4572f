"""Digits, marks and fractions, before any unit."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.quantity.number import Blot, scan, written


@pytest.mark.parametrize(
    ("text", "value", "step"),
    [
        ("5.952", "5.952", "0.001"),
        ("5,95", "5.95", "0.01"),
        ("5,9521", "5.9521", "0.0001"),
        ("0,952", "0.952", "0.001"),
        (",952", "0.952", "0.001"),
        ("1.234,5", "1234.5", "0.1"),
        ("1,234.5", "1234.5", "0.1"),
        ("1.234.567,8", "1234567.8", "0.1"),
        ("1,234,567", "1234567", "1"),
        ("12345,678", "12345.678", "0.001"),
        (".5", "0.5", "0.1"),
        ("5.", "5", "1"),
        ("5,", "5", "1"),
        ("+0.03", "0.03", "0.01"),
        ("-0.071", "-0.071", "0.001"),
        ("\u22120.071", "-0.071", "0.001"),
        ("\u20130.071", "-0.071", "0.001"),
        ("- 0.071", "-0.071", "0.001"),
        ("1 5/8", "1.625", "1/8"),
        ("1-5/8", "1.625", "1/8"),
        ("5/8", "0.625", "1/8"),
        ("9/8", "1.125", "1/8"),
        ("⅝", "0.625", "1/8"),
        ("1⅝", "1.625", "1/8"),
        ("1 ⅝", "1.625", "1/8"),
        ("1-⅝", "1.625", "1/8"),
        ("5\u20448", "0.625", "1/8"),
        ("-1 5/8", "-1.625", "1/8"),
        ("0", "0", "1"),
        ("  7", "7", "1"),
    ],
)
def test_numbers_are_read_with_the_size_of_their_last_digit(text, value, step):
    number = scan(text)
    assert (number.value, number.step, number.end) == (Fraction(value), Fraction(step), len(text))


@pytest.mark.parametrize(
    ("text", "thousands"),
    [
        ("5,952", 5952),
        ("-5,952", -5952),
        ("12,345", 12345),
        ("123,456", 123456),
        ("0,952", None),
        ("1234,567", None),
        ("5,95", None),
        ("5.952", None),
        ("1,234,567", None),
    ],
)
def test_one_comma_with_three_digits_after_it_has_two_meanings(text, thousands):
    assert scan(text).thousands == thousands


@pytest.mark.parametrize(
    ("text", "message", "at"),
    [
        ("5..9", "Two points. Rub one out.", 2),
        ("5.9.1", "Two points. Rub one out.", 3),
        ("1,2,3", "Two commas. Rub one out.", 3),
        ("1.2.3.4", "Too many points. Rub one out.", 3),
        ("1,23.4", "not three digits between them", 1),
        ("+-5", "Two signs", 1),
        ("1.234,567.8", "not three digits", 1),
        ("0.952,1", "not three digits", 1),
        ("0,123,456", "Two commas", 5),
        ("5/0", "divided by 0", 2),
        ("1 9/8", "9/8 is a whole or more", 2),
        ("\uff15.9", "plain 0 to 9", 0),
        ("5\u0663", "plain 0 to 9", 1),
        ("", "Nothing to read", 0),
        ("  ", "Nothing to read", 2),
        ("-", "A sign alone", 0),
        ("abc", "No digits", 0),
        (".", "No digits", 0),
        ("mm 5", "No digits", 0),
        ("*5", "No digits", 0),
    ],
)
def test_what_is_no_number_is_told_with_the_place_to_mend(text, message, at):
    with pytest.raises(Blot) as caught:
        scan(text)
    assert message in caught.value.message
    assert caught.value.start == at


@given(
    st.fractions(max_denominator=1).map(abs) | st.decimals(min_value=0, max_value=10**6, places=4).map(Fraction),
    st.integers(0, 4),
)
def test_written_digits_read_back(value, places):
    step = Fraction(1, 10**places)
    rounded = round(value / step) * step
    number = scan(written(rounded, step))
    assert (number.value, number.step) == (rounded, step)


def test_what_has_no_end_in_digits_is_written_half_up():
    assert written(Fraction(2, 3), Fraction(1, 100)) == "0.67"
    assert written(Fraction(-1, 8), Fraction(1, 100)) == "-0.13"
    assert written(Fraction(5, 8), Fraction(1, 8)) == "0.625"
