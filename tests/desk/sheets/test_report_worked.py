"""What the report says once there are decisions, answers, photos, checks and a second round; and its one page."""

import pytest

from shell.papers import heads
from witnessmark.desk.sheets.report import ReportView, last_day, report
from witnessmark.desk.sheets.report_after import MOST_OPEN
from witnessmark.desk.sheets.report_short import MOST_ROWS, short_report
from witnessmark.desk.state import state
from witnessmark.record.event import Event, digest
from witnessmark.record.replay import replay
from witnessmark.shell.resources import catalogue


def view(events: tuple[Event, ...], round_: str = "as found") -> ReportView:
    return report(state(replay(events), catalogue(), round_), checksum=digest(events), date=last_day(events))


@pytest.fixture(scope="module")
def worked() -> ReportView:
    return view(heads.worked())


def test_each_decision_stands_with_its_value_and_what_the_customer_said(worked):
    told = {(one.term, one.place): one for one in worked.decided}
    stem = told["stem diameter", "Inl 1R"]
    assert (stem.decision, stem.work, stem.found) == ("replaced", "new valve", "5.931 mm, out")
    assert stem.customer.startswith("yes, up to 180.00 EUR, said by R. P.") and stem.customer.endswith(": by phone")
    assert [one.term for one in worked.decided] == ["gasket face flatness", "stem diameter", "stem height"]


def test_what_the_customer_declined_is_told_and_counted(worked):
    assert [one.term for one in worked.decided if one.answer == "no"] == ["gasket face flatness"]
    assert short_report(worked).declined == "1 decision declined by the customer"


def test_a_decision_that_was_replaced_is_not_lost(worked):
    (line,) = worked.replaced
    assert line.startswith("stem diameter, Inl 1R: look again (read by two)")


def test_before_and_after_stand_side_by_side_and_leave_a_box_where_nothing_was_read(worked):
    rows = {(one.term, one.place): one for one in worked.after}
    done = rows["stem height", "Exh 3F"]
    assert (done.before, done.before_word, done.after, done.after_word, done.after_round) == (
        "44.30 mm", "out", "44.00 mm", "within", "back from machining",
    )  # fmt: skip
    assert rows["gasket face flatness", "Diagonal 1"].after == ""


def test_machined_work_is_held_against_the_limit_for_new_and_says_so(worked):
    stem = next(one for one in worked.after if (one.term, one.place) == ("stem diameter", "Inl 1R"))
    assert (stem.limit, stem.after_limit, stem.after_word) == ("least 5.940", "5.965 to 5.980", "out")


def test_more_places_than_the_paper_has_boxes_for_are_counted():
    many = view(heads.many())
    assert len(many.after) == MOST_OPEN and many.after_left > 500


def test_a_zero_check_that_was_not_passed_throws_doubt_on_what_was_read_with_it(worked):
    passed = {one.gauge: one.passed for one in worked.trust.checks}
    assert passed == {"M-07": True, "C-03": False}
    assert worked.trust.doubted == "A zero check that was not passed throws doubt on 2 values"
    assert worked.trust.comparisons[0].startswith("M-07 read 6.000 mm and C-03 6.02 mm on pin 6")


def test_the_route_is_named(worked):
    assert worked.trust.route.startswith("Quick route")
    assert view(heads.tern()).trust.route.startswith("Full route")


def test_photos_stand_with_place_and_note(worked):
    assert [(one.title, one.note) for one in worked.photos] == [
        ("stem height, Exh 3F", "burnt seat"), ("stem height, Exh 3F", "after the cut"),
    ]  # fmt: skip
    assert view(heads.worked(), "back from machining").photos == ()


def test_a_limit_that_nobody_checked_is_named():
    copied = heads.LIMITS.replace('{service: {low: "0.8"}, unit: mm', '{service: {low: "0.8"}, to_check: yes, unit: mm')
    assert view(heads.stored(heads.opening(heads.TERN, copied))).trust.to_check == ("valve margin",)


def test_a_gauge_read_with_past_its_due_date_is_named():
    late = {**heads.GAUGES["C-03"], "calibration": {"U": "0.02", "k": "2", "due": "2026-11-01"}}
    events = heads.stored([
        *heads.opening(heads.TERN), Event("late", "gauge_entered", {"gauge": "C-9", "fields": late}),
        heads.reading("m", "margin", "exh-1f", "1.10", "C-9"),
    ])  # fmt: skip
    assert view(events).trust.overdue == ("C-9, due 1 Nov 2026: 1 value",)


def test_the_page_in_short_says_how_much_it_leaves_out():
    short = short_report(view(heads.many()))
    assert len(short.urgent) == MOST_ROWS
    assert short.more.startswith("626 more values that are out or too close")
