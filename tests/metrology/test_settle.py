"""What would settle a value too close to call."""

import numpy as np
import pytest

from witnessmark.metrology.conform import OUT, TOO_CLOSE, WITHIN, judge
from witnessmark.metrology.doubt import doubt
from witnessmark.metrology.settle import gauge_U, needed_u, settle


def test_repeats_settle_what_scatter_left_open_if_the_mean_stays():
    known = doubt([0.046], np.hypot(0.001, 0.0035), repeat=0.0035)
    found = settle(known, 0, np.nan, 0.050)
    assert judge(known, np.nan, 0.050)[0].tolist() == [TOO_CLOSE]
    fixed = 0.001**2
    needed = next(n for n in range(2, 99) if 1.6449 * np.sqrt(fixed + 0.0035**2 / n) <= 0.004)
    assert (found.repeats, found.verdict) == (needed, WITHIN)


@pytest.mark.parametrize("y", [0.046, 0.0445])  # settled by three, and by two with room to spare
def test_the_chance_that_they_settle_it_agrees_with_simulation(y):
    """Truth drawn about the first reading, the further readings drawn about the truth; calibration the same in all."""
    rng = np.random.default_rng(1)
    s, shared, high = 0.0035, 0.001, 0.050
    found = settle(doubt([y], np.hypot(shared, s), repeat=s), 0, np.nan, high)
    n, trials = found.repeats, 200_000
    centre = y + s * rng.standard_normal(trials)  # truth plus calibration, as the scatter of one reading tells it
    more = centre + s / np.sqrt(n - 1) * rng.standard_normal(trials)
    mean = (y + (n - 1) * more) / n
    code, _ = judge(doubt(mean, np.sqrt(shared**2 + s**2 / n)), np.nan, high)
    assert found.chance == pytest.approx((code != TOO_CLOSE).mean(), abs=0.005)


def test_repeats_cannot_settle_a_calibration():
    found = settle(doubt([0.049], 0.002, repeat=0.0001), 0, np.nan, 0.050)
    assert (found.repeats, found.chance, found.verdict) == (None, 0.0, TOO_CLOSE)
    assert pytest.approx(2 * 0.001 / 1.644853627) == found.U


def test_on_the_limit_itself_nothing_settles_it():
    assert settle(doubt([0.05], 0.002, repeat=0.001), 0, np.nan, 0.05).U == 0.0


def test_repeats_may_condemn():
    found = settle(doubt([5.936], 0.003, repeat=0.0029), 0, 5.940, np.nan)
    assert found.verdict == OUT


def test_repeats_already_taken_count():
    first = settle(doubt([0.046], np.hypot(0.001, 0.0035), repeat=0.0035), 0, np.nan, 0.05)
    again = settle(
        doubt([0.046], np.hypot(0.001, 0.0035 / np.sqrt(2)), repeat=0.0035 / np.sqrt(2)), 0, np.nan, 0.05, repeats=2
    )
    assert again.repeats == max(first.repeats, 3)


@pytest.mark.parametrize("unit", [1.0, 25.4])
def test_the_doubt_that_is_needed_is_just_enough(unit):
    value, low, high = np.array([0.046, 0.056, 0.012, 0.03]) * unit, 0.01 * unit, 0.05 * unit
    u = needed_u(value, low, high)
    assert (judge(doubt(value, u * 0.9999), low, high)[0] != TOO_CLOSE).all()
    assert (judge(doubt(value, u * 1.001), low, high)[0] == TOO_CLOSE).all()


def test_the_worst_of_six_needs_a_finer_gauge_to_be_out():
    assert needed_u(0.056, np.nan, 0.05, 6) < needed_u(0.056, np.nan, 0.05, 1)


def test_the_gauge_that_is_needed_is_what_the_rest_leaves():
    assert gauge_U(0.005, 0.013, 0.012) != pytest.approx(0.0)  # the rest alone is 0.005: nothing is left
    assert np.isnan(gauge_U(0.004, 0.013, 0.012))
    assert gauge_U(0.013, 0.013, 0.012) == pytest.approx(0.024)
    assert gauge_U(0.013, 0.013, 0.012, slope=-2.0) == pytest.approx(0.012)
