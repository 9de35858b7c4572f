"""What a lobe lifts."""

from fractions import Fraction
from math import cos, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics.cam import lobe_lift
from witnessmark.mechanics.law import OutsideLaw

exact = st.fractions(min_value=Fraction(1, 100), max_value=100, max_denominator=1000)


@pytest.mark.truth("common practice, no source: 1.626 in over the nose, 1.311 in across the heel, lift 0.315 in")
def test_lift_is_nose_to_heel_less_the_heel():
    assert lobe_lift(Fraction("1.626"), Fraction("1.311")) == Fraction("0.315")
    assert float(lobe_lift(Fraction("1.626") * Fraction("25.4"), Fraction("1.311") * Fraction("25.4"))) == 8.001


@pytest.mark.truth("derived: a follower on a cam whose lift is drawn as a profile of radii")
def test_calipers_over_a_drawn_lobe_find_the_lift_of_its_profile():
    """Radius of a lobe round its axis: heel 16 mm, raised smoothly to 24.5 mm over 60 degrees on either side."""

    def radius(angle):
        turn = abs((angle + pi) % (2 * pi) - pi)
        return 16 + 8.5 * (cos(turn * 1.5) ** 2 if turn < pi / 3 else 0)

    height = radius(0) + radius(pi)
    base = radius(pi / 2) + radius(-pi / 2)
    assert lobe_lift(height, base) == pytest.approx(8.5, rel=1e-12)


@given(base=exact, lift=exact, reground=exact)
def test_a_reground_heel_loses_base_circle_and_keeps_its_lift(base, lift, reground):
    assert lobe_lift(base + lift, base) == lobe_lift(base + lift + reground, base + reground) == lift


def test_a_lobe_without_a_nose_lifts_nothing():
    assert lobe_lift(33.3, 33.3) == 0


def test_the_two_readings_exchanged_are_asked_about():
    with pytest.raises(OutsideLaw, match=r"lobe_height 33\.3 mm is below base_circle 41\.3 mm: were .* exchanged"):
        lobe_lift(33.3, 41.3)
