"""Roundness: a published circle, an oval, a lobed section, and the zone against a search."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from witnessmark.form.roundness import least_squares, minimum_zone, two_point

SIX = ([1, 2, 5, 7, 9, 3], [7, 6, 8, 7, 5, 7])


@pytest.mark.truth("Gander, Golub, Strebel, BIT 34 (1994) 558: centre (4.7398, 2.9835), radius 4.7142")
def test_six_points_of_an_arc():
    circle = least_squares(*SIX)
    assert (circle.x, circle.y, circle.radius) == pytest.approx((4.7398, 2.9835, 4.7142), abs=5e-5)


@pytest.mark.truth("derived: exhaustive search over all centres that four of the six points fix")
def test_minimum_zone_of_the_same_arc():
    circle = minimum_zone(*SIX)
    assert circle.zone == pytest.approx(1.353615062, abs=5e-10)
    assert (circle.x, circle.y) == pytest.approx((4.772727273, 0.4090909091), abs=1e-8)


@pytest.mark.truth("Reuleaux triangle of width 1: circles of 1/√3 and 1 − 1/√3, roundness 2/√3 − 1, diameter constant")
def test_a_lobed_section_hides_from_a_two_point_gauge(truth):
    x, y = np.array(truth("reuleaux")["points"]).T
    circle = minimum_zone(x, y)
    assert circle.zone == pytest.approx(2 / np.sqrt(3) - 1, abs=1e-9)
    assert circle.radius + circle.zone / 2 == pytest.approx(1 / np.sqrt(3), abs=1e-9)
    assert least_squares(x, y).zone == pytest.approx(2 / np.sqrt(3) - 1, abs=1e-9)
    assert np.ptp(two_point(x, y, np.linspace(0, np.pi, 181))) < 0.0022  # 0 but for the gaps between 24 points


@pytest.mark.truth("analytic: ellipse 50.01 by 49.99 mm, zone 0.02, a two-point gauge reads 0.04 mm")
@pytest.mark.parametrize("unit", [1.0, 1 / 25.4])
def test_an_oval_reads_double_on_a_two_point_gauge(unit):
    t = np.radians(np.arange(0, 360, 10))
    x, y = 50.01 * unit * np.cos(t), 49.99 * unit * np.sin(t)
    assert minimum_zone(x, y).zone == pytest.approx(0.02 * unit, abs=1e-9)
    assert least_squares(x, y).zone == pytest.approx(0.02 * unit, abs=1e-9)
    assert np.ptp(two_point(x, y, [0, np.pi / 2])) == pytest.approx(0.04 * unit, abs=1e-9)


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 2**32))
def test_no_centre_nearby_does_better(seed):
    rng = np.random.default_rng(seed)
    t = np.arange(12) * np.pi / 6
    r = 25 + rng.normal(0, 0.01, 12)
    x, y = 3 + r * np.cos(t), -1 + r * np.sin(t)
    circle = minimum_zone(x, y)
    a, b = (circle.x + rng.uniform(-0.02, 0.02, 4000)), (circle.y + rng.uniform(-0.02, 0.02, 4000))
    others = np.ptp(np.hypot(x - a[:, None], y - b[:, None]), axis=1)
    assert circle.zone <= others.min() + 1e-9
    assert circle.zone <= least_squares(x, y).zone + 1e-12


def exhaustive(x, y):
    """Least zone over every centre that can be the best one: four points touch the two circles, two and two or one and
    three, so it lies on two of the lines that halve pairs (a centre of three points lies on all of theirs)."""
    points = np.stack([x, y], 1)
    pairs = list(combinations(range(len(points)), 2))
    normal = np.array([points[j] - points[i] for i, j in pairs])
    offset = np.array([(points[j] @ points[j] - points[i] @ points[i]) / 2 for i, j in pairs])
    best = np.inf
    for a, b in combinations(range(len(pairs)), 2):
        both = np.stack([normal[a], normal[b]])
        if abs(np.linalg.det(both)) > 1e-9:
            centre = np.linalg.solve(both, [offset[a], offset[b]])
            best = min(best, np.ptp(np.hypot(*(points - centre).T)))
    return best


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 2**32), st.integers(5, 8))
def test_the_minimum_zone_is_the_least_of_all_centres_that_can_be_it(seed, n):
    rng = np.random.default_rng(seed)
    t = np.arange(n) * 2 * np.pi / n
    r = 12.5 + rng.normal(0, 0.01, n)
    x, y = 3 + r * np.cos(t), -1 + r * np.sin(t)
    assert minimum_zone(x, y).zone == pytest.approx(exhaustive(x, y), rel=1e-6, abs=1e-9)


@pytest.mark.truth("analytic: r = R + a cos 3t has its zone 2 a about its own centre, and no diameter shows it")
@pytest.mark.parametrize("unit", [1.0, 25.4])
def test_three_lobes_need_twice_their_height(unit):
    t = np.radians(np.arange(0, 360, 15))
    r = (25 + 0.01 * np.cos(3 * t)) * unit
    x, y = r * np.cos(t) + 2 * unit, r * np.sin(t)
    assert minimum_zone(x, y).zone == pytest.approx(0.02 * unit, rel=1e-6)
    assert np.ptp(r + np.roll(r, 12)) == pytest.approx(0, abs=1e-9 * unit)


@pytest.mark.parametrize(
    ("x", "y", "told"),
    [
        ([0, 1], [0, 1], "three points"),
        ([0, 1, 2], [0, 1, 2], "in one line"),
        ([0, 1, np.nan], [0, 1, 0], "no position"),
    ],
)
def test_points_that_fix_no_circle_are_told_why(x, y, told):
    with pytest.raises(ValueError, match=told):
        minimum_zone(x, y)
