"""The shim that sets a lash, the lever between, and what lash costs in degrees."""

from fractions import Fraction
from math import degrees, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics.lash import duration_lost, rocker_ratio, shim_for_lash
from witnessmark.mechanics.law import OutsideLaw

exact = st.fractions(min_value=Fraction(1, 100), max_value=5, max_denominator=1000)


@pytest.mark.truth("derived: the gap under a bucket is a closed chain; 2.60 with lash 0.12 for 0.20 wants 2.52")
def test_too_little_lash_wants_a_thinner_shim():
    assert shim_for_lash(Fraction("2.60"), Fraction("0.12"), Fraction("0.20")) == Fraction("2.52")


@pytest.mark.truth("derived: a lever of ratio 1.6 moves the valve end 1.6 times the cam end")
def test_a_shim_on_the_tip_under_a_lever_follows_the_ratio():
    """The feeler at the cam finds 0.05 too much; at the tip that is 0.08."""
    assert shim_for_lash(2, Fraction("0.25"), Fraction("0.20"), Fraction("1.6")) == Fraction("2.08")


@given(shim=exact, lash=exact, target=exact, ratio=exact)
def test_with_the_new_shim_the_lash_is_its_target(shim, lash, target, ratio):
    new = shim_for_lash(shim, lash, target, ratio)
    assert lash - (new - shim) / ratio == target


def test_a_ratio_of_nothing_is_asked_about():
    with pytest.raises(OutsideLaw, match="valve movement over cam movement"):
        shim_for_lash(2.6, 0.12, 0.20, 0)


@pytest.mark.truth("derived: a valve that moves 12.00 mm for 7.50 mm at its lifter has a ratio of 1.6")
@pytest.mark.parametrize("unit", [Fraction(1), 1 / Fraction("25.4")])
def test_a_ratio_is_the_same_in_inch_and_in_millimetre(unit):
    assert rocker_ratio(Fraction("12.00") * unit, Fraction("7.50") * unit) == Fraction("1.6")


@given(lift=exact, ratio=exact, lost=st.fractions(min_value=0, max_value=1, max_denominator=100))
def test_what_bends_between_lifter_and_valve_takes_from_the_ratio(lift, ratio, lost):
    assert rocker_ratio(ratio * lift * (1 - lost), lift) == ratio * (1 - lost)


def test_a_lifter_that_does_not_move_is_asked_about():
    with pytest.raises(OutsideLaw, match="on the right lobe"):
        rocker_ratio(12.0, 0.0)
    with pytest.raises(OutsideLaw, match="zeroed with the valve shut"):
        rocker_ratio(-0.1, 7.5)


@pytest.mark.truth("derived: 0.05 mm more lash on a ramp of 0.010 mm for each cam degree is 5 cam, 10 crank degrees")
def test_lash_on_a_slow_ramp_costs_many_degrees():
    assert degrees(duration_lost(0.05, 0.010 * 180 / pi)) == pytest.approx(10)


@given(lash=st.floats(0.001, 0.3), slope=st.floats(0.05, 2))
def test_a_valve_on_an_even_ramp_leaves_its_seat_later_by_that_angle(lash, slope):
    """After that cam angle, half the crank's, the ramp has taken up just the lash that was added."""
    assert slope * duration_lost(lash, slope) / 2 == pytest.approx(lash)


def test_a_flat_ramp_is_asked_about():
    with pytest.raises(OutsideLaw, match="lift over cam angle"):
        duration_lost(0.05, 0)
