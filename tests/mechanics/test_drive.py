"""A grown chain: its share, what it does to the timing, and how a free span hangs."""

from fractions import Fraction
from math import asinh, degrees, hypot, pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics import drive
from witnessmark.mechanics.law import OutsideLaw

exact = st.fractions(min_value=Fraction(1, 100), max_value=100, max_denominator=1000)


@pytest.mark.truth("common practice, no source: a timing chain is renewed at half a per cent to one per cent")
def test_three_quarters_of_a_millimetre_on_a_hundred_and_fifty_is_half_a_per_cent():
    assert drive.chain_elongation(Fraction("153.162"), Fraction("152.4")) == Fraction("0.005")


@given(new=exact, share=st.fractions(min_value=0, max_value=Fraction(1, 20), max_denominator=1000))
def test_a_chain_grown_by_a_share_shows_that_share(new, share):
    assert drive.chain_elongation(new * (1 + share), new) == share


def test_a_chain_shorter_than_new_is_an_answer():
    assert drive.chain_elongation(152.3, 152.4) < 0


def test_a_new_length_of_nothing_is_asked_about():
    with pytest.raises(OutsideLaw, match="which length has the book"):
        drive.chain_elongation(152.4, 0)


@pytest.mark.truth("derived: half a per cent of 400 mm on a pitch radius of 50 mm: 2.29 cam, 4.58 crank degrees")
def test_half_a_per_cent_lets_the_camshaft_lag():
    lag = drive.chain_retard(0.005, 400, 50)
    assert degrees(lag) == pytest.approx(4.58, abs=0.005)
    assert degrees(lag) / 2 == pytest.approx(2.29, abs=0.005)


def path(links, cam_radius, crank_radius, centres):
    """Where the cam stands when a chain of a given length is laid from the cam mark to the crank mark, by bisection."""
    lean = (cam_radius - crank_radius) / centres
    tangent = sqrt(centres**2 - (cam_radius - crank_radius) ** 2)
    assert lean < 1
    low, high = -1.0, 2.0
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if tangent + cam_radius * middle < links else (low, middle)
    return (low + high) / 2


def test_the_lag_is_that_of_a_chain_laid_out_between_two_sprockets():
    """Links on the teeth at their new pitch: only the free span, the tangent, has grown."""
    cam, crank, centres, share = 50.0, 25.0, 400.0, 0.005
    tangent = sqrt(centres**2 - (cam - crank) ** 2)
    links = tangent + cam * pi / 2
    lag = path(links + share * tangent, cam, crank, centres) - path(links, cam, crank, centres)
    assert drive.chain_retard(share, tangent, cam) == pytest.approx(2 * lag, rel=1e-9)


def test_a_sprocket_without_a_radius_is_asked_about():
    with pytest.raises(OutsideLaw, match="half the pitch diameter"):
        drive.chain_retard(0.005, 400, 0)


@pytest.mark.truth("derived: a span of 200 mm, 0.5 mm and 2 mm too long, sags 6.1 and 12.2, is pushed 7.1 and 14.1 mm")
@pytest.mark.parametrize(("excess", "sag", "pushed"), [(0.5, 6.1, 7.1), (2.0, 12.2, 14.1)])
def test_slack_grows_as_the_root_of_the_excess(excess, sag, pushed):
    assert drive.span_sag(excess, 200) == pytest.approx(sag, abs=0.05)
    assert drive.span_pushed(excess, 200) == pytest.approx(pushed, abs=0.05)


def test_a_parabola_of_that_sag_is_as_long_as_the_chain():
    """Arc of a parabola over its chord, in closed form; the shallow law is good to a hundredth of the excess."""
    span, sag = 200.0, float(drive.span_sag(0.5, 200))
    slope = 4 * sag / span
    arc = span / 2 * sqrt(1 + slope**2) + span / 2 * asinh(slope) / slope
    assert arc - span == pytest.approx(0.5, rel=0.01)


def test_two_straight_halves_pushed_so_far_are_as_long_as_the_chain():
    push = float(drive.span_pushed(2.0, 200))
    assert 2 * hypot(100, push) - 200 == pytest.approx(2.0, rel=0.01)


@given(excess=st.floats(0, 9), span=st.floats(200, 800))
def test_a_finger_pushes_further_than_a_chain_hangs(excess, span):
    assert drive.span_pushed(excess, span) >= drive.span_sag(excess, span)


def test_slack_of_many_spans_at_once():
    assert np.allclose(drive.span_sag(np.array([0.5, 2.0]), 200.0), [6.1237, 12.2474], atol=1e-4)


def test_excess_and_span_exchanged_are_asked_about():
    with pytest.raises(OutsideLaw, match="a twentieth at most: were the two exchanged"):
        drive.span_sag(200, 0.5)
