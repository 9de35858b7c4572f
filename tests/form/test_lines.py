"""Straight-edge lines: hollow and crowned, twist, and what lines cannot see."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.form.lines import bow, lower_bound, signed, twist


def test_a_crowned_line_is_positive_and_a_hollow_one_negative():
    assert bow([0, 200, 400], [0.0, 0.06, 0.0]) == pytest.approx(0.06)
    assert bow([0, 200, 400], [0.10, 0.04, 0.10]) == pytest.approx(-0.06)
    assert signed([0.06, 0.04], [True, False]).tolist() == [0.06, -0.04]


@pytest.mark.truth("analytic: z = xy is straight along its edges, one diagonal bowed up, the other hollow")
def test_a_saddle_shows_on_the_diagonals_alone():
    t = np.linspace(-1, 1, 5)
    edges = [bow(t, t * side) for side in (-1, 1)]
    one, other = bow(t, t * t), bow(t, -t * t)
    assert edges == [0, 0]
    assert (one, other) == pytest.approx((-1, 1))
    assert twist(one, other) == pytest.approx(-2)
    assert lower_bound([*edges, one, other]) == pytest.approx(1)  # half of the true 2: lines see a lower bound


@given(corner=st.floats(-0.2, 0.2), bowed=st.floats(-0.2, 0.2))
def test_a_corner_that_stands_out_makes_half_of_it_twist_whatever_the_bow(corner, bowed):
    first = bow([0, 1, 2], [corner, bowed, 0.0])
    second = bow([0, 1, 2], [0.0, bowed, 0.0])
    assert twist(first, second) == pytest.approx(-corner / 2, abs=1e-12)


def test_a_gap_of_less_than_nothing_is_refused():
    with pytest.raises(ValueError, match="hollow or crowned"):
        signed([-0.04], [False])


@pytest.mark.truth("common practice, no source: six lines of a gasket face against 0.004 in")
def test_six_lines_are_told_by_their_worst_in_inches_as_in_millimetres():
    inch = 25.4
    gaps = np.array([0.001, 0.002, 0.0, 0.001, 0.003, 0.002]) * inch
    assert lower_bound(signed(gaps, [False, False, False, True, True, False])) / inch == pytest.approx(0.003)
