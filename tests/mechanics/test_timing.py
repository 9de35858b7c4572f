"""Degree wheel: duration, centreline, overlap and separation, against printed events and against a turning lobe."""

from math import acos, cos, degrees, pi, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics import timing
from witnessmark.mechanics.law import OutsideLaw

event = st.floats(min_value=-0.5, max_value=1.9)


@pytest.mark.truth("US Army TM 9-8000, p. 2-36: inlet opens 28 deg BTDC, open for 279 deg; exhaust closes 45 deg ATDC")
def test_the_printed_duration_and_overlap_of_an_army_manual():
    """The manual prints 73 degrees of overlap; 71 degrees after bottom is the closing that its duration leaves."""
    assert degrees(timing.overlap(radians(28), radians(45))) == pytest.approx(73, abs=0.5)
    assert degrees(timing.duration(radians(28), radians(71))) == pytest.approx(279, abs=0.5)


@pytest.mark.truth("derived from US Army TM 9-8000, p. 2-36: 279 / 2 - 28 = 111.5 deg after top dead centre")
def test_the_middle_of_the_printed_inlet_events():
    assert degrees(timing.inlet_centreline(radians(28), radians(71))) == pytest.approx(111.5, abs=0.05)


@pytest.mark.truth("derived: exhaust opens 71 deg BBDC and closes 28 deg ATDC, the mirror of that inlet")
def test_an_exhaust_lobe_is_the_mirror_of_an_inlet_lobe():
    assert degrees(timing.duration(radians(71), radians(28))) == pytest.approx(279)
    assert degrees(timing.exhaust_centreline(radians(71), radians(28))) == pytest.approx(111.5)


@given(middle=st.floats(1.4, 2.4), half=st.floats(0.9, 2.4))
def test_events_laid_out_on_a_wheel_give_back_their_middle(middle, half):
    """A wheel counted onwards from top dead centre: the inlet opens at middle - half and closes at middle + half."""
    opens_before_top, closes_after_bottom = -(middle - half), middle + half - pi
    assert timing.duration(opens_before_top, closes_after_bottom) == pytest.approx(2 * half)
    assert timing.inlet_centreline(opens_before_top, closes_after_bottom) == pytest.approx(middle)
    opens_before_bottom, closes_after_top = middle + half - pi, -(middle - half)
    assert timing.exhaust_centreline(opens_before_bottom, closes_after_top) == pytest.approx(middle)


@given(opens=event, closes=event, late=st.floats(-0.2, 0.2))
def test_a_late_camshaft_keeps_its_duration_and_moves_its_middle(opens, closes, late):
    assert timing.duration(opens - late, closes + late) == pytest.approx(timing.duration(opens, closes))
    moved = timing.inlet_centreline(opens - late, closes + late)
    assert moved == pytest.approx(timing.inlet_centreline(opens, closes) + late)


@given(middle=st.floats(1.2, 2.4), off=st.floats(0.1, 1.0))
def test_two_flanks_of_equal_lift_find_the_middle_that_their_events_find(middle, off):
    wheel = timing.lobe_centreline(middle - off, middle + off)
    assert wheel == pytest.approx(middle)
    assert wheel == pytest.approx(timing.inlet_centreline(-(middle - off), middle + off - pi))


@pytest.mark.truth("common practice, no source: centrelines 106 and 114 crank degrees stand 110 cam degrees apart")
def test_lobes_stand_half_as_far_apart_on_the_camshaft():
    assert degrees(timing.lobe_separation(radians(106), radians(114))) == pytest.approx(110)


def test_lobes_that_are_never_open_together_have_an_overlap_below_nothing():
    assert timing.overlap(radians(-5), radians(-3)) < 0


def test_an_angle_counted_from_the_wrong_dead_centre_is_asked_about():
    with pytest.raises(OutsideLaw, match="counted from the dead centre beside them"):
        timing.duration(radians(-200), radians(10))
    with pytest.raises(OutsideLaw, match="within two turns"):
        timing.duration(radians(350), radians(250))


@pytest.mark.truth("derived from US Army TM 9-8000, p. 2-36: an inlet centre of 111.5 deg, exhaust at 115.5: 2 deg ahead")
def test_a_camshaft_ahead_of_its_even_place():
    assert degrees(timing.cam_advance(radians(111.5), radians(115.5))) == pytest.approx(2)


@given(inlet=st.floats(1.4, 2.4), exhaust=st.floats(1.4, 2.4), turned=st.floats(-0.3, 0.3))
def test_an_advanced_camshaft_is_ahead_by_as_much_and_keeps_its_separation(inlet, exhaust, turned):
    before, after = (inlet, exhaust), (inlet - turned, exhaust + turned)
    assert timing.cam_advance(*after) == pytest.approx(timing.cam_advance(*before) + turned)
    assert timing.lobe_separation(*after) == pytest.approx(timing.lobe_separation(*before))


def test_an_event_is_found_between_two_readings_of_the_dial():
    """Opening flank in mm, and the same in inches: 0.84 at 10 and 1.04 at 12 degrees pass 1.00 at 11.6."""
    told = timing.event_angle(radians(10), 0.84, radians(12), 1.04, 1.00)
    assert degrees(told) == pytest.approx(11.6)
    assert timing.event_angle(radians(10), 0.84 / 25.4, radians(12), 1.04 / 25.4, 1 / 25.4) == pytest.approx(told)
    assert degrees(timing.event_angle(radians(220), 1.04, radians(222), 0.84, 1.00)) == pytest.approx(220.4)


@given(middle=st.floats(1.6, 2.2), lift=st.floats(7, 12), half=st.floats(1.8, 2.4), step=st.floats(0.01, 0.04))
def test_dial_readings_of_a_lobe_give_back_its_events_and_its_middle(middle, lift, half, step):
    """A lobe that lifts as a cosine; events worked out from readings a step apart on either side of 1 mm.

    The chord misses a bent flank by step squared over eight, times its bend over its slope: below 0.03 degrees here."""

    def lifted(angle):
        return lift * (1 + cos(pi * (angle - middle) / half)) / 2

    def found(true):
        first, second = true - 0.4 * step, true + 0.6 * step
        return timing.event_angle(first, lifted(first), second, lifted(second), 1.0)

    off = half / pi * acos(2 / lift - 1)
    opens, closes = found(middle - off), found(middle + off)
    assert opens == pytest.approx(middle - off, abs=5e-4)
    assert timing.lobe_centreline(opens, closes) == pytest.approx(middle, abs=5e-4)
    assert timing.inlet_centreline(-opens, closes - pi) == pytest.approx(timing.lobe_centreline(opens, closes))


def test_readings_on_one_side_of_the_checking_lift_are_asked_about():
    with pytest.raises(OutsideLaw, match="do not lie on either side of 1 mm"):
        timing.event_angle(0.1, 0.5, 0.2, 0.8, 1.0)
