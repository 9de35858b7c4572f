"""Photos, checks of gauges, decisions, the customer's answers and the route: replayed alike in any order of arrival."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from record.histories import HASH, beside, check, chosen, decision, look, opened, photo, says, take_back
from witnessmark.record.advance import advance
from witnessmark.record.event import Event
from witnessmark.record.job import answer_to
from witnessmark.record.replay import replay


def without_numbers(some):
    """Entries without their numbers in the log, in an order of their own."""
    return sorted((replace(one, seq=0) for one in some), key=lambda one: one.event)


def snapshot(events):
    """All that stands beside the readings, without the numbers that the order of arrival gives."""
    job = replay(events)
    free = [without_numbers(some) for some in (job.photos, job.checks, job.comparisons)]
    in_order = [[replace(one, seq=0) for one in some] for some in (job.decisions, job.earlier, job.answers)]
    kept = {(one.event, one.why) for one in job.kept}
    return free, in_order, job.extent, job.extent_event, set(job.waiting), job.taken_back, kept


@given(beside(), st.data())
def test_any_order_of_arrival_gives_the_same_snapshot(events, data):
    """Also when some events come late, and when clocks are wrong by days."""
    late = data.draw(st.permutations(events))
    assert snapshot(late) == snapshot(events)


@given(beside(), st.data())
def test_events_that_come_twice_change_nothing_but_are_told(events, data):
    again = data.draw(st.permutations([*events, *data.draw(st.lists(st.sampled_from(events), max_size=5))]))
    once, twice = snapshot(events), snapshot(again)
    assert twice[:6] == once[:6]
    assert {one for one in twice[6] if one[1] != "an event with this id came before"} == once[6]


@given(beside(), st.data())
def test_going_on_from_a_snapshot_says_the_same_as_replay_or_nothing(events, data):
    log = [event.stored(n, "") for n, event in enumerate(events, 1)]
    cut = data.draw(st.integers(0, len(log)))
    went_on = advance(replay(log[:cut]), log[cut:])
    assert went_on is None or went_on == replay(log)


@pytest.mark.parametrize("more", [photo("p1"), check("z1"), look("r1"), Event("c1", "gauges_compared", {
    "first": "M-07", "second": "M-11", "on": "ring 6", "first_read": "6.000", "second_read": "6.001", "unit": "mm"})])
def test_one_more_photo_check_or_look_needs_no_replay(more):
    log = [event.stored(n, "") for n, event in enumerate([opened(), more], 1)]
    assert advance(replay(log[:1]), log[1:]) == replay(log)


@pytest.mark.parametrize(("event", "where"), [
    (photo("x"), "photos"), (check("x"), "checks"), (decision("x"), "decisions"), (says("x"), "answers"),
])
def test_each_of_them_can_be_taken_back_and_brought_again(event, where):
    assert len(getattr(replay([opened(), event]), where)) == 1
    assert getattr(replay([opened(), event, take_back("t", "x")]), where) == ()
    assert len(getattr(replay([opened(), event, take_back("t", "x"), take_back("u", "t")]), where)) == 1


def test_a_look_keeps_what_was_said_how_and_where_with_its_photos():
    found = replay([look("r1", method="penetrant", photos=[HASH], mark={"x": "0.43", "y": "0.61"})]).readings[0]
    assert (found.meaning["says"], found.meaning["value"], found.meaning["unit"]) == ("crack", "12", "mm")
    assert (found.method, found.photos, found.mark) == ("penetrant", (HASH,), {"x": "0.43", "y": "0.61"})
    assert found.state == "counted"


@pytest.mark.parametrize(("meaning", "why"), [
    ({"kind": "look"}, "'says' is missing"),
    ({"kind": "look", "says": "crack", "value": "12", "unit": None}, "how much and its unit stand together"),
    ({"kind": "look", "says": "crack", "value": 12, "unit": "mm"}, "'value' must be text or nothing"),
])
def test_a_look_that_says_nothing_is_kept_and_reported(meaning, why):
    job = replay([look("r1", meaning=meaning)])
    assert job.readings == () and why in job.kept[0].why


@pytest.mark.parametrize("more", [
    {"photos": ["x"]}, {"photos": HASH}, {"mark": {"x": "1.2", "y": "0"}}, {"mark": {"x": "0.5"}},
    {"mark": {"x": 0.5, "y": 0.5}}, {"mark": "middle"}, {"method": 3},
])
def test_a_photo_or_mark_that_is_none_is_kept_and_reported(more):
    assert replay([look("r1", **more)]).readings == ()


def test_of_two_decisions_of_one_row_the_later_stands_and_the_earlier_is_history():
    job = replay([decision("d1", "used again"), decision("d2", "replaced", at="2026-11-26T09:00:00Z"),
                  decision("d3", "machined", place="exh-1")])
    assert [(one.event, one.decision) for one in job.decisions] == [("d3", "machined"), ("d2", "replaced")]
    assert [one.event for one in job.earlier] == ["d1"]
    assert job.conflicts == ()
    back = replay([decision("d1"), decision("d2", based_on="d1"), take_back("t", "d2")])
    assert ([one.event for one in back.decisions], back.earlier) == (["d1"], ())


def test_a_decision_that_saw_the_other_stands_though_its_clock_is_three_days_slow():
    job = replay([decision("d2", "replaced", at="2026-11-22T09:00:00Z", based_on="d1"),
                  decision("d1", "used again", at="2026-11-25T09:00:00Z")])
    assert [one.event for one in job.decisions] == ["d2"]


def test_the_last_answer_stands_for_each_decision_that_it_is_about():
    events = [decision("d1"), decision("d2", place="exh-1"), says("a1", "yes", ceiling="450", currency="EUR"),
              says("a2", "no", about=["d2"], at="2026-11-27T09:00:00Z", based_on="a1")]
    job = replay(events)
    told = {one.event: answer_to(job, one).answer for one in job.decisions}
    assert told == {"d1": "yes", "d2": "no"}
    assert (job.answers[0].ceiling, job.answers[0].currency) == ("450", "EUR")
    assert {one.answer for one in replay([*events, take_back("t", "a2")]).decisions} == {"a1"}


def test_a_yes_to_all_says_nothing_of_what_is_decided_after_it():
    job = replay([decision("d1"), says("a1"), decision("d2", place="exh-1", at="2026-11-27T09:00:00Z")])
    assert {one.event: one.answer for one in job.decisions} == {"d1": "a1", "d2": None}
    assert answer_to(job, job.decisions[1]) is None


def test_an_answer_to_a_decision_that_was_changed_is_asked_for_anew():
    job = replay([decision("d1"), says("a1", about=["d1"]), decision("d2", "replaced", based_on="d1")])
    assert [(one.event, one.answer) for one in (*job.decisions, *job.earlier)] == [("d2", None), ("d1", "a1")]


def test_an_answer_that_comes_before_its_decision_waits_for_it():
    job = replay([says("a1", about=["d1", "d9"])])
    assert [(one.event, one.needs) for one in job.waiting] == [("a1", "d1"), ("a1", "d9")]
    assert replay([says("a1", about=["d1"]), decision("d1")]).decisions[0].answer == "a1"


def test_the_route_is_full_until_one_is_chosen_and_the_last_choice_holds():
    assert (replay([opened()]).extent, replay([opened()]).extent_event) == ("full", None)
    quick, full = chosen("q", "quick"), chosen("f", "full", based_on="q")
    assert (replay([quick]).extent, replay([quick]).extent_event) == ("quick", "q")
    assert replay([full, quick]).extent == "full"
    assert replay([quick, full, take_back("t", "f")]).extent == "quick"


@pytest.mark.parametrize("event", [
    chosen("x", "half"), decision("x", "thrown away"), says("x", "perhaps"), check("x", when="never"),
    check("x", passed="yes"), photo("x", photo="crack.jpg"), photo("x", width="800"), photo("x", about=None),
    photo("x", about={"place": 3}),
], ids=lambda event: event.kind)
def test_a_word_that_this_version_does_not_know_is_kept_and_reported(event):
    job = replay([opened(), event])
    assert [one.event for one in job.kept] == ["x"]
    assert (job.photos, job.checks, job.decisions, job.answers, job.extent) == ((), (), (), (), "full")


def test_a_photo_says_what_it_shows():
    found = replay([photo("p", note="by the plug", mark={"x": "0", "y": "1.0"})]).photos[0]
    assert (found.photo, found.bytes, found.width, found.height) == (HASH, 81234, 1600, 1200)
    assert (found.characteristic, found.place, found.round, found.note) == (
        "head_cracks", "chamber-3", "as found", "by the plug")
    assert found.mark == {"x": "0", "y": "1.0"}
