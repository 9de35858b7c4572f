"""Which limit holds for a place."""

import pytest

from catalogue.shelf import shipped
from limits.sheets import TERN, sheet
from witnessmark.limits.limit import Selector, limit_for, limits_for
from witnessmark.limits.sheet import read_sheet

READ = read_sheet(TERN, "limits.yaml", shipped())


@pytest.mark.parametrize(
    ("place", "low"),
    [
        ("inl-1f/2", "1.0"),
        ("exh-1f/1", "1.4"),
        ("exh-1r", "1.5"),  # the rear exhaust valves have their own
        ("exh-3f", "1.7"),  # and this valve
        ("exh-3f/2", "1.7"),
        ("exh-3f/1", "1.8"),  # and this place on it
    ],
)
def test_the_most_particular_limit_holds(place, low):
    found = limit_for(READ, "seat_width", place, "service")
    assert found is not None
    assert found.low_text == low


def test_a_limit_knows_its_document_and_who_bears_the_doubt():
    found = limit_for(READ, "seat_width", "exh-1r", "service")
    assert (found.document, found.bearer) == ("bulletin 4", "must be proven good")
    assert limit_for(READ, "seat_width", "exh-3f", "service").bearer == "even"
    assert limit_for(READ, "stem_diameter", "inl-3f", "new").page == "41"


def test_no_limit_is_supplied_where_the_sheet_has_none():
    assert limit_for(READ, "margin", "inl-3f", "service") is None
    assert limit_for(READ, "seat_width", "exh-3f", "new") is None
    assert limit_for(READ, "stem_diameter", "gasket-face", "service") is None


def test_a_value_and_a_spread_may_both_be_limited():
    value, spread = limits_for(READ, "installed_height", "inl-2f", "service")
    assert (value.low_text, value.high_text, value.of_spread) == ("37.6", "38.2", False)
    assert (spread.high_text, spread.of_spread) == ("0.5", True)
    assert limit_for(READ, "installed_height", "inl-2f", "service") == value


def test_a_sheet_may_bring_kinds_of_limit_of_its_own():
    assert limit_for(READ, "tall_load", "inl-2f", "reassembly").low == 188


def test_a_test_height_is_given_not_judged():
    found = limit_for(READ, "tall_height", "inl-2f", "given")
    assert (found.low, found.high, found.low_text) == (38.0, 38.0, "38.00")


def test_a_place_covers_what_lies_below_it_and_no_namesake():
    chosen = Selector(place="bolt-1")
    assert chosen.covers("bolt-1")
    assert not chosen.covers("bolt-10")
    assert Selector(place="left/gasket-face").covers("left/gasket-face/diagonal-1")
    assert not Selector(place="left/gasket-face").covers("right/gasket-face/diagonal-1")


def test_a_side_is_found_on_valves_lobes_cams_and_manifold_faces():
    places = ("inl-3f/top/along", "cam-inl/lobe-3f", "cam/lobe-inl-3", "cam-inl/journal-2", "inlet-face/line-1")
    assert all(Selector(for_="inl").covers(place) for place in places)
    assert not any(Selector(for_="exh").covers(place) for place in places)


def test_a_side_of_a_manifold_may_have_its_own_flatness():
    faces = sheet("manifold_face_flatness: [{for: exh, service: {high: 0.15}, unit: mm}]")
    assert limit_for(faces, "manifold_face_flatness", "exhaust-face/line-2", "service").high == 0.15
    assert limit_for(faces, "manifold_face_flatness", "inlet-face/line-2", "service") is None
