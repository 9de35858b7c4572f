"""Valve seats: what seat and face have lost, what a normal cut is along the axis, how wide three cutters leave it."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics.law import OutsideLaw
from witnessmark.mechanics.seat import along_axis, contact_gap, seat_and_face_removed, seat_width

cuts = st.fractions(min_value=0, max_value=3, max_denominator=1000)
angles = st.floats(min_value=0.0, max_value=math.radians(85))


@given(cuts, cuts)
def test_it_does_not_matter_which_of_the_two_was_cut(seat, face):
    assert seat_and_face_removed(seat, face) == seat_and_face_removed(face, seat) >= max(seat, face)


@pytest.mark.truth("US Army TM 5-3805-255-14: separate limits of removal and a combined one that binds besides them")
def test_each_cut_within_its_own_limit_may_be_out_together():
    """Values invented, pattern as printed: 0.5 and 0.4 alone are within 0.6 and 0.5, the sum is not within 0.8."""
    seat, face = Fraction("0.5"), Fraction("0.4")
    assert seat <= Fraction("0.6")
    assert face <= Fraction("0.5")
    assert seat_and_face_removed(seat, face) > Fraction("0.8")


def test_an_uncut_part_read_a_little_below_nothing_is_no_fault():
    assert seat_and_face_removed(0.30, -0.01) == pytest.approx(0.29)


@pytest.mark.truth("derived: metal normal to a cone over the cosine of its angle, printed to three digits")
@pytest.mark.parametrize(
    ("degrees", "ratio", "half"), [(30, 1.155, 5e-4), (45, 1.414, 5e-4), (46, 1.440, 5e-4), (60, 2.0, 0.05)]
)
def test_what_is_ground_normal_to_the_face_sinks_the_valve_by_more(degrees, ratio, half):
    assert along_axis(1.0, math.cos(math.radians(degrees))) == pytest.approx(ratio, abs=half)


@given(angles, st.floats(0.01, 1.0))
def test_the_sink_shifts_the_cone_by_its_normal(angle, normal):
    """A cone moved along the axis by the sink lies the normal cut away from where it was: distance of two parallels."""
    sink = along_axis(normal, math.cos(angle))
    point = (10.0, 10.0 * math.tan(angle) + sink)  # on the shifted line z = r tan(angle) + sink
    away = abs(point[1] - point[0] * math.tan(angle)) / math.hypot(1, math.tan(angle))
    assert away == pytest.approx(normal)


def test_an_angle_counted_from_the_axis_is_asked_back():
    with pytest.raises(OutsideLaw, match="plane of the head"):
        along_axis(0.2, math.cos(math.radians(89.5)))


def tangents(*degrees):
    return [math.tan(math.radians(one)) for one in degrees]


def profile_width(width, feed, top, bottom, angles, step=2e-4):
    """Width along the face where the seat's own line is the lowest of three, found by walking over the radius.

    The band starts at radius 18; the three lines run through its ends; each cutter lowers its line.
    """
    seat, flat, steep = tangents(*angles)
    inner, outer = 18.0, 18.0 + width * math.cos(math.radians(angles[0]))
    r = np.arange(12.0, 26.0, step)
    own = r * seat - feed
    others = np.minimum(outer * seat + (r - outer) * flat - top, inner * seat + (r - inner) * steep - bottom)
    lowest = r[own <= others]
    return float(lowest[-1] - lowest[0]) / math.cos(math.radians(angles[0])) if len(lowest) else 0.0


ANGLES = [(45, 30, 60), (45, 15, 60), (45, 30, 75), (45, 15, 75), (30, 15, 60), (30, 15, 45)]


@pytest.mark.parametrize("angles", ANGLES)
@pytest.mark.parametrize("cuts", [(0.1, 0, 0), (0.2, 0.2, 0), (0.2, 0, 0.15), (0.25, 0.3, 0.1), (0.1, 0.1, 0.1)])
def test_the_band_is_where_the_seat_is_the_lowest_of_three_lines(angles, cuts):
    told = seat_width(1.5, *cuts, *tangents(*angles))
    assert told == pytest.approx(profile_width(1.5, *cuts, angles), abs=2e-3)


@pytest.mark.parametrize("cuts", [(0.0, 0.5, 0.0), (0.0, 0.0, 0.9), (0.1, 0.4, 0.5)])
def test_reliefs_that_meet_leave_no_seat_and_that_is_said(cuts):
    assert profile_width(1.5, *cuts, (45, 30, 60)) == 0.0
    with pytest.raises(OutsideLaw, match=r"leave nothing of a band of 1.5 mm: feed the seat cutter too"):
        seat_width(1.5, *cuts, *tangents(45, 30, 60))


@pytest.mark.truth("derived: intersections of three lines, printed per millimetre of axial feed")
@pytest.mark.parametrize(
    ("angles", "own", "top", "bottom"),
    [((45, 30, 60), 5.28, -3.35, -1.93), ((45, 15, 60), 3.86, -1.93, -1.93), ((45, 30, 75), 3.86, -3.35, -0.52),
     ((45, 15, 75), 2.45, -1.93, -0.52), ((30, 15, 60), 4.73, -3.73, -1.00), ((30, 15, 45), 6.46, -3.73, -2.73)],
)  # fmt: skip
def test_what_each_cutter_does_to_the_width(angles, own, top, bottom):
    lines = tangents(*angles)
    assert seat_width(1.5, 0.1, 0, 0, *lines) == pytest.approx(1.5 + 0.1 * own, abs=6e-4)
    assert seat_width(1.5, 0, 0.1, 0, *lines) == pytest.approx(1.5 + 0.1 * top, abs=6e-4)
    assert seat_width(1.5, 0, 0, 0.1, *lines) == pytest.approx(1.5 + 0.1 * bottom, abs=6e-4)


@pytest.mark.truth("derived: 45 between 30 and 60, a feed of 0.10 on a band of 1.5")
def test_a_plunge_of_a_tenth():
    assert seat_width(1.5, 0.10, 0, 0, *tangents(45, 30, 60)) == pytest.approx(2.0278, abs=5e-5)


@given(st.floats(0.5, 3.0), st.floats(0.0, 0.5), st.sampled_from(ANGLES))
def test_the_same_feed_on_all_three_sinks_the_profile_unchanged(width, feed, angles):
    assert seat_width(width, feed, feed, feed, *tangents(*angles)) == pytest.approx(width)


def test_a_seat_flatter_than_its_top_relief_is_asked_back():
    with pytest.raises(OutsideLaw, match="must lie between that of its top relief and that of its bottom relief"):
        seat_width(1.5, 0.1, 0, 0, *tangents(30, 45, 60))


@pytest.mark.truth("derived: a band of 1.5 mm cut at 1 degree of interference gapes 0.026 mm at its far edge")
def test_an_interference_angle_leaves_a_gap_at_the_far_edge():
    assert contact_gap(1.5, math.radians(1)) == pytest.approx(0.026, abs=5e-4)


@given(st.floats(0.5, 3.0), st.floats(0.001, 0.02))
def test_the_gap_is_the_distance_of_the_far_edge_from_the_other_line(width, interference):
    edge = width * math.cos(interference), width * math.sin(interference)
    assert contact_gap(width, interference) == pytest.approx(edge[1], rel=1e-3)
