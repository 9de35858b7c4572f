"""The straight model of a bent geometry: near where it bends, and never above it by more than it says."""

from dataclasses import replace

import numpy as np
import pytest

from plan.blocks import blocks
from plan.real import few
from plan.toys import bent
from witnessmark.plan.problem import STRAIGHT, linear


@pytest.mark.parametrize("seed", range(4))
def test_straight_heads_are_met_exactly(seed):
    made = blocks(seed, 8)
    model = linear(made)
    assert np.all(model.slack <= 1e-9)
    stream = np.random.default_rng(seed)
    for _ in range(20):
        amounts = np.array([one.least + (one.most - one.least) * stream.random() for one in made.offers])
        amounts *= stream.random(len(amounts)) < 0.4
        assert model.value(amounts[None])[0] == pytest.approx(made.geometry.values(amounts[None])[0], abs=1e-9)


@pytest.mark.parametrize("made", [bent(1, 1), few(0), few(3)], ids=lambda made: f"{len(made.offers)} choices")
def test_each_choice_alone_lies_near_its_straight_pieces(made):
    model = linear(made)
    for n, one in enumerate(made.offers):
        if any(n in rule.choices and rule.needs for rule in made.rules):
            continue
        tries = np.zeros((9, len(made.offers)))
        tries[:, n] = np.linspace(one.least, one.most, 9)
        apart = np.abs(model.value(tries) - made.geometry.values(tries)) / made.scale
        assert np.nanmax(apart) <= 8 * STRAIGHT, one.id


@pytest.mark.parametrize("made", [bent(1, 2), few(0), few(3)], ids=lambda made: f"{len(made.offers)} choices")
def test_truth_lies_above_the_model_by_no_more_than_the_model_says(made):
    """Mixtures of a stream of its own; of the rows one in a hundred may lie above by a little more."""
    model = linear(made)
    stream = np.random.default_rng(77)
    share = stream.random((400, len(made.offers)))
    least, most = (np.array([getattr(one, key) for one in made.offers]) for key in ("least", "most"))
    amounts = (least + (most - least) * share) * (stream.random(share.shape) < 0.35)
    for rule in made.rules:
        if rule.parts:
            amounts[:, rule.choices[0]] *= amounts[:, rule.choices[1]] == 0
        if rule.needs:
            amounts[:, rule.choices[0]] *= amounts[:, rule.needs[0]] > 0
    above = (made.geometry.values(amounts) - model.value(amounts) - model.slack) / made.scale
    assert np.nanquantile(above, 0.99) <= STRAIGHT
    assert np.nanmax(above) <= 0.05


def test_another_sample_moves_the_slack_and_not_the_model():
    made = bent(1, 2)
    one, other = linear(made, seed=1), linear(made, seed=2)
    assert np.array_equal(one.rest, other.rest)
    assert len(one.pieces) == len(other.pieces)


def test_shifted_constants_move_every_row_by_as_much():
    model = linear(bent(1, 1))
    amounts = np.zeros((1, 6))
    assert model.shifted(np.full(len(model.rest), 0.1)).value(amounts) == pytest.approx(model.value(amounts) + 0.1)
    assert replace(model, rest=model.rest).value(amounts) == pytest.approx(model.value(amounts))
