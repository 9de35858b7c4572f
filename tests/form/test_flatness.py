"""Flatness: a published surface plate, a saddle with a provable answer, and the zone against itself."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from witnessmark.form.flatness import least_squares, minimum_zone

INCH = 25.4
MICROINCH = 1e-6 * INCH


@pytest.mark.truth(
    "J. C. Moody, The Tool Engineer, October 1955, corrected by B. Allen 2019: heights; both zones derived from them"
)
@pytest.mark.parametrize("unit", [INCH, 1.0])
def test_a_surface_plate_of_48_by_72_inch(truth, unit):
    data = truth("surface-plate")
    x, y, z = np.array(data["points"]).T
    derived = data["derived_not_published"]
    place = (x * data["step_inch"] * unit, y * data["step_inch"] * unit, z * 1e-6 * unit)
    assert minimum_zone(*place).zone / (1e-6 * unit) == pytest.approx(derived["minimum_zone_microinch"], abs=5e-6)
    assert least_squares(*place).zone / (1e-6 * unit) == pytest.approx(
        derived["least_squares_span_microinch"], abs=5e-6
    )
    assert z.max() == pytest.approx(178.411, abs=0.0005)


@pytest.mark.truth("analytic: the best uniform plane for z = xy on a square is z = 0")
def test_no_plane_does_better_on_a_saddle_than_the_level_one():
    x, y = (a.ravel() for a in np.meshgrid(np.linspace(-1, 1, 21), np.linspace(-1, 1, 21)))
    assert minimum_zone(x, y, x * y).zone == pytest.approx(2.0, abs=1e-9)
    assert least_squares(x, y, x * y).zone == pytest.approx(2.0, abs=1e-9)


def face(rng, n=12):
    return rng.uniform(0, 400, n), rng.uniform(0, 150, n), rng.normal(0, 0.02, n)


@given(
    seed=st.integers(0, 2**32), tilt_x=st.floats(-1e-3, 1e-3), tilt_y=st.floats(-1e-3, 1e-3), lift=st.floats(-50, 50)
)
def test_how_the_head_lies_on_the_table_does_not_matter(seed, tilt_x, tilt_y, lift):
    x, y, z = face(np.random.default_rng(seed))
    level, tilted = minimum_zone(x, y, z).zone, minimum_zone(x, y, z + tilt_x * x + tilt_y * y + lift).zone
    assert tilted == pytest.approx(level, rel=3e-6)


@given(seed=st.integers(0, 2**32))
def test_the_minimum_zone_holds_every_point_and_is_never_more_than_least_squares(seed):
    x, y, z = face(np.random.default_rng(seed))
    least, fitted = minimum_zone(x, y, z), least_squares(x, y, z)
    assert least.zone <= fitted.zone * (1 + 1e-9)
    assert np.abs(least.away).max() == pytest.approx(least.zone / 2, rel=1e-6)
    assert least.away.shape == x.shape


def exhaustive(x, y, z):
    """Least upright zone over every plane that can be the best one.

    At the best plane three points of one side face one of the other, or two face two (ISO 12781-1 calls both by the
    pattern of their signs): so its slopes are those of a plane through three points, or along two lines through pairs.
    """
    p = np.stack([x, y, z], 1)
    n = len(p)
    triples = [(p[j] - p[i], p[k] - p[i]) for i, j, k in combinations(range(n), 3)]
    pairs = [p[j] - p[i] for i, j in combinations(range(n), 2)]
    normals = np.array([np.cross(a, b) for a, b in [*triples, *combinations(pairs, 2)]])
    upright = normals[np.abs(normals[:, 2]) > 1e-9]
    slopes = -upright[:, :2] / upright[:, 2:]
    return np.ptp(z - slopes @ np.stack([x, y]), axis=1).min()


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 2**32), n=st.integers(4, 9))
def test_the_minimum_zone_is_the_least_of_all_planes_that_can_be_it(seed, n):
    x, y, z = face(np.random.default_rng(seed), n)
    found = minimum_zone(x, y, z)
    square = np.sqrt(1 + found.slope_x**2 + found.slope_y**2)
    assert found.zone * square == pytest.approx(exhaustive(x, y, z), rel=1e-6, abs=1e-9)


@pytest.mark.truth("analytic: a cylinder bowed by h over its length needs h, however wide it is")
@pytest.mark.parametrize("unit", [1.0, 25.4])
def test_a_head_bowed_lengthwise_needs_its_bow(unit):
    x, y = (a.ravel() for a in np.meshgrid(np.linspace(-200, 200, 9), np.linspace(-70, 70, 3)))
    z = 0.06 * (1 - (x / 200) ** 2)
    assert minimum_zone(x * unit, y * unit, z * unit).zone == pytest.approx(0.06 * unit, rel=1e-6)


@pytest.mark.truth(
    "analytic: a bowl z = h (x² + y²) on a square of half-side 1 stands on four corners and its middle: 2 h"
)
def test_a_bowl_needs_its_depth():
    x, y = (a.ravel() for a in np.meshgrid(np.linspace(-1, 1, 11), np.linspace(-1, 1, 11)))
    assert minimum_zone(x, y, 0.03 * (x**2 + y**2)).zone == pytest.approx(0.06, rel=1e-6)


@pytest.mark.truth("analytic: of four corners with one raised by h the best plane leaves h / 2 (two stand against two)")
def test_one_raised_corner_of_four_needs_half_of_it():
    assert minimum_zone([0, 400, 0, 400], [0, 0, 140, 140], [0, 0, 0, 0.08]).zone == pytest.approx(0.04, rel=1e-6)


def test_three_points_are_always_flat():
    assert minimum_zone([0, 100, 0], [0, 0, 100], [0.0, 0.05, 0.02]).zone == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    ("x", "y", "z", "told"),
    [
        ([0, 1], [0, 1], [0, 0], "lie in one line"),
        ([0, 1, 2, 3], [0, 2, 4, 6], [0, 0.1, 0, 0], "lie in one line"),
        ([0, 1, 0], [0, 0, 1], [0, np.nan, 0], "has no height"),
        ([0, 1, 0], [0, 0], [0, 1, 0], "one figure for each point"),
    ],
)
def test_a_survey_that_fixes_no_plane_is_told_why(x, y, z, told):
    with pytest.raises(ValueError, match=told):
        minimum_zone(x, y, z)
