"""Raw text to meaning, exactly."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.quantity.amount import Amount
from witnessmark.record.meant import InHand, exact, meant

SIX = Amount(Fraction(6), "mm", Fraction(1, 1000), "6.000")


@given(st.fractions())
def test_an_exact_number_comes_back_exactly(value):
    assert Fraction(exact(value)) == value


@pytest.mark.parametrize(("value", "text"), [
    (Fraction(1, 64), "0.015625"), (Fraction(-71, 1000), "-0.071"), (Fraction(0), "0"), (Fraction(1, 3), "1/3"),
    (Fraction(1000), "1000"), (Fraction(-13, 8), "-1.625"), (Fraction(1, 1000), "0.001"),
])
def test_exact_numbers_are_written_as_the_trade_writes_them(value, text):
    assert exact(value) == text


@given(st.text(max_size=220), st.sampled_from([
    InHand("micrometer", "mm"), InHand("dial_bore", "in", set_to=SIX), InHand("dial_bore", "mm"),
    InHand("leaves", "mm", (Decimal("0.03"), Decimal("0.04"))), InHand("leaves", "N", (Decimal("0.03"),)), InHand()]))
def test_any_text_gives_a_meaning_a_question_or_a_sentence(raw, hand):
    found = meant(raw, hand)
    assert found.meaning or found.why


def test_an_inch_bore_gauge_finds_sizes_within_a_millimetre_of_its_setting():
    inch = Amount(Fraction("0.2360"), "in", Fraction(1, 10000), "0.2360")
    assert meant("0.0004", InHand("dial_bore", "in", set_to=inch)).meaning["kind"] == "deviation"
    assert meant("0.2364", InHand("dial_bore", "in", set_to=inch)).meaning["kind"] == "number"
    assert meant("+0.2364", InHand("dial_bore", "in", set_to=inch)).meaning["kind"] == "number"
    assert meant("-0.0394", InHand("dial_bore", "in", set_to=inch)).meaning is None  # 1.0008 mm below: past its reach
    assert meant("-0.0393", InHand("dial_bore", "in", set_to=inch)).meaning["kind"] == "deviation"
    assert meant("0.3364", InHand("dial_bore", "in", set_to=inch)).meaning is None


def test_two_believable_meanings_are_asked_back_with_both_as_answers():
    found = meant("8 tenths", InHand("micrometer", "mm"))
    assert found.meaning is None
    units = [answer["meaning"]["unit"] for answer in found.question["answers"][:-1]]
    assert units == ["tenths", "mm"]
    assert found.question["answers"][-1]["do"] == "measure again"
