"""The worst of several stations: at the limit, in progress, complete."""

import numpy as np
import pytest

from witnessmark.metrology.conform import OUT, TOO_CLOSE, WITHIN, chance_within
from witnessmark.metrology.doubt import doubt
from witnessmark.metrology.leaves import chances
from witnessmark.metrology.worst import out_confidence, worst, worst_of_chances, worst_of_codes

TRIALS = 20_000


def heads(rng, stations, away=0.0):
    """Many parts with all stations exactly at the limit 0, read with noise 1."""
    value = away + rng.standard_normal(TRIALS * stations)
    return doubt(value, 1.0), np.repeat(np.arange(TRIALS), stations)


@pytest.mark.parametrize("stations", [2, 6, 12])
def test_with_every_station_at_the_limit_one_part_in_twenty_is_condemned(stations):
    known, group = heads(np.random.default_rng(1), stations)
    found = worst(known, np.nan, 0.0, group, TRIALS)
    assert (found.verdict == OUT).mean() == pytest.approx(0.05, abs=0.005)
    assert (found.verdict == WITHIN).mean() <= 0.05


def test_the_product_of_chances_would_condemn_nine_in_ten_and_any_station_one_in_four():
    known, group = heads(np.random.default_rng(2), 6)
    p = chance_within(known, np.nan, 0.0).reshape(TRIALS, 6)
    assert (p.prod(1) <= 0.05).mean() == pytest.approx(0.92, abs=0.01)
    assert (p.min(1) <= 0.05).mean() == pytest.approx(0.26, abs=0.01)
    assert (worst(known, np.nan, 0.0, group, TRIALS).verdict == OUT).mean() == pytest.approx(0.05, abs=0.005)


def test_one_bad_station_is_passed_once_in_twenty_at_most():
    rng = np.random.default_rng(3)
    value = np.stack([rng.standard_normal(TRIALS), *(rng.standard_normal((5, TRIALS)) - 20)], 1)
    found = worst(doubt(value.ravel(), 1.0), np.nan, 0.0, np.repeat(np.arange(TRIALS), 6), TRIALS)
    assert (found.verdict == WITHIN).mean() == pytest.approx(0.05, abs=0.005)


def test_stations_that_share_an_error_are_condemned_less_often():
    rng = np.random.default_rng(4)
    value = np.repeat(rng.standard_normal(TRIALS), 6) * 0.8 + 0.6 * rng.standard_normal(TRIALS * 6)
    found = worst(doubt(value, 1.0), np.nan, 0.0, np.repeat(np.arange(TRIALS), 6), TRIALS)
    assert (found.verdict == OUT).mean() < 0.04


def test_the_least_chance_is_told_with_the_number_of_stations_and_the_station():
    known = doubt([5.95, 5.94, 5.951, 5.97], 0.001)
    found = worst(known, 5.940, np.nan, [0, 0, 0, 1], 2)
    assert found.p_within == pytest.approx([0.5, 1.0])
    assert found.stations.tolist() == [3, 1]
    assert found.decides.tolist() == [1, 3]
    assert found.verdict.tolist() == [TOO_CLOSE, WITHIN]


def test_a_mark_in_progress_is_open_until_complete_but_an_out_is_final():
    known = doubt([5.96, 5.93], 0.001)
    found = worst(known, 5.940, np.nan, [0, 1], 3, planned=6, complete=False)
    assert found.open.tolist() == [True, False, True]
    assert found.verdict.tolist() == [WITHIN, OUT, TOO_CLOSE]
    assert np.isnan(found.p_within[2]) and found.decides[2] == -1
    assert not worst(known, 5.940, np.nan, [0, 1], 2).open.any()


def test_a_station_condemned_while_five_are_missing_stays_condemned_when_they_come():
    at = -float(np.sqrt(2)) * 1.7  # out if it were alone, not as one of six
    so_far = worst(doubt([at], 1.0), 0.0, np.nan, [0], 1, planned=6, complete=False)
    alone = worst(doubt([-1.7], 1.0), 0.0, np.nan, [0], 1)
    as_one_of_six = worst(doubt([-1.7], 1.0), 0.0, np.nan, [0], 1, planned=6, complete=False)
    assert (so_far.verdict[0], alone.verdict[0], as_one_of_six.verdict[0]) == (OUT, OUT, TOO_CLOSE)


def test_the_chance_that_one_station_must_reach():
    assert out_confidence([1, 6]) == pytest.approx([0.95, 0.95 ** (1 / 6)])


def test_side_by_side_the_worst_word_is_told():
    assert worst_of_codes([WITHIN, TOO_CLOSE, OUT]) == OUT
    assert worst_of_codes([WITHIN, TOO_CLOSE]) == TOO_CLOSE
    assert worst_of_codes([]) == WITHIN


def test_six_lines_of_a_face_by_leaves():
    """At most 0.05: five lines refuse the 0.05 leaf; the sixth refuses it, takes it, or was only tried with others."""
    enters, stops = np.array([0.02, 0.03, 0.04, 0.04, 0.03]), np.array([0.03, 0.04, 0.05, 0.05, 0.04])
    for last, verdict in (((0.04, 0.05), WITHIN), ((0.05, 0.06), OUT), ((0.04, 0.06), TOO_CLOSE)):
        below, above = chances([*enters, last[0]], [*stops, last[1]], np.nan, 0.05, 0.001)
        found = worst_of_chances(below, above, [0] * 6, 1)
        assert found.verdict.tolist() == [verdict]
        assert found.decides.tolist() == [5] or verdict == WITHIN


def test_a_station_that_is_not_known_keeps_the_mark_from_within_and_not_from_out():
    unknown, good, bad = np.nan, 0.0, 1.0
    found = worst_of_chances([0.0] * 5, [unknown, good, unknown, bad, unknown], [0, 0, 1, 1, 2], 3)
    assert found.verdict.tolist() == [TOO_CLOSE, OUT, TOO_CLOSE]
    assert np.isnan(found.p_within).tolist() == [True, False, True]
    assert found.decides.tolist() == [0, 3, 4]
