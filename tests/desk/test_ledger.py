"""The ledger of a job, and what is measured once the head is back."""

import json

import pytest

from desk.worked import Desk
from witnessmark.desk import intend
from witnessmark.desk.cuts import intended
from witnessmark.desk.ledger import ledger_data, ledger_of_job
from witnessmark.desk.sheets.work import work_sheet

WORK = [{"operation": "seat_cut", "place": "inl-2f", "amount": "0.20", "unit": "mm"},
        {"operation": "seat_cut", "place": "inl-4f", "amount": "0.20", "unit": "mm"}]  # fmt: skip


@pytest.fixture
def desk():
    made = Desk("tern")
    made.do(intend.set_work, WORK)
    return made


def row(desk, characteristic, place):
    found = ledger_of_job(desk.now, intended(desk.now))
    return next(one for one in found.rows if (one.characteristic, one.location) == (characteristic, place))


def test_before_it_comes_back_nothing_is_after(desk):
    found = row(desk, "stem_height", "inl-2f")
    assert (found.before, found.after, found.unexplained) == (44.01, None, None)
    assert found.predicted == pytest.approx(44.21)


def test_what_the_work_explains_is_not_flagged_and_what_it_does_not_is(desk):
    """Both seats were cut by 0.20: one stem now reads 0.20 higher, the other 0.50."""
    desk.read_again("stem_height", "inl-2f", "44.21")
    before = row(desk, "stem_height", "inl-4f").before
    desk.read_again("stem_height", "inl-4f", f"{before + 0.50:.2f}")
    good, odd = row(desk, "stem_height", "inl-2f"), row(desk, "stem_height", "inl-4f")
    assert good.after == 44.21 and good.unexplained is None
    assert odd.unexplained == pytest.approx(0.30)


def test_a_reading_within_its_doubt_is_not_flagged(desk):
    doubt = row(desk, "stem_height", "inl-2f").u
    desk.read_again("stem_height", "inl-2f", f"{44.21 + doubt:.2f}")
    assert row(desk, "stem_height", "inl-2f").unexplained is None


def test_the_sheet_tells_of_it_in_words_and_the_good_one_stands_quiet(desk):
    desk.read_again("stem_height", "inl-2f", "44.21")
    desk.read_again("stem_height", "inl-4f", "44.52")
    lines = {(one.line.characteristic, one.line.place): one for one in work_sheet(desk.now, "inl-2f").lines}
    quiet = lines["stem_height", "inl-2f"]
    assert (quiet.after, quiet.unexplained) == ("44.21", "")
    lines = {(one.line.characteristic, one.line.place): one for one in work_sheet(desk.now, "inl-4f").lines}
    told = lines["stem_height", "inl-4f"]
    assert told.unexplained.endswith("not explained") and "ask what else was done" in told.why


def test_work_that_was_done_and_not_written_down_shows_where_it_moves_things(desk):
    """Inl 3F was not to be touched: its seat was cut all the same, and its stem gives it away."""
    before = row(desk, "stem_height", "inl-3f").before
    desk.read_again("stem_height", "inl-3f", f"{before + 0.25:.2f}")
    found = row(desk, "stem_height", "inl-3f")
    assert not found.moved
    assert found.unexplained == pytest.approx(0.25)


def test_for_machines_every_number_has_its_unit_and_all_of_it_is_json(desk):
    data = ledger_data(desk.now, ledger_of_job(desk.now, intended(desk.now)))
    json.dumps(data, allow_nan=False)
    assert set(data) == {"job", "rows", "crossed", "unknown"}
    for one in data["rows"]:
        assert set(one) == {"characteristic", "location", "group", "before", "predicted", "after", "unit", "u", "u_before",
                            "verdict_before", "verdict", "p_within", "limit", "moved", "unexplained", "terms", "unknown",
                            "origin", "why"}  # fmt: skip
        assert one["unit"] or one["predicted"] is None or one["characteristic"] in ("rocker_ratio",), one


def test_an_inch_book_gives_rows_in_inch():
    desk = Desk("egret")
    data = ledger_data(desk.now, ledger_of_job(desk.now, ()))
    found = next(one for one in data["rows"] if one["characteristic"] == "installed_height" and one["before"] is not None)
    assert found["unit"] == "in" and 1.5 < found["before"] < 1.9


def test_the_walk_of_a_head_that_came_back_is_what_the_order_touches():
    from witnessmark.desk.order import order_plan
    from witnessmark.desk.planning import plan_of_job
    from witnessmark.desk.state import state

    desk = Desk("tern")

    def walk():
        now = desk.now
        back = state(now.job, now.catalogue, "back from machining", desk.memory)
        return back.route, {(stop.characteristic, stop.location) for stop in back.route}

    full, _ = walk()
    desk.do(order_plan, plan_of_job(desk.now), "A")
    route, touched = walk()
    assert len(route) < len(full) / 4
    # a seat cut at exhaust 3F moves stem and spring, and asks for width and runout; a new guide for its bore
    assert {("stem_height", "exh-3f"), ("installed_height", "exh-3f"), ("seat_width", "exh-3f"), ("seat_runout", "exh-3f"),
            ("guide_bore", "exh-3f"), ("head_flatness", "gasket-face"), ("head_height", "head")} <= touched  # fmt: skip
    assert ("stem_height", "inl-4r") not in touched  # nothing is done there
    assert state(desk.now.job, desk.now.catalogue, "as found", desk.memory).route == full
