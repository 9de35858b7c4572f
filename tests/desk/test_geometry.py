"""The engine's state from a job: readings first, then what was entered, stated, brought by parts, or taken for granted."""

from dataclasses import replace
from math import hypot, sqrt

import numpy as np
import pytest

from witnessmark.desk.bench import Refused
from witnessmark.desk.cuts import model_of
from witnessmark.desk.geometry import after_of, geometry_faults, geometry_of, state_of, why_unknown
from witnessmark.desk.prices import price_faults
from witnessmark.desk.state import Memory, state
from witnessmark.engine.model import evaluate
from witnessmark.engine.predict import predict
from witnessmark.engine.work import Cut, amounts, worked
from witnessmark.record.jobfile import read_job
from witnessmark.record.replay import replay
from witnessmark.shell.demo import JOBS, demo_events
from witnessmark.shell.resources import catalogue

SHEET = """\
format: witnessmark-limits-1
sheet: {name: S-1, document: A book (invented), invented: yes}
limits:
  stem_diameter: [{service: {low: 5.940}, new: {low: 5.964, high: 5.976}, unit: mm}]
  valve_lash: [{for: inl, service: {low: 0.16, high: 0.24}, unit: mm}]
  valve_lift: [{given: 9.50, unit: mm}]
  head_flatness: [{service: {high: 0.05}, unit: mm}]
"""
PRICES = """\
format: witnessmark-prices-1
sheet: {name: P-1, currency: EUR, invented: yes}
work: {valve_replace: {cost: 0}}
parts:
  - {id: dear, fits: valve_replace, for: exh, cost: 40, unit: mm, brings: {stem_diameter: {value: 5.960, u: 0.003}}}
  - {id: cheap, fits: valve_replace, for: exh, cost: 30, unit: mm, brings: {stem_diameter: {value: 5.958, u: 0.002}}}
"""
JOB = """\
format: witnessmark-job-1
job: {id: J-1, engine: Tern 2.0, invented: true}
engine: {layout: inline, cylinders: 1, valves: {inl: 1, exh: 1}, gear: bucket_shim, cams: 2, head: aluminium}
gauges:
  M: {kind: micrometer, unit: mm, resolution: 0.001, calibration: {U: 0.004, k: 2, date: 2026-03-02}, repeatability: {s: 0.001, n: 20}}
  L: {kind: leaves, unit: mm, set: [0.10, 0.15, 0.20, 0.25], leaf_error: 0.002}
limits: sheet.yaml
prices: prices.yaml
{more}
readings:
  - {characteristic: stem_diameter, place: inl-1/top/along, gauge: M, raw: 5.962}
  - {characteristic: stem_diameter, place: inl-1/middle/along, gauge: M, raw: 5.951}
  - {characteristic: stem_diameter, place: exh-1/top/along, gauge: M, raw: 5.948}
  - {characteristic: valve_lash, place: inl-1, gauge: L, raw: 0.15 0.20}
  - {characteristic: valve_lash, place: exh-1, gauge: L, raw: 0.25}
  - {characteristic: lash_shim, place: inl-1, gauge: M, raw: 2.600}
  - {characteristic: seat_width, place: inl-1/1, gauge: M, raw: 1.300}
  - {characteristic: seat_width, place: inl-1/2, gauge: M, raw: 1.500}
  - {characteristic: stem_diameter, place: inl-1/top/along, gauge: M, raw: 5.970, round: back from machining}
"""


def opened(more="geometry: {}", job=JOB):
    files = {"sheet.yaml": SHEET, "prices.yaml": PRICES}
    events = read_job(job.replace("{more}", more), "job.yaml", files.__getitem__)
    return state(replay([event.stored(n, "") for n, event in enumerate(events, 1)]), catalogue())


@pytest.fixture(scope="module")
def plain():
    return opened()


@pytest.fixture(scope="module")
def demos():
    found = {}
    for name in JOBS:
        events = [event.stored(n, "") for n, event in enumerate(demo_events(name), 1)]
        found[name] = state(replay(events), catalogue(), memory=Memory())
    return found


def test_of_several_stations_the_one_counts_that_decides(plain):
    engine = state_of(plain)
    assert engine.values["stem_diameter"] == pytest.approx([5.951, 5.948])  # the least of a stem
    assert engine.values["seat_width"][0] == pytest.approx(1.400)  # both ends are bad: the mean
    assert engine.origin["stem_diameter"] == ("read", "read")
    assert engine.origin["seat_width"] == ("read", "not known")


def test_a_gap_between_leaves_is_its_middle_with_its_width_as_doubt(plain):
    engine = state_of(plain)
    assert engine.values["valve_lash"][0] == pytest.approx(0.175)
    assert engine.own["valve_lash"][0] == pytest.approx(hypot(0.05 / sqrt(12), 0.002 / sqrt(3)))


def test_a_gap_that_no_leaf_closes_is_not_known_and_says_why(plain):
    assert np.isnan(state_of(plain).values["valve_lash"][1])
    told = {name: (places, why) for name, places, why in why_unknown(plain)}
    assert told["valve_lash"] == (("exh-1",), "the thickest leaf went in: read it with a thicker one")


def test_two_stems_read_with_one_micrometer_share_its_calibration(plain):
    engine = state_of(plain)
    at = engine.sources.index("calibration of M")
    shared = engine.shared["stem_diameter"]
    assert shared[:, at] == pytest.approx([0.002, 0.002])
    own = engine.own["stem_diameter"]
    assert own == pytest.approx(hypot(0.001, 0.001 / sqrt(12)), rel=1e-6)
    difference = hypot(*own, float(np.linalg.norm(shared[0] - shared[1])))
    apart = hypot(*(hypot(one, float(np.linalg.norm(row))) for one, row in zip(own, shared, strict=True)))
    assert difference == pytest.approx(hypot(*own), rel=1e-3) and difference < 0.5 * apart


def test_what_is_read_goes_before_what_is_entered_and_that_before_what_is_usual():
    more = ("geometry: {stem_diameter: {value: 5.0, unit: mm}, valve_angle: {value: 15, unit: deg, u: 1}, "
            "lash_shim: [{value: 2.7, unit: mm, u: 0.01}, {for: exh, value: 2.8, unit: mm}]}")  # fmt: skip
    engine = state_of(opened(more))
    assert engine.values["stem_diameter"][0] == pytest.approx(5.951)
    assert np.degrees(engine.values["valve_angle"]) == pytest.approx([15, 15])
    assert np.degrees(engine.own["valve_angle"]) == pytest.approx([1, 1])
    assert engine.values["lash_shim"] == pytest.approx([2.600, 2.8])  # read; the side's own entry before that for all
    assert engine.origin["lash_shim"] == ("read", "entered")
    assert set(engine.origin["seat_angle"]) == {"taken for granted"}
    assert set(engine.origin["valve_lift"]) == {"limit sheet"} and engine.values["valve_lift"][0] == 9.5


def test_a_new_part_brings_what_the_list_says_else_the_middle_of_its_new_limit(plain):
    engine = state_of(plain)
    assert engine.values["new_stem_diameter"] == pytest.approx([5.970, 5.958])
    assert engine.own["new_stem_diameter"] == pytest.approx([0.012 / sqrt(12), 0.002])
    assert engine.origin["new_stem_diameter"] == ("limit sheet", "new part")


def test_the_lash_to_set_is_the_middle_of_its_limit_and_not_in_doubt(plain):
    engine = state_of(plain)
    assert engine.values["target_lash"][0] == pytest.approx(0.20) and np.isnan(engine.values["target_lash"][1])
    assert "target_lash" not in engine.own


def test_after_machining_only_what_was_read_again_is_known():
    more = "geometry: {bore: {value: 86, unit: mm}, chamber_volume: {value: 44, unit: mL}}"
    now = opened(more)
    before, after = state_of(now), after_of(now)
    assert after.values["stem_diameter"][0] == pytest.approx(5.970) and np.isnan(after.values["stem_diameter"][1])
    assert np.isnan(after.values["lash_shim"]).all()
    assert before.values["chamber_volume"][0] == 44000.0 and np.isnan(after.values["chamber_volume"][0])
    assert after.values["bore"][0] == 86.0  # no cut changes it


@pytest.mark.parametrize(("more", "part"), [
    ("geometry: {bor: {value: 86, unit: mm}}", "no quantity 'bor'; did you mean 'bore'"),
    ("geometry: {skimmed: {value: 1, unit: mm}}", "no quantity 'skimmed'"),
    ("geometry: {bore: {value: 86, unit: furlong}}", "no unit is called 'furlong'"),
    ("geometry: {chamber_area: {value: 86, unit: mm}}", "'mm' is no unit of an area; write mm2, cm2 or in2"),
    ("geometry: {bore: {place: chamber-9, value: 86, unit: mm}}", "no chamber of this engine is meant"),
])  # fmt: skip
def test_an_entry_that_means_nothing_is_told_and_the_rest_works_on(more, part):
    now = opened(more)
    assert len(geometry_faults(now)) == 1 and part in geometry_faults(now)[0]
    assert state_of(now).values["stem_diameter"][0] == pytest.approx(5.951)


def test_inches_and_square_inches_come_inside_as_millimetres():
    now = opened("geometry: {bore: {value: 4.000, unit: in, u: 0.001}, chamber_area: {value: 10, unit: in2}}")
    engine = state_of(now)
    assert engine.values["bore"][0] == pytest.approx(101.6) and engine.own["bore"][0] == pytest.approx(0.0254)
    assert engine.values["chamber_area"][0] == pytest.approx(6451.6)


def test_an_engine_that_nobody_described_has_no_state(plain):
    with pytest.raises(Refused, match="describe the engine first"):
        state_of(replace(plain, layout=None))


@pytest.mark.parametrize("name", JOBS)
def test_of_each_head_every_quantity_is_known_or_told(demos, name):
    now = demos[name]
    assert geometry_faults(now) == () and price_faults(now) == () and now.problems == ()
    engine, model = state_of(now), model_of(now)
    told = {(one, place) for one, places, _ in why_unknown(now) for place in places}
    lacking = {
        (one.id, place)
        for one in model.quantities.values()
        for place, value in zip(model.axes.locations[one.axis], engine.values[one.id], strict=True)
        if np.isnan(value)
    }
    assert told == lacking
    assert all(why for _, _, why in why_unknown(now))
    for one in model.quantities.values():
        assert len(engine.origin[one.id]) == model.axes.size(one.axis)
        assert all((word == "not known") == bool(np.isnan(value)) for word, value in
                   zip(engine.origin[one.id], engine.values[one.id], strict=True))  # fmt: skip


@pytest.mark.parametrize(("name", "ratio"), [("tern", 9.969), ("egret", 9.159), ("wren", 9.000), ("petrel", 9.577)])
def test_the_ratio_of_each_head_is_that_of_its_figures(demos, name, ratio):
    """By hand: Tern 55.701 mL over 499.557; the others the same sum of their own figures."""
    now = demos[name]
    found = evaluate(model_of(now), state_of(now).values)
    assert found["compression_ratio"] == pytest.approx(ratio, abs=6e-4)


def test_on_the_tern_a_new_valve_alone_takes_the_room_over_its_piston(demos):
    """Each limit alone is cured by a new exhaust valve; its whole face sits lower, and the piston comes too near."""
    now = demos["tern"]
    model, engine = model_of(now), state_of(now)
    at = model.axes.index("valve", "exh-3f")
    naive = after(model, engine, Cut("valve_replace", "exh-3f", 1.0))
    assert naive["margin"][at] > 0.8 and naive["ptv_axial"][at] < 1.60
    both = after(model, engine, Cut("valve_replace", "exh-3f", 1.0), Cut("seat_cut", "exh-3f", 0.25))
    assert both["ptv_axial"][at] > 1.60 + 2 * 0.04


def test_on_the_petrel_a_sunk_valve_stands_too_high_and_presses_its_plunger_in(demos):
    """A lower stem lets the plunger out by more than it was lowered: both limits ask for the same cure."""
    now = demos["petrel"]
    model, engine = model_of(now), state_of(now)
    at = model.axes.index("valve", "exh-3")
    before = evaluate(model, engine.values)
    ground = after(model, engine, Cut("tip_grind", "exh-3", 0.25))
    assert before["stem_height"][at] > 46.80 > ground["stem_height"][at]
    assert before["hla_preload"][at] > 2.00 > ground["hla_preload"][at]
    assert before["hla_preload"][at] - ground["hla_preload"][at] > 0.25


def after(model, engine, *cuts):
    return evaluate(model, worked(model, engine.values, amounts(model, cuts)))


def test_on_the_egret_another_stem_keeps_the_doubt_of_its_guide(demos):
    now = demos["egret"]
    model, engine = model_of(now), state_of(now)
    at = model.axes.index("valve", "inl-7")
    cuts = amounts(model, (Cut("valve_replace", "inl-7", 1.0),))
    plain, fresh = predict(model, engine, {}), predict(model, engine, cuts)
    assert fresh.values["stem_guide_clearance"][at] < plain.values["stem_guide_clearance"][at]
    assert fresh.u["stem_guide_clearance"][at] > 0


def test_it_is_worked_out_once_for_a_job_as_it_stands(demos):
    assert geometry_of(demos["tern"]) is geometry_of(demos["tern"])
