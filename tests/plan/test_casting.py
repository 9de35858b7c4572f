"""Another casting: a way of its own, with a proof of its own."""

from dataclasses import replace

import pytest

from plan.worked import bench, operations, priced
from witnessmark.plan.offers import Wish
from witnessmark.plan.plan import LEAST_COST, OTHER_HEAD, SUREST, THIS_HEAD, _against, _honest, _ways, plan
from witnessmark.plan.result import Plan
from witnessmark.plan.solve import Solution


@pytest.fixture(scope="module")
def tern():
    return plan(bench("tern"))


def test_a_dear_casting_stands_beside_the_best_plan_to_compare(tern):
    assert "head_replace" not in operations(tern.plans[0])
    assert tern.status == "optimal"
    (other,) = [one for one in tern.plans if one.kind == OTHER_HEAD]
    assert "head_replace" in operations(other) and other.cost > tern.plans[0].cost


def test_what_the_casting_brings_is_not_cut_again_and_its_cracks_are_answered(tern):
    (other,) = [one for one in tern.plans if one.kind == OTHER_HEAD]
    assert not {"crack_repair", "guide_replace", "skim"} & operations(other)
    (put_on,) = [item for item in other.items if item.operation == "head_replace"]
    assert ("head_cracks", "chamber-3") in {(facts["characteristic"], facts["location"]) for _, facts in put_on.reasons}
    flat = next(row for row in other.predicted if row.characteristic == "head_flatness")
    assert flat.verdict == "within"


def test_a_cheap_casting_wins_and_the_head_that_is_there_stands_beside_it():
    found = plan(priced(bench("tern"), head_replace=50.0))
    assert "head_replace" in operations(found.plans[0])
    assert any(one.kind == THIS_HEAD for one in found.plans)
    assert found.plans[0].cost < next(one.cost for one in found.plans if one.kind == THIS_HEAD)


def test_pinned_it_is_in_every_plan_and_forbidden_in_none():
    pinned = plan(replace(bench("wren"), wish=Wish(pins=(("head_replace", "head", 1.0),))))
    assert pinned.plans and all("head_replace" in operations(one) for one in pinned.plans)
    barred = plan(replace(bench("wren"), wish=Wish(forbid=(("head_replace", ""),))))
    assert barred.plans and not any("head_replace" in operations(one) for one in barred.plans)


def test_two_heads_of_a_vee_are_four_ways():
    from witnessmark.plan.build import foreseeable
    from witnessmark.plan.offers import open_work

    made = replace(bench("egret"), wanted=None)
    opened = foreseeable(made, open_work(made.model, made.sheet, made.prices, made.catalogue, made.wish, made.removed))
    heads = [one for one in opened.offers if one.operation == "head_replace"]
    tried = list(_ways(made, opened))
    assert len(tried) == 2 ** len(heads)
    assert [len(one.castings) for one in tried] == sorted(len(one.castings) for one in tried)


def way(cost, bound, castings=0.0, status="optimal"):
    """A way by what counts of it here."""
    import numpy as np

    from witnessmark.plan.beside import Beside
    from witnessmark.plan.margins import Offer
    from witnessmark.plan.plan import Way

    offer = Offer("h", "head_replace", "head", 0, 1, 1, None, castings, 0, "part", 0.0)
    found = Solution(status, np.zeros(1), cost, bound, np.zeros(1))
    return Way((offer,) if castings else (), Beside((), ()), (), None, None, found)


@pytest.mark.parametrize(("other", "status", "bound"), [
    (way(50, 50, castings=100.0), "optimal", 90.0),  # the casting alone costs more
    (way(50, 40, castings=30.0), "feasible", 70.0),  # with it, all might cost 70
    (way(50, -1, castings=95.0), "optimal", 90.0),  # nothing is proven of it, and it costs more in any case
    (way(50, float("inf"), castings=20.0, status="impossible"), "optimal", 90.0),  # it leads nowhere
])  # fmt: skip
def test_a_plan_is_proven_only_where_no_other_way_might_cost_less(other, status, bound):
    found = _against(way(90, 90), [way(90, 90), other]).found
    assert (found.status, found.bound) == (status, bound)


def named(cost, kind):
    return Plan(kind, kind, "feasible", cost, cost, 0.0, "EUR", 0.0, (), (), (), 0.9)


def test_the_best_is_called_surest_where_a_cheaper_one_stands_beside_it():
    assert [one.kind for one in _honest([named(90, LEAST_COST), named(95, "least metal")])] == [LEAST_COST, "least metal"]
    assert [one.kind for one in _honest([named(90, LEAST_COST), named(70, "without skim")])] == [SUREST, LEAST_COST]
