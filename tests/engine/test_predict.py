"""Predictions: slopes against the exact ones, doubt against drawn engines, shared errors that cancel and add."""

import numpy as np
import pytest

from engine.small import QUANTITIES, small
from witnessmark.engine.predict import predict, trials
from witnessmark.engine.slopes import slopes
from witnessmark.engine.state import State, blank
from witnessmark.engine.work import Cut, amounts


def doubtful():
    """One gauge read all stem heights, another all lashes; each valve area is known to 2 mm2 by itself."""
    m = small()
    state = blank(m.axes, QUANTITIES).with_values(
        stem_height=44.0, valve_lash=0.2, chamber_volume=40_000.0, chamber_area=4000.0, new_stem_height=43.9
    )
    depth, leaves = np.zeros((6, 2)), np.zeros((6, 2))
    depth[:, 0], leaves[:, 1] = 0.005, 0.01
    return m, State(m.axes, state.values, state.origin, ("calibration of D-01", "leaf error of L-04"),
                    {"stem_height": depth, "valve_lash": leaves}, {"valve_area": np.full(6, 2.0),
                                                                    "stem_height": np.full(6, 0.003)})  # fmt: skip


def test_slopes_are_those_of_the_law():
    m, state = doubtful()
    work = amounts(m, (Cut("seat_cut", "inl-1f", 0.2), Cut("face_grind", "inl-1f", 0.1), Cut("skim", "head", 0.1)))
    found = slopes(m, state.values, work, ["stem_height", "valve_area", "chamber_area", "@seat_cut", "@face_grind"])
    by = {(one.name, int(one.element[0])): one.by for one in found.by_result["chamber_volume"]}
    assert by["@seat_cut", 0][0] == pytest.approx(100.0, rel=1e-6)
    assert by["@face_grind", 0][0] == pytest.approx(100.0 * 2**0.5, rel=1e-6)
    assert by["chamber_area", 0][0] == pytest.approx(-0.1, rel=1e-4)
    assert by["valve_area", 0][0] == pytest.approx(0.2 + 0.1 * 2**0.5, rel=1e-4)
    assert "stem_height" not in {one.name for one in found.by_result["chamber_volume"]}


def test_doubt_adds_gauge_own_scatter_and_the_tolerance_of_the_cut():
    m, state = doubtful()
    work = amounts(m, (Cut("seat_cut", "inl-1f", 0.2),))
    tolerance = {"seat_cut": np.array([0.006, 0, 0, 0, 0, 0])}
    found = predict(m, state, work, tolerance)
    assert found.u["stem_height"][0] == pytest.approx((0.005**2 + 0.003**2 + 0.006**2) ** 0.5, rel=1e-6)
    assert found.u["stem_height"][1] == pytest.approx((0.005**2 + 0.003**2) ** 0.5, rel=1e-6)
    assert found.shared["stem_height"][0].tolist() == pytest.approx([0.005, 0.0])


def test_drawn_engines_scatter_as_the_slopes_say_and_keep_a_shared_error_in_common():
    m, state = doubtful()
    work = amounts(m, (Cut("seat_cut", "inl-1f", 0.2), Cut("seat_cut", "exh-1", 0.1)))
    tolerance = {"seat_cut": np.where(work["seat_cut"] > 0, 0.006, 0.0)}
    told = predict(m, state, work, tolerance)
    drawn = trials(m, state, work, tolerance, 20_000, 7)
    for name in ("stem_height", "chamber_volume"):
        assert drawn[name].std(0) == pytest.approx(told.u[name], rel=0.03)
        assert drawn[name].mean(0) == pytest.approx(told.values[name], abs=4 * told.u[name].max() / 20_000**0.5)
    apart = drawn["stem_height"][:, 1] - drawn["stem_height"][:, 2]
    assert apart.std() == pytest.approx(0.003 * 2**0.5, rel=0.03)  # the gauge cancels, each reading's own scatter not


def test_the_same_seed_draws_the_same_engines():
    m, state = doubtful()
    one, two = (trials(m, state, {}, {}, 50, 3) for _ in range(2))
    assert all(np.array_equal(one[name], two[name]) for name in one)
