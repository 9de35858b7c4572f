"""Places in the order of a hand, for every layout from a single to sixteen cylinders."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.shelf import shipped
from engine.engines import PETREL, WREN, egret, tern
from witnessmark.engine.layout import GEARS, PLACES, layout, locations, misplaced, optional_stations, related, stations
from witnessmark.engine.place import PlaceError, cylinder, parse, shown

CATALOGUE = shipped().characteristics


def at(found, name):
    return stations(found, CATALOGUE[name])


def test_a_hand_walks_the_inlet_row_and_then_the_exhaust_row():
    row = ["inl-1f", "inl-1r", "inl-2f", "inl-2r", "inl-3f", "inl-3r", "inl-4f", "inl-4r"]
    assert list(locations(tern(), "valve")) == row + [valve.replace("inl", "exh") for valve in row]


def test_a_v_engine_is_walked_bank_by_bank():
    assert locations(egret(), "valve")[:8] == ("inl-1", "inl-3", "inl-5", "inl-7", "exh-1", "exh-3", "exh-5", "exh-7")
    assert locations(egret(), "gasket_face") == ("left/gasket-face", "right/gasket-face")
    assert locations(egret(), "bolt")[9:11] == ("left/bolt-10", "right/bolt-1")


def test_at_each_valve_the_stations_follow_from_the_top():
    assert at(tern(), "stem_diameter")[:7] == (
        "inl-1f/top/along",
        "inl-1f/top/across",
        "inl-1f/middle/along",
        "inl-1f/middle/across",
        "inl-1f/bottom/along",
        "inl-1f/bottom/across",
        "inl-1r/top/along",
    )


@pytest.mark.truth("common practice, no source: a gasket face is tried on six lines, each manifold face on three")
def test_six_lines_on_the_gasket_face_and_three_on_each_manifold_face():
    assert [place.partition("/")[2] for place in at(tern(), "head_flatness")] == [
        "inlet-edge",
        "exhaust-edge",
        "front-end",
        "rear-end",
        "diagonal-1",
        "diagonal-2",
    ]
    assert at(tern(), "manifold_face_flatness") == tuple(
        f"{face}/line-{n}" for face in ("inlet-face", "exhaust-face") for n in (1, 2, 3)
    )


@pytest.mark.truth("common practice, no source: a cam journal is read at two places in two directions")
def test_a_cam_journal_is_read_at_two_widths_in_two_directions():
    assert at(layout(WREN), "cam_journal_diameter")[:4] == (
        "cam/journal-1/front/along",
        "cam/journal-1/front/across",
        "cam/journal-1/rear/along",
        "cam/journal-1/rear/across",
    )
    assert len(at(tern(), "cam_journal_diameter")) == 2 * 5 * 4


@pytest.mark.truth(
    "common practice, no source: runout is read at the middle journals, the outer ones lying on V-blocks"
)
def test_cam_runout_is_read_between_the_outer_journals():
    assert at(tern(), "cam_runout")[:3] == ("cam-inl/journal-2", "cam-inl/journal-3", "cam-inl/journal-4")
    assert at(tern(cam_journals="3"), "cam_runout") == ("cam-inl/journal-2", "cam-exh/journal-2")
    assert at(layout(WREN), "cam_runout") == ("cam",)


def test_a_shared_camshaft_names_the_valve_of_each_lobe():
    assert locations(layout(PETREL), "lobe")[:3] == ("cam/lobe-inl-1", "cam/lobe-exh-1", "cam/lobe-inl-2")
    assert locations(tern(), "lobe")[:2] == ("cam-inl/lobe-1f", "cam-inl/lobe-1r")


def test_a_cam_in_the_block_is_one_shaft_walked_from_front_to_rear():
    assert locations(egret(), "cam") == ("cam",)
    by_halves = egret(banks={"left": ["1", "2", "3", "4"], "right": ["5", "6", "7", "8"]})
    assert [cylinder(place) for place in locations(by_halves, "lobe")[::2]] == [1, 5, 2, 6, 3, 7, 4, 8]


def test_overhead_camshafts_of_a_v_engine_carry_their_bank():
    found = egret(gear="bucket_shim", valves={"inl": "2", "exh": "2"})
    assert locations(found, "cam") == ("left/cam-inl", "left/cam-exh", "right/cam-inl", "right/cam-exh")
    assert related("inl-2f", "cam", found) == "right/cam-inl"
    assert related("inl-2f", "lobe", found) == "cam-inl/lobe-2f"


def test_an_inner_and_an_outer_spring_are_read_each():
    assert at(tern(springs="2"), "spring_free_length")[:3] == ("inl-1f/outer", "inl-1f/inner", "inl-1r/outer")
    assert at(tern(springs="2"), "installed_height")[:2] == ("inl-1f", "inl-1r")


def test_a_hydraulic_gear_has_no_lash_to_read():
    assert at(egret(), "valve_lash") == ()
    assert at(layout(PETREL), "lash_shim") == ()
    assert len(at(layout(WREN), "valve_lash")) == 2
    assert len(at(tern(), "lash_shim")) == 16


def test_lines_between_cylinders_may_be_read_and_are_not_asked_for():
    extra = optional_stations(tern(), CATALOGUE["head_flatness"])
    assert extra == ("gasket-face/centre", *(f"gasket-face/between-{n}-{n + 1}" for n in (1, 2, 3)))
    assert not set(extra) & set(at(tern(), "head_flatness"))
    assert "left/gasket-face/between-1-3" in optional_stations(egret(), CATALOGUE["head_flatness"])


@pytest.mark.parametrize(
    ("place", "part", "belongs"),
    [
        ("inl-3f/top/along", "guide", "inl-3f"),
        ("exh-2r", "lobe", "cam-exh/lobe-2r"),
        ("cam-exh/lobe-2r/front", "valve", "exh-2r"),
        ("cam-exh/lobe-2r", "cam", "cam-exh"),
        ("cam-inl/journal-3/front/along", "cam", "cam-inl"),
        ("inl-3f", "gasket_face", "gasket-face"),
        ("bolt-3", "head", "head"),
    ],
)
def test_parts_belong_to_each_other(place, part, belongs):
    assert related(place, part, tern()) == belongs


@pytest.mark.parametrize(
    ("place", "part", "belongs"),
    [
        ("inl-3f", "chamber", "chamber-3"),
        ("inl-3f", "rocker", "inl-3f"),
        ("cam-exh/lobe-2r", "lifter", "exh-2r"),
        ("chamber-3/deck", "gasket_face", "gasket-face"),
        ("chamber-3", "drive", "drive"),
        ("cam-inl/journal-3/front/along", "cam_bore", "cam-inl/journal-3"),
        ("cam-inl/journal-3", "cam_cap", "cam-inl/journal-3"),
        ("cam-inl", "drive", "drive"),
    ],
)
def test_chambers_bores_and_drive_belong_to_their_neighbours(place, part, belongs):
    assert related(place, part, tern()) == belongs


def test_a_chamber_has_several_valves_and_so_none_of_its_own():
    with pytest.raises(PlaceError, match=r"Chamber 3.* has no valve of its own"):
        related("chamber-3", "valve", tern())
    with pytest.raises(PlaceError, match="has no cam bore of its own"):
        related("cam-inl", "cam_bore", tern())


def test_chambers_are_walked_bank_by_bank():
    assert locations(egret(), "chamber") == tuple(f"chamber-{number}" for number in (1, 3, 5, 7, 2, 4, 6, 8))


def test_each_head_with_camshafts_has_its_own_drive():
    found = egret(gear="bucket_shim", drive="belt")
    assert locations(found, "drive") == ("left/drive", "right/drive")
    assert related("inl-2", "drive", found) == "right/drive"
    assert related("left/head", "drive", found) == "left/drive"
    assert locations(egret(), "drive") == ("drive",)
    assert related("inl-2", "drive", egret()) == "drive"


def test_what_the_drive_does_not_have_is_told():
    assert "its cam drive is a chain" in misplaced(tern(), CATALOGUE["belt_condition"], "drive")


def test_the_quick_route_takes_the_worst_places_of_each_valve():
    quick = stations(tern(), CATALOGUE["stem_diameter"], quick=True)
    assert quick[:3] == ("inl-1f/top/along", "inl-1f/bottom/along", "inl-1r/top/along")
    assert stations(tern(), CATALOGUE["margin"], quick=True) == at(tern(), "margin")
    assert misplaced(tern(), CATALOGUE["stem_diameter"], "inl-1f/middle/across") == ""


def test_a_valve_of_a_bank_belongs_to_the_head_of_that_bank():
    assert related("exh-8", "gasket_face", egret()) == "right/gasket-face"
    assert related("exh-8", "lobe", egret()) == "cam/lobe-exh-8"


def test_a_bolt_has_no_lobe():
    with pytest.raises(PlaceError, match=r"Bolt 3.* has no lobe"):
        related("bolt-3", "lobe", tern())


def test_a_kind_of_place_that_nobody_knows_is_told():
    with pytest.raises(PlaceError, match="known: valve, guide"):
        locations(tern(), "piston")


@pytest.mark.parametrize(
    ("name", "place", "message"),
    [
        ("stem_diameter", "inl-5f/top/along", "did you mean 'inl-"),
        ("stem_diameter", "inl-3f/mid/along", "did you mean 'inl-3f/middle/along'?"),
        ("stem_diameter", "inl-3q", "names no place"),
        ("head_flatness", "bolt-1", "its first place is 'gasket-face/inlet-edge'"),
    ],
)
def test_a_reading_where_the_engine_has_nothing_is_told(name, place, message):
    assert message in misplaced(tern(), CATALOGUE[name], place)


def test_a_reading_that_the_gear_cannot_have_is_told():
    assert "pushrod_hydraulic" in misplaced(egret(), CATALOGUE["valve_lash"], "inl-1")


def test_optional_lines_are_not_misplaced():
    assert misplaced(tern(), CATALOGUE["head_flatness"], "gasket-face/between-2-3") == ""
    assert misplaced(tern(), CATALOGUE["head_flatness"], "gasket-face/inlet-edge") == ""


sides = st.sampled_from(["1", "2", "3"])
engines = st.builds(
    lambda kind, cylinders, inl, exh, gear, cams, springs, drive: {
        "layout": kind if cylinders > 1 else "inline",
        "cylinders": str(cylinders),
        "valves": {"inl": inl, "exh": exh if inl != "3" or exh != "3" else "2"},
        "gear": gear,
        "cams": "1" if gear.startswith("pushrod") else cams,
        "springs": springs,
        "drive": drive,
    },
    st.sampled_from(["inline", "v", "opposed"]),
    st.integers(1, 16),
    sides,
    sides,
    st.sampled_from(GEARS),
    st.sampled_from(["1", "2"]),
    st.sampled_from(["1", "2"]),
    st.sampled_from(["chain", "belt", "gear"]),
)


@given(engines)
def test_every_place_of_every_engine_is_walked_once_and_reads_back(data):
    found = layout(data)
    count = found.cylinders * found.valves_each
    assert len(locations(found, "valve")) == len(locations(found, "lobe")) == count
    for kind in PLACES:
        assert len(set(locations(found, kind))) == len(locations(found, kind)) > 0
    for entry in CATALOGUE.values():
        walked = stations(found, entry)
        assert len(set(walked)) == len(walked)
        assert len({shown(place) for place in walked}) == len(walked)
        assert {parse(place).location for place in walked} <= set(locations(found, entry.at))
        quick = set(stations(found, entry, quick=True))
        assert quick <= set(walked)
        assert {parse(place).location for place in quick} == {parse(place).location for place in walked}


@given(engines)
def test_lobe_and_valve_find_each_other_in_every_engine(data):
    found = layout(data)
    for valve in locations(found, "valve"):
        lobe = related(valve, "lobe", found)
        assert lobe in locations(found, "lobe")
        assert related(lobe, "valve", found) == valve
        assert related(lobe, "cam", found) in locations(found, "cam")
        assert related(valve, "head", found) in locations(found, "head")
