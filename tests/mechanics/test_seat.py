"""Valve seats: what seat and face have lost together, and what a normal cut is along the axis."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics.law import OutsideLaw
from witnessmark.mechanics.seat import along_axis, seat_and_face_removed

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
