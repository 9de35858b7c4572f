"""Ways beside the best one: other kinds of work, verified, and never cheaper than the bound."""

from contextlib import nullcontext

import numpy as np
import pytest

from plan.blocks import blocks
from plan.toys import bent
from witnessmark.plan.others import MOST, kinds, others
from witnessmark.plan.problem import linear
from witnessmark.plan.solve import KAPPA, solve


@pytest.mark.parametrize("asked", [blocks(1, 6), blocks(5, 8), bent(3, 2), bent(12, 2)], ids=lambda made: f"{len(made.rows)}")
@pytest.mark.parametrize("wanted", [None, 0.97])
def test_others_differ_in_kind_hold_on_the_truth_and_cost_no_less_than_the_bound(asked, wanted):
    model = linear(asked)
    best = solve(asked, model=model, wanted=wanted)
    found = list(others(asked, model, best, 5.0, nullcontext))
    seen = [kinds(asked, best.amounts)] + [kinds(asked, one.amounts) for _, one in found]
    assert len(set(seen)) == len(seen)
    assert len(found) <= MOST
    price = np.array([one.cost for one in asked.offers])
    for _, one in found:
        assert np.all(one.rooms - KAPPA * one.u >= -1e-7)
        assert one.cost == pytest.approx(price @ (one.amounts > 0))
        assert one.bound <= one.cost
        assert 0 <= one.chance <= 1


def test_what_is_barred_is_not_in_it():
    asked = blocks(1, 6)
    model = linear(asked)
    best = solve(asked, model=model)
    for name, one in others(asked, model, best, 5.0, nullcontext):
        if name.startswith("without "):
            assert name.removeprefix("without ") not in kinds(asked, one.amounts)


def test_how_a_band_is_narrowed_makes_no_other_kind():
    asked = bent(3, 1)
    amounts = np.array([0.1 if one.operation in ("seat_cut", "relief_top") else 0.0 for one in asked.offers])
    assert kinds(asked, amounts) == {"seat_cut"}
