"""How a law refuses: by name and place for a person, by NaN in a batch."""

from fractions import Fraction

import numpy as np
import pytest

from witnessmark.mechanics import spring
from witnessmark.mechanics.law import OutsideLaw, masked, require


def test_a_law_that_holds_says_nothing():
    require(Fraction(1, 3) < 1, "never told {x:g}", x=1)
    require(np.array([True, True]), "never told")


def test_the_first_place_where_it_does_not_hold_is_named():
    with pytest.raises(OutsideLaw, match=r"it is 4 \(position 1, 0\)"):
        values = np.array([[1.0, 2.0], [4.0, 5.0]])
        require(values < 3, "it is {value:g}", value=values)


def test_a_batch_goes_on_past_the_samples_outside_the_law():
    loads = masked(spring.seat_load, 30.0, 50.0, np.array([40.0, 50.5, 41.0]))
    assert loads[0] == 300.0
    assert np.isnan(loads[1])
    assert loads[2] == 270.0


def test_a_batch_may_divide_by_nothing_on_its_way_to_nan():
    rate = masked(spring.spring_rate, np.array([40.0, 40.0]), 300.0, np.array([30.0, 40.0]), 600.0)
    assert rate[0] == 30.0
    assert np.isnan(rate[1])


def test_after_a_batch_a_law_refuses_again():
    masked(spring.seat_load, 30.0, 50.0, np.array([51.0]))
    with pytest.raises(OutsideLaw):
        spring.seat_load(30.0, 50.0, 51.0)


def test_a_batch_of_one_law_within_another_keeps_its_own_places():
    def outer(height):
        inner = masked(spring.seat_load, 30.0, 50.0, height + 10)
        require(height > 0, "never told")
        return np.nan_to_num(inner) + height

    assert masked(outer, np.array([1.0, -1.0]))[0] == 1.0 + 30.0 * 39
    assert np.isnan(masked(outer, np.array([1.0, -1.0]))[1])


def test_a_law_that_hands_back_what_it_was_given_hands_back_its_own():
    given = np.array([1.0, 2.0])
    found = masked(lambda value: value, given)
    assert found.tolist() == given.tolist()
    assert not np.shares_memory(found, given)


def test_what_several_conditions_refuse_is_nan_where_any_of_them_does():
    def law(value):
        require(value > 0, "never told")
        require(value < 3, "never told")
        return value

    assert np.isnan(masked(law, np.array([-1.0, 1.0, 4.0]))).tolist() == [True, False, True]
    assert np.isnan(masked(law, 4.0))
