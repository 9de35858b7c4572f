"""The job's own list and the facts of its head: entered on what holds, told where they cannot be."""

from dataclasses import replace

import pytest

from desk.sheets.tern import tern
from witnessmark.desk import wanted
from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.sheets.part import NoPart, part_of
from witnessmark.desk.sheets.wanted import list_sheet

STAMP = Stamp("h2", "2026-11-24T10:42:18+00:00", "J. M.", "d-1")


@pytest.fixture(scope="module")
def state():
    return tern()


def test_the_list_keeps_the_order_of_the_bench_and_the_rest_of_the_head(state):
    (event,) = wanted.list_to_measure(state, STAMP, ["margin", "valve_lash"])
    assert event.kind == "job_opened"
    assert event.body["job"]["also_measure"] == [n for n in state.catalogue.characteristics if n in ("margin", "valve_lash")]
    assert event.body["job"]["engine"] == state.job.header["engine"]
    assert event.body["based_on"] == state.job.header_event is not None


def test_the_same_list_again_writes_nothing(state):
    listed = replace(state, job=replace(state.job, header={**state.job.header, "also_measure": ["margin"]}))
    assert wanted.list_to_measure(listed, STAMP, ["margin"]) == ()


@pytest.mark.parametrize(("facts", "said"), [
    ({"colour": "red"}, "no fact called"), ({"received": "24.11.26"}, "year-month-day"), ({"hours": "x" * 300}, "300 letters"),
])  # fmt: skip
def test_a_fact_that_cannot_be_is_told(state, facts, said):
    with pytest.raises(Refused, match=said):
        wanted.job_facts(state, STAMP, facts)


def test_without_an_engine_there_is_no_list(state):
    with pytest.raises(Refused, match="describe the engine first"):
        wanted.preset(replace(state, layout=None), "whole head")


def test_an_unknown_preset_is_told_with_those_that_there_are(state):
    with pytest.raises(Refused, match="gasket job, valve job, whole head"):
        wanted.preset(state, "sump job")


def test_the_quick_route_never_asks_for_more_than_the_full_one(state):
    rows = [row for group in list_sheet(state).groups for row in group.rows]
    assert len(rows) > 80 and all(row.quick <= row.full for row in rows)
    assert all(row.ticked for row in rows if row.limited)


def test_a_sheet_of_a_part_says_in_its_drawing_what_its_table_says(state):
    sheet = part_of(state, "inl-3f")
    assert f"with {len(sheet.lines)} dimensions" in sheet.drawing.name
    assert {line.place for line in sheet.lines} == {"inl-3f"}


def test_a_face_is_no_part(state):
    with pytest.raises(NoPart, match="valves, lobes"):
        part_of(state, "gasket-face")
