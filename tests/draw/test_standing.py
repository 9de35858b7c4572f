"""Where the gauge goes on casting, seats and guides, springs and fasteners: every entry, station and head."""

from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalogue.shelf import shipped
from draw.field import on_its_field
from draw.test_face import HEADS
from witnessmark.draw.extent import box, overlaps, text_box, texts
from witnessmark.draw.face import FacePlan
from witnessmark.draw.shape import flat
from witnessmark.draw.standing import STANDING, STANDING_BY
from witnessmark.draw.svg import PENS, svg
from witnessmark.draw.where import where

TABLES = "ACDM"
ENTRIES = [entry for entry in shipped().characteristics.values() if entry.table in TABLES]
CASES = [
    (entry.id, entry.drawing, station)
    for entry in ENTRIES
    for station in ("", *entry.stations, *(extra for extra in entry.optional if extra != "between"))
]
IDS = ["-".join(part for part in case if part) for case in CASES]
BY_ID = {entry.id: entry for entry in ENTRIES}
READ = ("0.2345", "125.02", "–0.071")
FACED = [case for case in CASES if case[1] in {"cracks", "finish", "fire_ring", "upper_face", "cam_line", "gasket",
                                               "manifold"}]  # fmt: skip


def read_at(name):
    """Values as they may be shown: numbers in mm and inch, leaves between two sizes, words of a look with an amount."""
    entry = BY_ID[name]
    shown = {"leaves": ("0.0015–0.0020",), "look": tuple(f"{word} 0.25" for word in entry.says)}.get(entry.kind, READ)
    return [dict.fromkeys(entry.stations or ("",), value) for value in shown]


def drawn(case, values=None, **more):
    name, drawing, station = case
    return where(drawing, station, values, characteristic=name, **more)


def held(picture):
    """Letters inside what is seen and apart from each other."""
    left, top, right, low = picture.frame
    assert not overlaps(picture.shapes)
    for text in texts(picture.shapes):
        one = text_box(text)
        assert one[0] >= left, text
        assert one[1] >= top, text
        assert one[2] <= right, text
        assert one[3] <= low, text


@pytest.mark.parametrize("case", CASES, ids=IDS)
def test_letters_stay_inside_and_apart_whatever_has_been_read(case):
    for values in ({}, *read_at(case[0])):
        picture = drawn(case, values)
        assert (picture.width, picture.height) == (350, 560)
        held(picture)


@pytest.mark.parametrize("case", CASES, ids=IDS)
def test_the_drawing_stays_on_its_field_and_names_what_is_touched(case):
    on_its_field(drawn(case))


@pytest.mark.parametrize("case", CASES, ids=IDS)
def test_paint_with_heavy_ink_lies_in_the_strip_too(case):
    for strip in (False, True):
        picture = drawn(case, strip=strip)
        left, top, right, bottom = picture.frame
        paint = [box(s) for s in flat(picture.shapes) if s.role in {"now", "now_line"}]
        needs_station = case[1] in {"gasket", "manifold", "head"} and not case[2]
        seen = [b for b in paint if b[0] < right and b[2] > left and b[1] < bottom and b[3] > top]
        assert seen or needs_station
        assert {"edge", "outline"} & {s.role for s in flat(picture.shapes)}


@pytest.mark.parametrize("case", CASES, ids=IDS)
def test_roles_are_known_and_red_is_kept_for_what_is_out(case):
    picture = drawn(case)
    roles = {shape.role for shape in flat(picture.shapes)}
    assert roles <= set(PENS)
    assert not {role for role in roles if role.startswith("out") and role != "outline"}
    ET.fromstring(svg(picture))
    ET.fromstring(svg(picture, printed=True))


@pytest.mark.parametrize("case", FACED, ids=["-".join(part for part in case if part) for case in FACED])
def test_every_head_has_its_drawing_with_letters_inside_and_apart(case):
    for plan in HEADS:
        held(drawn(case, read_at(case[0])[0], face=plan, location=f"chamber-{plan.cylinders[-1]}"))


@settings(max_examples=120, deadline=None)
@given(st.sampled_from(CASES), st.sampled_from(["within", "out", "close", "so far"]),
       st.sampled_from(["", "least 5.940", "5.925 – 5.940", "most 0.0020 in, new 0.0012 in", "none, no pores"]))  # fmt: skip
def test_the_verdict_stands_under_the_words_and_hides_none(case, verdict, limit):
    plain, judged = (
        drawn(case, read_at(case[0])[0], **more) for more in ({}, {"verdict": verdict, "limit_words": limit})
    )
    assert (judged.width, judged.height) == (plain.width, plain.height)
    held(judged)
    said = {text.text for text in texts(judged.shapes)} - {text.text for text in texts(plain.shapes)}
    assert said == {"too close to call" if verdict == "close" else verdict, *([limit] if limit else [])}
    low = max(text_box(text)[3] for text in texts(plain.shapes))
    assert all(text_box(text)[1] >= low for text in texts(judged.shapes) if text.text in said)


def test_a_verdict_that_is_no_verdict_is_told_with_those_there_are():
    with pytest.raises(ValueError, match=r"no verdict is called 'safe': say one of within, out, close, so far"):
        where("stem", verdict="safe")


def test_the_strip_of_a_phone_carries_no_verdict():
    assert where("stem", verdict="out", strip=True).shapes == where("stem", strip=True).shapes


@pytest.mark.parametrize("name", sorted({**STANDING, **STANDING_BY}))
def test_each_scene_is_met_by_an_entry_of_the_catalogue_or_a_drawing_it_may_name(name):
    assert name in BY_ID or where(name)


DIFFERENT = {
    "guide_height": ("guide_hole", "guide_od", "guide_fit", "guide_height"),
    "seat": ("seat_width", "seat_runout", "seat_recession", "seat_removed", "seat_and_face_removed"),
    "seat_angle": ("seat_angle", "relief_angle_top", "relief_angle_bottom"),
    "seat_contact": ("seat_contact", "seat_contact_position"),
    "seat_insert": ("seat_insert_bore", "seat_insert_od", "seat_insert_fit", "seat_insert_depth"),
    "fire_ring": ("fire_ring_erosion", "head_flatness_local"),
    "finish": ("deck_finish", "deck_marks"),
    "cam_line": ("cam_bore_alignment", "deck_to_cam_parallelism"),
    "retainer_seal": ("retainer_seal_gap", "retainer_seal_clearance"),
    "retainer_keeper": ("retainer_keeper", "rotator"),
    "spring_pocket": ("spring_pocket", "spring_side_clearance"),
    "necking": ("bolt_full_diameter", "bolt_least_diameter"),
    "bolt_hole": ("thread_and_hole", "hole_depth"),
    "gasket": ("head_flatness", "deck_removed"),
}


@pytest.mark.parametrize("drawing", sorted(DIFFERENT))
def test_what_is_measured_in_another_setting_is_drawn_in_it(drawing):
    pictures = [svg(where(drawing, characteristic=name)) for name in DIFFERENT[drawing]]
    assert len(set(pictures)) == len(pictures)


@pytest.mark.parametrize("name", [entry.id for entry in ENTRIES if len(entry.stations) > 1])
def test_each_station_is_drawn_where_it_is(name):
    entry = BY_ID[name]
    pictures = [svg(where(entry.drawing, station, characteristic=name)) for station in entry.stations]
    assert len(set(pictures)) == len(pictures)


def test_the_chamber_of_now_is_the_painted_one():
    places = []
    for number in (1, 2, 3, 4):
        shapes = flat(where("fire_ring", characteristic="fire_ring_erosion", location=f"chamber-{number}").shapes)
        places.append(next(box(s)[0] for s in shapes if s.role == "now"))
    assert places == sorted(places)
    assert len(set(places)) == 4


def test_a_relief_cut_lies_on_its_own_side_of_the_seat():
    top, bottom = (where("seat_angle", characteristic=f"relief_angle_{side}") for side in ("top", "bottom"))
    assert "chamber side" in top.name
    assert "port side" in bottom.name


@pytest.mark.parametrize("station", ["between-seats", "seat-to-plug", "injector", "insert"])
@pytest.mark.parametrize("plan", HEADS, ids=[f"{len(h.inlets)}+{len(h.exhausts)} of {len(h.cylinders)}" for h in HEADS])
def test_the_metal_to_look_at_is_painted_on_every_chamber(plan, station):
    picture = where("cracks", station, characteristic="head_cracks", face=plan)
    paint = [box(s) for s in flat(picture.shapes) if s.role in {"now", "now_line"}]
    assert len(paint) >= 1
    for left, top, right, low in paint:
        assert 30 < left < right < 320
        assert 20 < top < low < 270


def test_a_head_of_one_cylinder_and_of_eight_differ():
    one, eight = (svg(where("upper_face", "diagonal-1", face=FacePlan(tuple(range(1, n + 1))))) for n in (1, 8))
    assert one != eight


@pytest.mark.parametrize(("drawing", "name"), [("chamber", "chamber_volume"), ("upper_face", "upper_face_flatness"),
                                               ("upper_face", "upper_face_removed")])  # fmt: skip
def test_a_head_whose_cam_lies_in_the_block_is_drawn_without_cams(drawing, name):
    gears = [svg(where(drawing, characteristic=name, gear=gear)) for gear in ("bucket_shim", "pushrod_hydraulic")]
    assert gears[0] != gears[1]
