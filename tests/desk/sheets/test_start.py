"""The start sheet: what is read, what to do next, what waits."""

import pytest

from desk.sheets.tern import EIGHT, SINGLE, events, tern
from witnessmark.desk.sheets.start import OtherBench, open_matters, settle_words, start_sheet
from witnessmark.desk.state import state
from witnessmark.judge.result import Settle
from witnessmark.record.event import Event
from witnessmark.record.replay import replay


@pytest.fixture(scope="module")
def half():
    return tern()


def with_more(*more: Event):
    before = events()
    after = [event.stored(len(before) + n, "") for n, event in enumerate(more, 1)]
    return state(replay((*before, *after)), tern(with_readings=False).catalogue)


def test_the_next_step_names_how_many_are_left_and_where_to_go_on(half):
    step = start_sheet(half).next
    assert step.title == "14 readings left on the head"
    assert step.key == "go on at Exh 4F"
    assert (step.stop.characteristic, step.stop.place) == ("valve_lash", "exh-4f")
    assert step.why == "Valve lash: Exh 4F and 4R; stem diameter: Inl 4F and 4R."


def test_a_reading_that_was_asked_back_is_not_left_to_read(half):
    assert all(stop.place != "inl-2r/bottom/across" for stop in _left(half))


def _left(desk):
    from witnessmark.desk.sheets.start import left_to_read

    return left_to_read(desk)


def test_each_part_tells_what_is_out_and_where(half):
    parts = {part.id: part for part in start_sheet(half).parts}
    assert parts["valves"].words == "5 out, 2 too close · 14 left"
    assert set(parts["valves"].out) == {"inl-1r", "exh-3f"}
    assert (parts["head"].line, parts["valves"].line, parts["pistons"].line) == ("read", "partly", "unread")
    assert parts["valves"].now and not parts["head"].now


def test_open_matters_count_questions_doubts_and_what_is_out(half):
    matters = {matter.mark: matter for matter in open_matters(half)}
    assert matters["question"].count == "1 question" and "Inl 2R came as 0.2351" in matters["question"].words
    assert (matters["question"].page, matters["question"].place) == ("bench", "inl-2r/bottom/across")
    assert matters["out"].count == f"{half.judgement.summary['out']} out"
    assert "leaf 0.25" in matters["close"].words


def test_a_place_left_out_stays_an_open_matter():
    left_out = {"characteristic": "valve_lash", "place": "exh-4f", "round": "as found", "scope": "place",
                "reason": "cannot be measured"}  # fmt: skip
    words = [f"{matter.count} {matter.words}" for matter in open_matters(with_more(Event("w1", "waived", left_out)))]
    assert "Valve lash left out at Exh 4F" in words


def test_when_all_is_read_a_question_comes_before_the_record():
    desk = with_more(*(
        Event(f"w{n}", "waived", {"characteristic": stop.characteristic, "place": stop.place, "round": "as found",
                                  "scope": "place", "reason": "not measured"})
        for n, stop in enumerate(_left(tern()))
    ))  # fmt: skip
    step = start_sheet(desk).next
    assert (step.title, step.stop.place) == ("1 question to answer", "inl-2r/bottom/across")


def test_without_an_engine_the_engine_comes_first():
    bare = state(replay((Event("o", "job_opened", {"job": {"id": "HL-1"}, "engine": None}).stored(1, ""),)),
                 tern(with_readings=False).catalogue)  # fmt: skip
    sheet = start_sheet(bare)
    assert (sheet.next.title, sheet.next.page) == ("Describe the engine", "job")
    assert sheet.title == "An engine not yet named, as found"


@pytest.mark.parametrize("engine", [SINGLE, EIGHT])
def test_an_unread_head_begins_at_the_first_place_of_its_walk(engine):
    desk = tern(engine, with_readings=False)
    step = start_sheet(desk).next
    assert step.title == f"{len(desk.route)} readings left on the head"
    assert step.stop == desk.route[0]


def test_the_own_job_is_not_among_the_other_benches(half):
    others = [OtherBench(name, "Wren 125", "measure") for name in ("HL-0147", "HL-0149")]
    assert [other.id for other in start_sheet(half, others).others] == ["HL-0149"]


def test_what_would_settle_a_doubt_is_said_without_numbers_of_doubt():
    assert settle_words(Settle("repeats", repeats=3)) == "with 3 readings in all"
    assert settle_words(Settle("gauge", U=0.001)) == "by a finer gauge"
    assert settle_words(Settle("none")) == ""
