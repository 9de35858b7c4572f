"""Crank and piston: against printed examples, and against a triangle solved by its sides."""

from math import cos, pi, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from witnessmark.mechanics.crank import deck_clearance, piston_drop, piston_speed
from witnessmark.mechanics.law import OutsideLaw


def pin_height(angle, throw, rod):
    """Height of the piston's pin over the crank: where a circle of the rod about the crankpin meets the bore's line."""
    at = throw * sin(angle), throw * cos(angle)
    return brentq(lambda y: np.hypot(at[0], y - at[1]) - rod, at[1], at[1] + 2 * rod, xtol=1e-12)


@given(st.floats(0, 2 * pi), st.floats(20, 120), st.floats(1.3, 4))
def test_the_piston_stands_where_the_triangle_closes(angle, stroke, share):
    rod = share * stroke
    top = stroke / 2 + rod
    assert piston_drop(angle, stroke, rod) == pytest.approx(top - pin_height(angle, stroke / 2, rod), abs=1e-8)


@given(st.floats(0, 2 * pi), st.floats(20, 120), st.floats(1.3, 4))
def test_its_speed_is_the_slope_of_where_it_stands(angle, stroke, share):
    h = 1e-5
    slope = (piston_drop(angle + h, stroke, share * stroke) - piston_drop(angle - h, stroke, share * stroke)) / (2 * h)
    assert piston_speed(angle, stroke, share * stroke) == pytest.approx(slope, abs=1e-4)


def two_terms(angle, throw, rod):
    """The approximation of the books [mm/rad]."""
    return throw * (sin(angle) + sin(2 * angle) * throw / (2 * rod))


@pytest.mark.truth("Khurmi and Gupta, Theory of Machines, ch. 15: 0.3 and 1.5 m, 180 r/min, 40 degrees")
def test_a_textbook_speed_is_the_two_term_one_and_ours_a_thousandth_off():
    turn = 180 * 2 * pi / 60 / 1000  # rad/s, and mm to m
    assert two_terms(radians(40), 300, 1500) * turn == pytest.approx(4.19, abs=0.005)
    assert piston_speed(radians(40), 600, 1500) * turn == pytest.approx(4.1964, abs=5e-5)  # exact, recomputed


@pytest.mark.truth("Khurmi and Gupta, Theory of Machines, ch. 15: 0.3 and 1.0 m, 200 r/min: 6.54 m/s at 75 degrees")
def test_the_greatest_speed_of_a_textbook_engine():
    angles = np.radians(np.arange(60, 90, 0.01))
    speeds = piston_speed(angles, 600.0, 1000.0) * 200 * 2 * pi / 60 / 1000
    assert np.degrees(angles[np.argmax(speeds)]) == pytest.approx(75, abs=0.6)  # of the exact law
    assert speeds.max() == pytest.approx(6.54, rel=0.004)  # a third of a percent faster than the book's two terms
    book = [two_terms(one, 300, 1000) for one in angles]
    assert np.degrees(angles[int(np.argmax(book))]) == pytest.approx(75, abs=0.5)
    assert max(book) * 200 * 2 * pi / 60 / 1000 == pytest.approx(6.54, abs=0.005)


@pytest.mark.truth("derived: half-stroke 43, rod 143, at 10 degrees; 0.085 to 0.251 at 5 to 15 degrees")
@pytest.mark.parametrize(("at", "each", "half"),
                         [(10, 0.16897, 5e-6), (5, 0.085, 5e-4), (8, 0.136, 5e-4), (12, 0.202, 5e-4), (15, 0.251, 5e-4)])  # fmt: skip
def test_millimetres_for_each_degree(at, each, half):
    assert piston_speed(radians(at), 86.0, 143.0) * pi / 180 == pytest.approx(each, abs=half)


@given(st.floats(-3, 3), st.floats(20, 120), st.floats(1.3, 4))
def test_the_piston_is_as_low_before_top_as_after(angle, stroke, share):
    assert piston_drop(-angle, stroke, share * stroke) == pytest.approx(piston_drop(angle, stroke, share * stroke))
    assert piston_speed(-angle, stroke, share * stroke) == pytest.approx(-piston_speed(angle, stroke, share * stroke))


def test_the_stack_of_centre_lines():
    assert deck_clearance(220.0, 86.0, 143.0, 33.5) == pytest.approx(0.5)
    assert deck_clearance(220.0, 86.0, 143.0, 34.2) == pytest.approx(-0.2)
    assert deck_clearance(220.0, 86.0, 143.0, 33.5) - deck_clearance(219.7, 86.0, 143.0, 33.5) == pytest.approx(0.3)


def test_inch_is_millimetre():
    assert piston_drop(0.3, 3.5, 6.0) * 25.4 == pytest.approx(piston_drop(0.3, 3.5 * 25.4, 6.0 * 25.4))


def test_a_rod_shorter_than_the_throw_is_asked_back():
    for law in (piston_drop, piston_speed):
        with pytest.raises(OutsideLaw, match="a rod of 40 mm is shorter than the throw"):
            law(0.2, 86.0, 40.0)
