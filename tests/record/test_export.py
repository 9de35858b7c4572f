"""Export: the same events give the same bytes, and importing them changes nothing."""

from hypothesis import given, settings

from record.histories import histories, reading
from record.test_jobfile import HEAD, READINGS
from witnessmark.record.event import Event, canonical
from witnessmark.record.export import write_job
from witnessmark.record.jobfile import read_job
from witnessmark.record.replay import replay
from witnessmark.text.read import read


@given(histories())
@settings(max_examples=150)
def test_export_import_export_gives_the_same_bytes(events):
    first = write_job(events)
    again = read_job(first.encode("utf-8"), "job.yaml")
    assert [canonical(event) for event in again] == [canonical(event) for event in events]
    assert write_job(again) == first


@given(histories())
@settings(max_examples=50)
def test_the_numbers_and_times_of_a_store_change_no_byte(events):
    stored = [event.stored(number, "2026-11-25T09:00:00Z") for number, event in enumerate(events, 1)]
    assert write_job(reversed(stored)) == write_job(events)


def test_line_ends_and_odd_letters_come_back_as_they_were():
    odd = "a\r\nb\rc\n\x85\u2028\ufeff\uffff\U0001f527 '\"\\ # : - *x &y !z \t"
    events = [reading("r1", raw=odd, note=odd, place=odd)]
    assert read_job(write_job(events), "x")[0].body["note"] == odd


def by_hand(text):
    """An export without its log."""
    return text[:text.index("\nlog:") + 1]


def test_an_export_without_its_log_is_a_job_file_that_says_the_same():
    events = read_job(HEAD + READINGS + """\
taken_back: [{event: r3, id: t1}]
answers: [{reading: r5, answer: 1}]
waived: [{characteristic: margin, place: inl-1f}]
notes: [{about: inl-3f, text: pitted}]
limits: {format: witnessmark-limits-1, sheet: {name: TN-3}}
""", "job.yaml")
    one, other = replay(events), replay(read_job(by_hand(write_job(events)), "job.yaml"))
    assert [(r.id, r.state, r.meaning, r.raw, r.gauge, r.setting) for r in one.readings] == [
        (r.id, r.state, r.meaning, r.raw, r.gauge, r.setting) for r in other.readings]
    assert (one.header, one.engine, one.limits, one.parts) == (other.header, other.engine, other.limits, other.parts)


def test_a_meaning_that_the_raw_text_does_not_give_is_written_out():
    limit_leaf = {"kind": "interval", "low": "0.04", "high": "0.05", "unit": "mm"}
    events = [*read_job(HEAD, "job.yaml"), reading("r1", raw="*4", gauge="L-04", meaning=limit_leaf)]
    text = write_job(events)
    assert read(text, "x").data["readings"][0]["meaning"] == limit_leaf
    assert replay(read_job(by_hand(text), "x")).readings[0].meaning == limit_leaf


def test_a_gauge_whose_fields_cannot_be_used_is_exported_all_the_same():
    for fields in ({"kind": "leaves", "unit": "mm", "set": 5}, {"kind": "leaves", "unit": "N", "set": ["1"]},
                   {"unit": "furlong"}, {"kind": "leaves", "unit": "mm", "set": ["NaN", "x"]}):
        events = [Event("g", "gauge_entered", {"gauge": "M-07", "fields": fields}), reading("r1")]
        assert write_job(read_job(write_job(events), "x")) == write_job(events)


def test_take_backs_of_what_has_no_section_stand_in_the_log_alone():
    events = [*read_job(HEAD + READINGS, "job.yaml"), Event("t", "taken_back", {"event": "gauge:M-07"}),
              Event("u", "taken_back", {"event": "t"}), Event("v", "taken_back", {"event": "r3"})]
    data = read(write_job(events), "x").data
    assert data["taken_back"] == [{"event": "r3", "id": "v"}]
