"""Values with their doubt: when a uniform part rules."""

import numpy as np
import pytest

from witnessmark.metrology.doubt import doubt, interval, take


def test_a_uniform_part_rules_from_half_of_the_variance():
    step = np.sqrt(3.0)  # half-width of a uniform part of u = 1
    known = doubt([0, 0], [1.40, 1.42], widest=step)
    assert known.half.tolist() == [step, 0.0]
    assert known.rest == pytest.approx([np.sqrt(1.40**2 - 1), 1.42])


def test_a_scatter_seen_in_three_readings_is_not_trusted_to_be_small():
    known = doubt([0, 0], [1.1, 1.1], [2.0, 9.0], widest=np.sqrt(3.0))
    assert known.half.tolist() == [0.0, np.sqrt(3.0)]


def test_what_is_left_of_a_uniform_part_has_the_few_degrees_of_freedom():
    known = doubt([0.0], [1.25], [50.0], widest=np.sqrt(3.0))
    assert known.rest_dof == pytest.approx([50 * (0.75 / 1.25) ** 4])
    assert doubt([0.0], [1.0]).rest_dof.tolist() == [np.inf]


def test_nothing_but_rounding_has_no_rest():
    known = doubt([0.0], [1.0], [np.inf], widest=np.sqrt(3.0))
    assert known.rest == pytest.approx([0.0], abs=1e-7)


@pytest.mark.truth("JCGM 100:2008, F.2.2.1: an interval of width d has u = 0.29 d")
def test_an_interval_is_uniform():
    known = interval([0.04], [0.05])
    assert known.value == pytest.approx([0.045])
    assert known.u / 0.01 == pytest.approx([0.29], abs=0.005)
    assert known.half == pytest.approx([0.005])


def test_rows_are_taken_in_the_order_asked():
    assert take(doubt([1, 2, 3], 1.0), [2, 0]).value.tolist() == [3, 1]
