"""Where the gauge goes now: every drawing, every station, both sizes."""

from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from witnessmark.catalogue.entry import DRAWINGS
from witnessmark.draw.extent import box, overlaps, text_box, texts
from witnessmark.draw.face import FacePlan
from witnessmark.draw.gasket import EDGE_STATIONS
from witnessmark.draw.shape import Text, flat
from witnessmark.draw.svg import svg
from witnessmark.draw.where import SCENES, where

SIX = tuple(f"{at}/{way}" for at in ("top", "middle", "bottom") for way in ("along", "across"))
STATIONS = {
    "stem": SIX, "guide": SIX, "margin": ("", "1", "2", "3", "4"), "seat": ("", "1", "2"),
    "spring": ("", "outer", "inner"),
    "lobe": ("", "front", "rear", "nose", "heel"), "gasket": ("", *EDGE_STATIONS, "centre"),
    "journal": ("front/along", "front/across", "rear/along", "rear/across"),
    "rock": ("", "along", "across"), "manifold": ("", "line-1", "line-2", "line-3"),
    "head": tuple(f"height-{i}" for i in range(1, 6)), "oil_pressure": ("", "hot-idle", "stated-speed"),
}  # fmt: skip
VARIANTS = {
    "seat": ("seat_width", "seat_runout", "seat_recession"), "guide": ("guide_bore",),
    "spring": ("spring_free_length", "spring_squareness", "tall_load", "short_load", "spring_solid_height",
               "tall_height",
               "short_height"),
    "lash": ("valve_lash", "lash_shim", "valve_lift"), "stem": ("stem_diameter", "stem_runout"),
    "lobe": ("lobe_height", "base_circle"),
    "compression": ("cranking_compression", "cranking_first", "cranking_wet"),
    "leak_down": ("leak_down", "leak_down_supply", "leak_down_cylinder"),
}  # fmt: skip
CASES = [
    (drawing, station, characteristic)
    for drawing in SCENES
    for station in STATIONS.get(drawing, ("",))
    for characteristic in VARIANTS.get(drawing, ("",))
]
READ = ("5.952", "0.2345", "125.02", "–0.07")


def full(drawing, reading):
    return dict.fromkeys(STATIONS.get(drawing, ("",)), reading)


@pytest.mark.parametrize(("drawing", "station", "characteristic"), CASES)
def test_letters_stay_inside_and_apart_at_every_station(drawing, station, characteristic):
    for values in ({}, full(drawing, "0.2345"), full(drawing, "125.02")):
        picture = where(drawing, station, values, characteristic=characteristic)
        assert (picture.width, picture.height) == (350, 560)
        assert not overlaps(picture.shapes)
        for text in texts(picture.shapes):
            left, top, right, bottom = text_box(text)
            assert left >= 0, text
            assert top >= 0, text
            assert right <= 350, text
            assert bottom <= 560, text


@pytest.mark.parametrize(("drawing", "station", "characteristic"), CASES)
def test_paint_shows_where_to_go_in_both_sizes_and_never_without_ink(drawing, station, characteristic):
    for strip in (False, True):
        picture = where(drawing, station, characteristic=characteristic, strip=strip)
        paint = [box(s) for s in flat(picture.shapes) if s.role in {"now", "now_line"}]
        left, top, right, bottom = picture.frame
        needs_station = drawing in {"gasket", "manifold", "head"} and not station
        seen = [b for b in paint if b[0] < right and b[2] > left and b[1] < bottom and b[3] > top]
        assert seen or needs_station
        assert {"edge", "outline"} & {s.role for s in flat(picture.shapes)}


@pytest.mark.parametrize(("drawing", "station", "characteristic"), CASES)
def test_large_drawings_stay_on_their_field(drawing, station, characteristic):
    picture = where(drawing, station, characteristic=characteristic)
    for shape in flat(picture.shapes):
        left, top, right, bottom = box(shape)
        assert left >= -2
        assert top >= -2
        assert right <= 352
        assert bottom <= 562, shape


@pytest.mark.parametrize(("drawing", "station", "characteristic"), CASES)
def test_each_has_a_name_that_says_where_now(drawing, station, characteristic):
    picture = where(drawing, station, characteristic=characteristic)
    assert picture.name.startswith("where the ")
    assert " now" in picture.name
    ET.fromstring(svg(picture))
    ET.fromstring(svg(picture, printed=True))


@pytest.mark.parametrize("drawing", sorted(SCENES))
def test_the_strip_of_a_phone_is_236_by_106_without_letters(drawing):
    strip = where(drawing, STATIONS.get(drawing, ("",))[-1], strip=True)
    left, top, right, bottom = strip.frame
    assert (strip.width, strip.height) == (236, 106)
    assert (right - left) / (bottom - top) == pytest.approx(236 / 106)
    assert not [s for s in strip.shapes if isinstance(s, Text)]


def test_the_reading_stands_at_its_station():
    picture = where("stem", "middle/across", {"top/along": "5.959", "middle/along": "5.952"})
    place = {text.text: text.y for text in texts(picture.shapes)}
    assert place["top"] < place["5.959"] < place["middle"] < place["5.952"] < place["bottom"]


def test_the_station_of_now_is_the_only_bold_one():
    picture = where("stem", "middle/across")
    bold = {t.text for t in texts(picture.shapes) if t.bold}
    assert "middle" in bold
    assert not {"top", "bottom"} & bold


def test_along_and_across_are_told_in_words_and_in_the_section():
    along, across = (where("guide", f"top/{way}") for way in ("along", "across"))
    assert "along the thrust" in along.name
    assert "across the thrust" in across.name
    assert svg(along) != svg(across)


def test_the_lash_of_a_rocker_engine_is_drawn_under_the_rocker():
    assert "rocker" in where("lash", gear="pushrod").name
    assert "bucket" in where("lash", gear="bucket_shim").name


def test_faces_are_those_of_the_engine_on_the_bench():
    single, four = (where("gasket", "diagonal-1", face=plan) for plan in (FacePlan((1,)), FacePlan()))
    assert svg(single) != svg(four)


def test_what_is_measured_in_another_setting_has_its_own_scene():
    assert "V-blocks" in where("stem", characteristic="stem_runout").name
    assert "rocked across" in where("guide", "across", characteristic="stem_wobble").name
    assert "full lift" in where("lash", characteristic="valve_lift").name


def test_every_drawing_that_the_catalogue_may_name_exists():
    assert set(DRAWINGS) <= set(SCENES)


def test_an_unknown_drawing_is_told_with_those_there_are():
    with pytest.raises(ValueError, match=r"no drawing called 'stam': name one of .*stem"):
        where("stam")


@settings(max_examples=60)
@given(st.sampled_from(CASES), st.sampled_from(READ), st.booleans())
def test_the_same_question_gives_the_same_bytes(case, reading, strip):
    drawing, station, characteristic = case
    pages = {
        svg(where(drawing, station, full(drawing, reading), characteristic=characteristic, strip=strip))
        for _ in range(2)
    }
    assert len(pages) == 1
