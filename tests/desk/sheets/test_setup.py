"""The job and gauges sheet: numbers as they were written, revisions, what was typed kept."""

import pytest

from desk.sheets.tern import catalogue, events, tern
from witnessmark.desk.sheets.setup import Typed, bound_words, setting_blanks, setup_sheet
from witnessmark.desk.state import state
from witnessmark.record.event import Event
from witnessmark.record.replay import replay


@pytest.fixture(scope="module")
def sheet():
    return setup_sheet(tern(), "M-07")


def test_limits_keep_the_digits_that_were_entered(sheet):
    line = next(line for line in sheet.limits.lines if line.term == "stem diameter" and line.applies == "Inl")
    assert (line.bound, line.kind, line.unit, line.source) == ("least 5.940", "service", "mm", "p. 41")
    new = [line.bound for line in sheet.limits.lines if line.kind == "new" and line.applies == "Inl"]
    assert new == ["5.965 to 5.980"]


def test_what_the_book_allows_stands_with_its_page(sheet):
    assert [(line.words, line.page) for line in sheet.limits.allowed] == [("up to 0.20 mm", "40")]


def test_each_gauge_tells_its_calibration_or_that_none_is_stated(sheet):
    lines = {line.gauge: line for line in sheet.gauges}
    assert (lines["M-07"].doubt, lines["M-07"].date) == ("U 0.002, k 2", "2026-03-02")
    assert lines["M-07"].repeatability == "s 0.0012 from 20"
    assert lines["L-04"].resolution == "38 leaves, 0.02 to 0.39 mm"
    assert lines["D-01"].repeatability == "not stated"


def test_a_second_revision_is_the_one_that_is_shown_and_changed():
    before = events()
    fields = {"kind": "micrometer", "unit": "mm", "resolution": "0.001", "calibration": {"U": "0.001", "k": "2"}}
    body = {"gauge": "M-07", "fields": fields, "based_on": "g-M-07"}
    more = (*before, Event("g2", "gauge_entered", body, by="A. B.").stored(len(before) + 1, ""))
    sheet = setup_sheet(state(replay(more), catalogue()), "M-07")
    line = next(line for line in sheet.gauges if line.gauge == "M-07")
    assert (line.revision, line.doubt, line.by) == (2, "U 0.001, k 2", "A. B.")
    assert next(blank.value for blank in sheet.gauge if blank.name == "U") == "0.001"


def test_what_could_not_be_taken_stands_in_the_form_again():
    typed = Typed("limits", {"text": "limits: [", "name": "TN-4"}, "cannot be taken")
    sheet = setup_sheet(tern(with_readings=False), "", typed)
    assert (sheet.limits_text, sheet.limits_name) == ("limits: [", "TN-4")
    assert sheet.limits is not None  # the sheet that holds still holds


def test_only_a_comparing_gauge_can_be_set():
    before = events(with_readings=False)
    bore = {"kind": "dial_bore", "unit": "mm", "resolution": "0.002", "permissible_error": "0.004"}
    more = (*before, Event("b", "gauge_entered", {"gauge": "B-02", "fields": bore}).stored(len(before) + 1, ""))
    gauge, _, _, with_ = setting_blanks(replay(more), catalogue(), {})
    assert gauge.choices == (("B-02", "B-02"),)
    assert ("M-07", "M-07") in with_.choices and ("B-02", "B-02") not in with_.choices


def test_a_bound_is_said_by_its_side():
    assert [bound_words("1", ""), bound_words("", "2"), bound_words("1", "2")] == ["least 1", "most 2", "1 to 2"]
