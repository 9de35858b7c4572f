"""The geometry put together: laws find their order, sums their chambers, and what is not known stays not known."""

import numpy as np
import pytest

from engine.small import LAWS, OPERATIONS, QUANTITIES, small
from witnessmark.engine.described import layout
from witnessmark.engine.law import Consequence
from witnessmark.engine.model import evaluate, model, why_not
from witnessmark.engine.quantity import GIVEN, Quantity
from witnessmark.engine.state import UNKNOWN, USUAL, blank
from witnessmark.engine.tables import geometry
from witnessmark.engine.work import Cut, amounts, worked


def known():
    m = small()
    state = blank(m.axes, QUANTITIES).with_values(
        stem_height=44.0, valve_lash=0.2, chamber_volume=40_000.0, chamber_area=4000.0, new_stem_height=43.9
    )
    return m, state


def test_laws_stand_in_an_order_in_which_each_finds_its_arguments():
    m = small()
    order = [step.id for step in m.steps]
    assert order.index("valve_sunk") < order.index("pocket") < order.index("sunk_volume") < order.index("chamber_volume")


def test_no_work_moves_nothing():
    m, state = known()
    found = evaluate(m, state.values)
    assert found["valve_lash"].tolist() == [0.2] * 6
    assert found["chamber_volume"].tolist() == [40_000.0] * 2


def test_a_seat_moves_its_own_valve_and_its_own_chamber_only():
    m, state = known()
    after = evaluate(m, worked(m, state.values, amounts(m, (Cut("seat_cut", "inl-2f", 0.3),))))
    at = m.axes.index("valve", "inl-2f")
    assert after["valve_lash"][at] == pytest.approx(-0.1)
    assert np.delete(after["valve_lash"], at).tolist() == [0.2] * 5
    assert after["chamber_volume"].tolist() == pytest.approx([40_000.0, 40_030.0])


def test_cuts_at_one_place_add_up_and_a_new_part_takes_back_what_was_ground():
    m, state = known()
    cuts = (Cut("face_grind", "exh-1", 0.1), Cut("face_grind", "exh-1", 0.1), Cut("valve_replace", "exh-2", 1.0))
    after = evaluate(m, worked(m, state.values, amounts(m, cuts)))
    assert after["stem_height"][m.axes.index("valve", "exh-1")] == pytest.approx(44.0 + 0.2 * 2**0.5)
    assert after["stem_height"][m.axes.index("valve", "exh-2")] == pytest.approx(43.9)


def test_a_batch_gives_what_its_rows_give_alone():
    m, state = known()
    feeds = np.linspace(0, 0.5, 5)[:, None] * np.ones(6)
    batch = evaluate(m, worked(m, state.values, {"seat_cut": feeds}))
    for n in range(5):
        alone = evaluate(m, worked(m, state.values, {"seat_cut": feeds[n]}))
        for name, value in alone.items():
            assert np.broadcast_to(batch[name], (5, value.shape[-1]))[n].tolist() == value.tolist()


def test_what_is_not_known_stays_so_and_says_what_to_enter():
    m = small()
    state = blank(m.axes, QUANTITIES).with_values(valve_lash=0.2)
    assert state.origin["chamber_area"] == (UNKNOWN,)
    assert state.origin["valve_area"] == (USUAL,) * 6
    found = evaluate(m, state.values)
    assert np.isnan(found["chamber_volume"]).all() and not np.isnan(found["valve_lash"]).any()
    assert why_not(m, state.values, "chamber_volume", 0) == (
        "chamber volume is not known; area of the chamber's mouth is not known"
    )
    assert why_not(m, state.values, "valve_lash", 0) == ""


def test_what_no_law_describes_becomes_unknown_at_its_place_alone_and_says_why():
    m, state = known()
    values = {**state.values, "valve_lash": np.array([0.2, 8.0, 0.2, 0.2, 0.2, 0.2])}
    found = evaluate(m, values)
    assert np.isnan(found["valve_lash"]).tolist() == [False, True, False, False, False, False]
    assert why_not(m, values, "valve_lash", 1) == "valve_lash 8 mm is no lash: was it read in thou?"


def test_work_that_the_engine_has_no_place_for_is_named():
    m = small()
    with pytest.raises(KeyError, match="'lash_cap' changes nothing"):
        amounts(m, (Cut("lash_cap", "inl-1f", 0.2),))
    with pytest.raises(KeyError, match="'inl-7' is none of the valves"):
        amounts(m, (Cut("seat_cut", "inl-7", 0.2),))


def test_a_law_without_its_argument_and_two_laws_for_one_thing_are_slips_of_ours():
    ours = layout({"layout": "inline", "cylinders": "1", "valves": {"inl": "1", "exh": "1"}, "gear": "rocker"})
    with pytest.raises(ValueError, match="no table gives what these laws of rocker ask for"):
        model(ours, QUANTITIES[:-1], LAWS, OPERATIONS)
    with pytest.raises(ValueError, match="two laws give pocket"):
        model(ours, QUANTITIES, (*LAWS, LAWS[2]), OPERATIONS)


def test_a_value_of_each_valve_is_not_carried_onto_a_chamber_without_a_sum():
    ours = layout({"layout": "inline", "cylinders": "1", "valves": {"inl": "1", "exh": "1"}, "gear": "rocker"})
    mean = Consequence("mean", "chamber", lambda valve_area: valve_area)
    with pytest.raises(ValueError, match="cannot be carried onto each chamber"):
        model(ours, (Quantity("valve_area", "valve", "area", GIVEN, "area"),), (mean,), ())


@pytest.mark.parametrize("gear", ["bucket_shim", "bucket_shim_under", "bucket_hydraulic", "finger_hydraulic",
                                  "finger_screw", "rocker", "rocker_hydraulic", "pushrod", "pushrod_hydraulic"])
@pytest.mark.parametrize("drive", ["chain", "belt", "gear"])
@pytest.mark.parametrize("kind", ["inline", "v", "opposed"])
def test_every_gear_drive_and_layout_has_a_geometry(gear, drive, kind):
    valves = {"inl": ["f", "r"], "exh": ["f", "r"]} if gear.startswith("bucket") else {"inl": "1", "exh": "1"}
    ours = layout({"layout": kind, "cylinders": "4", "valves": valves, "gear": gear, "drive": drive})
    m = geometry(ours)
    evaluate(m, blank(m.axes, tuple(m.quantities.values())).values)
