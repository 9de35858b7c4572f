"""The sections of a job file beside its readings: written by hand, exported, and read again without the log."""

from dataclasses import replace

import jsonschema
import pytest
from hypothesis import given, settings

from record.histories import DAY, HASH, beside, check, decision, look, opened, photo, reading, says, take_back
from record.test_jobfile import HEAD, READINGS, faults, job
from witnessmark.record.export import write_job
from witnessmark.record.jobfile import read_job
from witnessmark.record.jobschema import json_schema
from witnessmark.record.replay import replay
from witnessmark.text.read import read

LOOKS = f"""\
  - {{id: k1, characteristic: head_cracks, place: chamber-3, says: crack, how_much: 12, unit: mm, method: penetrant,
     photos: [{HASH}], mark: {{x: 0.43, y: 0.61}}}}
  - {{id: k2, supersedes: k1, reason: misread, says: none}}
  - {{id: k3, characteristic: head_cracks, place: chamber-1, says: none, raw: "1", method: eye}}
"""
BESIDE = f"""\
photos:
  - {{photo: {HASH}, bytes: 81234, width: 1600, height: 1200, characteristic: head_cracks, place: chamber-3,
     note: by the plug, mark: {{x: 0.43, y: 0.61}}}}
zero_checks:
  - {{gauge: M-07, found: 0.000, passed: yes}}
  - {{gauge: M-07, found: 0.003, when: after, against: ring, allowed: 0.002}}
  - {{gauge: M-11, found: .0001, when: between, passed: yes, follows: r3}}
comparisons: [{{first: M-07, second: M-11, on: ring 6, first_read: 6.001, second_read: 6.003}}]
decisions:
  - {{id: d1, characteristic: stem_diameter, place: inl-3f, decision: used again, why: within, at: {DAY}}}
  - {{id: d2, characteristic: stem_diameter, place: inl-3f, decision: replaced, operation: valve_replace, why: pitted,
     based_on: d1}}
customer: [{{about: [d2], answer: yes, ceiling: 450.00, currency: EUR, said_by: the owner}}]
route: quick
"""
WHOLE = HEAD + READINGS + LOOKS + BESIDE


def test_what_was_looked_at_is_written_as_what_was_said():
    first, second, third = job(WHOLE).readings[-3:]
    assert first.meaning == {"kind": "look", "says": "crack", "value": "12", "unit": "mm"}
    assert (first.raw, first.method, first.photos) == ("crack 12 mm", "penetrant", (HASH,))
    assert first.mark == {"x": "0.43", "y": "0.61"}
    assert (second.meaning, second.method) == ({"kind": "look", "says": "none", "value": None, "unit": None}, "penetrant")
    assert (first.state, second.state, third.raw, third.photos, third.mark) == ("superseded", "counted", "1", (), None)


def test_everything_beside_the_readings_can_be_written_by_hand():
    found = job(WHOLE)
    assert (found.photos[0].photo, found.photos[0].bytes, found.photos[0].note) == (HASH, 81234, "by the plug")
    assert [(one.gauge, one.found, one.unit, one.against, one.when, one.passed) for one in found.checks] == [
        ("M-07", "0.000", "mm", "closed", "before", True), ("M-11", ".0001", "in", "closed", "between", True),
        ("M-07", "0.003", "mm", "ring", "after", False)]
    assert (found.comparisons[0].first_read, found.comparisons[0].unit) == ("6.001", "mm")
    assert [(one.event, one.operation, one.answer) for one in found.decisions] == [("d2", "valve_replace", "customer:1")]
    assert [one.event for one in found.earlier] == ["d1"]
    assert (found.answers[0].answer, found.answers[0].ceiling, found.extent) == ("yes", "450.00", "quick")
    assert (found.conflicts, found.waiting, found.kept) == ((), (), ())


def test_a_zero_check_stands_among_the_readings_where_it_was_made():
    kinds = [(event.id, event.kind) for event in read_job(WHOLE, "job.yaml")]
    order = [id for id, kind in kinds if kind in {"reading_taken", "zero_checked"}]
    assert order[:4] == ["zero:M-07:before:1", "r1", "r3", "zero:M-11:between:1"]
    assert order[-1] == "zero:M-07:after:1"


def test_a_yes_without_naming_decisions_is_about_all_that_stand_in_the_file():
    text = WHOLE.replace("about: [d2], answer: yes", "answer: no")
    assert {one.event: one.answer for one in job(text).decisions} == {"d2": "customer:1"}
    assert job(text).answers[0].covers == ("d1", "d2")


def test_the_head_and_the_gauges_carry_what_the_paper_asks_for():
    found = job(WHOLE.replace("invented: true", "invented: true, engine_number: T20-0042, head_number: H-9, hours: 1 200, "
                              "casting_number: 7 14, distance: 121 000 km, bank: left, received: 2026-11-24")
                .replace("date: 2026-03-02", "date: 2026-03-02, due: 2027-03-02")
                .replace("kind: dial_bore,", "kind: dial_bore, owner: Ann, place: drawer 3,"))
    assert (found.header["engine_number"], found.header["received"]) == ("T20-0042", "2026-11-24")
    assert found.gauges["M-07"][0].fields["calibration"]["due"] == "2027-03-02"
    assert found.gauges["B-02"][0].fields["place"] == "drawer 3"


@pytest.mark.parametrize(("old", "new", "tells"), [
    ("how_much: 12, unit: mm", "how_much: 12", "12 of what? Add `unit:`"),
    ("how_much: 12", "how_much: long", "'long' is no number"),
    ("says: crack, ", "raw: 5 mm, ", "`how_much` goes with `says`"),
    ("says: crack, how_much: 12, unit: mm,", "", "the key 'raw' is missing here"),
    ("method: eye", "question: meaning", "`says` is the whole meaning"),
    (f"photos: [{HASH}]", "photos: [crack.jpg]", "'crack.jpg' is no hash of a photo"),
    ("mark: {x: 0.43", "mark: {x: 43", "'43' is no share of the drawing"),
    ("found: 0.003", "found: some", "'some' is no number"),
    (", allowed: 0.002", "", "whether it passed is not said"),
    ("when: after", "when: later", "'later' is none of before, between, after"),
    ("gauge: M-11, found", "gauge: M-12, found", "no gauge 'M-12' stands in this file"),
    ("follows: r3", "follows: r99", "no reading 'r99' stands in this file"),
    ("second: M-11", "second: M-12", "no gauge 'M-12' stands in this file"),
    ("decision: used again", "decision: usd again", "did you mean 'used again'?"),
    ("why: within, ", "", "the key 'why' is missing here"),
    ("based_on: d1", "based_on: d9", "no decision 'd9' stands in this file"),
    ("about: [d2]", "about: [d3]", "no decision 'd3' stands in this file"),
    ("answer: yes", "answer: perhaps", "'perhaps' is neither yes nor no"),
    ("route: quick", "route: fast", "'fast' is none of quick, full"),
    ("width: 1600, ", "", "the key 'width' is missing here"),
    ("invented: true", "invented: true, received: 2026-02-30", "'2026-02-30' is no date"),
    ("date: 2026-03-02", "due: soon", "'soon' is no date"),
])
def test_a_fault_beside_the_readings_says_what_and_what_to_do(old, new, tells):
    assert old in WHOLE
    found = faults(WHOLE.replace(old, new, 1))
    assert len(found) == 1
    assert tells in found[0]


SHAPES = [
    ("", "", True), ("answer: yes", "answer: true", True), ("photos:\n", "photos: []\nphoto:\n", False),
    ("says: crack, how_much: 12, unit: mm,", "", False), ("when: after", "when: later", False),
    ("found: 0.003", "found: [0.003]", False), ("decision: used again", "decision: thrown away", False),
    ("route: quick", "route: fast", False), (f"photo: {HASH}", "photo: crack.jpg", False), ("why: within", "y: no", False),
    (", allowed: 0.002", "", False), ("mark: {x: 0.43, y: 0.61}}\n  - {id: k2", "mark: {x: 0.43}}\n  - {id: k2", False),
]


@pytest.mark.parametrize(("old", "new", "good"), SHAPES)
def test_the_published_schema_and_the_reader_agree(old, new, good):
    assert old in WHOLE
    text = WHOLE.replace(old, new, 1)
    found = list(jsonschema.Draft202012Validator(json_schema()).iter_errors(read(text, "x").data))
    assert (not found) == good, found
    if good:
        read_job(text, "job.yaml")
    else:
        assert faults(text)


def by_hand(text):
    """An export without its log."""
    return text[:text.index("\nlog:") + 1]


def told(events):
    """What a job says of all that has a section, without the numbers of its log."""
    found = replay(events)
    free = [tuple(replace(one, seq=0) for one in some)
            for some in (found.photos, found.comparisons, found.decisions, found.earlier)]
    answers = [(one.event, one.answer, one.covers) for one in found.answers if one.covers]
    places = [(one.event, one.found, one.passed, [r.id for r in found.readings if r.seq < one.seq])
              for one in found.checks]
    looks = [(one.id, one.meaning, one.method, one.photos, one.mark, one.raw, one.state) for one in found.readings]
    return free, answers, places, looks, found.extent


def test_an_export_without_its_log_says_the_same_of_what_stands_beside_the_readings():
    events = read_job(WHOLE, "job.yaml")
    assert told(read_job(by_hand(write_job(events)), "job.yaml")) == told(events)


def test_zero_checks_keep_their_place_among_the_readings_without_the_log():
    log = read_job(HEAD, "job.yaml")
    events = [*log, check("z0", when="after"), reading("r1"), check("z1", when="before"), reading("r2"),
              check("z2", when="after"), check("z3", when="before")]
    text = by_hand(write_job(events))
    assert told(read_job(text, "job.yaml")) == told(events)


def honest(events):
    """The same from devices whose clocks are wrong by days, but run; each counts what it sends."""
    wrong = {"bench": 0, "tablet": 9}
    made = []
    for number, event in enumerate(events, 1):
        device = event.device if event.device in wrong else "bench"
        at = f"2026-11-{10 + wrong[device]}T09:{number:02}:00Z"
        made.append(replace(event, at=at, device=device, device_seq=number))
    return made


@given(beside(10).map(honest))
@settings(max_examples=150)
def test_what_was_decided_is_the_same_after_an_export_whose_log_was_removed(events):
    """Also where answers were about all that stood, and where decisions were taken back."""
    whole = [*read_job(HEAD, "job.yaml"), *events]
    again = read_job(by_hand(write_job(whole)), "job.yaml")
    assert told(again) == told(whole)


def test_a_look_whose_question_is_open_goes_out_and_comes_back():
    meaning = {"kind": "look", "says": "crack", "value": "1.5", "unit": "in"}
    question = {"kind": "meaning", "text": "1.5 in or mm?", "answers": [
        {"label": "1.5 in", "meaning": meaning, "do": "take"}, {"label": "measure again", "meaning": None,
                                                                "do": "measure again"}]}
    events = [opened(), look("k1", raw="2 1.5", meaning=None, question=question)]
    again = read_job(by_hand(write_job(events)), "job.yaml")
    assert again[-1].body["question"] == question
    bad = by_hand(write_job(events)).replace("says: crack", "unit: in", 1).replace("unit: in", "step: 1", 1)
    assert "says" in faults(bad)[0]


def test_decisions_that_were_taken_back_leave_no_answer_hanging():
    events = [opened(), decision("d1"), says("a1", about=["d1"]), photo("p"), take_back("t", "d1")]
    data = read(write_job(events), "x").data
    assert "customer" not in data and "decisions" not in data
    assert "photos" in read(by_hand(write_job(events)), "x").data
