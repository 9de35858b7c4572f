"""The cheapest plan against every plan there is; its bound; its chance; and what is said where there is none."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plan.blocks import blocks
from plan.real import THREE, few
from plan.toys import bent, cheapest, offer, problem
from witnessmark.plan.conflict import stands
from witnessmark.plan.problem import linear
from witnessmark.plan.solve import KAPPA, Objective, chance, money, solve

COARSE = {"seat_cut": (0.1, 0.4, 0.1), "face_grind": (0.1, 0.1, 0.1), "tip_grind": (0.1, 0.2, 0.1),
          "relief_top": (0.2, 0.6, 0.2), "skim": (0.1, 0.1, 0.1)}  # fmt: skip


def holds_against_every_plan(asked):
    """Solve's cost is the least of all plans, its bound is not above it. Returns that cost."""
    least, _ = cheapest(asked, KAPPA)
    found = solve(asked)
    assert found.bound <= least + 1e-5 or not np.isfinite(least)
    assert found.cost == pytest.approx(least, abs=1e-6)
    if found.amounts is not None:
        short = asked.geometry.values(found.amounts[None, :])[0] - KAPPA * asked.geometry.u(found.amounts)
        assert np.all(short >= -1e-7)
        assert found.status in ("optimal", "feasible")
    else:
        assert found.status == "impossible"
    return least


@pytest.mark.truth("every amount of every choice tried")
def test_one_bent_valve_costs_the_least_of_all_plans():
    costs = [holds_against_every_plan(bent(seed, 1)) for seed in range(40)]
    assert sum(np.isfinite(costs)) >= 20


@pytest.mark.slow
@pytest.mark.truth("every amount of every choice tried")
@pytest.mark.parametrize(("seed", "valves"), [(1, 2), (3, 2), (5, 2), (8, 2), (3, 3), (11, 3)])
def test_two_and_three_bent_valves_that_share_a_skim_cost_the_least_of_all_plans(seed, valves):
    ranges = {"seat_cut": (0.1, 0.5, 0.1), "face_grind": (0.1, 0.1, 0.1), "tip_grind": (0.1, 0.2, 0.1),
              "relief_top": (0.2, 0.4, 0.2)}  # fmt: skip
    holds_against_every_plan(bent(seed, valves, **ranges))


@pytest.mark.slow
@pytest.mark.truth("every amount of every choice tried on the engine's geometry")
@pytest.mark.parametrize("seed", [0, 1, 2, 6, 7, 9, 11])
def test_two_valves_of_a_real_head_cost_the_least_of_all_plans(seed):
    holds_against_every_plan(few(seed, **COARSE))


@pytest.mark.slow
@pytest.mark.truth("every amount of every choice tried on the engine's geometry")
def test_three_valves_of_a_real_head_cost_the_least_of_all_plans():
    assert np.isfinite(holds_against_every_plan(few(0, THREE, **COARSE)))


@given(seed=st.integers(0, 10_000), kappa=st.floats(0, 3))
@settings(max_examples=25)
def test_a_plan_is_verified_on_the_truth_and_never_costs_less_than_its_bound(seed, kappa):
    asked = bent(seed, 2)
    found = solve(asked, kappa=kappa)
    if found.amounts is None:
        return
    assert found.bound <= found.cost + 1e-9
    short = asked.geometry.values(found.amounts[None, :])[0] - kappa * asked.geometry.u(found.amounts)
    assert np.all(short >= -1e-7)
    for one, amount in zip(asked.offers, found.amounts, strict=True):
        assert amount == 0 or one.least - 1e-9 <= amount <= one.most + 1e-9
        assert one.step is None or amount / one.step == pytest.approx(round(amount / one.step))


def test_less_doubt_asked_never_costs_more():
    costs = [solve(bent(9, 2), kappa=kappa).cost for kappa in (0.0, 1.0, 1.645, 2.5)]
    assert costs == sorted(costs)


def test_the_order_in_which_choices_are_named_does_not_change_the_cost():
    asked = blocks(4, 8)
    stream = np.random.default_rng(2)
    order = stream.permutation(len(asked.offers))
    back = np.argsort(order)
    straight = asked.geometry
    moved = replace(straight, jump=straight.jump[:, order], slope=straight.slope[:, order], added=straight.added[:, order])
    rules = tuple(replace(rule, choices=tuple(int(back[n]) for n in rule.choices)) for rule in asked.rules)
    other = problem([asked.offers[int(n)] for n in order], rules, moved, len(asked.rows))
    assert solve(other).cost == pytest.approx(solve(asked).cost)


def test_inch_steps_cost_what_millimetre_steps_of_the_same_size_cost():
    inch = {"seat_cut": (0.0508, 0.4572, 0.0508), "face_grind": (0.0508, 0.1524, 0.0508)}
    metric = {key: tuple(25.4 * (value / 25.4) for value in each) for key, each in inch.items()}
    assert solve(bent(12, 1, **inch)).cost == solve(bent(12, 1, **metric)).cost


@pytest.mark.parametrize("seconds", [1e-9, 1e-6])
def test_a_solver_stopped_by_time_says_so_and_raises_nothing(seconds):
    asked = blocks(3, 32)
    found = solve(asked, seconds=seconds, wanted=0.97)
    assert found.status in ("out of time", "feasible", "optimal")
    if found.status == "out of time":
        assert found.amounts is None
        assert found.cost == np.inf
    else:
        assert found.bound <= found.cost


def test_the_solver_and_what_makes_it_surer_write_nothing_to_the_screen(capfd):
    for asked in (blocks(1, 12), bent(3, 2), bent(0, 1)):
        solve(asked, wanted=0.97)
    stands(bent(0, 1), linear(bent(0, 1)))
    assert capfd.readouterr() == ("", "")


def test_nothing_to_choose_from_is_possible_only_where_nothing_is_out():
    class Bare:
        def __init__(self, room):
            self.room = room

        def values(self, amounts):
            return np.full((len(amounts), 1), self.room)

        def u(self, amounts):
            return np.full(1, 0.01)

        def variances(self):
            return np.full(1, 1e-4), np.zeros((1, 0))

        def sample(self, amounts, count, seed):
            return self.room + 0.01 * np.random.default_rng(seed).standard_normal((count, 1))

    kept, broken = (solve(problem([], [], Bare(room), 1), wanted=0.97) for room in (0.05, 0.01))
    assert (kept.status, kept.cost, len(kept.amounts)) == ("optimal", 0.0, 0)
    assert broken.status == "impossible"


def test_what_costs_nothing_may_be_chosen_and_costs_nothing():
    asked = bent(3, 1)
    free = replace(asked, offers=tuple(replace(one, cost=0.0) for one in asked.offers))
    found = solve(free)
    assert (found.status, found.cost) == ("optimal", 0.0)


def test_the_fewest_operations_are_chosen_where_nothing_has_a_price():
    asked = bent(7, 1)
    counted = replace(asked, offers=tuple(replace(one, cost=1.0) for one in asked.offers))
    assert solve(counted).cost == cheapest(counted, KAPPA)[0]


@pytest.mark.parametrize("seed", [3, 8])
def test_a_pinned_amount_is_in_the_plan_to_half_a_step(seed):
    asked = bent(seed, 2)
    at = next(n for n, one in enumerate(asked.offers) if one.operation == "seat_cut")
    free = solve(asked)
    pinned = solve(replace(asked, pins=((at, 0.25),)))
    if pinned.amounts is not None:
        assert pinned.amounts[at] == pytest.approx(0.25)
        assert pinned.cost >= free.cost - 1e-9


def test_two_pins_that_exclude_each_other_are_impossible():
    asked = bent(3, 1)
    face, new = (next(n for n, one in enumerate(asked.offers) if one.operation == name)
                 for name in ("face_grind", "valve_replace"))  # fmt: skip
    assert solve(replace(asked, pins=((face, 0.1), (new, 1.0)))).status == "impossible"


@pytest.mark.parametrize("seed", range(6))
def test_a_surer_plan_costs_no_less_and_holds_more_often(seed):
    asked = blocks(seed, 8)
    plain = solve(asked)
    surer = solve(asked, wanted=0.97)
    assert surer.chance > chance(asked, plain.amounts)
    assert surer.chance >= 0.97
    assert surer.cost >= plain.cost - 1e-9


def test_a_row_that_nobody_can_keep_further_does_not_hold_up_the_others():
    """Of two rows one has just 1.7 u whatever is done; the other can have as much as is asked for."""

    class Two:
        def values(self, amounts):
            stuck = np.where(amounts[:, 0] > 0, 0.017, -0.1)
            return np.stack([stuck, amounts[:, 1] - 0.1], axis=1)

        def u(self, amounts):
            return np.full(2, 0.01)

        def variances(self):
            return np.full(2, 1e-4), np.zeros((2, 2))

        def sample(self, amounts, count, seed):
            noise = np.random.default_rng(seed).standard_normal((count, 2))
            return self.values(amounts[None, :]) + 0.01 * noise

    offers = [offer("valve_replace", "v0", 0, 1.0, 1.0, None, 30.0), offer("seat_cut", "v1", 1, 0.05, 0.3, 0.01, 18.0)]
    found = solve(problem(offers, [], Two(), 2), wanted=0.97)
    assert found.amounts[1] >= 0.13  # 3 u and more
    assert found.chance == pytest.approx(0.955, abs=0.01)  # what the first row alone leaves: Phi(1.7)


@pytest.mark.truth("a sampler written here, of the same engine, row by row")
@pytest.mark.parametrize("seed", [0, 7])
def test_the_chance_is_what_an_independent_sampler_finds(seed):
    """Draws every reading and every cut by itself, works one engine at a time in plain arithmetic."""
    from witnessmark.engine.model import evaluate
    from witnessmark.engine.work import worked

    asked = few(seed, **COARSE)
    found = solve(asked)
    margins = asked.geometry
    told = chance(asked, found.amounts, count=20_000)
    stream = np.random.default_rng(99 + seed)
    count = 20_000
    values = {}
    for name, row in margins.state.values.items():
        spread = margins.state.own.get(name)
        values[name] = np.array([row + (spread * stream.standard_normal(len(row)) if spread is not None else 0.0)
                                 for _ in range(count)])  # fmt: skip
    work = {}
    for n in np.flatnonzero(found.amounts):
        one = asked.offers[int(n)]
        axis = margins.model.operations[one.operation].axis
        row = work.setdefault(one.operation, np.zeros((count, margins.model.axes.size(axis))))
        row[:, one.element] = found.amounts[n] + (0.005 * stream.standard_normal(count) if one.step else 0.0)
    results = evaluate(margins.model, worked(margins.model, values, work))
    good = np.ones(count, bool)
    for edge in margins.edges:
        x = results[edge.spot.characteristic][:, edge.spot.element]
        good &= x >= edge.limit - 1e-9 if edge.side == "low" else x <= edge.limit + 1e-9
    error = np.sqrt(2 * max(told * (1 - told), 1e-4) / count)
    assert good.mean() == pytest.approx(told, abs=3.5 * error)


def test_other_objectives_are_least_too():
    asked = bent(5, 1)
    metal = np.array([1.0 if one.kind == "metal" else 0.0 for one in asked.offers])
    found = solve(asked, Objective("least metal", 1e-3 * metal, metal))
    assert (metal * found.amounts).sum() <= (metal * solve(asked, money(asked)).amounts).sum() + 1e-9
