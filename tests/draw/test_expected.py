"""A pressure in the bracket of what is expected: dotted, to one scale, and what lies off the scale is pointed at."""

import pytest

from witnessmark.draw.expected import R, against_expected
from witnessmark.draw.extent import box
from witnessmark.draw.scale import Scale
from witnessmark.draw.shape import Circle, flat

SCALE = Scale(0.8, 1.6, 200.0)
BAND = (1.1, 1.3, 1.5)


def points(picture, role):
    return [one for one in flat(picture.shapes) if isinstance(one, Circle) and one.role == role]


def drawn(value=None, before=None, expected=BAND):
    return against_expected(SCALE, expected, value, before, "Cylinder 1")


def test_the_bracket_runs_over_what_is_expected():
    (bracket,) = (one for one in drawn(1.2).shapes if one.role == "usual")
    left, _, right, _ = box(bracket)
    assert (left, right) == (pytest.approx(SCALE.x(1.1)), pytest.approx(SCALE.x(1.5)))


def test_a_reading_stands_where_it_is_and_the_one_before_is_open():
    picture = drawn(1.2, 0.9)
    assert [one.x for one in points(picture, "ink")] == [pytest.approx(SCALE.x(1.2))]
    assert [one.x for one in points(picture, "thin")] == [pytest.approx(SCALE.x(0.9))]


@pytest.mark.parametrize("value", [0.2, 3.0])
def test_what_lies_off_the_scale_is_pointed_at_and_stays_in_the_picture(value):
    picture = drawn(value)
    (point,) = points(picture, "ink")
    assert R < point.x < SCALE.width - R
    assert len([one for one in picture.shapes if one.role == "ink"]) == 2  # the point and its arrow
    left, right = (end(box(one)[at] for one in picture.shapes) for end, at in ((min, 0), (max, 2)))
    assert left >= 0
    assert right <= SCALE.width


def test_nothing_read_is_dashed_and_nothing_expected_has_no_bracket():
    roles = {one.role for one in drawn().shapes}
    assert "hidden" in roles and "ink" not in roles
    assert "usual" not in {one.role for one in drawn(1.2, expected=None).shapes}
