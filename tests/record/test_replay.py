"""Replay: the same snapshot whatever the order of arrival, nothing lost, nothing overwritten."""


import pytest
from hypothesis import given
from hypothesis import strategies as st

from record.histories import accumulating, answer, asked, gauge, histories, limits, opened, reading, take_back
from witnessmark.record.event import Event
from witnessmark.record.job import gauge_now, gauge_then
from witnessmark.record.replay import replay


def states(*events):
    return {one.id: one.state for one in replay(events).readings}


def snapshot(events):
    """A snapshot without the numbers of the log and the order that they give."""
    job = replay(events)
    readings = {one.id: (one.state, one.meaning, one.superseded_by, one.answered) for one in job.readings}
    conflicts = {(one.kind, one.about, one.events) for one in job.conflicts}
    return (readings, set(job.taken_back), set(job.waiting), conflicts,
            {one.event for one in job.kept}, {one.id for one in job.questions})


@given(accumulating(), st.randoms(use_true_random=False))
def test_any_order_of_arrival_gives_the_same_snapshot(events, chance):
    shuffled = list(events)
    chance.shuffle(shuffled)
    assert snapshot(shuffled) == snapshot(events)


@given(accumulating())
def test_taking_back_and_redoing_leaves_everything_as_it_was(events):
    aim = events[0].id
    back, redo = take_back("back", aim), take_back("redo", "back")
    before, after = snapshot(events), snapshot([*events, back, redo])
    assert after[0] == before[0]
    assert after[3] == before[3]


@given(histories())
def test_no_reading_is_ever_lost(events):
    job = replay(events)
    told = {one.id for one in job.readings} | {one.event for one in job.kept}
    assert {event.id for event in events if event.kind == "reading_taken"} <= told


def test_a_correction_supersedes_and_both_are_kept():
    job = replay([reading("r1"), reading("r2", raw="5.951", supersedes="r1", reason="misread")])
    first, second = job.readings
    assert (first.state, first.superseded_by) == ("superseded", "r2")
    assert (second.state, second.supersedes, second.reason) == ("counted", "r1", "misread")


def test_a_second_reading_of_a_place_is_a_repeat_unless_it_says_what_it_supersedes():
    assert states(reading("r1"), reading("r2")) == {"r1": "counted", "r2": "counted"}


def test_a_correction_that_comes_before_its_reading_waits_and_counts():
    early = replay([reading("r2", supersedes="r1")])
    assert [(one.event, one.needs) for one in early.waiting] == [("r2", "r1")]
    assert early.readings[0].state == "counted"
    late = replay([reading("r2", supersedes="r1"), reading("r1")])
    assert late.waiting == ()
    assert {one.id: one.state for one in late.readings} == {"r1": "superseded", "r2": "counted"}


def test_undo_of_an_undo_is_redo():
    assert states(reading("r1"), take_back("t1", "r1")) == {"r1": "taken back"}
    assert states(reading("r1"), take_back("t1", "r1"), take_back("t2", "t1")) == {"r1": "counted"}
    assert states(reading("r1"), take_back("t1", "r1"), take_back("t2", "t1"), take_back("t3", "t2")) == {
        "r1": "taken back"}


def test_a_correction_that_is_taken_back_lets_the_first_reading_count_again():
    assert states(reading("r1"), reading("r2", supersedes="r1"), take_back("t", "r2")) == {
        "r1": "counted", "r2": "taken back"}


def test_a_correction_of_a_correction_that_was_taken_back_stands_for_the_first_reading():
    chain = [reading("r1"), reading("r2", supersedes="r1"), reading("r3", supersedes="r2")]
    assert states(*chain, take_back("t", "r2")) == {
        "r1": "superseded", "r2": "taken back", "r3": "counted"}


def test_two_corrections_of_one_reading_are_both_kept_and_neither_counts():
    both = [reading("r1"), reading("r2", supersedes="r1"), reading("r3", supersedes="r1")]
    job = replay(both)
    assert {one.id: one.state for one in job.readings} == {"r1": "superseded", "r2": "asked", "r3": "asked"}
    assert [(one.kind, one.about, one.events) for one in job.conflicts] == [("two corrections", "r1", ("r2", "r3"))]
    settled = replay([*both, take_back("t", "r3")])
    assert settled.conflicts == ()
    assert {one.id: one.state for one in settled.readings} == {"r1": "superseded", "r2": "counted", "r3": "taken back"}


def test_two_corrections_contend_even_when_the_first_reading_was_taken_back():
    job = replay([reading("r1"), reading("r2", supersedes="r1"), reading("r3", supersedes="r1"), take_back("t", "r1")])
    assert [one.kind for one in job.conflicts] == ["two corrections"]


def test_readings_that_supersede_each_other_in_a_circle_go_on_counting_and_are_told():
    job = replay([reading("r1", supersedes="r2"), reading("r2", supersedes="r1"), reading("r3", supersedes="r3")])
    assert {one.state for one in job.readings} == {"counted"}
    assert [(one.kind, one.events) for one in job.conflicts] == [("circle", ("r1", "r2", "r3"))]


def test_take_backs_in_a_circle_take_nothing_back_and_are_told():
    job = replay([reading("r1"), take_back("t1", "t2"), take_back("t2", "t1"), take_back("t3", "t3")])
    assert job.readings[0].state == "counted"
    assert [(one.kind, one.events) for one in job.conflicts] == [("circle", ("t1", "t2", "t3"))]


def test_a_take_back_from_outside_opens_a_circle():
    circle = [reading("r1"), reading("r2"), take_back("t1", "t2"), take_back("t2", "t1")]
    job = replay([*circle, take_back("t3", "t1"), take_back("t4", "r2")])
    assert job.taken_back == ("r2", "t1")
    assert job.conflicts == ()


def test_a_question_is_not_counted_until_it_is_answered():
    job = replay([asked("r1")])
    assert [one.id for one in job.questions] == ["r1"]
    assert (job.readings[0].state, job.readings[0].meaning) == ("asked", None)
    job = replay([asked("r1"), answer("a", "r1", 0)])
    assert job.questions == ()
    assert (job.readings[0].state, job.readings[0].meaning["unit"]) == ("counted", "in")


def test_the_answer_measure_again_leaves_nothing_to_count():
    assert states(asked("r1"), answer("a", "r1", 2)) == {"r1": "measure again"}


def test_an_answer_that_comes_before_its_question_waits():
    assert replay([answer("a", "r1", 0)]).waiting[0].needs == "r1"
    assert states(answer("a", "r1", 1), asked("r1")) == {"r1": "counted"}


def test_two_different_answers_leave_the_question_open():
    job = replay([asked("r1"), answer("a", "r1", 0), answer("b", "r1", 1)])
    assert job.readings[0].state == "asked"
    assert [(one.kind, one.events) for one in job.conflicts] == [("two answers", ("a", "b"))]
    assert states(asked("r1"), answer("a", "r1", 0), answer("b", "r1", 0)) == {"r1": "counted"}
    assert states(asked("r1"), answer("a", "r1", 0), answer("b", "r1", 1), take_back("t", "a")) == {"r1": "counted"}


def test_an_answer_that_the_question_does_not_have_is_kept_and_reported():
    job = replay([asked("r1"), answer("a", "r1", 9), reading("r2"), answer("b", "r2", 0)])
    assert [one.event for one in job.kept] == ["a", "b"]
    assert job.readings[0].state == "asked"


def test_questions_stand_oldest_first():
    assert [one.id for one in replay([asked("r2").stored(2, ""), asked("r1").stored(1, "")]).questions] == ["r1", "r2"]


def test_an_unknown_kind_of_event_is_kept_and_reported():
    job = replay([opened(), Event("x", "photo_taken", {"of": "crack"})])
    assert [(one.event, one.kind) for one in job.kept] == [("x", "photo_taken")]
    assert "newer version" in job.kept[0].why


BARE = {"characteristic": "margin", "place": "inl-1", "raw": "1"}


@pytest.mark.parametrize(("body", "says"), [
    ({}, "'characteristic' is missing"),
    (BARE, "a meaning, or a question"),
    ({**BARE, "meaning": {"kind": "guess"}}, "kind 'guess' is unknown"),
    ({**BARE, "meaning": {"kind": "number", "unit": "mm"}},
     "meaning: 'value' is missing"),
    ({**BARE, "question": {"kind": "slip", "text": "?", "answers": []}},
     "a list of answers"),
    ({**BARE, "question": {"kind": "slip", "text": "?", "answers": [{"do": "take"}]}},
     "answer 1: 'take' needs a meaning"),
    ({"characteristic": 7, "place": "inl-1", "raw": "1", "meaning": {"kind": "interval", "low": "0", "unit": "mm"}},
     "'characteristic' must be text"),
])
def test_a_reading_whose_body_cannot_be_applied_is_kept_and_reported(body, says):
    job = replay([Event("r1", "reading_taken", body)])
    assert job.readings == ()
    assert says in job.kept[0].why


def test_the_same_id_twice_is_kept_once_and_reported():
    job = replay([reading("r1"), reading("r1", raw="5.9")])
    assert [one.raw for one in job.readings] == ["5.952"]
    assert job.kept[0].why == "an event with this id came before"


def test_the_opening_of_a_job_cannot_be_taken_back():
    job = replay([opened(), take_back("t", "open")])
    assert job.id == "HL-0147"
    assert job.engine["cylinders"] == "4"
    assert "cannot be taken back" in job.kept[0].why


def test_a_gauge_counts_its_revisions_and_readings_keep_theirs():
    job = replay([gauge("g1"), reading("r1"), gauge("g2", "in", "g1"), reading("r2"), reading("r3", gauge_revision=1)])
    assert [(one.revision, one.state) for one in job.gauges["M-07"]] == [(1, "earlier"), (2, "current")]
    assert [one.gauge_revision for one in job.readings] == [1, 2, 1]
    assert gauge_now(job, "M-07").fields["unit"] == "in"
    assert gauge_then(job, job.readings[0]).fields["unit"] == "mm"
    assert gauge_now(job, "X") is None


@pytest.mark.parametrize("basis", ["l1", 1])
def test_what_was_based_on_what_holds_takes_its_place(basis):
    job = replay([limits("l1", "one"), limits("l2", "two", basis)])
    assert job.limits.text == "two"
    assert job.conflicts == ()


@pytest.mark.parametrize("basis", [None, "l0", 7])
def test_what_was_entered_without_sight_of_what_holds_overwrites_nothing(basis):
    job = replay([limits("l1", "one"), limits("l2", "two", basis)])
    assert job.limits.text == "one"
    assert [(one.kind, one.about, one.events) for one in job.conflicts] == [("stale", "limits", ("l1", "l2"))]


def test_a_stale_entry_is_settled_by_a_later_one_or_by_taking_it_back():
    stale = [limits("l1", "one"), limits("l2", "two")]
    assert replay([*stale, limits("l3", "two", "l1")]).conflicts == ()
    assert replay([*stale, limits("l3", "two", "l1")]).limits.text == "two"
    assert replay([*stale, take_back("t", "l2")]).conflicts == ()
    assert replay([*stale, take_back("t", "l2")]).limits.text == "one"


def test_taking_back_a_limit_sheet_brings_the_earlier_one_back():
    job = replay([limits("l1", "one"), limits("l2", "two", "l1"), take_back("t", "l2")])
    assert job.limits.text == "one"
    job = replay([limits("l1", "one"), take_back("t", "l1"), limits("l2", "two")])
    assert (job.limits.text, job.conflicts) == ("two", ())


def test_taking_back_an_earlier_limit_sheet_leaves_the_later_one_that_was_based_on_it():
    job = replay([limits("l1", "one"), limits("l2", "two", "l1"), limits("l3", "three", "l2"), take_back("t", "l2")])
    assert (job.limits.text, job.conflicts) == ("three", ())


def test_an_engine_described_later_needs_sight_of_the_opening():
    engine = {"layout": "inline", "cylinders": "1"}
    seen = replay([opened(), Event("e", "engine_described", {"engine": engine, "based_on": "open"})])
    assert seen.engine == engine
    blind = replay([opened(), Event("e", "engine_described", {"engine": engine, "based_on": None})])
    assert blind.engine["cylinders"] == "4"
    assert [one.about for one in blind.conflicts] == ["engine"]


def test_a_setting_made_twice_by_one_name_rewrites_no_reading():
    def setting(id, size):
        return Event(id, "setting_made", {"setting": "s1", "gauge": "B-02", "set_to": size, "unit": "mm"})
    job = replay([setting("a", "6.000"), setting("b", "7.000")])
    assert job.settings["s1"].set_to == "6.000"
    assert [one.kind for one in job.conflicts] == ["one name twice"]


def test_a_reading_whose_setting_has_not_come_waits_for_it():
    made = Event("e", "setting_made", {"setting": "s1", "gauge": "B-02", "set_to": "6.000", "unit": "mm"})
    assert [(one.event, one.needs) for one in replay([reading("r1", setting="s1")]).waiting] == [("r1", "s1")]
    assert replay([reading("r1", setting="s1"), made]).waiting == ()
    assert len(replay([reading("r1", setting="s1"), made, take_back("t", "e")]).waiting) == 1


def test_waivers_and_notes_stand_until_they_are_taken_back():
    waived = Event("w", "waived", {"characteristic": "margin", "place": "inl-3f", "scope": "rest"})
    noted = Event("n", "noted", {"about": "inl-3f", "text": "pitted"})
    job = replay([waived, noted])
    assert (job.waived[0].scope, job.waived[0].reason, job.waived[0].round) == ("rest", "not measured", "as found")
    assert job.notes[0].text == "pitted"
    assert replay([waived, noted, take_back("a", "w"), take_back("b", "n")]).waived == ()


def test_a_long_chain_of_undo_and_redo_is_followed_to_its_end():
    chain = [take_back(f"t{n}", f"t{n - 1}" if n else "r1") for n in range(5001)]
    assert states(reading("r1"), *chain) == {"r1": "taken back"}
    assert states(reading("r1"), *chain[:-1]) == {"r1": "counted"}


def test_twenty_thousand_readings_with_six_hundred_settings_are_replayed():
    settings = [Event(f"s{n}", "setting_made", {"setting": f"s{n}", "gauge": "B-02", "set_to": "6.000", "unit": "mm"})
                for n in range(600)]
    readings = [reading(f"r{n}", setting=f"s{n % 600}", **({"supersedes": f"r{n - 1}"} if n % 50 == 1 else {}))
                for n in range(20_000)]
    job = replay([opened(), gauge("g1"), *settings, *readings])
    assert len(job.readings) == 20_000
    assert sum(one.state == "superseded" for one in job.readings) == 400
