"""What stands beside the head and moves with it, against what the trade prints and what follows from the section."""

from math import acos, asin, cos, degrees, radians, sin

import numpy as np
import pytest

from engine.engines import WREN, egret, tern
from witnessmark.engine.layout import layout
from witnessmark.engine.model import evaluate, why_not
from witnessmark.engine.state import blank
from witnessmark.engine.tables import geometry
from witnessmark.engine.work import worked


def after(model, known, **work):
    state = blank(model.axes, tuple(model.quantities.values())).with_values(**known)
    amounts = {name: np.full(model.axes.size(model.operations[name].axis), by) for name, by in work.items()}
    return evaluate(model, worked(model, state.values, amounts))


# The table for 90 degrees that the trade has long used, value from memory: cut 1.00, 1.23, 1.41 and drop 1.414, 1.72,
# 2.00 for faces 0, 10 and 15 degrees from square to the deck; the mismatch derived from the section.


@pytest.mark.parametrize(("tilt", "cut", "drop", "miss"), [
    (45, 1.000, 1.414, 1.000), (55, 1.233, 1.717, 0.8632), (60, 1.414, 1.932, 0.8165), (65, 1.673, 2.224, 0.7802),
])  # fmt: skip
def test_a_skimmed_v_misses_its_manifold_by_the_table(tilt, cut, drop, miss):
    model = geometry(egret())
    known = {"v_half_angle": radians(45), "inlet_face_angle": radians(tilt)}
    found = after(model, known, skim=1.0)
    assert found["manifold_face_cut"] == pytest.approx(cut, abs=0.001)
    assert found["manifold_drop"] == pytest.approx(drop, abs=0.001)
    assert found["port_mismatch"] == pytest.approx(miss, abs=0.0005)
    assert after(model, {**known, "gasket_thickness": 1.0}, skim=1.0, gasket=2.0)["port_mismatch"] == pytest.approx(0)


def test_a_vector_says_the_same_of_a_narrow_v():
    """Head moved along its deck's normal; manifold lowered until the ports meet along a face cut back."""
    half, tilt, off = radians(30), radians(40), 1.0
    down = -off * np.array([sin(half), cos(half)])
    normal = np.array([-cos(tilt), sin(tilt)])
    along = np.array([sin(tilt), cos(tilt)])
    # face moved in by m along its normal, manifold by v straight down: port on the face at the same place of both
    m, v = np.linalg.solve(np.column_stack([-normal, -np.array([0.0, 1.0])]), -down)
    found = after(geometry(egret()), {"v_half_angle": half, "inlet_face_angle": tilt}, skim=off)
    assert found["manifold_face_cut"] == pytest.approx(abs(m))
    assert found["manifold_drop"] == pytest.approx(abs(v))
    assert along @ normal == pytest.approx(0)


def test_the_line_of_the_camshaft_takes_a_bow_as_large_as_its_play():
    """Derived: three bores of one clearance; a skim leaves the line bowed, straightening gives it back."""
    model = geometry(tern())
    known = {"cam_line_play": 0.06, "cam_bore_alignment": 0.05, "head_flatness": 0.05}
    assert after(model, known, skim=0.05)["cam_line_margin"] == pytest.approx(0.01)
    assert after(model, known, straighten=0.05)["cam_line_margin"] == pytest.approx(0.06)


def test_a_cam_line_that_is_bored_is_straight_and_its_new_play_must_be_said():
    model = geometry(tern())
    known = {"cam_line_play": 0.06, "cam_bore_alignment": 0.05}
    bored = after(model, known, line_bore=0.1)
    assert bored["cam_bore_alignment"] == pytest.approx(0.0)
    assert np.isnan(bored["cam_line_margin"]).all()
    for work in ({"line_bore": 0.1}, {"head_replace": 1.0}):
        said = after(model, {**known, "new_cam_line_play": 0.045}, **work)
        assert said["cam_line_margin"] == pytest.approx(0.045)
    shaft = after(model, {**known, "new_cam_line_play": 0.055}, cam_replace=1.0)
    assert shaft["cam_line_margin"] == pytest.approx(0.005)  # new journals in the line that is bowed as it was


def test_a_light_alloy_bore_opens_away_from_its_journal():
    """60 mm, 80 kelvin warmer: 0.055 mm more, derived from 23 and 11.5 millionths; iron on steel stays."""
    known = {"cam_line_play": 0.040, "cam_line_size": 60.0}
    assert after(geometry(tern()), known)["cam_clearance_warm"] == pytest.approx(0.095, abs=0.0005)
    assert after(geometry(tern(head="iron")), known)["cam_clearance_warm"] == pytest.approx(0.040)
    nobody_said = layout({name: value for name, value in WREN.items() if name != "head"})
    found = after(geometry(nobody_said), known)["cam_clearance_warm"]
    assert np.isnan(found).all() == (nobody_said.head == "")


def test_what_stands_in_the_head_or_beside_it_moves_one_to_one():
    model = geometry(tern())
    known = {"dowel_room": 1.0, "injector_protrusion": 2.0, "gasket_thickness": 1.1}
    found = after(model, known, skim=0.2, block_deck=0.1)
    assert found["dowel_room"] == pytest.approx(0.7)
    assert found["injector_protrusion"] == pytest.approx(2.2)  # a decked block does not move the nozzle in its head
    assert found["cover_step"] == pytest.approx(0.1)  # nor does a skimmed head move the cover on its block
    assert after(model, known, skim=0.2, gasket=1.3)["dowel_room"] == pytest.approx(1.0)


@pytest.mark.parametrize(("angle", "gap"), [(45, 0.0354), (30, 0.025)])
def test_a_seat_that_runs_out_leaves_a_gap(angle, gap):
    known = {"seat_runout": 0.05, "seat_angle": radians(angle)}
    assert after(geometry(tern()), known)["seat_leak_gap"] == pytest.approx(gap, abs=0.0001)


def test_one_degree_of_interference_gaps_the_far_edge():
    """1.5 mm at one degree: 0.026 mm, derived; angles that nobody read say nothing."""
    known = {"seat_width": 1.5, "face_angle_read": radians(44), "seat_angle_read": radians(45)}
    assert after(geometry(tern()), known)["contact_gap"] == pytest.approx(0.0262, abs=0.0001)
    assert np.isnan(after(geometry(tern()), {"seat_width": 1.5})["contact_gap"]).all()


def test_lash_beyond_what_is_to_be_set_shortens_the_opening():
    """0.05 mm on a ramp of 0.01 mm for each cam degree: 10 degrees of the crank, derived."""
    known = {"valve_lash": 0.25, "target_lash": 0.20}
    found = after(geometry(tern()), known)["opening_lost"]
    assert np.degrees(found) == pytest.approx(10.0)
    cut = after(geometry(tern()), {**known, "ramp_lift": 0.02}, seat_cut=0.10)["opening_lost"]
    assert np.degrees(cut) == pytest.approx(-5.0)  # 0.05 tight: it is held open longer


@pytest.mark.parametrize(("high", "sweep"), [(0.0, 0.4348), (0.5, 0.5169), (1.0, 0.6061), (1.8, 0.7633)])
def test_a_tip_that_rises_widens_the_path_of_the_pad(high, sweep):
    """Arm 35 mm, lift 11 mm: 0.43 mm square, 0.52 / 0.61 / 0.76 with the tip 0.5 / 1.0 / 1.8 mm high, derived."""
    arm, lift = 35.0, 11.0
    assert sweep == pytest.approx(arm * (1 - cos(asin(lift / arm / 2) + high / arm)), abs=0.001)
    model = geometry(layout({**WREN, "gear": "rocker"}))
    known = {"rocker_arm": arm, "valve_lift": lift, "tip_sweep": 0.4348, "tip_sweep_offset": 0.0, "stem_height": 40.0}
    found = after(model, known, seat_cut=high) if high else after(model, known)
    assert found["tip_sweep"] == pytest.approx(sweep, abs=0.002)
    assert found["tip_sweep_offset"] == pytest.approx(-(sweep - 0.4348) / 2, abs=0.002)


def test_the_path_of_a_pad_by_walking_its_arc():
    """The numbers of the law against the arc itself: where the pad stands over the tip through one whole opening."""
    arm, lift, high = 35.0, 11.0, 0.8
    middle = high / arm
    angles = np.linspace(middle - asin(lift / arm / 2), middle + asin(lift / arm / 2), 20001)
    along = arm * np.cos(angles)
    known = {"rocker_arm": arm, "valve_lift": lift, "tip_sweep": 0.0, "tip_above_square": 0.0}
    model = geometry(layout({**WREN, "gear": "rocker"}))
    square = arm * (1 - cos(asin(lift / arm / 2)))
    found = after(model, known, seat_cut=high)["tip_sweep"]
    assert found + square == pytest.approx(np.ptp(along), abs=1e-4)
    assert degrees(acos(along.min() / arm)) == pytest.approx(degrees(angles.max()), abs=0.01)


def test_shims_under_the_pivot_take_the_sweep_back():
    model = geometry(egret())
    known = {"rocker_arm": 35.0, "valve_lift": 11.0, "tip_sweep": 0.43}
    assert after(model, known, seat_cut=0.5)["tip_sweep"] == pytest.approx(0.5169 - 0.0047, abs=0.001)
    assert after(model, known, seat_cut=0.5, pivot_shim=0.5)["tip_sweep"] == pytest.approx(0.43)


def test_an_arm_that_nobody_measured_does_not_matter_while_the_tip_stays():
    found = after(geometry(egret()), {"tip_sweep": 0.43}, skim=0.2)
    assert found["tip_sweep"] == pytest.approx(0.43)


def test_an_arm_too_short_for_its_lift_says_so():
    model = geometry(layout({**WREN, "gear": "rocker"}))
    state = blank(model.axes, tuple(model.quantities.values()))
    state = state.with_values(rocker_arm=4.0, valve_lift=9.0, tip_sweep=0.4, seat_feed=0.5)
    assert "an arm of 4 mm cannot lift a valve by 9 mm" in why_not(model, state.values, "tip_sweep", 0)
