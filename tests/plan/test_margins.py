"""Rooms as the planner sees them are those of the geometry; their doubt is the prediction's."""

from dataclasses import replace

import numpy as np
import pytest

from plan.real import THREE, few
from witnessmark.engine.model import evaluate
from witnessmark.engine.predict import predict
from witnessmark.engine.work import worked


def mixture(asked, seed):
    stream = np.random.default_rng(seed)
    least, most = (np.array([getattr(one, key) for one in asked.offers]) for key in ("least", "most"))
    return (least + (most - least) * stream.random(len(least))) * (stream.random(len(least)) < 0.4)


def by_hand(asked, amounts):
    margins = asked.geometry
    work = {}
    for one, amount in zip(asked.offers, amounts, strict=True):
        size = margins.model.axes.size(margins.model.operations[one.operation].axis)
        work.setdefault(one.operation, np.zeros(size))[one.element] += amount
    return work


@pytest.mark.parametrize("seed", range(4))
def test_rooms_are_those_of_the_geometry(seed):
    asked = few(seed, THREE)
    margins = asked.geometry
    amounts = mixture(asked, seed)
    results = evaluate(margins.model, worked(margins.model, margins.state.values, by_hand(asked, amounts)))
    rooms = margins.values(amounts[None])[0]
    for edge, room in zip(margins.edges, rooms, strict=True):
        value = results[edge.spot.characteristic][edge.spot.element]
        assert room == pytest.approx(value - edge.limit if edge.side == "low" else edge.limit - value, abs=1e-12, nan_ok=True)


def test_a_batch_is_what_its_rows_are_one_by_one():
    asked = few(1, THREE)
    several = np.stack([mixture(asked, seed) for seed in range(5)])
    assert asked.geometry.values(several) == pytest.approx(np.concatenate([asked.geometry.values(row[None]) for row in several]), nan_ok=True)


def test_doubt_is_that_of_the_prediction_with_the_machine():
    asked = few(2)
    margins = asked.geometry
    amounts = mixture(asked, 5)
    work = {name: row for name, row in by_hand(asked, amounts).items() if np.any(row)}
    slack = {name: np.where(row != 0, 0.005, 0.0) for name, row in work.items() if name != "valve_replace"}
    if "valve_replace" in work:
        slack["valve_replace"] = np.where(work["valve_replace"] != 0, 0.005, 0.0)
    found = predict(margins.model, margins.state, work, slack)
    for edge, u in zip(margins.edges, margins.u(amounts), strict=True):
        assert u == pytest.approx(found.u[edge.spot.characteristic][edge.spot.element], rel=1e-6, abs=1e-12)


def test_before_any_work_the_variance_is_the_square_of_the_doubt():
    asked = few(3)
    before, added = asked.geometry.variances()
    assert before == pytest.approx(asked.geometry.u(np.zeros(len(asked.offers))) ** 2)
    assert added.shape == (len(asked.rows), len(asked.offers))


def test_of_what_is_made_new_the_new_limit_counts():
    asked = few(0)
    margins = asked.geometry
    edge = next(one for one in margins.edges if one.id == "seat_width@inl-1 high")
    stricter = replace(margins, edges=(replace(edge, fresh=edge.limit - 0.2),))
    at = next(n for n, one in enumerate(asked.offers) if one.id == "seat_cut@inl-1")
    amounts = np.zeros((2, len(asked.offers)))
    amounts[1, at] = 0.05
    plain = replace(margins, edges=(edge,)).values(amounts)[:, 0]
    assert stricter.values(amounts)[:, 0] == pytest.approx([plain[0], plain[1] - 0.2])


def test_the_sample_scatters_about_the_rooms_as_the_doubt_says():
    asked = few(0)
    amounts = np.zeros(len(asked.offers))
    rooms = asked.geometry.sample(amounts, 20_000, 4)
    u = asked.geometry.u(amounts)
    moved = u > 0
    assert rooms.mean(0)[moved] == pytest.approx(asked.geometry.values(amounts[None])[0][moved], abs=4 * u.max() / np.sqrt(20_000))
    assert rooms.std(0)[moved] == pytest.approx(u[moved], rel=0.03)
