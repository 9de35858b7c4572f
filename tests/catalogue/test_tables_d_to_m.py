"""Springs, followers, camshaft, drive and fasteners in the catalogue: who has them, and whether what is taught is true."""

from math import asin, cos, degrees, pi, sqrt

import pytest

from bench_job import Shop
from catalogue.shelf import shipped
from engine.engines import EGRET, PETREL, WREN, egret, tern
from witnessmark.catalogue.entry import meet
from witnessmark.engine.layout import GEARS, layout, stations
from witnessmark.mechanics import drive, fastener, lash

ENTRIES = shipped().characteristics
OURS = [entry for entry in ENTRIES.values() if entry.table in "DEFM"]
DERIVED = [entry for entry in OURS if entry.kind == "derived"]

LEVERS = {"rocker_pad", "tip_sweep", "tip_sweep_offset"}
ROCKERS = {"rocker_bore", "rocker_shaft_diameter", "rocker_shaft_clearance", "rocker_ratio", "follower_lift"} | LEVERS
RODS = {"pushrod_length", "pushrod_runout"}
LIFTERS = {"lifter_bore", "lifter_diameter", "lifter_bore_clearance", "lifter_crown"}
BUCKETS = {"bucket_bore", "bucket_diameter", "bucket_clearance"}
FINGERS = LEVERS | {"follower_pivot"}
HYDRAULIC = {"hla_preload", "hla_leakdown"}
LASH = {"valve_lash"}
PARTS = {
    "bucket_shim": BUCKETS | LASH | {"lash_shim"},
    "bucket_shim_under": BUCKETS | LASH | {"lash_shim"},
    "bucket_hydraulic": BUCKETS | HYDRAULIC,
    "finger_hydraulic": FINGERS | HYDRAULIC,
    "finger_screw": FINGERS | LASH,
    "rocker": ROCKERS | LASH,
    "rocker_hydraulic": ROCKERS | HYDRAULIC,
    "pushrod": ROCKERS | RODS | LIFTERS | LASH,
    "pushrod_hydraulic": ROCKERS | RODS | LIFTERS | HYDRAULIC,
}
DRIVES = {
    "chain": {"chain_length_new", "chain_length", "chain_elongation", "chain_slack", "chain_lost_motion",
              "tensioner_extension", "sprocket_wear", "sprocket_teeth"},
    "belt": {"belt_condition", "tensioner_extension"},
    "gear": {"gear_backlash", "gear_backlash_spread"},
}  # fmt: skip


def taught(name: str) -> str:
    """What an entry teaches, on one line."""
    return " ".join(ENTRIES[name].teach.split())


@pytest.mark.parametrize("gear", GEARS)
def test_each_valve_gear_has_its_own_followers_and_no_others(gear):
    found = tern(gear=gear)
    have = {entry.id for entry in OURS if entry.table == "E" and stations(found, entry)}
    assert have == PARTS[gear]


@pytest.mark.parametrize("kind", DRIVES)
def test_each_cam_drive_is_asked_for_its_own_wear(kind):
    found = tern(drive=kind)
    drives = {entry.id for entry in OURS if entry.group == "drive"}
    assert {name for name in drives if stations(found, ENTRIES[name])} == DRIVES[kind]


def test_followers_stand_at_their_valve_on_every_engine():
    assert stations(layout(WREN), ENTRIES["rocker_pad"]) == ("inl-1", "exh-1")
    assert stations(egret(), ENTRIES["lifter_crown"])[:3] == ("inl-1", "inl-3", "inl-5")
    assert stations(layout(PETREL), ENTRIES["hla_preload"])[-1] == "exh-4"
    assert stations(tern(), ENTRIES["bucket_bore"])[0] == "inl-1f/upper/along"
    assert stations(egret(), ENTRIES["chain_length"]) == ("drive/1", "drive/2", "drive/3")


def test_a_pair_of_springs_is_measured_spring_by_spring_and_its_seal_once():
    pair = tern(springs="2")
    assert stations(pair, ENTRIES["tall_load"])[:2] == ("inl-1f/outer", "inl-1f/inner")
    assert stations(pair, ENTRIES["stem_seal"])[:2] == ("inl-1f", "inl-1r")
    assert stations(pair, ENTRIES["retainer_keeper"])[0] == "inl-1f"


@pytest.mark.parametrize("entry", DERIVED, ids=lambda entry: entry.id)
def test_what_is_worked_out_on_the_quick_route_finds_its_readings_there(entry):
    """Paired by station, all arguments with stations are read at the same places on the quick route."""
    behind = [ENTRIES[name] for name in entry.arguments]
    assert all(meet(each.at, entry.at) for each in behind)
    if entry.pairing == "station":
        assert len({each.quick_stations for each in behind if each.stations}) <= 1


@pytest.mark.parametrize("entry", [e for e in OURS if e.quantity == "angle_crank"], ids=lambda entry: entry.id)
def test_an_angle_of_the_crank_says_so(entry):
    assert "Crank degrees" in entry.state
    assert entry.usual is not None
    assert -pi < entry.usual[0] < entry.usual[1] < 4 * pi


def test_what_is_sprung_or_turned_by_hand_carries_its_hazard():
    sprung = ("tall_load", "short_load", "retainer_seal_gap", "stem_seal", "retainer_keeper", "rotator")
    assert {ENTRIES[name].hazard for name in sprung} == {"stored_spring_energy"}
    turned = ("valve_lash", "lobe_opens", "chain_slack", "gear_backlash", "follower_lift", "tip_sweep")
    assert {ENTRIES[name].hazard for name in turned} == {"turning_by_hand"}
    assert ENTRIES["hole_depth"].hazard == "liquid_in_hole"


def test_necking_is_looked_for_where_the_length_speaks_against_a_bolt():
    assert {ENTRIES[name].only_if for name in ("bolt_full_diameter", "bolt_least_diameter")} == {"bolt_length"}


def test_a_belt_is_past_its_age_however_well_it_looks():
    assert next(iter(ENTRIES["belt_condition"].says)) == "sound"
    assert ENTRIES["belt_condition"].says["past its age"] == "bad"


def test_lash_says_at_which_end_of_a_lever_it_is_read():
    measure = " ".join(ENTRIES["valve_lash"].measure.split())
    assert "Buckets and fingers are read at the cam" in measure
    assert "rockers and pushrods at the valve" in measure


def test_each_kind_of_seal_says_how_it_goes_on_and_off():
    measure = " ".join(ENTRIES["stem_seal"].measure.split())
    for words in ("The umbrella slides", "pulled off by hand", "sleeve that covers the keeper groove", "with pliers",
                  "seal and spring seat are one piece"):  # fmt: skip
        assert words in measure


@pytest.mark.truth("ISO 724:1993 and thread tables to ISO 965 (from memory): M10 x 1.5, 9.026 and 8.160 mm")
def test_the_thread_that_necking_teaches_is_the_standard_one():
    assert f"{fastener.pitch_diameter(10, 1.5):.3f} mm" in taught("bolt_necking")
    core = fastener.root_diameter(10, 1.5)
    assert f"{core:.3f} mm" in taught("bolt_necking")
    assert 1 - ((core - 0.10) / core) ** 2 == pytest.approx(1 / 40, abs=0.001)


@pytest.mark.truth("ISO 965-1 (from memory): M10 x 1.5 tolerance 6g, major diameter 9.732 to 9.968 mm")
def test_crests_of_a_sound_bolt_are_inside_what_is_taught_and_usual():
    assert (f"{10 - 9.968:.2f}", f"{10 - 9.732:.2f}") == ("0.03", "0.27")
    assert "from 0.03 to about 0.27 mm less" in taught("bolt_full_diameter")
    low, high = ENTRIES["bolt_full_diameter"].usual
    assert low < 5 - 0.2
    assert high > 20


@pytest.mark.truth("derived: half a per cent of a 400 mm span on a pitch radius of 50 mm")
def test_what_a_grown_chain_does_is_as_taught():
    late = degrees(drive.chain_retard(0.005, 400, 50))
    assert f"{late:.1f} crank degrees late" in taught("chain_elongation")
    half, two = drive.span_pushed(0.5, 200), drive.span_pushed(2, 200)
    assert f"pushes {half:.0f} mm" in taught("chain_slack")
    assert f"only {two:.0f} mm" in taught("chain_slack")


@pytest.mark.truth("derived: an arm turns about mid-lift, and its end moves back and forth by r (1 - cos)")
def test_the_sweep_over_a_tip_is_as_taught():
    """35 mm arm, 11 mm lift, the tip at its height and 1 mm too high."""
    half = asin(5.5 / 35)
    swept = {off: 35 * (1 - cos(half + asin(off / 35))) for off in (0, 1)}
    assert f"{swept[0]:.2f} mm" in taught("tip_sweep")
    assert f"{swept[1]:.2f} mm" in taught("tip_sweep")
    assert sqrt(35**2 - 5.5**2) == pytest.approx(35 - swept[0])


@pytest.mark.truth("derived: a finger of ratio R lowers its pivot by sink / (R - 1), to first order")
def test_a_sunk_valve_on_a_finger_uses_up_its_plunger_as_taught():
    """A straight lever of ratio 1.6: pivot at 0, lobe at 1, valve at 1.6."""
    pivot, cam, valve, sink = 0.0, 1.0, 1.6, 0.50
    slope = sink / (valve - cam)  # the contact under the lobe stays where it is
    assert f"{slope * (cam - pivot):.2f} mm of the plunger" in taught("hla_preload")


@pytest.mark.truth("derived: a ramp of 0.01 mm for each cam degree")
def test_what_lash_costs_in_degrees_is_as_taught():
    late = degrees(lash.duration_lost(0.05, 0.01 * 180 / pi))
    assert f"{late:.0f} crank degrees later" in taught("duration")


@pytest.mark.truth("common practice, no source: light alloy grows 23, steel 11.5 millionths for each degree")
def test_a_light_alloy_cam_bore_opens_as_taught():
    opened = (23e-6 - 11.5e-6) * 80
    assert opened == pytest.approx(0.001, rel=0.1)
    assert "about a thousandth of the diameter for 80 degrees" in taught("cam_oil_clearance")


GAUGES = {
    "W": {"kind": "degree_wheel", "unit": "deg crank", "resolution": "0.5", "calibration": {"U": "1", "k": "2"}},
    "S": {"kind": "stopwatch", "unit": "s", "resolution": "0.1", "calibration": {"U": "0.5", "k": "2"}},
    "T": {"kind": "torque_wrench", "unit": "lbf·ft", "resolution": "0.5", "calibration": {"U": "1", "k": "2"}},
    "A": {"kind": "angle_gauge", "unit": "deg", "resolution": "1", "calibration": {"U": "4", "k": "2"}},
    "in": {"kind": "caliper", "unit": "in", "resolution": "0.0001", "calibration": {"U": "0.0004", "k": "2"}},
    "mm": {"kind": "caliper", "unit": "mm", "resolution": "0.0001", "calibration": {"U": "0.01016", "k": "2"}},
}
LENGTHS = {
    "chain_length/drive/1": ("6.0300", "153.162"), "chain_length/drive/2": ("6.0330", "153.2382"),
    "chain_length/drive/3": ("6.0270", "153.0858"), "valve_lift/inl-1": ("0.4800", "12.192"),
    "follower_lift/inl-1": ("0.3000", "7.620"), "retainer_seal_gap/inl-1": ("0.5600", "14.224"),
    "hole_depth/left/bolt-1": ("2.5000", "63.500"), "bolt_reach/left/bolt-1": ("2.4000", "60.960"),
    "bolt_full_diameter/left/bolt-1": ("0.4330", "10.9982"), "bolt_least_diameter/left/bolt-1": ("0.4250", "10.795"),
}  # fmt: skip
SHEET = """
  chain_length_new: [{given: 6.000, unit: in}]
  chain_elongation: [{service: {high: 1}, unit: "%"}]
  rocker_ratio: [{service: {low: 1.55, high: 1.65}, unit: "1"}]
  retainer_seal_clearance: [{service: {low: 0.050}, unit: in}]
  hole_spare: [{service: {low: 0.080}, unit: in}]
  bolt_necking: [{service: {high: 0.004}, unit: in}]
"""


def measured(unit):
    """An invented pushrod V8: one chain, one rocker, one seal and one bolt, read in either unit; results by name."""
    shop = Shop(SHEET.lstrip("\n"), engine=dict(EGRET), gauges=GAUGES)
    for where, figures in LENGTHS.items():
        name, _, place = where.partition("/")
        said = shop.type(name, place, figures[("in", "mm").index(unit)], unit)
        assert said.status == "kept", said
    return {result.characteristic: result for result in shop.state().judgement.results if result.value is not None}


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_inch_and_millimetre_readings_come_to_the_same_judgement(unit):
    found = measured(unit)
    values = {"chain_elongation": 0.0055, "rocker_ratio": 1.6, "retainer_seal_clearance": 2.032}
    assert {name: found[name].value for name in values} == pytest.approx(values, abs=1e-9)
    assert {name: found[name].verdict for name in values} == dict.fromkeys(values, "within")


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_a_necked_bolt_is_out_and_its_hole_deep_enough(unit):
    found = measured(unit)
    values = {"hole_spare": 2.54, "bolt_necking": 0.2032}
    assert {name: found[name].value for name in values} == pytest.approx(values, abs=1e-9)
    assert (found["hole_spare"].verdict, found["bolt_necking"].verdict) == ("within", "out")


def test_angles_times_and_torques_are_judged_in_their_own_units():
    sheet = """  duration: [{service: {low: 270, high: 285}, unit: deg crank}]
  lobe_centreline: [{for: inl, service: {low: 109, high: 114}, unit: deg crank}]
  hla_leakdown: [{service: {low: 10, high: 90}, unit: s}]
  tightening_torque: [{service: {low: 55, high: 65}, unit: lbf·ft}]
  tightening_angle: [{service: {low: 100, high: 120}, unit: deg}]
"""
    shop = Shop(sheet, engine=dict(EGRET), gauges=GAUGES)
    typed = [
        ("lobe_opens", "cam/lobe-inl-1", "28", "W"), ("lobe_closes", "cam/lobe-inl-1", "71", "W"),
        ("equal_lift_first", "cam/lobe-inl-1", "76.5", "W"), ("equal_lift_second", "cam/lobe-inl-1", "146.5", "W"),
        ("hla_leakdown", "inl-1", "22", "S"), ("tightening_torque", "left/bolt-1", "60", "T"),
        ("tightening_angle", "left/bolt-1", "90", "A"),
    ]  # fmt: skip
    for name, place, line, gauge in typed:
        assert shop.type(name, place, line, gauge).status == "kept"
    found = {r.characteristic: r for r in shop.state().judgement.results if r.value is not None}
    assert degrees(found["duration"].value) == pytest.approx(279)
    assert degrees(found["lobe_centreline"].value) == pytest.approx(111.5)
    wanted = {"duration": "within", "lobe_centreline": "within", "hla_leakdown": "within",
              "tightening_torque": "within", "tightening_angle": "out"}  # fmt: skip
    assert {name: found[name].verdict for name in wanted} == wanted


@pytest.mark.parametrize("gear", GEARS)
@pytest.mark.parametrize("entry", DERIVED, ids=lambda entry: entry.id)
def test_nothing_is_worked_out_on_an_engine_that_has_not_all_its_readings(entry, gear):
    found = tern(gear=gear)
    if stations(found, entry):
        assert all(stations(found, ENTRIES[name]) for name in entry.arguments)
