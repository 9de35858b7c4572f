"""Straightness: an autocollimator survey, a curve with a known answer, and the zone against brute force."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.form.straightness import across, end_points, heights_from_tilts, least_squares, minimum_zone

# seconds above 2 minutes of arc, there and back; the first stands for the start and repeats the second
FORWARD, BACKWARD = [8, 8, 11, 15, 8, 9, 14], [12, 12, 15, 19, 8, 11, 14]


@pytest.mark.truth(
    "engineering metrology lecture on the autocollimator: heights 0, -1, -0.5, 2, 0, -1, 0 µm; straightness 3 µm"
)
def test_an_autocollimator_survey():
    tilt = (np.array(FORWARD[1:]) + BACKWARD[1:]) / 2  # seconds of arc
    height = heights_from_tilts(tilt * 0.5e-3 / 100, 100.0)  # taken there as 0.5 µm over 100 mm for each second
    position = np.arange(7) * 100.0
    line = end_points(position, height)
    assert line.away * 1000 == pytest.approx([0, -1, -0.5, 2, 0, -1, 0], abs=1e-9)
    assert line.zone * 1000 == pytest.approx(3)
    assert minimum_zone(position, height).zone * 1000 == pytest.approx(3)
    assert least_squares(position, height).zone * 1000 == pytest.approx(3.035714286, abs=5e-10)


@pytest.mark.truth(
    "best uniform straight line for √x on [0, 1] is x + 1/8, zone 1/4 (E. W. Cheney, Approximation Theory)"
)
def test_the_root_has_a_zone_of_a_quarter():
    x = np.linspace(0, 1, 201)
    line = minimum_zone(x, np.sqrt(x))
    assert (line.zone, line.slope, line.offset) == pytest.approx((0.25, 1.0, 0.125), abs=1e-12)
    assert across(line) == pytest.approx(0.176777, abs=5e-7)


@given(st.integers(0, 2**32), st.integers(2, 9))
def test_the_minimum_zone_is_that_of_the_best_line_through_two_points(seed, n):
    """Brute force: one of the two lines touches two points, whatever the survey."""
    rng = np.random.default_rng(seed)
    x, z = np.cumsum(rng.uniform(1, 50, n)), rng.normal(0, 0.02, n)
    slopes = [(z[j] - z[i]) / (x[j] - x[i]) for i in range(n) for j in range(i)]
    best = min(np.ptp(z - slope * x) for slope in slopes)
    assert minimum_zone(x, z).zone == pytest.approx(best, abs=1e-12)


@given(st.integers(0, 2**32), st.floats(-0.01, 0.01), st.floats(-10, 10))
def test_tilt_and_height_of_the_edge_do_not_matter(seed, tilt, lift):
    rng = np.random.default_rng(seed)
    x, z = np.arange(8) * 25.4, rng.normal(0, 0.02, 8)
    for kind in (minimum_zone, end_points, least_squares):
        assert kind(x, z + tilt * x + lift).zone == pytest.approx(kind(x, z).zone, abs=1e-9)


@pytest.mark.parametrize(
    ("x", "z", "told"),
    [
        ([0.0], [0.0], "two points"),
        ([0, 1, 1], [0, 0, 0], "do not rise"),
        ([0, 1], [0, np.inf], "has no height"),
        ([0, 1, 2], [0, 1], "one height for each"),
    ],
)
def test_a_line_that_is_none_is_told_why(x, z, told):
    with pytest.raises(ValueError, match=told):
        minimum_zone(x, z)
