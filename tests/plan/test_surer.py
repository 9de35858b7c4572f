"""The same work made surer: only amounts move, nothing that held breaks, and the chance does not fall."""

from contextlib import nullcontext
from dataclasses import replace

import numpy as np
import pytest

from plan.blocks import blocks
from plan.toys import bent, offer, problem
from witnessmark.plan.solve import KAPPA, Solution, chance, made_surer, solve
from witnessmark.plan.surer import surer

QUIET = nullcontext


@pytest.mark.parametrize("asked", [blocks(1, 6), blocks(2, 12), bent(3, 2), bent(12, 2)], ids=lambda made: f"{len(made.offers)} choices")
def test_the_same_choices_at_the_same_price_hold_more_often(asked):
    found = solve(asked)
    moved = made_surer(asked, found, 5.0, QUIET)
    assert np.array_equal(moved.amounts > 0, found.amounts > 0)
    assert moved.cost == found.cost
    assert np.all(moved.rooms - KAPPA * moved.u >= -1e-7)
    assert chance(asked, moved.amounts) >= chance(asked, found.amounts) - 1e-3


def test_between_two_ends_the_surest_amount_is_in_the_middle():
    """Room 0.1 + x below and 0.3 - x above, alike in doubt: both are best served at x = 0.10."""

    class Between:
        def values(self, amounts):
            x = amounts[:, 0]
            return np.stack([0.1 + x, 0.3 - x], axis=1)

        def u(self, amounts):
            return np.full(2, 0.1)

        def variances(self):
            return np.full(2, 0.01), np.zeros((2, 1))

    one = offer("seat_cut", "v0", 0, 0.03, 0.25, 0.01, 18.0)
    at = np.array([0.05])
    found = surer(Between(), (one,), at, Between().values(at[None])[0], np.full(2, 0.1), np.zeros(2), frozenset(), 5.0, QUIET)
    assert found[0] == pytest.approx(0.10, abs=0.02)
    held = surer(Between(), (one,), at, Between().values(at[None])[0], np.full(2, 0.1), np.zeros(2), frozenset({0}), 5.0, QUIET)
    assert held[0] == 0.05


def test_what_has_a_price_for_each_millimetre_is_not_moved():
    asked = bent(3, 1)
    dear = replace(asked, offers=tuple(replace(one, cost_each=1.0) for one in asked.offers))
    found = solve(dear)
    assert np.array_equal(made_surer(dear, found, 5.0, QUIET).amounts, found.amounts)


def test_a_pinned_amount_is_not_moved():
    asked = bent(3, 1)
    at = next(n for n, one in enumerate(asked.offers) if one.operation == "seat_cut")
    pinned = replace(asked, pins=((at, 0.25),))
    found = solve(pinned, wanted=0.99)
    assert found.amounts[at] == pytest.approx(0.25)


def test_a_set_without_any_amount_stays_as_it_is():
    class Part:
        def values(self, amounts):
            return amounts - 0.5

        def u(self, amounts):
            return np.full(1, 0.1)

        def variances(self):
            return np.full(1, 0.01), np.zeros((1, 1))

    asked = problem([offer("valve_replace", "v0", 0, 1.0, 1.0, None, 30.0)], [], Part(), 1)
    found = solve(asked)
    assert isinstance(found, Solution)
    assert made_surer(asked, found, 5.0, QUIET) == found
