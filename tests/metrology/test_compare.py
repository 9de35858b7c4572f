"""Two results for one thing: the E_n score by hand, its symmetries, and what it makes of honest gauges."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.metrology.compare import agrees, compare

SIZE = st.floats(-100, 100)
U = st.floats(1e-4, 1.0)


@pytest.mark.truth("derived: U 0.003 and 0.004 make 0.005 together, so 0.005 apart is E_n 1 and 0.0075 is 1.5")
@pytest.mark.parametrize("unit", [1.0, 25.4])
def test_three_and_four_make_five(unit):
    found = compare(np.array([5.955, 5.9575]) * unit, 5.950 * unit, 0.003 * unit, 0.004 * unit)
    assert found == pytest.approx([1.0, 1.5], abs=1e-9)


@pytest.mark.truth("derived: of two honest gauges with known normal errors 4.55 % lie beyond E_n 1 at k = 2")
def test_honest_gauges_are_told_apart_once_in_twenty():
    rng = np.random.default_rng(7)
    first, second = rng.normal(0, 0.0015, 200_000), rng.normal(0, 0.002, 200_000)
    beyond = np.mean(np.abs(compare(first, second, 0.003, 0.004)) > 1)
    assert beyond == pytest.approx(0.0455, abs=4 * np.sqrt(0.0455 / 200_000))


@given(SIZE, SIZE, U, U)
def test_exchanged_gauges_change_only_the_sign(first, second, U1, U2):
    assert compare(first, second, U1, U2) == pytest.approx(-compare(second, first, U2, U1))


@given(SIZE, SIZE, U, U, st.floats(1, 3))
def test_more_doubt_never_makes_two_results_disagree(first, second, U1, U2, more):
    assert abs(compare(first, second, U1 * more, U2)) <= abs(compare(first, second, U1, U2)) * (1 + 1e-12)


def test_results_without_doubt_agree_only_when_equal():
    assert compare([5.0, 5.0, 5.0], [5.0, 5.1, 4.9], 0, 0).tolist() == [0.0, -np.inf, np.inf]
    assert (agrees(1.0), agrees(-1.0), agrees(1.0000001)) == (True, True, False)


@pytest.mark.parametrize("U1", [-0.001, np.inf, np.nan])
def test_a_doubt_below_nothing_is_refused(U1):
    with pytest.raises(ValueError, match="size of 0 or more"):
        compare(5.0, 5.0, U1, 0.001)
