"""Form judged as a range: floor, bounds, false verdicts at the limit, and what noise of a mark is."""

import numpy as np
import pytest

from witnessmark.metrology.batch import budget, readings, set_with
from witnessmark.metrology.conform import OUT, TOO_CLOSE, WITHIN
from witnessmark.metrology.gauge import Calibration, Gauge, Repeatability
from witnessmark.metrology.range_form import bounds, chances_at_limit, floor, judge_range, own_noise

TRIALS = 40_000
NOISE = 0.0035  # three standard errors of 5 % in so many trials
INCH = 25.4


@pytest.mark.truth(
    "derived by an independent experiment: m 4, σ 1.5 µm, limit 5 µm: floor 3.09, within to 2.51, out from 9.62"
)
@pytest.mark.parametrize("unit", [1.0, 1 / INCH])
def test_a_journal_by_four_stations(unit):
    within, out = bounds(5 * unit, 1.5 * unit, 4)
    assert floor(1.5 * unit, 4) == pytest.approx([3.09 * unit], abs=0.005 * unit)
    assert within == pytest.approx([2.515 * unit], abs=0.006 * unit)  # printed cut
    assert out == pytest.approx([9.62 * unit], abs=0.005 * unit)


def test_verdicts_change_at_the_bounds():
    mark = judge_range([2.51, 2.53, 9.61, 9.63], 5.0, 1.5, 4)
    assert mark.verdict.tolist() == [WITHIN, TOO_CLOSE, TOO_CLOSE, OUT]
    assert (np.diff(mark.p_at_limit_within) < 0).all()


def test_a_perfect_part_passes_as_often_as_told():
    rng = np.random.default_rng(1)
    mark = judge_range([3.0, 3.0], 5.0, 1.5, [4, 6])
    for m, told in zip((4, 6), mark.perfect_passes, strict=True):
        seen = np.ptp(1.5 * rng.standard_normal((TRIALS, m)), axis=1)
        assert (seen <= bounds(5.0, 1.5, m)[0]).mean() == pytest.approx(told, abs=0.008)


def shapes(stations, limit):
    """Parts with the true range exactly at the limit: the least favourable ones and two others."""
    half, midway, one = (np.zeros(stations) for _ in range(3))
    half[stations // 2 :], one[0] = limit, limit
    midway[:], midway[0], midway[-1] = limit / 2, 0, limit
    return half, midway, one, np.linspace(0, limit, stations)


@pytest.mark.parametrize("stations", [2, 4, 8])
@pytest.mark.parametrize("limit", [0.5, 2.0, 6.0])
def test_at_the_limit_no_shape_is_judged_wrongly_more_than_once_in_twenty(stations, limit):
    rng = np.random.default_rng(2)
    within, out = bounds(limit, 1.0, stations)
    for shape in shapes(stations, limit):
        seen = np.ptp(shape + rng.standard_normal((TRIALS, stations)), axis=1)
        assert (seen <= np.nan_to_num(within, nan=-1)).mean() <= 0.05 + NOISE
        assert (seen >= out).mean() <= 0.05 + NOISE
    for shape, wrong in zip(shapes(stations, limit)[:2], (OUT, WITHIN), strict=True):
        seen = np.ptp(shape + rng.standard_normal((TRIALS, stations)), axis=1)
        hits = (seen >= out) if wrong == OUT else (seen <= within)
        assert hits.mean() == pytest.approx(0.05, abs=NOISE) or within == limit


@pytest.mark.parametrize("stations", [2, 4, 8])
@pytest.mark.parametrize("s", [0.0, 0.1, 0.3, 0.5, 1.0])
@pytest.mark.parametrize("limit", [1.0, 1.5, 3.0])
def test_off_a_display_no_shape_is_judged_wrongly_more_than_once_in_twenty(stations, s, limit):
    """Step 1, limit on a graduation and half-way. With rounding as noise in σ up to 46 in 100 were judged wrongly."""
    rng = np.random.default_rng(3)
    within, out = bounds(limit, np.hypot(s, 1 / np.sqrt(12)), stations, step=1.0)
    place = rng.uniform(0, 1, (TRIALS, 1))
    for shape in shapes(stations, limit):
        seen = np.ptp(np.round(place + shape + s * rng.standard_normal((TRIALS, stations))), axis=1)
        assert (seen <= np.nan_to_num(within, nan=-1)).mean() <= 0.05 + NOISE
        assert (seen >= out).mean() <= 0.05 + NOISE


def test_the_naive_rule_would_condemn_one_part_in_seven():
    """Range compared with the limit through a plain normal of u = √2 σ."""
    rng = np.random.default_rng(4)
    seen = np.ptp(shapes(4, 5.0)[0] + 1.5 * rng.standard_normal((TRIALS, 4)), axis=1)
    assert (seen >= 5 + 1.645 * np.sqrt(2) * 1.5).mean() == pytest.approx(0.15, abs=0.02)


@pytest.mark.parametrize("stations", [2, 4])
def test_a_scatter_from_ten_readings_keeps_the_rate_nearly(stations):
    """Known to stand at 6.5 % at worst; from three readings it would be 9 %."""
    rng = np.random.default_rng(5)
    sigma = rng.standard_normal((2000, 10)).std(axis=1, ddof=1)
    for shape, place in zip(shapes(stations, 3.0)[:2], (1, 0), strict=True):
        seen = np.ptp(shape + rng.standard_normal((2000, stations)), axis=1)
        chance = chances_at_limit(seen, 3.0, sigma, stations, dof=9.0)[place]
        wrong = (chance <= 0.05) if place else (chance >= 0.95)
        assert wrong.mean() <= 0.065 + 0.017


def test_a_range_above_its_limit_is_never_within():
    """σ as great as the limit: eight stations of a part at the limit would mostly show more than 4.4."""
    mark = judge_range([4.0], 3.0, 3.0, 8)
    assert mark.p_at_limit_within[0] > 0.95
    assert mark.verdict.tolist() == [TOO_CLOSE]
    assert bounds(3.0, 3.0, 8)[0] <= 3.0


def test_rounding_widens_no_range_on_average():
    rng = np.random.default_rng(6)
    seen = np.ptp(np.round(rng.uniform(0, 1, (TRIALS, 1)) + 0.4 * rng.standard_normal((TRIALS, 4))), axis=1)
    assert floor(np.hypot(0.4, 1 / np.sqrt(12)), 4, 1.0) == pytest.approx([seen.mean()], abs=0.01)


def test_one_station_is_no_form():
    with pytest.raises(ValueError, match="swept indicator reading"):
        judge_range([0.01], 0.02, 0.001, 1)


MIC = Gauge("M-07", "micrometer", "mm", 0.001, Calibration(0.002), 0.004, Repeatability(0.0012, 20))
BORE = Gauge("B-02", "dial_bore", "mm", 0.002, None, 0.004, Repeatability(0.001, 10))


def test_what_all_stations_share_is_no_noise():
    noise = own_noise(budget(readings([5.95] * 4), [MIC]), range(4), [0] * 4, 1)
    assert noise.sigma == pytest.approx([np.hypot(0.0012, 0.001 / np.sqrt(12))])
    assert noise.step == pytest.approx([0.001])
    assert noise.dof == pytest.approx([19])


def test_what_stations_do_not_share_is_noise():
    settings = [set_with(f"s{i}", BORE, MIC) for i in range(2)]
    batch = budget(readings([6.0] * 4, setting=[0, 0, 0, 1]), [BORE], settings)
    same, reset = own_noise(batch, [0, 1, 2, 3], [0, 0, 1, 1], 2).sigma
    assert reset**2 - same**2 == pytest.approx(settings[0].sources[0].u ** 2)


def test_two_gauges_in_one_mark_have_no_common_step():
    batch = budget(readings([6.0, 6.0], [0, 1]), [MIC, BORE])
    assert own_noise(batch, [0, 1], [0, 0], 1).step.tolist() == [0]
