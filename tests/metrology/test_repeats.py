"""Repeats: what they tell of the scatter, and what a mean gains."""

import numpy as np
import pytest

from witnessmark.metrology.repeats import doubt_of_scatter, means, repeatability, scatter_seen

TWENTY = [96.9, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42, 100.68, 100.95]
TWENTY += [101.11, 101.2, 101.57, 101.84, 102.36, 102.72]


@pytest.mark.truth("JCGM 100:2008, 4.4.3 and Table 1: mean 100.14, s 1.49, u of the mean 0.33")
def test_twenty_readings():
    s, dof = scatter_seen(TWENTY)
    assert means(TWENTY, [0] * 20)[0] == pytest.approx([100.145], abs=1e-9)  # printed 100.14, cut
    assert s == pytest.approx(1.49, abs=0.005)
    assert s / np.sqrt(20) == pytest.approx(0.33, abs=0.005)
    assert dof == 19


@pytest.mark.truth("NIST StRD SiRstv: residual standard deviation to 15 digits")
def test_scatter_pooled_over_groups_is_the_certified_one(truth):
    data = truth("five-instruments")
    values = np.concatenate([row["values"] for row in data["readings"]])
    s, dof = scatter_seen(values, np.repeat(np.arange(5), 5))
    assert s == pytest.approx(data["residual_sd"], rel=1e-10)
    assert dof == data["dof"]


@pytest.mark.truth("Montgomery 1991: 25 samples of 5 rings, mean 74.001 mm, mean range 0.023 mm")
def test_ring_diameters(truth):
    data = truth("ring-diameters")
    rings = np.array(data["samples"])
    mean, count = means(rings.ravel(), np.repeat(np.arange(25), 5))
    assert mean.mean() == pytest.approx(data["expected"]["mean_mm"], abs=0.0005)
    assert np.ptp(rings, axis=1).mean() == pytest.approx(data["expected"]["mean_range_mm"], abs=0.0005)
    assert (count == 5).all()
    s, dof = scatter_seen(rings.ravel(), np.repeat(np.arange(25), 5))
    assert dof == 100
    assert s == pytest.approx(np.ptp(rings, axis=1).mean() / 2.326, rel=0.05)  # range and root mean square agree


@pytest.mark.truth("JCGM 100:2008, E.4.3, Table E.1: percent for n = 2, 3, 4, 5, 10, 20, 30, 50")
def test_three_repeats_tell_little():
    percent = 100 * doubt_of_scatter([2, 3, 4, 5, 10, 20, 30, 50])
    assert percent == pytest.approx([76, 52, 42, 36, 24, 16, 13, 10], abs=0.5)


def test_one_reading_tells_nothing_of_the_scatter():
    with pytest.raises(ValueError, match="no place was measured twice"):
        scatter_seen([5.95, 5.96, 5.97], [0, 1, 2])


@pytest.mark.parametrize("step", [0.001, 0.0254 * 0.1])  # a micrometre, and a tenth of a thousandth of an inch
@pytest.mark.parametrize("s", [0.6, 1.0, 3.0])
def test_scatter_before_rounding_is_found_from_rounded_repeats(s, step):
    rng = np.random.default_rng(11)
    truths = rng.uniform(0, 1, (40_000, 1))
    shown = step * np.round(truths + s * rng.standard_normal((40_000, 2)))
    found = repeatability(shown.ravel(), step, np.repeat(np.arange(40_000), 2))
    assert found.s == pytest.approx(s * step, rel=0.02)
    assert found.dof == 40_000


def test_repeats_that_all_show_the_same_leave_no_scatter_and_no_less_than_none():
    assert repeatability([5.95, 5.95, 5.95], 0.01).s == 0.0


def test_repeats_of_a_steady_gauge_keep_the_whole_error_of_rounding():
    """Why the step is not shrunk by repeats: ten readings rounded alike are one reading."""
    rng = np.random.default_rng(12)
    true = rng.uniform(0, 1, (20_000, 1))
    mean = np.round(true + 0.02 * rng.standard_normal((20_000, 10))).mean(1)
    wrong = (mean - true[:, 0]).std()
    assert wrong > 0.9 / np.sqrt(12)
    assert wrong < np.hypot(0.02, 1 / np.sqrt(12))
