"""An engine described in a job file, and everything that keeps it from being laid out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.engines import EGRET, PETREL, TERN, WREN, egret, tern
from witnessmark.engine.layout import GEARS, LayoutError, layout


def told(data):
    with pytest.raises(LayoutError) as error:
        layout(data)
    found = {}
    for path, message in error.value.faults:
        found.setdefault(".".join(map(str, path)), []).append(message)
    return {path: "; ".join(messages) for path, messages in found.items()}


def test_what_follows_from_the_rest_is_marked_as_assumed():
    found = tern()
    assert (found.cams, found.cam_journals, found.head_bolts, found.springs) == (("cam-inl", "cam-exh"), 5, 10, 1)
    assert found.assumed == ("cams", "cam_journals", "head_bolts", "springs", "drive")
    assert found.drive == "chain"
    assert tern(cams="2", head_bolts="12", drive="belt").assumed == ("cam_journals", "springs")


def test_what_cannot_follow_from_the_rest_stays_empty_until_it_is_said():
    found = tern()
    assert (found.seal, found.fuel, found.cooling, found.hybrid) == ("", "", "", "")
    found = tern(seal="none", fuel="diesel", cooling="air", hybrid="yes")
    assert (found.seal, found.fuel, found.cooling, found.hybrid) == ("none", "diesel", "air", "yes")


def test_an_odd_number_stands_left_and_an_even_one_right_where_nobody_says_otherwise():
    assert egret().banks == (("left", (1, 3, 5, 7)), ("right", (2, 4, 6, 8)))
    assert "banks" in egret().assumed


def test_the_numbering_of_the_banks_can_be_written():
    found = egret(banks={"left": ["1", "2", "3", "4"], "right": ["5", "6", "7", "8"]})
    assert found.bank_of(4) == "left"
    assert "banks" not in found.assumed


def test_journals_and_bolts_follow_from_the_cylinders_of_a_bank():
    assert (egret().cam_journals, egret().head_bolts) == (5, 10)
    assert (layout(WREN).cam_journals, layout(WREN).head_bolts) == (2, 4)


def test_a_pushrod_engine_has_its_cam_in_the_block():
    assert egret().cam_in_block
    assert egret().cams == ("cam",)


def test_one_camshaft_over_two_valves_two_over_more():
    assert layout(PETREL).cams == ("cam",)
    assert tern(gear="rocker").cams == ("cam",)
    assert tern(gear="finger_screw").cams == ("cam-inl", "cam-exh")


def test_valves_are_counted_or_named_front_to_rear():
    assert tern(valves={"inl": "3", "exh": ["f", "r"]}).valves == (("inl", ("f", "m", "r")), ("exh", ("f", "r")))


@pytest.mark.parametrize(
    ("changes", "path", "message"),
    [
        ({"layout": "vee"}, "layout", "known: inline, v, opposed"),
        ({"layout": None}, "layout", "not written"),
        ({"cylinders": "17"}, "cylinders", "from 1 to 16"),
        ({"cylinders": "four"}, "cylinders", "'four'"),
        ({"cylinders": ["4"]}, "cylinders", "a list"),
        ({"cylinders": "٤"}, "cylinders", "from 1 to 16"),
        ({"gear": "buckets_shim"}, "gear", "did you mean 'bucket_shim'?"),
        ({"gear": {"kind": "rocker"}}, "gear", "a mapping"),
        ({"valves": None}, "valves", "not written"),
        ({"valves": "4"}, "valves", "no mapping"),
        ({"valves": {"inl": ["f"], "exh": "1"}}, "valves.inl", "write inl: 1"),
        ({"valves": {"inl": ["r", "f"], "exh": "1"}}, "valves.inl", "front to rear"),
        ({"valves": {"inl": "3", "exh": "3"}}, "valves", "6 valves"),
        ({"valves": {"inl": "2", "exh": "2", "in": "1"}}, "valves.in", "did you mean 'inl'?"),
        ({"head": "steel"}, "head", "known: aluminium, iron"),
        ({"drive": "chian"}, "drive", "did you mean 'chain'?"),
        ({"drive": ["belt"]}, "drive", "a list"),
        ({"cams": "3"}, "cams", "from 1 to 2"),
        ({"springs": "0"}, "springs", "from 1 to 2"),
        ({"seal": "rings"}, "seal", "did you mean 'ring'"),
        ({"fuel": "gas oil"}, "fuel", "petrol, diesel"),
        ({"cooling": "water"}, "cooling", "liquid, air"),
        ({"hybrid": "mild"}, "hybrid", "yes, no"),
        ({"head_bolts": "1"}, "head_bolts", "from 2 to 99"),
        ({"cylindres": "4"}, "cylindres", "did you mean 'cylinders'?"),
        ({"banks": {"left": ["1"], "right": ["2"]}}, "banks", "one bank"),
    ],
)
def test_a_fault_of_the_description_is_told_at_its_key(changes, path, message):
    assert message in told({**TERN, **changes})[path]


@pytest.mark.parametrize(
    ("banks", "path", "message"),
    [
        ({"left": ["1", "3", "5", "7"]}, "banks", "write both banks"),
        (["1", "2"], "banks", "write both banks"),
        ({"left": ["1", "3", "5", "7"], "right": ["2", "4", "6", "7"]}, "banks", "cylinder 7 stands in two places"),
        ({"left": ["1", "3", "5", "9"], "right": ["2", "4", "6", "8"]}, "banks.left.3", "no cylinder from 1 to 8"),
        ({"left": [], "right": ["2", "4", "6", "8"]}, "banks.left", "write the cylinder numbers"),
    ],
)
def test_banks_hold_each_cylinder_once(banks, path, message):
    assert message in told({**EGRET, "banks": banks})[path]


def test_all_faults_are_told_at_once():
    found = told({"layout": "x", "cylinders": "0", "valves": {}, "gear": "", "head": "wood", "colour": "red"})
    assert set(found) == {"layout", "cylinders", "valves.inl", "valves.exh", "gear", "head", "colour"}


def test_one_cylinder_makes_no_two_banks():
    assert "no two banks" in told({**EGRET, "cylinders": "1"})["cylinders"]


def test_two_camshafts_in_the_block_are_not_laid_out():
    assert "from 1 to 1" in told({**EGRET, "cams": "2"})["cams"]


plain = st.recursive(
    st.none() | st.text(max_size=8) | st.sampled_from(["inline", "v", "4", "1", "f", "r", *GEARS]),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=6), inner, max_size=4),
    max_leaves=10,
)
keys = st.sampled_from(["layout", "cylinders", "valves", "gear", "cams", "banks", "head", "springs", "drive", "else"])


@given(st.dictionaries(keys, plain))
def test_any_description_is_laid_out_or_told(data):
    try:
        assert layout(data).cylinders >= 1
    except LayoutError as error:
        assert all(message for _, message in error.faults)
