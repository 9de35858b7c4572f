"""The assembly sheet: rows in order with their words, one next step, cautions once, and signatures that stay."""

from dataclasses import fields

import pytest

from assemble.test_steps import ENGINES
from desk.worked import Desk
from witnessmark.assemble.steps_model import Step
from witnessmark.desk.commands import describe_engine
from witnessmark.desk.intend import set_work
from witnessmark.desk.sheets.steps import SECTIONS, STATES, steps_sheet
from witnessmark.desk.steps import sign
from witnessmark.desk.steps_words import changed_words, heading, where_words, why_words
from witnessmark.explain.planned import place as shown
from witnessmark.shell.resources import catalogue

DEMOS = ("tern", "egret", "wren", "petrel")


def rows(desk, unit="mm"):
    return {one.id: one for one in steps_sheet(desk.now, unit).rows}


@pytest.mark.parametrize("name", DEMOS)
def test_the_sheet_is_whole_and_has_one_next_step(name):
    sheet = steps_sheet(Desk(name).now)
    assert [one.number for one in sheet.rows] == list(range(1, len(sheet.rows) + 1))
    assert sheet.progress == (0, len(sheet.rows))
    assert [one.id for one in sheet.rows if one.state == "next"] == [sheet.next] == ["parts_there"]
    assert {one.state for one in sheet.rows} == {"next", "held", "ahead"} <= set(STATES)
    assert all(bool(one.held_why) == (one.state == "held") for one in sheet.rows)
    sections = list(dict.fromkeys(one.section for one in sheet.rows))
    assert sections == [words for words in SECTIONS.values() if words in sections]


@pytest.mark.parametrize("name", DEMOS)
def test_each_caution_is_told_in_full_where_it_comes_up_first(name):
    sheet = steps_sheet(Desk(name).now)
    first = [one.id for row in sheet.rows for one in row.cautions if one.first]
    assert len(set(first)) == len(first)
    assert set(first) == {one.id for row in sheet.rows for one in row.cautions} == {one.id for one in sheet.cautions}
    assert {"stored_spring_energy", "cranking", "air_in_cylinder", "fuel"} <= set(first)
    assert "high_voltage" not in first and "fuel_jet" not in first
    assert ("heavy_head" in first) == (name != "wren")


def test_a_signed_step_shows_who_and_when_and_the_next_one_comes_up():
    desk = Desk("wren")
    desk.do(sign, "parts_there")
    desk.do(sign, "spring_seats", note="tray came clean")
    sheet = steps_sheet(desk.now)
    found = {one.id: one for one in sheet.rows}
    there = found["parts_there"]
    assert (there.state, there.signed_by, there.signed_at) == ("done", "J. M.", "25 Nov 2026, 10:00")
    assert there.event == "step:parts_there:1"
    assert found["spring_seats"].note == "tray came clean"
    assert (sheet.next, sheet.progress) == ("all_clean", (2, len(sheet.rows)))
    assert found["chips_out"].held_why == "first: Clean the bench and every part that goes in"


def test_what_nobody_told_is_said_where_it_holds():
    desk = Desk("tern")
    desk.do(describe_engine, {key: one for key, one in desk.now.job.engine.items() if key != "seal"})
    held = rows(desk)["seals_asked"].held_why
    assert held.endswith("say on the job sheet, under the engine, which stem seals it has: positive, umbrella, ring or none")


def test_a_valve_whose_parts_changed_is_named_among_all():
    desk = Desk("tern")
    desk.do(set_work, [{"operation": "valve_replace", "place": "exh-3f"}, {"operation": "valve_replace", "place": "inl-1r"},
                       {"operation": "spring_shim", "place": "exh-3f", "amount": "0.50", "unit": "mm"}])  # fmt: skip
    found = rows(desk)
    assert found["valves_in"].where == "all 16 valves"
    assert found["valves_in"].changed == ("new valve: Exh 3F and Inl 1R",)
    assert found["spring_seats"].changed == ("shim the spring 0.50 mm: Exh 3F",)
    assert rows(desk, "in")["spring_seats"].changed == ("shim the spring 0.020 in: Exh 3F",)


def test_what_a_signature_stands_under_does_not_depend_on_the_unit_on_display():
    desk = Desk("tern")
    assert {key: one.seen for key, one in rows(desk).items()} == {key: one.seen for key, one in rows(desk, "in").items()}


def test_of_a_v_each_head_is_named():
    found = rows(Desk("egret"))
    assert found["keepers_in@left"].where == "8 valves, left head"
    assert found["keepers_in@left"].heading == "Compress each spring and set the keepers, left head"
    assert found["head_tight@right"].where == "Right head"
    assert found["head_tight@right"].sheet == "tightening"
    assert "1 × head gasket" in found["gasket_on@right"].new


def test_a_signature_of_a_step_that_went_away_stays_readable():
    desk = Desk("wren")
    desk.do(describe_engine, dict(desk.now.job.engine) | {"seal": "ring"})
    desk.do(sign, "seals_ring", note="by the old hand")
    desk.do(describe_engine, dict(desk.now.job.engine) | {"seal": "umbrella"})
    (left,) = steps_sheet(desk.now).left
    assert (left.step, left.did, left.signed_by, left.note) == ("seals_ring", "done", "J. M.", "by the old hand")
    assert left.text.startswith("Compress each spring and lay the ring seal into the stem.")


@pytest.mark.parametrize("name", ENGINES)
def test_every_step_of_every_engine_has_its_words(name):
    for one in ENGINES[name].steps():
        assert where_words(one) and heading(one) and why_words(one.why, catalogue()), one.id
        for words in changed_words(one.changed, catalogue()):
            assert ": " in words
        assert "place" not in where_words(one), one.id


def test_the_sheet_is_plain_data_without_markup():
    sheet = steps_sheet(Desk("petrel").now)
    for row in sheet.rows:
        words = [value for field in fields(row) if isinstance(value := getattr(row, field.name), str)]
        assert not any("<" in one or "\n" in one for one in words), row.id


def test_places_of_a_drive_and_a_camshaft_read_as_the_bench_says_them():
    assert isinstance(ENGINES["tern"].steps()[0], Step)
    found = {one.id: heading(one) for one in ENGINES["opposed six, hydraulic buckets"].steps()}
    assert found["chain_on@left/drive"].endswith(f", {shown('left/drive')}")
    assert found["cams_in@left/cam-inl"] == "Lay the camshaft in, oiled, Left Inl cam"
