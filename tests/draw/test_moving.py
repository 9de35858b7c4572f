"""Where the gauge goes on valves, followers and lash, camshaft and drive: every entry, every station, every gear."""

from xml.etree import ElementTree as ET

import pytest

from catalogue.shelf import shipped
from draw.field import on_its_field
from witnessmark.draw.extent import box, overlaps, text_box, texts
from witnessmark.draw.shape import Text, flat
from witnessmark.draw.svg import PENS, svg
from witnessmark.draw.where import where
from witnessmark.engine.shape import GEARS

TABLES = "BEF"
ENTRIES = [entry for entry in shipped().characteristics.values() if entry.table in TABLES]
CASES = [
    (entry.id, entry.drawing, station, gear)
    for entry in ENTRIES
    for station in ("", *entry.stations)
    for gear in (entry.gears or GEARS[:1])
]
IDS = ["-".join(part for part in case if part) for case in CASES]
BY_ID = {entry.id: entry for entry in ENTRIES}
READ = ("0.2345", "125.02", "–0.071")


def read_at(name):
    """Values as they may be shown: numbers in mm and inch, leaves between two sizes, words of a look with an amount."""
    entry = BY_ID[name]
    shown = {"leaves": ("0.0015–0.0020",), "look": tuple(f"{word} 0.25" for word in entry.says)}.get(entry.kind, READ)
    return [dict.fromkeys(entry.stations or ("",), value) for value in shown]


def drawn(case, values=None, **more):
    name, drawing, station, gear = case
    return where(drawing, station, values, characteristic=name, gear=gear, **more)


@pytest.mark.parametrize("case", CASES, ids=IDS)
def test_letters_stay_inside_and_apart_whatever_has_been_read(case):
    for values in ({}, *read_at(case[0])):
        picture = drawn(case, values)
        assert (picture.width, picture.height) == (350, 560)
        assert not overlaps(picture.shapes)
        for text in texts(picture.shapes):
            left, top, right, bottom = text_box(text)
            assert left >= 0, text
            assert top >= 0, text
            assert right <= 350, text
            assert bottom <= 560, text


@pytest.mark.parametrize("case", CASES, ids=IDS)
def test_the_drawing_stays_on_its_field_and_names_what_is_touched(case):
    on_its_field(drawn(case))


@pytest.mark.parametrize("case", CASES, ids=IDS)
def test_paint_with_heavy_ink_lies_in_the_strip_too(case):
    for strip in (False, True):
        picture = drawn(case, strip=strip)
        left, top, right, bottom = picture.frame
        shapes = list(flat(picture.shapes))
        paint = [box(shape) for shape in shapes if shape.role in {"now", "now_line"}]
        assert [b for b in paint if b[0] < right and b[2] > left and b[1] < bottom and b[3] > top]
        assert {"edge", "outline"} & {shape.role for shape in shapes}
        assert {shape.role for shape in shapes} <= set(PENS)
        assert strip or [shape for shape in shapes if isinstance(shape, Text)]


@pytest.mark.parametrize("case", CASES[:: len(CASES) // 40], ids=IDS[:: len(CASES) // 40])
def test_page_and_paper_can_be_written_and_the_verdict_is_drawn_under_it(case):
    for verdict in ("", "within", "out", "close", "so far"):
        picture = drawn(case, verdict=verdict, limit_words="least 5.940" if verdict else "")
        ET.fromstring(svg(picture))
        ET.fromstring(svg(picture, printed=True))
        assert not overlaps(picture.shapes)


@pytest.mark.parametrize(
    ("gear", "between"),
    [("bucket_shim", "shim of the bucket"), ("bucket_shim_under", "and the bucket"), ("finger_screw", "finger's pad"),
     ("rocker", "adjusting screw and the tip"), ("pushrod", "rocker's pad and the tip")],
)  # fmt: skip
def test_lash_is_drawn_in_the_gear_on_the_bench(gear, between):
    assert between in where("lash", gear=gear, characteristic="valve_lash").name


def test_a_shim_under_the_bucket_is_drawn_under_it():
    on_top, under = (where("lash", gear=gear) for gear in ("bucket_shim", "bucket_shim_under"))
    assert svg(on_top) != svg(under)


@pytest.mark.parametrize("entry", [entry.id for entry in ENTRIES if len(entry.stations) > 1])
def test_each_station_paints_another_place_or_marks_another_word(entry):
    one = BY_ID[entry]
    gear = (one.gears or GEARS)[0]
    pages = {svg(where(one.drawing, station, characteristic=entry, gear=gear)) for station in one.stations}
    assert len(pages) == len(one.stations)


@pytest.mark.parametrize(
    ("one", "other"),
    [("tip_condition", "tip_squareness"), ("tip_condition", "tip_removed"), ("keeper_groove", "tip_to_groove"),
     ("valve_length", "valve_neck"), ("rocker_bore", "rocker_shaft_diameter"), ("lifter_bore", "lifter_diameter"),
     ("bucket_bore", "bucket_clearance"), ("pushrod_length", "pushrod_runout"), ("lobe_opens", "lobe_closes"),
     ("equal_lift_first", "equal_lift_second"), ("chain_slack", "chain_lost_motion"),
     ("sprocket_wear", "sprocket_teeth"), ("hla_preload", "follower_pivot"), ("margin", "face_removed"),
     ("follower_lift", "rocker_ratio"), ("cam_journal_diameter", "cam_oil_clearance"),
     ("lobe_height", "lobe_lift"), ("tip_sweep", "tip_sweep_offset")],
)  # fmt: skip
def test_what_shares_a_drawing_by_name_is_shown_where_it_is_measured(one, other):
    pages = [svg(where(BY_ID[name].drawing, characteristic=name)) for name in (one, other)]
    assert BY_ID[one].drawing == BY_ID[other].drawing
    assert pages[0] != pages[1]


def test_a_trial_with_many_readings_keeps_the_last_and_that_of_now():
    values = {f"{height}/{way}": "5.95" for height in ("a", "b", "c", "d", "e") for way in ("along", "across")}
    picture = where("bucket", "a/along", values, characteristic="bucket_diameter")
    words = [text.text for text in texts(picture.shapes)]
    assert "a along" in words
    assert not overlaps(picture.shapes)


@pytest.mark.parametrize(
    ("name", "inlet", "exhaust"),
    [("lobe_opens", "before top", "before bottom"), ("lobe_closes", "after bottom", "after top"),
     ("lobe_centreline", "after top", "before top")],
)  # fmt: skip
def test_the_wheel_is_read_from_the_dead_centre_of_its_own_valve(name, inlet, exhaust):
    for location, said in (("cam-inl/lobe-inl-3f", inlet), ("cam-exh/lobe-exh-3f", exhaust)):
        picture = where("timing", characteristic=name, location=location)
        assert [text.text for text in texts(picture.shapes) if text.text.endswith(said)]
        assert not overlaps(picture.shapes)


def test_without_a_location_the_wheel_says_that_an_inlet_is_drawn():
    words = [text.text for text in texts(where("timing", characteristic="lobe_opens").shapes)]
    assert "reached: degrees before top; an inlet" in words


@pytest.mark.parametrize("journal", [2, 3, 4])
def test_the_indicator_stands_on_the_journal_of_now(journal):
    picture = where("cam", characteristic="cam_runout", location=f"cam-inl/journal-{journal}")
    paint = [box(shape) for shape in flat(picture.shapes) if shape.role == "now"]
    assert [(left + right) / 2 for left, _, right, _ in paint] == [40 + 67.5 * (journal - 1)]
