"""Chance of a range: against the printed factors, closed forms and simulation."""

import numpy as np
import pytest
from scipy import integrate, stats

from witnessmark.metrology.range_chance import chance_of_range, chance_shown, mean_range

TRIALS = 100_000


@pytest.mark.truth(
    "D. C. Montgomery, Introduction to Statistical Quality Control, 7th ed., Appendix VI: d2 for n = 2 to 10"
)
def test_mean_range_of_normal_readings(truth):
    for row in truth("range-factors")["rows"]:
        assert mean_range(row["n"]) == pytest.approx(row["d2"], abs=0.00051), row["n"]


@pytest.mark.truth("D. C. Montgomery, 7th ed., Appendix VI: c4, and JCGM 100:2008, E.4.3")
def test_standard_deviation_of_a_standard_deviation_has_the_same_c4(truth):
    from witnessmark.metrology.repeats import doubt_of_scatter

    for row in truth("range-factors")["rows"]:
        c4 = 1 / np.sqrt(1 + doubt_of_scatter(row["n"]) ** 2)
        assert c4 == pytest.approx(row["c4"], abs=0.00005), row["n"]


@pytest.mark.parametrize("m", [2, 3, 5, 10])
def test_without_form_it_is_the_studentised_range_with_known_sigma(m):
    r = np.array([0.1, 1.0, 2.5, 4.0, 6.0])
    known = [
        integrate.quad(
            lambda x, w=w: m * stats.norm.pdf(x) * (stats.norm.cdf(x + w) - stats.norm.cdf(x)) ** (m - 1), -8, 8
        )[0]
        for w in r
    ]
    assert chance_of_range(r, 0.0, (m, 0, 0)) == pytest.approx(known, abs=1e-8)


def test_of_two_stations_it_is_a_folded_normal():
    r, apart = np.array([0.5, 2.0, 5.0]), 3.0
    s = np.sqrt(2)
    assert chance_of_range(r, apart, (1, 1, 0)) == pytest.approx(
        stats.norm.cdf((r - apart) / s) - stats.norm.cdf((-r - apart) / s)
    )


def test_a_range_below_nothing_is_never_seen():
    assert chance_of_range([-1.0, 0.0], 1.0, (1, 1, 2)).tolist() == [0, 0]
    assert chance_shown([-2.0], 1.0, 0.3, 1.0, (1, 1, 2)).tolist() == [0]


@pytest.mark.parametrize("ends", [(1, 1, 0), (1, 1, 2), (2, 2, 0), (4, 4, 0), (4, 0, 0)])
@pytest.mark.parametrize("s", [0.1, 0.5, 2.0])
@pytest.mark.parametrize("true_range", [0.0, 1.0, 2.6])
def test_a_display_shows_ranges_as_in_simulation(ends, s, true_range):
    rng = np.random.default_rng(5)
    low, high, midway = ends
    places = true_range * np.repeat([0.0, 1.0, 0.5], [low, high, midway])
    seen = np.ptp(
        np.round(rng.uniform(0, 1, (TRIALS, 1)) + places + s * rng.standard_normal((TRIALS, sum(ends)))), axis=1
    )
    for r in range(6):
        assert chance_shown(float(r), true_range, s, 1.0, ends) == pytest.approx((seen <= r).mean(), abs=0.006)


def test_a_fine_display_shows_what_there_is():
    r = np.array([1.0, 3.0, 5.0])
    assert chance_shown(r, 2.0, 1.0, 1e-4, (1, 1, 2)) == pytest.approx(chance_of_range(r, 2.0, (1, 1, 2)), abs=1e-4)


def test_far_above_the_true_range_all_is_seen():
    assert chance_shown([50.0, 500.0], 2.0, 0.2, 1.0, (1, 1, 2)).tolist() == [1, 1]


def test_one_station_has_no_range():
    with pytest.raises(ValueError, match="needs 2 at least"):
        mean_range(1)
