"""Places: what a machine writes, what people see, and what is no place."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.catalogue import place as places
from witnessmark.catalogue.place import PlaceError, parse, shown

SEEN = {
    "inl-3f": "Inl 3F",
    "inl-3f/middle/across": "Inl 3F middle, across",
    "exh-2r/top/along": "Exh 2R top, along",
    "exh-12m": "Exh 12M",
    "inl-1": "Inl 1",
    "inl-1/along": "Inl 1 along",
    "inl-1/2": "Inl 1 place 2",
    "exh-4/outer": "Exh 4 outer",
    "gasket-face/diagonal-1": "Gasket face diagonal 1",
    "gasket-face/inlet-edge": "Gasket face inlet edge",
    "gasket-face/between-1-2": "Gasket face between 1 and 2",
    "left/gasket-face/diagonal-1": "Left gasket face diagonal 1",
    "exhaust-face/line-3": "Exhaust face line 3",
    "head/height-1": "Head height 1",
    "right/head": "Right head",
    "cam-inl": "Inl cam",
    "cam-inl/journal-3/front/along": "Inl cam journal 3 front, along",
    "right/cam-exh/journal-2": "Right Exh cam journal 2",
    "cam-inl/lobe-3f": "Inl cam lobe 3F",
    "cam-inl/lobe-3f/nose": "Inl cam lobe 3F nose",
    "cam/lobe-exh-4/front": "Cam lobe Exh 4 front",
    "cam": "Cam",
    "bolt-7": "Bolt 7",
    "left/bolt-7": "Left bolt 7",
    "chamber-3": "Chamber 3",
    "chamber-3/seat-to-plug": "Chamber 3 seat to plug",
    "drive": "Drive",
    "left/drive": "Left drive",
    "right/upper-face/inlet-edge": "Right upper face inlet edge",
}


@pytest.mark.parametrize(("place", "seen"), SEEN.items())
def test_a_place_is_shown_in_one_form(place, seen):
    assert shown(place) == seen


@pytest.mark.parametrize(
    ("place", "location", "station"),
    [
        ("inl-3f/middle/across", "inl-3f", "middle/across"),
        ("inl-3f", "inl-3f", ""),
        ("cam-inl/journal-3/front/along", "cam-inl/journal-3", "front/along"),
        ("cam/lobe-inl-3/front", "cam/lobe-inl-3", "front"),
        ("left/gasket-face/centre", "left/gasket-face", "centre"),
        ("cam-exh/mid", "cam-exh", "mid"),
    ],
)
def test_location_and_station_part_a_place(place, location, station):
    assert (places.location(place), places.station(place)) == (location, station)


@pytest.mark.parametrize(
    ("place", "side", "cylinder", "position"),
    [
        ("inl-3f/top/along", "inl", 3, "f"),
        ("exh-12", "exh", 12, ""),
        ("cam-exh/lobe-2r", "exh", 2, "r"),
        ("cam/lobe-inl-4", "inl", 4, ""),
        ("cam-inl/journal-2", "inl", None, ""),
        ("exhaust-face/line-1", "exh", None, ""),
        ("gasket-face", "", None, ""),
        ("bolt-7", "", None, ""),
        ("chamber-12/deck", "", 12, ""),
        ("left/drive", "", None, ""),
    ],
)
def test_a_place_tells_side_cylinder_and_position(place, side, cylinder, position):
    assert (places.valve_kind(place), places.cylinder(place), places.position(place)) == (side, cylinder, position)


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("inl-3x", "names no place"),
        ("inlet-3", "names no place"),
        ("", "names no place"),
        ("left", "names a bank only"),
        ("inl-17", "beyond 16"),
        ("left/inl-3f", "write 'inl-3f'"),
        ("right/cam-inl/lobe-2", "write 'cam-inl/lobe-2'"),
        ("cam/lobe-3", "write it like 'cam/lobe-inl-3'"),
        ("cam-inl/lobe-inl-3", "write it like 'cam-inl/lobe-3'"),
        ("inl-3f/Top", "'Top' is no station"),
        ("inl-3f//across", "'' is no station"),
        ("gasket-face/a/b/c/d/e", "5 station words"),
        ("inl-3f/" + "x" * 90, "80 characters"),
        ("bolt-0", "names no place"),
        ("chamber-0", "names no place"),
        ("chamber-17", "beyond 16"),
        ("left/chamber-3", "write 'chamber-3'"),
        ("drives", "names no place"),
    ],
)
def test_what_is_no_place_is_told_what_to_write(text, what):
    with pytest.raises(PlaceError, match="(?s)" + what.replace("/", "/")):
        parse(text)


@given(st.text(max_size=120))
def test_any_text_is_a_place_or_a_sentence(text):
    try:
        found = parse(text)
    except PlaceError as error:
        assert len(str(error)) > 20
    else:
        assert found.location + (f"/{found.station}" if found.station else "") == text
        assert shown(text)


def test_two_places_are_never_shown_alike():
    assert len(set(SEEN.values())) == len(SEEN)
