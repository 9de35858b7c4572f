"""Samples of the same budget, for laws with a kink."""

import numpy as np
import pytest

from witnessmark.metrology.batch import budget, readings
from witnessmark.metrology.gauge import Calibration, Gauge, Repeatability
from witnessmark.metrology.propagate import combine, covariance
from witnessmark.metrology.sample import chances_of_samples, doubt_of_samples, errors
from witnessmark.metrology.source import bounded

GAUGES = [
    Gauge("M", "m", "mm", 0.001, Calibration(0.004), None, Repeatability(0.0012)),
    Gauge("B", "b", "mm", 0.01, None, 0.01),
]


def batch():
    warm = [bounded("temperature", "t", 2.0)]
    return budget(readings([5.95, 5.96, 6.0], [0, 0, 1], temperature=[0, 0, -1], nominal=60.0), GAUGES, (), warm)


def test_samples_have_the_covariance_of_the_budget():
    drawn = errors(batch(), [0, 1, 2], np.random.default_rng(1), 200_000)
    expected = covariance(combine(batch(), range(3), range(3), 1.0, 3))
    scale = np.sqrt(np.outer(np.diag(expected), np.diag(expected)))
    assert np.abs(np.cov(drawn.T) - expected).max() / scale.max() < 0.01


def test_a_seed_gives_the_same_samples_again():
    assert (
        errors(batch(), [0], np.random.default_rng(7), 50) == errors(batch(), [0], np.random.default_rng(7), 50)
    ).all()


def test_uniform_errors_stay_within_their_bounds():
    coarse = budget(readings([1.0]), [Gauge("B", "b", "mm", 0.01, None, 0.01)])
    assert np.abs(errors(coarse, [0], np.random.default_rng(1), 20_000)).max() <= 0.015


def test_the_least_of_two_is_sampled_where_slopes_mislead():
    rng = np.random.default_rng(2)
    drawn = np.minimum(*rng.standard_normal((2, 200_000)))
    known = doubt_of_samples(drawn[:, None], [0.0])
    assert known.u == pytest.approx([np.sqrt(1 - 1 / np.pi)], abs=0.005)  # closed form of the least of two normals


def test_a_sample_outside_the_law_proves_neither_verdict():
    within, below, above = chances_of_samples([[0.5], [np.nan], [2.0], [-1.0]], 0.0, 1.0)
    assert (within[0], below[0], above[0]) == (0.25, 0.25, 0.25)
    assert chances_of_samples([[np.nan]], np.nan, np.nan)[0] == 0
