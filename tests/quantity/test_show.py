"""Numbers as they are shown: the gauge's digits, and never across a limit."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.quantity.read import read
from witnessmark.quantity.show import decimals, exact, show, show_against, show_chance, show_doubt

VALUES = st.fractions(min_value=-1000, max_value=1000, max_denominator=10**6)


@pytest.mark.truth("common practice, no source: what a shop reads from each gauge in the other unit")
@pytest.mark.parametrize(
    ("step", "step_unit", "shown", "places"),
    [
        ("0.001", "mm", "in", 4),
        ("0.002", "mm", "in", 4),
        ("0.005", "mm", "in", 4),
        ("0.01", "mm", "in", 4),
        ("0.02", "mm", "in", 3),
        ("0.05", "mm", "in", 3),
        ("0.1", "mm", "in", 3),
        ("0.0001", "in", "mm", 3),
        ("0.0005", "in", "mm", 2),
        ("0.001", "in", "mm", 2),
        ("1/64", "in", "mm", 1),
    ],
)
def test_a_converted_value_has_the_decimals_that_the_gauge_allows(step, step_unit, shown, places):
    assert decimals(Fraction(step), step_unit, shown) == places


@pytest.mark.parametrize(
    ("step", "step_unit", "shown", "places"),
    [
        ("0.001", "mm", "mm", 3),
        ("0.002", "mm", "mm", 3),
        ("0.05", "mm", "mm", 2),
        ("0.5", "mm", "mm", 1),
        ("1", "mm", "mm", 0),
        ("10", "mm", "mm", 0),
        ("0.0001", "in", "in", 4),
        ("0.0005", "in", "in", 4),
        ("0.25", "deg crank", "deg crank", 2),
        ("1/8", "in", "in", 3),
        ("1/64", "in", "in", 3),
        ("1/3", "in", "in", 2),
        ("0.001", "mm", "µm", 0),
        ("0.0001", "mm", "µm", 1),
        ("0.0005", "in", "thou", 1),
        ("1", "tenths", "in", 4),
        ("0.5", "thou", "in", 4),
        ("0.001", "mm", "thou", 1),
        ("0.001", "mm", "tenths", 0),
        ("0.01", "mm", "thou", 1),
        ("0.1", "mm", "thou", 0),
        ("1", "µm", "in", 4),
        ("0.0001", "mm", "in", 5),
        ("0.5", "mm", "in", 2),
        ("5", "mm", "in", 1),
        ("1", "N", "lbf", 1),
        ("1", "N", "kN", 3),
        ("1", "lbf", "N", 0),
        ("1", "°F", "°C", 1),
    ],
)
def test_the_same_unit_keeps_the_decimals_of_the_step(step, step_unit, shown, places):
    assert decimals(Fraction(step), step_unit, shown) == places


@pytest.mark.parametrize(
    ("value", "shown", "step", "step_unit", "text"),
    [
        (5.952, "mm", 0.001, "", "5.952"),
        (5.95, "mm", 0.001, "", "5.950"),
        (5.952, "in", 0.001, "mm", "0.2343"),
        (Fraction("5.9563"), "in", 0.0001, "in", "0.2345"),
        (Fraction("5.9563"), "mm", 0.0001, "in", "5.956"),
        (-0.071, "mm", 0.001, "", "-0.071"),
        (-0.0004, "mm", 0.001, "", "0.000"),
        (0.5, "mm", 1, "", "1"),
        (-0.5, "mm", 1, "", "-1"),
        (1.5, "mm", 1, "", "2"),
        (2.5, "mm", 1, "", "3"),
        (5.9525, "mm", 0.001, "", "5.953"),
        (41.275, "in", Fraction(1, 8), "in", "1.625"),
        (0.063, "µm", 0.001, "mm", "63"),
        (0.0635, "thou", 0.1, "thou", "2.5"),
        (20, "°F", 1, "°F", "68"),
        (123, "mm", 10, "", "123"),
    ],
)
def test_values_are_shown_half_up_with_the_decimals_of_the_gauge(value, shown, step, step_unit, text):
    assert show(value, shown, step, step_unit) == text


@given(st.integers(-(10**6), 10**6), st.integers(0, 5), st.sampled_from(["mm", "in", "µm", "thou", "tenths", "cm"]))
def test_what_a_gauge_showed_is_shown_again_and_reads_back_the_same(digits, places, unit):
    step = Fraction(1, 10**places)
    text = show(digits * step * read("1", unit).inside_exact, unit, step)
    amount = read(text.replace("-", "\u2212"), unit)
    assert (amount.value, amount.step) == (digits * step, step)


@given(
    VALUES,
    st.sampled_from([Fraction(n, 10**k) for n in (1, 2, 5) for k in range(5)]),
    st.sampled_from(["mm", "in"]),
    st.sampled_from(["mm", "in"]),
)
def test_what_is_shown_is_within_half_of_its_last_digit(value, step, step_unit, unit):
    places = decimals(step, step_unit, unit)
    shown = Fraction(show(value, unit, step, step_unit)) * read("1", unit).inside_exact
    assert abs(shown - value) <= Fraction(1, 2 * 10**places) * read("1", unit).inside_exact


@pytest.mark.parametrize(
    ("value", "limit", "shown", "texts"),
    [
        (5.952, 5.94, "mm", ("5.952", "5.940")),
        (5.9398, 5.94, "mm", ("5.9398", "5.9400")),
        (5.94, 5.94, "mm", ("5.940", "5.940")),
        (5.9401, 5.94, "in", ("0.233862", "0.233858")),
        (5.95, 5.94, "in", ("0.2343", "0.2339")),
        (0.0504, 0.05, "mm", ("0.0504", "0.0500")),
        (0.0496, 0.05, "mm", ("0.0496", "0.0500")),
        (1.0, 0.9995, "mm", ("1.0000", "0.9995")),
    ],
)
def test_a_value_is_never_rounded_across_its_limit(value, limit, shown, texts):
    assert show_against(value, limit, shown, 0.001, "mm") == texts


@given(VALUES, VALUES | st.none(), st.integers(-40, 40), st.sampled_from(["mm", "in", "µm", "thou"]))
def test_shown_value_and_shown_limit_lie_as_value_and_limit_do(value, limit, offset, unit):
    limit = value + Fraction(offset, 10**14) if limit is None else limit
    shown, shown_limit = map(Fraction, show_against(value, limit, unit, 0.001, "mm"))
    assert (shown > shown_limit, shown < shown_limit) == (value > limit, value < limit)


@pytest.mark.truth("JCGM 100:2008, 7.2.6: at most two significant digits")
@pytest.mark.parametrize(
    ("u", "unit", "text"),
    [
        (0.00123, "mm", "0.0012"),
        (0.00123, "µm", "1.2"),
        (0.0012, "in", "0.000047"),
        (0.0996, "mm", "0.10"),
        (0.00996, "mm", "0.010"),
        (9.96, "mm", "10"),
        (12.4, "mm", "12"),
        (123.0, "mm", "120"),
        (0, "mm", "0"),
        (0.002, "mm", "0.0020"),
        (1, "°F", "1.8"),
    ],
)
def test_a_doubt_is_shown_with_two_digits(u, unit, text):
    assert show_doubt(u, unit) == text


@given(st.fractions(min_value=Fraction(1, 10**9), max_value=10**6), st.sampled_from(["mm", "in", "µm"]))
def test_a_doubt_keeps_two_digits_whatever_its_size(u, unit):
    text = show_doubt(u, unit)
    assert len(text.replace(".", "").strip("0")) <= 2
    assert abs(Fraction(text) / (u / read("1", unit).inside_exact) - 1) <= Fraction(1, 20)


@pytest.mark.parametrize(
    ("p", "text"),
    [
        (0.9452, "0.94"),
        (0.0549, "0.06"),
        (0.95, "0.95"),
        (0.05, "0.05"),
        (0.9499999, "0.94"),
        (0.99, "0.99"),
        (0.993, "over 0.99"),
        (0.9999999, "over 0.99"),
        (1, "1.00"),
        (1.0, "1.00"),
        (0, "0.00"),
        (1e-12, "under 0.01"),
        (0.01, "0.01"),
        (0.5, "0.50"),
        (0.504, "0.50"),
        (0.496, "0.50"),
        (0.0101, "0.02"),
    ],
)
def test_a_chance_is_rounded_towards_doubt(p, text):
    assert show_chance(p) == text


@given(st.floats(0, 1))
def test_a_shown_chance_is_never_surer_than_the_chance(p):
    text = show_chance(p)
    shown = Fraction(text.split()[-1])
    if text[0].isdigit() and 0 < p < 1:
        assert (shown <= exact(p)) if exact(p) > Fraction(1, 2) else (shown >= exact(p))


@pytest.mark.parametrize(
    "call",
    [
        lambda: show(float("nan"), "mm", 0.001),
        lambda: show(float("inf"), "mm", 0.001),
        lambda: show(1, "mm", 0),
        lambda: show(1, "mm", -1),
        lambda: show_doubt(-0.1, "mm"),
        lambda: show_chance(1.1),
        lambda: show_chance(-0.1),
        lambda: show_chance(float("nan")),
    ],
)
def test_what_is_no_value_step_doubt_or_chance_is_refused_with_a_sentence(call):
    with pytest.raises(ValueError, match=r"find out where it came from|enter the size of the gauge's last digit"):
        call()


def test_numbers_of_an_array_are_shown_like_their_own():
    numpy = pytest.importorskip("numpy")
    assert show(numpy.float64(5.9525), "mm", 0.001) == "5.953"
