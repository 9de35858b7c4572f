"""What a valve that sits deeper moves: each law against distances measured in a drawing of points."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics import sink
from witnessmark.mechanics.law import OutsideLaw

cuts = st.fractions(min_value=0, max_value=2, max_denominator=1000)
either = st.fractions(min_value=-2, max_value=2, max_denominator=1000)


def drawn(seat=0.0, face=0.0, tip=0.0, cap=0.0, shim=0.0, skim=0.0):
    """Points of valve and head along the axis [mm], up into the head positive; the seat touches the face."""
    gasket_face, seat_line, spring_seat, retainer, top, guide = 0.0 + skim, 2.0, 60.0, 98.0, 104.0, 75.0
    up = seat + face
    return {
        "stem": top + up - tip + cap - spring_seat,
        "spring": retainer + up - spring_seat - shim,
        "recession": seat_line + up - gasket_face,
        "gap": retainer + up - guide,
    }


@given(*(st.floats(0, 1) for _ in range(6)))
def test_every_height_is_the_distance_of_two_points(seat, face, tip, cap, shim, skim):
    then = drawn(seat, face, tip, cap, shim, skim)
    up = sink.valve_sunk(seat, face, 0.0)
    assert sink.stem_height(44.0, up, tip, 0.0, cap) == pytest.approx(then["stem"])
    assert sink.installed_height(38.0, up, shim) == pytest.approx(then["spring"])
    assert sink.seat_recession(2.0, up, skim) == pytest.approx(then["recession"])
    assert sink.retainer_seal_gap(23.0, up, 0.0) == pytest.approx(then["gap"])


@pytest.mark.truth("derived: metal normal to a cone over the cosine of its angle")
@pytest.mark.parametrize(("degrees", "axial", "half"), [(30, 1.155, 5e-4), (45, 1.4142, 5e-5), (46, 1.440, 5e-4)])
def test_a_face_loses_more_along_the_axis_than_normal_to_it(degrees, axial, half):
    assert sink.face_axial(1.0, math.cos(math.radians(degrees))) == pytest.approx(axial, abs=half)


@given(st.floats(1.0, 3.0), st.floats(0.0, 0.5), st.floats(0.2, 1.0))
def test_the_margin_is_the_edge_between_two_planes(margin, normal, angle):
    """The face line shifted by the normal cut meets the head's rim nearer to its flat side."""
    shifted = -normal * math.hypot(1, math.tan(angle))  # where z = r tan(angle) + shifted meets the rim at r = 0
    if margin + shifted > 0.01:
        assert sink.margin(margin, sink.face_axial(normal, math.cos(angle))) == pytest.approx(margin + shifted)


def test_a_margin_ground_away_and_a_groove_reached_are_refused_with_what_to_do():
    with pytest.raises(OutsideLaw, match=r"a margin of 0.5 mm is gone .* take another valve"):
        sink.margin(0.5, 0.6)
    with pytest.raises(OutsideLaw, match="reaches the keeper groove, which is 1 mm away"):
        sink.tip_to_groove(1.0, 1.0)


@given(either, cuts, cuts)
def test_what_brings_the_stem_back_does_not_bring_the_spring_back(found, feed, shim):
    assert sink.stem_height(found, feed, feed, 0, 0) == found
    assert sink.installed_height(found, feed, 0) == found + feed
    assert sink.installed_height(found, feed, feed) == found


@given(cuts, cuts)
def test_a_new_valve_takes_back_what_the_old_face_had_lost(feed, lost):
    assert sink.valve_sunk(feed, lost, lost) == feed


def test_counts_add_up_and_sizes_that_nothing_touches_stay():
    assert sink.added(Fraction("0.1"), Fraction("0.2")) == Fraction("0.3")
    assert sink.taken(Fraction(133), Fraction("0.3")) == Fraction("132.7")
    assert sink.same(5.97) == 5.97


def test_a_seal_goes_down_with_its_guide():
    assert sink.retainer_seal_gap(12.0, 0.3, 0.5) == pytest.approx(12.8)


@pytest.mark.truth("derived: a reading of 0.05 at the seat stands for 0.035 at 45 degrees and 0.025 at 30")
@pytest.mark.parametrize(("degrees", "gap"), [(45, 0.035), (30, 0.025)])
def test_runout_opens_a_gap_by_the_sine_of_the_seat(degrees, gap):
    assert sink.seat_leak_gap(0.05, math.sin(math.radians(degrees))) == pytest.approx(gap, abs=5e-4)


@given(st.floats(0.3, 1.2), st.floats(0.005, 0.1))
def test_the_gap_is_that_of_two_cones_whose_axes_are_apart(angle, runout):
    """In section: a face pushed to touch on one side by an axis that is off by half the runout leaves its whole."""
    off = runout / 2
    line = math.tan(angle)
    # seat: z = |r| tan; face about off, lowered until its nearer side touches: z = |r - off| tan + off tan
    right = (20 - off) * line + off * line - 20 * line
    left = (20 + off) * line + off * line - 20 * line
    assert right == pytest.approx(0.0, abs=1e-9)
    assert sink.seat_leak_gap(runout, math.sin(angle)) == pytest.approx(left * math.cos(angle))
