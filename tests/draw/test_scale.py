"""The scale of a column: limits rule it, values do not."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.draw.scale import Scale, Wall, scale_for

STEM = Wall(low=5.940, new_low=5.965, new_high=5.980)


def test_a_stem_with_a_new_limit_keeps_its_wall_and_strip_where_the_sheet_has_them():
    scale = scale_for([STEM])
    assert [round(scale.x(v), 1) for v in (5.940, 5.965, 5.980)] == [57.2, 176.3, 247.7]


def test_inch_and_millimetre_stand_at_the_same_place():
    inch = Wall(low=5.940 / 25.4, new_low=5.965 / 25.4, new_high=5.980 / 25.4)
    assert scale_for([inch]).x(5.952 / 25.4) == pytest.approx(scale_for([STEM]).x(5.952))


def test_two_limits_leave_a_quarter_of_the_width_beyond_each():
    scale = scale_for([Wall(low=1.4, high=2.0)], width=90)
    assert (scale.x(1.4), scale.x(2.0)) == pytest.approx((22.5, 67.5))


def test_inlet_and_exhaust_with_one_limit_each_are_seen_side_by_side():
    scale = scale_for([Wall(low=5.940), Wall(low=5.925)], [5.95, 5.96, 5.955], width=48)
    assert 10.8 <= scale.x(5.925) < scale.x(5.940) < 48 - 10.8


@given(st.floats(-1e3, 1e3), st.lists(st.floats(-5, 5), max_size=3))
def test_one_slip_never_rescales_a_column_of_sixteen(slip, extra):
    values = [5.95 + i * 0.001 for i in range(15)]
    assert scale_for([STEM], [*values, slip, *extra]) == scale_for([STEM], values)
    plain = Wall(low=5.940)
    assert scale_for([plain], [*values, slip]).hi <= scale_for([plain], values).hi + 0.02


@given(st.floats(0.001, 500), st.lists(st.floats(0, 600), max_size=20), st.sampled_from(["low", "high"]))
def test_a_limit_is_always_on_its_scale_with_room_for_a_mark_on_both_sides(limit, values, side):
    for width in (48, 90, 150, 262):
        scale = scale_for([Wall(**{side: limit})], values, width)
        assert 10.8 <= scale.x(limit) <= width - 10.8


def test_without_a_limit_the_values_make_the_scale():
    scale = scale_for([Wall()], [1.0, 1.1, 1.2, 1.3, 99.0])
    assert scale.shows(1.0)
    assert scale.shows(1.3)


def test_without_anything_there_is_still_a_scale():
    assert scale_for([], []).x(0.5) == 131


def test_beyond_the_ends_a_value_is_clipped():
    scale = Scale(0, 10, 100)
    assert (scale.clip(-5), scale.clip(50), scale.shows(10.1)) == (0, 100, False)
