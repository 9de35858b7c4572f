"""The record sheet: as it came, as it was understood, nothing left out."""

import pytest

from desk.sheets.tern import catalogue, events
from witnessmark.desk.sheets.record import PER_SHEET, entries, meaning_words, record_sheet
from witnessmark.record.event import Event, digest
from witnessmark.record.replay import replay


@pytest.fixture(scope="module")
def kept():
    return events()


@pytest.fixture(scope="module")
def job(kept):
    return replay(kept)


def test_every_event_has_an_entry_in_its_order(kept, job):
    told = entries(job, kept, catalogue())
    assert [entry.seq for entry in told] == list(range(1, len(kept) + 1))


def test_a_reading_stands_as_it_came_and_as_it_was_understood(kept, job):
    told = {entry.id: entry for entry in entries(job, kept, catalogue())}
    stem = told["st-inl-1f-0"]
    assert (stem.what, stem.where, stem.meaning) == ("stem diameter", "Inl 1F top, along", f"{stem.raw} mm, by M-07")
    assert told["f-diagonal-1"].meaning == "leaf 0.06 mm enters, 0.07 does not, by L-04"


def test_what_was_taken_back_stays_readable_and_says_so(kept, job):
    told = {entry.id: entry for entry in entries(job, kept, catalogue())}
    assert told["st-inl-2r-5"].through and told["st-inl-2r-5"].raw
    assert told["tb"].what == "taken back" and told["tb"].meaning.startswith("stem diameter")
    assert not told["slip"].through and told["slip"].state == "asked"
    assert "25.3 times" in told["slip"].remark


def test_a_correction_names_its_reason(kept):
    body = dict(kept[-1].body) | {"supersedes": "st-inl-1f-0", "reason": "misread", "place": "inl-1f/top/along",
                                  "raw": "5.962", "question": None,
                                  "meaning": {"kind": "number", "value": "5.962", "unit": "mm"}}  # fmt: skip
    more = (*kept, Event("fix", "reading_taken", body).stored(len(kept) + 1, ""))
    told = {entry.id: entry for entry in entries(replay(more), more, catalogue())}
    assert told["st-inl-1f-0"].through and told["st-inl-1f-0"].state == "superseded"
    assert "misread" in told["fix"].remark


def test_the_record_of_one_place_is_found_by_the_name_that_people_use(kept, job):
    sheet = record_sheet(job, kept, catalogue(), "inl 1f")
    assert sheet.found and {entry.place.split("/")[0] for entry in sheet.entries} == {"inl-1f"}
    assert sheet.total == len(kept)
    assert record_sheet(job, kept, catalogue(), "piston").found == 0


def test_a_long_record_is_parted_into_sheets_and_opens_at_the_last(job):
    note = {"about": "inl-1f", "text": "carbon"}
    many = tuple(Event(f"n{n}", "noted", note).stored(n, "") for n in range(1, PER_SHEET + 3))
    last = record_sheet(replay(many), many, catalogue())
    assert (last.sheets, last.sheet, len(last.entries)) == (2, 2, 2)
    assert len(record_sheet(replay(many), many, catalogue(), sheet=1).entries) == PER_SHEET
    assert last.checksum == digest(many)


def test_an_unknown_kind_is_kept_and_told():
    odd = (Event("x", "weighed", {"mass": "4"}).stored(1, ""),)
    sheet = record_sheet(replay(odd), odd, catalogue())
    assert sheet.entries[0].what == "weighed"
    assert any("weighed" in words for words in sheet.trouble)


def test_an_answer_is_told_by_its_label(kept):
    more = (*kept, Event("a", "question_answered", {"reading": "slip", "answer": 0}).stored(len(kept) + 1, ""))
    assert entries(replay(more), more, catalogue())[-1].meaning.endswith("it was inch")
    wrong = (*kept, Event("a", "question_answered", {"reading": "slip", "answer": 7}).stored(len(kept) + 1, ""))
    assert entries(replay(wrong), wrong, catalogue())[-1].meaning.endswith("does not have")


def test_meanings_of_every_kind_have_words():
    assert meaning_words(None) == "not understood yet"
    assert meaning_words({"kind": "deviation", "value": "-0.071", "unit": "mm"}) == "-0.071 mm from its set size"
    thickest = {"kind": "interval", "low": "0.08", "high": None, "unit": "mm"}
    assert meaning_words(thickest) == "leaf 0.08 mm enters, the thickest of the set"
