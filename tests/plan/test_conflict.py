"""What stands in the way: the gauge, limits that contradict each other, or what no cut reaches; and by how little."""

from dataclasses import replace

import numpy as np
import pytest

from plan.toys import offer, problem
from witnessmark.plan.conflict import stands
from witnessmark.plan.problem import linear
from witnessmark.plan.solve import KAPPA, solve


class Between:
    """One cut x between two ends `width` apart, and a third row that has nothing to do with it."""

    def __init__(self, width, u):
        self.width, self.doubt = width, u

    def values(self, amounts):
        x = amounts[:, 0]
        return np.stack([x - 0.20, 0.20 + self.width - x, np.full(len(x), 0.5)], axis=1)

    def u(self, amounts):
        return np.full(3, self.doubt)

    def variances(self):
        return np.full(3, self.doubt**2), np.zeros((3, 1))


def asked(width, u=0.01, physical=(False, False, False)):
    made = problem([offer("seat_cut", "place0", 0, 0.01, 0.60, 0.01, 18.0)], [], Between(width, u), 3, groups=((0,),))
    return replace(made, rows=("stem@v low", "stem@v high", "other@v low"), physical=np.array(physical))


def told(made):
    return stands(made, linear(made))


def test_limits_that_agree_and_a_gauge_that_is_too_coarse():
    made = asked(0.02)
    assert solve(made).status == "impossible"
    found = told(made)
    assert found.kind == "gauge"
    assert {row for row, _ in found.rows} <= {0, 1}
    assert found.rows
    assert all(0 <= u < 0.01 for _, u in found.rows)


def test_with_the_gauge_that_is_asked_for_there_is_a_plan():
    made = asked(0.02)
    needed = min(u for _, u in told(made).rows)
    assert solve(asked(0.02, needed * 0.999), kappa=KAPPA).amounts is not None


@pytest.mark.parametrize("width", [-0.01, -0.05, -0.2])
def test_limits_that_contradict_give_by_as_much_as_they_overlap(width):
    found = told(asked(width))
    assert found.kind == "limits"
    assert {row for row, _ in found.rows} == {0, 1}
    assert sum(gives for _, gives in found.rows) == pytest.approx(-width, abs=1e-4)


def test_the_rows_that_are_named_are_in_the_way_and_none_can_be_left_out():
    made = asked(-0.05)
    rows = [row for row, _ in told(made).rows]
    geometry = made.geometry

    class Fewer(Between):
        def __init__(self, kept):
            super().__init__(geometry.width, 0.0)
            self.kept = kept

        def values(self, amounts):
            return super().values(amounts)[:, self.kept]

        def u(self, amounts):
            return np.zeros(len(self.kept))

        def variances(self):
            return np.zeros(len(self.kept)), np.zeros((len(self.kept), 1))

    def possible(kept):
        fewer = problem(list(made.offers), [], Fewer(kept), len(kept), groups=((0,),))
        return solve(fewer, kappa=0.0).amounts is not None

    assert not possible(rows)
    for row in rows:
        assert possible([other for other in rows if other != row])


def test_physical_rows_never_give_way():
    found = told(asked(-0.05, physical=(True, False, False)))
    assert [row for row, gives in found.rows if gives > 0] == [1]
    assert told(asked(-0.05, physical=(True, True, False))).kind == "physical"
