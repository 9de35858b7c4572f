"""Steps of assembly: what each engine takes, in which order, and every caution where it applies and nowhere else."""

from dataclasses import dataclass, field

import pytest

from engine.engines import EGRET, PETREL, TERN, WREN
from witnessmark.assemble.steps import engine_facts, steps
from witnessmark.assemble.steps_model import Facts, New, Work
from witnessmark.catalogue.steps import FACTS, WORK
from witnessmark.engine.layout import GEARS, layout
from witnessmark.record.replay import replay
from witnessmark.shell.demo import demo_events
from witnessmark.shell.resources import catalogue

DRIVEN = ("drive_replace", "cam_replace", "line_bore", "time_cam")
HOT = ("straighten", "guide_replace", "guide_oversize", "seat_insert", "insert_oversize", "crack_repair")
CHIPS = ("seat_cut", "guide_replace", "seat_insert", "skim", "line_bore", "touch_lap", "guide_oversize")


@dataclass(frozen=True)
class Engine:
    described: dict
    work: tuple[Work, ...] = ()
    facts: Facts = field(default_factory=Facts)

    @property
    def layout(self):
        return layout(self.described)

    def steps(self, new=()):
        return steps(self.layout, self.work, self.facts, catalogue(), new)

    def kinds(self):
        return {one.kind for one in self.steps()}

    def does(self, *operations):
        return any(one.operation in operations for one in self.work)

    @property
    def overhead(self):
        return not self.described["gear"].startswith("pushrod")

    @property
    def driven(self):
        return self.overhead or self.does(*DRIVEN)

    def said(self, **facts):
        return all(self.described.get(key) == value for key, value in facts.items())


def demo(name):
    job = replay(demo_events(name))
    return Engine(dict(job.engine), tuple(Work(one["operation"], one["place"]) for one in job.work))


def work(*pairs):
    return tuple(Work(*pair.split("@")) for pair in pairs)


STRETCH, PLAIN = Facts("stretch", "no"), Facts("plain", "yes")
ENGINES = {
    **{name: demo(name) for name in ("tern", "egret", "wren", "petrel")},
    "hybrid diesel four, gears, rings": Engine(
        {**TERN, "fuel": "diesel", "hybrid": "yes", "seal": "ring", "drive": "gear", "cooling": "liquid"},
        work("seat_insert@exh-2f", "block_deck@gasket-face"), STRETCH),
    "hybrid petrol, belt": Engine({**PETREL, "hybrid": "yes", "fuel": "petrol", "drive": "belt", "seal": "umbrella"}),
    "not a hybrid, said so": Engine({**PETREL, "hybrid": "no", "fuel": "petrol", "seal": "positive"}, (), PLAIN),
    "air-cooled single without seals": Engine({**WREN, "cooling": "air", "seal": "none"}, work("tip_grind@inl-1"), PLAIN),
    "opposed six, hydraulic buckets": Engine(
        {"layout": "opposed", "cylinders": "6", "valves": {"inl": ["f", "r"], "exh": ["f", "r"]},
         "gear": "bucket_hydraulic", "drive": "chain"}, work("straighten@right/head", "cam_replace@left/cam-inl")),
    "pushrod eight, new chain": Engine(EGRET, work("drive_replace@drive", "guide_oversize@exh-3"), PLAIN),
    "pushrod single with a screw, new camshaft, gears": Engine(
        {**WREN, "gear": "pushrod", "drive": "gear", "fuel": "diesel"}, work("cam_replace@cam")),
    "shims under buckets": Engine({**TERN, "gear": "bucket_shim_under", "drive": "belt"}, work("lash_cap@inl-3f")),
}  # fmt: skip

# Every caution that can stand on an assembly sheet: the steps at which it stands, and the engines that have them.
ALWAYS = lambda _: True  # noqa: E731
TABLE = {
    "solvent": ({"all_clean": ALWAYS, "seats_hold": ALWAYS, "faces_clean": ALWAYS}),
    "grinding_dust": {"chips_out": lambda e: e.does(*CHIPS, "crack_repair")},
    "hot_and_chilled": {"head_cool": lambda e: e.does(*HOT)},
    "old_gasket_dust": {"faces_clean": ALWAYS},
    "stored_spring_energy": {"keepers_in": ALWAYS, "tapped_to_seat": ALWAYS, "seals_ring": lambda e: e.said(seal="ring")},
    "liquid_in_hole": {"holes_dry": ALWAYS},
    "heavy_head": {"head_on": lambda e: e.described["cylinders"] != "1"},
    "stretched_bolt": {"head_tight": lambda e: e.facts.bolts != "plain"},
    "turning_by_hand": {
        "gasket_grade": lambda e: e.said(fuel="diesel"),
        "pistons_down": lambda e: e.overhead,
        "chain_on": lambda e: e.driven and e.described.get("drive", "chain") == "chain",
        "belt_on": lambda e: e.driven and e.said(drive="belt"),
        "gears_meshed": lambda e: e.driven and e.said(drive="gear"),
        "cam_dialled": lambda e: e.does("time_cam"),
        "two_turns": ALWAYS,
        "lash_read": lambda e: "shim" in e.described["gear"],
        "lash_set": lambda e: e.described["gear"] in ("rocker", "pushrod", "finger_screw"),
        "lash_again": lambda e: "hydraulic" not in e.described["gear"],
        "preload_read": lambda e: "hydraulic" in e.described["gear"],
    },
    "sprung_tensioner": {"tensioner_set": lambda e: e.driven and not e.said(drive="gear")},
    "sealer": {"covers_on": ALWAYS},
    "used_fluids": {"oil_in": ALWAYS, "coolant_in": lambda e: not e.said(cooling="air")},
    "fuel": {"fuel_joined": ALWAYS, "first_start": ALWAYS},
    "fuel_jet": {"fuel_bled": lambda e: e.said(fuel="diesel")},
    "cranking": {"oil_primed": ALWAYS, "compression_read": ALWAYS},
    "hot_engine": {"warm_look": ALWAYS, "compression_read": ALWAYS},
    "air_in_cylinder": {"leakage_read": ALWAYS},
    "high_voltage": {name: lambda e: e.said(hybrid="yes") for name in
                     ("high_voltage_off", "oil_primed", "first_start", "compression_read", "leakage_read")},
}  # fmt: skip


@pytest.mark.parametrize("name", ENGINES)
@pytest.mark.parametrize("hazard", sorted(catalogue().hazards))
def test_a_caution_stands_where_it_applies_and_nowhere_else(name, hazard):
    engine = ENGINES[name]
    expected = {kind for kind, applies in TABLE.get(hazard, {}).items() if applies(engine)}
    assert {one.kind for one in engine.steps() if hazard in one.hazards} == expected


def test_the_table_of_cautions_is_met_on_both_sides():
    """Each line of the table is true of one of these engines and, unless it is always so, false of another."""
    for hazard, lines in TABLE.items():
        for kind, applies in lines.items():
            answers = {bool(applies(engine)) for engine in ENGINES.values()}
            if kind == "cam_dialled":
                continue  # held below
            assert answers == ({True} if applies is ALWAYS else {True, False}), (hazard, kind)


def test_a_camshaft_that_is_dialled_in_is_turned_by_hand():
    timed = Engine(PETREL, work("time_cam@cam"))
    assert [one.hazards for one in timed.steps() if one.kind == "cam_dialled"] == [("turning_by_hand",)]


SEALS = {"positive": "seals_positive", "umbrella": "seals_umbrella", "ring": "seals_ring", "none": None, None: "seals_asked"}


@pytest.mark.parametrize("seal", SEALS)
def test_seals_go_on_by_their_kind(seal):
    """Positive and umbrella before the spring, a ring once the spring is compressed, and above it come the keepers."""
    found = [one.kind for one in Engine(TERN | ({"seal": seal} if seal else {})).steps()]
    there = [kind for kind in found if kind.startswith("seals_")]
    assert there == ([SEALS[seal]] if SEALS[seal] else [])
    if seal == "ring":
        assert found.index("springs_on") < found.index("seals_ring") < found.index("keepers_in")
    elif there:
        assert found.index("valves_in") < found.index(there[0]) < found.index("springs_on")


def test_what_nobody_told_is_asked_at_its_step():
    (asked,) = (one for one in Engine(TERN).steps() if one.tells)
    assert (asked.kind, asked.tells) == ("seals_asked", "seal")


GEAR = {
    "bucket_shim": {"followers_in", "shims_in", "lash_read", "shims_chosen", "lash_again"},
    "bucket_shim_under": {"followers_in", "shims_in", "lash_read", "shims_under_chosen", "lash_again"},
    "bucket_hydraulic": {"adjusters_in", "followers_in", "hydraulics_down", "preload_read"},
    "finger_hydraulic": {"adjusters_in", "followers_in", "hydraulics_down", "preload_read"},
    "finger_screw": {"followers_in", "lash_set", "lash_again"},
    "rocker": {"rockers_on", "lash_set", "lash_again"},
    "rocker_hydraulic": {"adjusters_in", "rockers_on", "hydraulics_down", "preload_read"},
    "pushrod": {"lifters_in", "pushrods_in", "rockers_on", "lash_set", "lash_again"},
    "pushrod_hydraulic": {"lifters_in", "pushrods_in", "rockers_on", "hydraulics_down", "preload_read"},
}


@pytest.mark.parametrize("gear", GEARS)
def test_every_valve_gear_has_its_own_steps_and_no_other(gear):
    of_gear = set().union(*GEAR.values())
    described = {"layout": "inline", "cylinders": "4", "valves": {"inl": "1", "exh": "1"}, "gear": gear}
    assert Engine(described).kinds() & of_gear == GEAR[gear]


@pytest.mark.parametrize("name", ENGINES)
def test_no_step_waits_for_one_that_comes_later_and_all_that_is_waited_for_is_there(name):
    found = ENGINES[name].steps()
    ids = [one.id for one in found]
    assert len(set(ids)) == len(ids)
    for one in found:
        assert all(ids.index(gate) < ids.index(one.id) for gate in one.after)


@pytest.mark.parametrize("name", ENGINES)
def test_nothing_is_turned_or_cranked_before_hydraulics_are_down_and_pistons_are_down_before_the_head(name):
    found = {one.id: one for one in ENGINES[name].steps()}

    def behind(step):
        return {step} | {far for gate in found[step].after for far in behind(gate)}

    kinds = {found[one].kind for one in behind("oil_primed")}
    assert ("hydraulics_down" in kinds) == ("hydraulic" in ENGINES[name].described["gear"])
    for step in found.values():
        if step.kind in ("head_on", "cams_in"):
            assert ("pistons_down" in {found[one].kind for one in behind(step.id)}) == ENGINES[name].overhead
    assert "lash_again" in kinds or "preload_read" in kinds


@pytest.mark.parametrize(("facts", "there"), [
    (Facts("plain", "yes"), True), (Facts("stretch", "yes"), False), (Facts("plain", "no"), False), (Facts(), False),
    (Facts("untold", "yes"), False),
])  # fmt: skip
def test_a_head_is_tightened_again_only_where_the_gasket_asks_and_never_on_stretch_bolts(facts, there):
    assert ("tightened_again" in Engine(TERN, (), facts).kinds()) == there


def test_a_head_of_sixteen_valves_is_not_a_list_of_hundreds_and_names_the_valve_that_is_new():
    engine = Engine(TERN | {"seal": "positive"}, (Work("valve_replace", "exh-3f"), Work("spring_shim", "exh-3f", "0.50", "mm")))
    found = {one.id: one for one in engine.steps()}
    assert len(found) < 60
    assert (len(found["valves_in"].places), found["valves_in"].whole) == (16, True)
    assert found["valves_in"].changed == (Work("valve_replace", "exh-3f"),)
    assert found["spring_seats"].changed == (Work("spring_shim", "exh-3f", "0.50", "mm"),)


def test_each_head_of_a_v_is_signed_for_itself_and_work_stands_at_its_own_head():
    found = {one.id: one for one in Engine(EGRET, work("skim@right/head", "guide_replace@exh-3")).steps()}
    assert {"keepers_in@left", "keepers_in@right", "head_on@left"} <= set(found)
    assert len(found["keepers_in@left"].places) == 8
    assert found["chips_out@left"].changed == work("guide_replace@exh-3")
    assert found["chips_out@right"].changed == work("skim@right/head")
    assert "head_cool@left" in found and "head_cool@right" not in found
    assert found["head_on@left"].after[0] == "parts_there" and not any("right" in gate for gate in found["head_on@left"].after)


def test_each_camshaft_is_signed_for_itself():
    found = {one.id: one for one in ENGINES["opposed six, hydraulic buckets"].steps()}
    caps = [name for name in found if name.startswith("cam_caps")]
    assert caps == [f"cam_caps@{bank}/cam-{side}" for bank in ("left", "right") for side in ("inl", "exh")]
    assert found["cam_caps@left/cam-inl"].after == ("cams_in@left/cam-inl",)
    assert [one.id for one in found.values() if "cam_replace" in {w.operation for w in one.changed}] == [
        "cams_in@left/cam-inl", "cam_end_play_read@left/cam-inl"]  # fmt: skip
    assert set(found["chain_on@left/drive"].after) == {
        f"{kind}@left/cam-{side}" for kind in ("cam_end_play_read", "cam_seals_in") for side in ("inl", "exh")}


def test_parts_that_are_used_once_stand_at_the_step_that_puts_them_in():
    order = (New("stem_seal", "stem seal", 16), New("head_gasket", "head gasket", 2), New("head_bolt", "head bolt", 20))
    found = {one.id: one for one in Engine(EGRET | {"seal": "positive"}).steps(order)}
    assert found["parts_there"].new == order
    assert found["seals_positive@left"].new == (New("stem_seal", "stem seal", 8),)
    assert found["gasket_on@right"].new == (New("head_gasket", "head gasket", 1),)
    assert found["bolts_in@right"].new == (New("head_bolt", "head bolt", 10),)
    assert found["holes_dry@left"].new == ()


def test_a_step_says_what_brought_it():
    found = {one.id: one for one in Engine(PETREL | {"drive": "belt"}, work("seat_insert@exh-3")).steps()}
    told = {(one.fact, one.value, one.places) for one in found["head_cool"].why}
    assert told == {("operations", "seat_insert", ("exh-3",))}
    assert {(one.fact, one.value) for one in found["belt_on"].why} == {("drive", "belt"), ("cams", "overhead")}
    assert [one.fact for one in found["keepers_in"].why] == ["head_off"]


def test_only_the_valve_that_got_a_cap_is_named_where_caps_go_on():
    (step,) = (one for one in ENGINES["shims under buckets"].steps() if one.kind == "lash_caps_on")
    assert (step.places, step.whole) == (("inl-3f",), False)


def test_what_is_measured_is_what_this_engine_has():
    assert "cam_cap_fit" not in {name for one in Engine(EGRET).steps() for name in one.check}
    checks = {one.kind: one.check for one in ENGINES["hybrid diesel four, gears, rings"].steps()}
    assert checks["gears_meshed"][0] == "gear_backlash"
    assert (checks["gasket_grade"], checks["injectors_in"]) == (("deck_clearance",), ("injector_protrusion",))


def test_work_at_a_place_of_another_release_brings_no_fault():
    assert Engine(EGRET, (Work("polish", "sump"),)).steps() == Engine(EGRET).steps()


@pytest.mark.parametrize("name", ENGINES)
def test_every_fact_that_a_condition_may_ask_for_has_one_of_its_values(name):
    told = engine_facts(ENGINES[name].layout, ENGINES[name].facts)
    assert set(told) == set(FACTS) and WORK not in told
    assert all(told[fact] in FACTS[fact] for fact in FACTS)


def test_every_kind_of_step_is_met_by_some_engine():
    timed = Engine(PETREL, work("time_cam@cam"))
    met = set().union(*(one.kinds() for one in ENGINES.values()), timed.kinds())
    again = Engine(TERN, (), PLAIN).kinds()
    assert set(catalogue().steps) == met | again
