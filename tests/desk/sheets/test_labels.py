"""Labels for trays and caps."""

from urllib.parse import unquote

import pytest

from desk.sheets.tern import EIGHT, ENGINE, SINGLE, tern
from witnessmark.desk.sheets.labels import NoLabels, address, labels
from witnessmark.desk.state import state
from witnessmark.record.event import Event
from witnessmark.record.replay import replay


def test_each_valve_has_three_labels_each_bearing_and_each_bolt_one():
    found = labels(tern(ENGINE, with_readings=False))
    parts = [one.part for one in found]
    assert parts.count("valve") == parts.count("bucket and shim") == 16
    assert parts.count("spring, retainer, keepers") == 16
    assert parts.count("cam cap") == 10 and parts.count("head bolt") == 10


def test_a_place_is_called_as_it_is_on_the_screen():
    names = {one.place: one.name for one in labels(tern(ENGINE, with_readings=False))}
    assert names["inl-3f"] == "Inl 3F" and names["bolt-7"] == "Bolt 7"
    assert names["cam-inl/journal-3"] == "Inl cam 3"


def test_a_cam_in_the_block_has_no_caps_and_banks_have_bolts_of_their_own():
    found = labels(tern(EIGHT, with_readings=False))
    assert "cam cap" not in {one.part for one in found}
    assert {"Left bolt 1", "Right bolt 1"} <= {one.name for one in found}
    assert "rocker, pushrod, lifter" in {one.part for one in found}


def test_a_single_has_labels_too():
    assert [one.name for one in labels(tern(SINGLE, with_readings=False))][:2] == ["Inl 1", "Inl 1"]


def test_a_code_names_job_and_place_and_with_an_address_leads_to_the_bench():
    assert address("HL-0147", "inl-3f") == "WM:HL-0147/inl-3f"
    assert address("HL-0147", "cam-inl/journal-3", "http://10.0.0.5:8620/") == (
        "http://10.0.0.5:8620/at/HL-0147/cam-inl/journal-3"
    )


@pytest.mark.parametrize("job", ["HL 1/2", "Ö#?&", "a%b"])
def test_a_strange_number_stays_one_part_of_the_code(job):
    number, _, place = address(job, "inl-1").removeprefix("WM:").partition("/")
    assert (unquote(number), place) == (job, "inl-1")


@pytest.mark.parametrize("base", ["10.0.0.5", "ftp://x", "http://", "http://a b", "http://x?y"])
def test_what_is_no_address_is_told(base):
    with pytest.raises(NoLabels, match="write it like http://"):
        address("HL-1", "inl-1", base)


def test_without_an_engine_there_is_nothing_to_label():
    bare = state(replay([Event("o", "job_opened", {"job": {"id": "X-1"}})]), tern().catalogue)
    with pytest.raises(NoLabels, match="not described yet"):
        labels(bare)
