"""Synthetic traces whose snug and yield are known. Truth: derived, the trace is made from the points."""

import warnings

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from witnessmark.assemble.signature import drops
from witnessmark.assemble.trace import cleaned, key_points, slopes
from witnessmark.assemble.traces import traced

JOINTS = [(0.6, 40.0, 100.0), (1.0, 60.0, 110.0), (2.0, 30.0, 80.0)]  # slope, snug, yield


def made(slope, snug, at, *, n=3000, noise=0.5, seed=1, end=40.0, begin=0.0):
    """Flat at 3, straight from snug, a tenth of the slope from yield."""
    x = np.linspace(begin, at + end, n)
    y = 3 + slope * np.clip(x - snug, 0, at - snug) + 0.1 * slope * np.clip(x - at, 0, None)
    return x, y + np.random.default_rng(seed).normal(0, noise, n)


@pytest.mark.parametrize("joint", JOINTS)
def test_both_points_are_found_in_noise(joint):
    wrong = []
    for seed in range(40):
        found = key_points(*made(*joint, seed=seed))
        assert found.slope == pytest.approx(joint[0], rel=0.06)
        assert found.prevailing == pytest.approx(3, abs=0.2)
        assert found.origin.angle == pytest.approx(joint[1], abs=1.5)
        wrong.append(max(abs(found.snug.angle - joint[1]), abs(found.yielded.angle - joint[2])))
    assert np.quantile(wrong, 0.95) < 1.5


@pytest.mark.parametrize("joint", JOINTS)
def test_steps_of_a_display_do_not_move_the_points(joint):
    x, y = made(*joint, noise=0.1)
    found = key_points(np.round(x), np.round(y, 1))
    assert found.snug.angle == pytest.approx(joint[1], abs=2.5)
    assert found.yielded.angle == pytest.approx(joint[2], abs=2.5)


def test_what_is_not_there_is_not_guessed():
    x, y = made(1.0, 60.0, 110.0, noise=0.05)
    before = key_points(x[x < 100], y[x < 100])
    assert before.yielded.angle is None and "not tightened to yield" in before.yielded.reason
    late = key_points(x[(x > 75) & (x < 100)], y[(x > 75) & (x < 100)])
    assert late.snug.angle is None and "after snug" in late.snug.reason
    assert late.origin.angle is None and late.prevailing is None
    short = key_points(x[:5], y[:5])
    assert short.slope is None and "needs 12" in short.snug.reason
    assert "never rises" in key_points(x, -y).snug.reason
    flat = np.random.default_rng(3).normal(3, 0.5, len(x))
    assert "never rises" in key_points(x, flat).snug.reason
    assert key_points(np.array([]), np.array([])).end.angle is None


def test_a_gap_at_snug_is_told():
    x, y = made(1.0, 60.0, 110.0, noise=0.02)
    keep = (x < 50) | (x > 72)
    found = key_points(x[keep], y[keep])
    assert found.snug.angle is None and "gap" in found.snug.reason
    keep = (x < 104) | (x > 118)
    found = key_points(x[keep], y[keep])
    assert found.yielded.angle is None and "gap" in found.yielded.reason


def test_order_and_repeats_of_points_do_not_matter():
    x, y = made(1.0, 60.0, 110.0)
    mixed = np.random.default_rng(2).permutation(np.tile(np.arange(len(x)), 2))
    one, other = key_points(x, y), key_points(x[mixed], y[mixed])
    assert other.snug.angle == one.snug.angle and other.yielded.angle == one.yielded.angle


def test_slopes_are_those_of_a_fit_by_hand():
    x, y = made(1.0, 60.0, 110.0, n=400)
    found = slopes(x, y)
    for at in (100, 200, 300):
        near = abs(x - x[at]) <= 3 + 1e-9
        assert found[at] == pytest.approx(np.polyfit(x[near], y[near], 1)[0], abs=1e-8)


def test_lists_that_do_not_match_are_told():
    with pytest.raises(ValueError, match="same length"):
        cleaned(np.array([1.0, 2.0]), np.array([1.0]))
    with pytest.raises(ValueError, match="no number"):
        cleaned(np.array([1.0, np.nan]), np.array([1.0, 2.0]))


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(st.one_of(st.integers(-5, 60).map(float), st.floats(-1e5, 1e5)),
                          st.one_of(st.integers(0, 50).map(float), st.floats(-1e10, 1e10))), max_size=80))  # fmt: skip
def test_any_numbers_give_a_point_or_a_reason(points):
    angle, torque = (np.array([one[n] for one in points]) for n in (0, 1))
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        one = traced("1", angle, torque)
        drops(one)
    found = one.points
    for point in (found.alignment, found.snug, found.origin, found.yielded, found.end):
        assert (point.angle is None) == bool(point.reason)
        assert point.angle is None or np.isfinite([point.angle, point.torque, point.doubt]).all()
    for point in (found.alignment, found.snug, found.yielded):
        assert point.angle is None or angle.min() <= point.angle <= angle.max()


def test_jitter_of_the_angle_and_a_long_rundown_do_not_move_the_points():
    rng = np.random.default_rng(5)
    x, y = made(1.0, 760.0, 810.0, n=12_000)
    found = key_points(x + rng.normal(0, 0.3, len(x)), y + 0.002 * x)  # prevailing torque that drifts a little
    assert found.snug.angle == pytest.approx(760, abs=1)
    assert found.yielded.angle == pytest.approx(810, abs=1)
