"""A new chain takes the old one's retard away, and the valves' room over the piston with it."""

from math import radians

import numpy as np
import pytest

from engine.engines import tern
from witnessmark.engine.model import evaluate
from witnessmark.engine.state import blank
from witnessmark.engine.table_chamber import CURVE
from witnessmark.engine.tables import geometry
from witnessmark.engine.work import worked

KNOWN = {
    "ptv_axial": 1.9, "stroke": 86.0, "rod_length": 143.0, "valve_angle": radians(15), "tight_span": 400.0,
    "cam_sprocket_radius": 50.0, "crank_sprocket_radius": 25.0, "drive_centre_distance": 400.0,
    "chain_elongation": 0.005,
}  # fmt: skip


def after(known, **work):
    model = geometry(tern(drive="chain"))
    state = blank(model.axes, tuple(model.quantities.values())).with_values(**known)
    amounts = {name: np.full(model.axes.size(model.operations[name].axis), by) for name, by in work.items()}
    return model.axes.inlet, evaluate(model, worked(model, state.values, amounts))


def test_a_new_chain_moves_the_valves_as_setting_the_camshaft_early_by_as_much_does():
    """Half a hundredth of 400 mm over a radius of 50, twice for the crank."""
    inlet, chain = after(KNOWN, drive_replace=1.0)
    _, timed = after(KNOWN, time_cam=2 * 0.005 * 400 / 50)
    assert chain["cam_timing"] == pytest.approx(0.0, abs=1e-12)
    assert chain["ptv_axial"] == pytest.approx(timed["ptv_axial"])
    assert np.all(chain["ptv_axial"][inlet] < 1.9) and np.all(chain["ptv_axial"][~inlet] > 1.9)


def test_a_chain_as_new_moves_nothing():
    _, chain = after({**KNOWN, "chain_elongation": 0.0, "tight_span": np.nan}, drive_replace=1.0)
    assert chain["ptv_axial"] == pytest.approx(1.9)


def test_room_that_was_read_stays_known_under_a_curve_while_nothing_turns_the_camshaft():
    curve = {name: 0.2 + 0.05 * n for n, name in enumerate(CURVE)}
    _, found = after({**KNOWN, "stroke": np.nan, "rod_length": np.nan, **curve})
    assert found["ptv_axial"] == pytest.approx(1.9)


@pytest.mark.parametrize("rows", [1, 5, 16])
def test_a_curve_gives_one_room_for_each_valve_alone_and_in_a_batch(rows):
    curve = {name: 0.2 + 0.05 * n for n, name in enumerate(CURVE)}
    model = geometry(tern(drive="chain"))
    state = blank(model.axes, tuple(model.quantities.values())).with_values(**KNOWN, **curve)
    skims = np.linspace(0.1, 0.4, rows)[:, None]
    batch = evaluate(model, worked(model, state.values, {"skim": skims}))["ptv_axial"]
    alone = [evaluate(model, worked(model, state.values, {"skim": row}))["ptv_axial"] for row in skims]
    assert batch.shape == (rows, 16)
    assert batch == pytest.approx(np.array(alone))


def test_timing_found_with_a_wheel_has_the_wear_in_it_already():
    """4.58 degrees were read with the worn chain on: they stay 4.58, and are nothing with a new one."""
    late = 2 * 0.005 * 400 / 50
    _, found = after({**KNOWN, "cam_timing": late})
    assert found["cam_timing"] == pytest.approx(late)
    _, renewed = after({**KNOWN, "cam_timing": late}, drive_replace=1.0)
    assert renewed["cam_timing"] == pytest.approx(0.0, abs=1e-12)


def test_a_cam_line_bored_lower_slackens_the_chain_as_a_skim_of_half_as_much_does():
    known = {**KNOWN, "tensioner_extension": 5.0, "tensioner_ratio": 0.5}
    _, bored = after(known, line_bore=0.4)
    _, skimmed = after(known, skim=0.2)
    assert bored["tensioner_extension"] == pytest.approx(skimmed["tensioner_extension"])
    assert bored["cam_timing"] == pytest.approx(skimmed["cam_timing"])


def test_a_drive_that_nobody_described_does_not_matter_while_its_chain_is_as_new():
    said = {"ptv_axial": 1.9, "stroke": 86.0, "rod_length": 143.0, "valve_angle": radians(15), "chain_elongation": 0.0}
    _, found = after(said)
    assert found["ptv_axial"] == pytest.approx(1.9)
    assert found["cam_timing"] == pytest.approx(0.0)


def test_what_only_tells_more_is_never_why_something_is_not_known():
    from witnessmark.engine.model import why_not

    model = geometry(tern(drive="chain"))
    state = blank(model.axes, tuple(model.quantities.values()))
    told = why_not(model, state.values, "ptv_axial", 0)
    assert "piston to valve room is not known" in told
    assert "lift at" not in told and "cam timing" not in told
