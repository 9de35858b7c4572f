"""The tables of the bench book: every characteristic of a head is there, whole, and can be walked on every engine."""

import pytest

from catalogue.shelf import shipped
from engine.engines import PETREL, WREN, egret, tern
from witnessmark.catalogue.entry import DRAWINGS
from witnessmark.engine.layout import layout, locations, optional_stations, stations
from witnessmark.engine.place import shown

TABLES = {
    "A": """head_flatness head_flatness_local fire_ring_erosion manifold_face_flatness manifold_face_removed
        upper_face_flatness upper_face_removed head_height deck_removed deck_to_cam_parallelism deck_finish
        chamber_volume cam_bore_diameter cam_bore_roundness cam_bore_alignment cam_cap_fit head_cracks
        jacket_pressure_test seat_insert_bore seat_insert_od seat_insert_fit seat_insert_depth""",
    "B": """stem_diameter stem_taper stem_runout face_runout face_angle margin valve_head_diameter valve_length
        valve_neck tip_condition tip_squareness tip_removed tip_to_groove keeper_groove face_removed""",
    "C": """guide_bore stem_guide_clearance stem_wobble guide_hole guide_od guide_fit guide_height seat_angle seat_width
        seat_contact seat_contact_position seat_runout seat_recession seat_removed seat_and_face_removed
        seat_seal_test stem_height""",
    "D": """spring_free_length spring_squareness spring_rate installed_height seat_load open_load coil_bind_clearance
        retainer_seal_clearance stem_seal spring_pocket retainer_keeper rotator""",
    "E": """rocker_bore rocker_shaft_diameter rocker_shaft_clearance rocker_ratio rocker_pad tip_sweep pushrod_length
        pushrod_runout lifter_diameter lifter_bore lifter_bore_clearance lifter_crown bucket_diameter bucket_bore
        bucket_clearance valve_lash lash_shim hla_preload hla_leakdown""",
    "F": """cam_runout cam_journal_diameter cam_journal_form cam_oil_clearance cam_end_play lobe_height base_circle
        lobe_lift base_circle_runout lobe_taper valve_lift duration lobe_opens lobe_closes lobe_centreline
        chain_elongation chain_length chain_slack tensioner_extension sprocket_wear belt_condition gear_backlash""",
    "M": """bolt_length bolt_necking tightening_torque tightening_angle bolt_stretch thread_and_hole hole_depth""",
}
WANTED = [(table, name) for table, names in TABLES.items() for name in names.split()]
ENTRIES = shipped().characteristics
LOOKS = [entry for entry in ENTRIES.values() if entry.kind == "look"]
ENGINES = {
    "single": layout(WREN),
    "four": tern(),
    "pushrod V8": egret(),
    "fingers": layout(PETREL),
    "opposed six": tern(layout="opposed", cylinders="6", gear="bucket_hydraulic", drive="belt"),
    "three valves": tern(valves={"inl": "2", "exh": "1"}, drive="gear"),
    "five valves": tern(valves={"inl": "3", "exh": "2"}),
}


@pytest.mark.parametrize(("table", "name"), WANTED)
def test_every_characteristic_of_the_tables_is_there(table, name):
    assert ENTRIES[name].table == table


@pytest.mark.parametrize("entry", ENTRIES.values(), ids=lambda entry: entry.id)
def test_every_entry_is_whole(entry):
    """Each sentence says something of its own; nothing is a dash, a word, or the sentence of another field."""
    sentences = [entry.state, entry.measure, entry.out, entry.teach]
    assert all(len(each.split()) >= 3 for each in sentences), sentences
    assert len(set(sentences)) == 4
    assert entry.source.startswith("measure: ")
    assert entry.drawing in DRAWINGS
    assert entry.usual or entry.usual_by or entry.quantity == "none"
    assert entry.wears.split(";")[0].split(",")[0] in ("up", "down", "either way", "not at all")


def test_no_two_entries_teach_the_same():
    lessons = [entry.teach for entry in ENTRIES.values()]
    assert len(set(lessons)) == len(lessons)
    terms = [entry.term for entry in ENTRIES.values()]
    assert len(set(terms)) == len(terms)


@pytest.mark.parametrize("entry", LOOKS, ids=lambda entry: entry.id)
def test_a_look_has_answers_for_keys_and_ways_of_looking(entry):
    sorts = list(entry.says.values())
    assert sorts[0] == "good"
    assert "bad" in sorts
    assert len(sorts) <= 6
    assert any(shipped().methods[method].proves for method in entry.methods)


def test_the_eye_and_the_lens_prove_nothing():
    methods = shipped().methods
    assert not methods["eye"].proves
    assert not methods["lens"].proves
    assert methods["pressure_air"].proves
    assert all(method.misses for method in methods.values())


@pytest.mark.truth("common practice, no source: magnetic powder takes hold of iron and steel only")
def test_what_needs_magnetism_is_not_offered_for_aluminium():
    methods = shipped().methods
    assert all("aluminium" not in methods[name].materials for name in ("magnetic_dry", "magnetic_wet"))
    assert methods["penetrant"].usual_first_for == ("aluminium",)
    assert methods["magnetic_dry"].usual_first_for == ("iron",)


@pytest.mark.parametrize("name", ENGINES)
def test_every_engine_walks_its_own_characteristics_and_no_others(name):
    found = ENGINES[name]
    for entry in ENTRIES.values():
        walked = stations(found, entry)
        assert {place.partition("/")[0] for place in walked} <= {
            place.partition("/")[0] for place in locations(found, entry.at)
        }
        assert len({shown(place) for place in walked}) == len(walked)
        quick = stations(found, entry, quick=True)
        assert list(quick) == [place for place in walked if place in set(quick)]
        assert bool(quick) == bool(walked)
        assert not set(optional_stations(found, entry)) & set(walked)


def test_bucket_heads_have_no_pushrods_and_pushrod_heads_no_buckets():
    assert stations(tern(), ENTRIES["pushrod_length"]) == ()
    assert stations(egret(), ENTRIES["bucket_diameter"]) == ()
    assert len(stations(egret(), ENTRIES["pushrod_runout"])) == 16
    assert len(stations(tern(), ENTRIES["bucket_diameter"])) >= 16


def test_a_belt_is_looked_at_where_a_belt_drives_the_cams():
    assert stations(tern(), ENTRIES["belt_condition"]) == ()
    assert stations(tern(drive="belt"), ENTRIES["chain_slack"]) == ()
    assert stations(tern(drive="belt"), ENTRIES["belt_condition"])[0].startswith("drive")
    by_bank = {
        place.partition("/")[0] for place in stations(egret(gear="rocker", drive="belt"), ENTRIES["belt_condition"])
    }
    assert by_bank == {"left", "right"}


def test_caps_and_bores_of_the_cam_stand_at_their_journal():
    assert stations(tern(), ENTRIES["cam_cap_fit"])[:2] == ("cam-inl/journal-1", "cam-inl/journal-2")
    assert ENTRIES["cam_bore_diameter"].stations == ENTRIES["cam_journal_diameter"].stations
    assert stations(egret(), ENTRIES["cam_cap_fit"]) == ()


def test_each_chamber_is_looked_at_in_the_order_of_the_banks():
    assert [place.partition("/")[0] for place in stations(egret(), ENTRIES["head_cracks"])][::3] == [
        f"chamber-{number}" for number in (1, 3, 5, 7, 2, 4, 6, 8)
    ]
    assert "chamber-2/insert" in optional_stations(egret(), ENTRIES["head_cracks"])


@pytest.mark.truth("common practice, no source: guide, then seat, then stem height, then spring, then seal and lash")
def test_the_order_of_measuring_follows_the_order_of_the_work():
    order = list(ENTRIES)
    chain = ["stem_wobble", "guide_bore", "seat_runout", "stem_height", "installed_height"]
    assert sorted(chain, key=order.index) == chain
    assert "guide_bore" in ENTRIES["seat_runout"].after
    assert "stem_height" in ENTRIES["installed_height"].after


def test_the_guide_is_measured_where_the_rock_speaks_against_it():
    assert ENTRIES["guide_bore"].only_if == "stem_wobble"
    assert ENTRIES["guide_bore"].quick_stations == ("top/along", "bottom/along")
    assert ENTRIES["margin"].quick_stations == ()


def test_the_quick_route_of_the_valves_is_well_under_half():
    names = ("stem_diameter", "guide_bore", "seat_width", "manifold_face_flatness")
    full = sum(len(stations(tern(), ENTRIES[name])) for name in names)
    quick = sum(len(stations(tern(), ENTRIES[name], quick=True)) for name in names)
    assert quick < 0.4 * full


def test_the_removals_of_a_valve_and_its_seat_meet_in_one_sum():
    entry = ENTRIES["seat_and_face_removed"]
    assert entry.arguments == ("seat_removed", "face_removed")
    assert entry.pairing == "location"
