"""What each cut moves, and which way: by how much for each millimetre, in every valve gear; and what must not move.

The table is derived by hand for an upright valve, an upright pushrod and contact normals that are parallel.
"""

from math import cos, degrees, pi, radians, sin, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.heads import KINDS, after, kind_of, whole
from witnessmark.engine.model import evaluate
from witnessmark.engine.quantity import FOUND
from witnessmark.engine.shape import GEARS
from witnessmark.engine.work import worked

R, LITTLE = 1.6, 1e-3
BORE, SPAN = pi / 4 * 86.0**2, cos(np.arcsin(25 / 400))
LATE = 2 / 50.0 * SPAN  # radians of the crank for each millimetre
SPEED = 43 * sin(radians(10)) * (1 + 43 * cos(radians(10)) / sqrt(143**2 - (43 * sin(radians(10))) ** 2))
LEVER = {"bucket_shim": 1, "bucket_shim_under": 1, "bucket_hydraulic": 1, "rocker": R, "rocker_hydraulic": R,
         "pushrod": R, "pushrod_hydraulic": 1, "finger_screw": 1, "finger_hydraulic": R / (R - 1)}  # fmt: skip
SHARE = {
    **dict.fromkeys(GEARS, 1.0),
    "finger_screw": 1 / R,
    "finger_hydraulic": 1 / (R - 1),
    "pushrod_hydraulic": 1 / R,
}
UPRIGHT = {"valve_angle": 0.0, "ptv_crank_angle": radians(10), "head_flatness": 0.0, "cam_timing": 0.0,
           "chamber_area_slope": 0.0, "pad_recess": 0.0, "pushrod_angle": 0.0, "lifter_angle": 0.0,
           "cam_normal_angle": 0.0, "plunger_angle": 0.0, "new_base_circle": 32.0 - 2 * LITTLE,
           "new_valve_lift": 9.5, "drive_over_other_bank": 0.0, "chain_elongation": 0.0}  # fmt: skip


def gap(gear):
    """The gap of a gear, and +1 where it grows to the loose side, -1 for a plunger's travel, which grows to the tight."""
    return ("hla_preload", -1.0) if gear.endswith("hydraulic") else ("valve_lash", 1.0)


def each(gear, *cuts, drive="chain", **values):
    """By how much every result moves for each millimetre of a small cut."""
    model, state = whole(kind_of("inline", gear, drive), **{**UPRIGHT, **values})
    before, then = after(model, state), after(model, state, *cuts)
    return {name: (then[name] - before[name]) / LITTLE for name in then}, model.axes.inlet


def near(value):
    return pytest.approx(value, rel=2e-3, abs=2e-6)


@pytest.mark.parametrize("gear", GEARS)
def test_a_seat_cut(gear):
    moved, _ = each(gear, ("seat_cut", "all", LITTLE))
    name, loose = gap(gear)
    assert moved[name] == near(-loose * SHARE[gear])
    for what, by in (("stem_height", 1), ("installed_height", 1), ("seat_recession", 1), ("ptv_axial", 1), ("margin", 0),
                     ("seat_load", -30), ("open_load", -30), ("coil_bind_clearance", 1), ("retainer_seal_gap", 1),
                     ("cam_timing", 0), ("squish", 0), ("head_height", 0)):  # fmt: skip
        assert moved[what] == near(by), what
    area = pi / 4 * ((33**2 + 28**2) * (2 if gear.startswith("bucket") else 1))
    assert moved["clearance_volume"] == near(area)
    assert (moved["compression_ratio"] < 0).all()


@pytest.mark.parametrize("gear", GEARS)
def test_a_face_ground_is_a_seat_cut_that_takes_from_the_margin(gear):
    seat, _ = each(gear, ("seat_cut", "all", LITTLE))
    face, _ = each(gear, ("face_grind", "all", LITTLE * cos(radians(45))))
    for what in seat:
        if what not in ("margin", "seat_removed", "face_removed", "seat_width", "face_axial", "seat_runout",
                        "face_runout", "seat_leak_gap"):  # fmt: skip
            assert face[what] == near(seat[what]), what
    assert face["margin"] == near(-1.0)


@pytest.mark.parametrize("gear", GEARS)
def test_a_tip_ground_moves_stem_and_gap_and_nothing_else_of_the_valve(gear):
    moved, _ = each(gear, ("tip_grind", "all", LITTLE))
    name, loose = gap(gear)
    assert moved.pop(name) == near(loose * SHARE[gear])
    assert moved.pop("stem_height") == near(-1.0)
    assert moved.pop("tip_to_groove") == near(-1.0)
    assert moved.pop("tip_removed") == near(1.0)
    assert moved.pop("ground_back") == near(1.0)  # no cut had raised it
    assert moved.pop("tip_rise") == near(-1.0)
    beside = {"above_pivot", "path_wider", "tip_sweep", "tip_sweep_offset", "opening_lost"}
    assert {"opening_lost"} & moved.keys() == ({"opening_lost"} if name == "valve_lash" else set())
    moved.pop("lash_shim_needed", None)
    assert {what for what, by in moved.items() if np.abs(by).max() > 1e-6} - beside == set()


@pytest.mark.parametrize("gear", GEARS)
def test_a_cap_is_a_tip_ground_backwards(gear):
    ground, _ = each(gear, ("tip_grind", "all", LITTLE))
    capped, _ = each(gear, ("lash_cap", "all", LITTLE))
    for what in (gap(gear)[0], "stem_height"):
        assert capped[what] == near(-ground[what])


@pytest.mark.parametrize("gear", GEARS)
def test_a_spring_shim_moves_the_spring_alone(gear):
    moved, _ = each(gear, ("spring_shim", "all", LITTLE))
    for what, by in (("installed_height", -1), ("seat_load", 30), ("open_load", 30), ("coil_bind_clearance", -1)):
        assert moved.pop(what) == near(by)
    assert {what for what, by in moved.items() if np.abs(by).max() > 1e-6} == set()


@pytest.mark.parametrize("drive", ["chain", "belt", "gear"])
@pytest.mark.parametrize("gear", GEARS)
@pytest.mark.parametrize("cut", ["skim", "block_deck", "gasket"])
def test_a_head_that_comes_nearer(cut, gear, drive):
    way = -1 if cut == "gasket" else 1
    moved, inlet = each(gear, (cut, "all", 1.10 + LITTLE if cut == "gasket" else LITTLE), drive=drive)
    rods = gear.startswith("pushrod")
    late = 0.0 if rods or drive == "gear" else LATE
    assert moved["cam_timing"] == near(way * late)
    assert moved["ptv_axial"] == near(way * (-1 + np.where(inlet, 1, -1) * SPEED * late))
    name, loose = gap(gear)
    assert moved[name] == near(-way * loose * (LEVER[gear] if rods else 0.0))
    mouth = {"skim": -0.78 * BORE, "block_deck": -BORE, "gasket": pi / 4 * 87**2}[cut]
    assert moved["clearance_volume"] == near(mouth)
    assert moved["squish"] == near({"skim": 0, "block_deck": -1, "gasket": 1}[cut])
    assert moved["hole_spare"] == near(-way)
    for what in ("stem_height", "installed_height", "seat_load", "margin"):
        assert moved[what] == near(0.0), what
    for what in ("seat_recession", "head_height", "deck_to_cam_height"):
        assert moved[what] == near(-1.0 if cut == "skim" else 0.0), what


@pytest.mark.parametrize("gear", GEARS)
def test_a_smaller_base_circle(gear):
    moved, _ = each(gear, ("cam_replace", "all", 1.0))
    name, loose = gap(gear)
    assert moved[name] == near(loose * LEVER[gear])
    assert moved["base_circle"] == near(-2.0)
    assert moved["valve_lift"] == near(0.0)


@pytest.mark.parametrize("gear", [one for one in GEARS if not one.startswith("pushrod")])
def test_a_cam_line_that_comes_down_takes_lash_and_runs_late(gear):
    moved, _ = each(gear, ("line_bore", "all", 2 * LITTLE))
    name, loose = gap(gear)
    assert moved[name] == near(-loose * LEVER[gear])
    assert moved["cam_timing"] == near(LATE)


@pytest.mark.parametrize("gear", ["pushrod", "pushrod_hydraulic"])
def test_longer_rods_and_raised_pivots(gear):
    name, loose = gap(gear)
    longer, _ = each(gear, ("pushrod_replace", "all", 200.0 + LITTLE), pushrod_length=200.0)
    assert longer[name] == near(-loose * LEVER[gear])
    raised, _ = each(gear, ("pivot_shim", "all", LITTLE))
    assert raised[name] == near(loose * (1 + R if gear == "pushrod" else 1 + 1 / R))


@pytest.mark.parametrize("gear", ["bucket_shim", "bucket_shim_under"])
def test_a_thicker_lash_shim_takes_lash(gear):
    moved, _ = each(gear, ("lash_shim", "all", 2.60 + LITTLE))
    assert moved["valve_lash"] == near(-1.0)
    assert moved["lash_shim_needed"] == near(0.0)  # what is needed does not hang on what lies there


@pytest.mark.truth("derived: 2.29 degrees of the crank for each millimetre on a pitch diameter of 100")
def test_late_in_degrees():
    assert degrees(LATE) == pytest.approx(2.29, abs=5e-3)


@pytest.mark.parametrize("engine", KINDS)
def test_no_work_moves_nothing(engine):
    model, state = whole(kind_of(*engine), cam_timing=0.0, chain_elongation=0.0)
    found = evaluate(model, state.values)
    for name, one in model.quantities.items():
        if one.kind == FOUND and name in found:
            assert found[name] == pytest.approx(state.values[name], abs=1e-12), name
    nothing = {name: np.zeros(model.axes.size(one.axis)) for name, one in model.operations.items()}
    then = worked(model, state.values, nothing)
    for name, row in state.values.items():
        np.testing.assert_array_equal(then[name], row, err_msg=name)


POWER = {"length": 1, "area": 2, "volume": 3, "ratio": 0, "angle_plane": 0, "angle_crank": 0, "rate": -1, "force": 0}
STEPS = {"clearance_volume": 3, "swept_volume": 3, "compression_ratio": 0, "squish": 1, "seat_load": 0, "open_load": 0,
         "coil_bind_clearance": 1, "valve_sunk": 1, "lash_shim_needed": 1, "cam_retard": 0, "manifold_face_cut": 1,
         "seat_leak_gap": 1, "retainer_seal_clearance": 1, "slack_gained": 1}  # fmt: skip


@pytest.mark.parametrize("engine", KINDS[::4])
def test_an_engine_in_inches_is_the_same_engine(engine):
    """Every length 25.4 times as long, every area its square: results grow by their own dimension."""
    k = 25.4
    model, state = whole(kind_of(*engine))
    cut = {"skim": 0.01, "seat_cut": 0.005, "face_grind": 0.004, "tip_grind": 0.004, "spring_shim": 0.02}
    work = {name: np.full(model.axes.size(model.operations[name].axis), size) for name, size in cut.items()}
    grown = {name: row * k ** POWER[model.quantities[name].dimension] for name, row in state.values.items()}
    inch = evaluate(model, worked(model, state.values, work))
    millimetre = evaluate(model, worked(model, grown, {name: row * k for name, row in work.items()}))
    held = 0
    for name, row in inch.items():
        power = POWER[model.quantities[name].dimension] if name in model.quantities else STEPS.get(name)
        if power is not None:
            held += 1
            assert millimetre[name] == pytest.approx(row * k**power, rel=1e-9, abs=1e-9, nan_ok=True), name
    assert held > 30


@pytest.mark.parametrize("gear", GEARS)
@pytest.mark.parametrize("kind", ["v", "opposed"])
def test_a_bank_mirrored_gives_mirrored_results(gear, kind):
    model, state = whole(kind_of(kind, gear, "chain"))
    sides = [place.rpartition("/")[0] for place in model.axes.locations["bank"]]
    found = []
    for n, bank in enumerate(sides):
        valves = [one for one in model.axes.locations["valve"] if model.axes.upon["valve", "bank"][
            model.axes.index("valve", one)] == n]  # fmt: skip
        cuts = [("skim", model.axes.locations["bank"][n], 0.3), *(("seat_cut", one, 0.1) for one in valves)]
        found.append((bank, after(model, state, *cuts)))
    assert len(found) == 2
    for name, law in model.laws.items():
        if law.axis in ("valve", "chamber", "bank"):
            on = np.arange(2) if law.axis == "bank" else model.axes.upon[law.axis, "bank"]
            for mine in (0, 1):  # of the bank that was cut, and of the other one
                left, right = found[0][1][name][on == mine], found[1][1][name][on == 1 - mine]
                assert np.sort(left) == pytest.approx(np.sort(right), nan_ok=True), name


def test_one_chain_round_both_banks_lets_the_second_run_later():
    half = radians(45)
    model, state = whole(kind_of("v", "bucket_shim", "chain"), cam_timing=0.0, chain_elongation=0.0)
    of_bank = model.axes.upon["cam", "bank"]
    state = state.with_values(drive_over_other_bank=np.where(of_bank == 1, 2 * sin(half), 0.0),
                              tight_span_angle=0.0)  # fmt: skip
    late = after(model, state, ("skim", "all", 0.3))["cam_timing"]
    assert late[of_bank == 1] == pytest.approx((1 + 2 * sin(half)) * late[of_bank == 0][0])
    assert (late > 0).all()


@settings(max_examples=15, deadline=None)
@given(st.sampled_from(KINDS), st.integers(0, 2**32 - 1))
def test_a_batch_gives_what_its_rows_give_alone(engine, seed):
    model, state = whole(kind_of(*engine))
    draw = np.random.default_rng(seed)
    work = {
        name: draw.integers(0, 2, (3, model.axes.size(one.axis))) * (1.0 if one.switch else draw.uniform(0.01, 0.2))
        for name, one in model.operations.items()
    }  # fmt: skip
    batch = evaluate(model, worked(model, state.values, work))
    for n in range(3):
        alone = evaluate(model, worked(model, state.values, {name: row[n] for name, row in work.items()}))
        for name, row in alone.items():
            together = np.broadcast_to(batch[name], (3, row.shape[-1]))[n]
            np.testing.assert_allclose(together, row, rtol=1e-12, atol=1e-12, err_msg=name)
