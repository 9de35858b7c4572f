"""Sheets to write on: the rows of the screen, in the order of the route, found again by their code."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.sheets.tern import EIGHT, ENGINE, SINGLE, events, tern
from witnessmark.desk.route import BY_GAUGE, BY_PART, BY_STATION, BY_VALVE, ORDERS
from witnessmark.desk.sheets.blank_sheet import (
    ALONG,
    AMOUNT,
    DOWN,
    LEAVES,
    MOST_BOXES,
    MOST_LINES,
    NoSheet,
    blank_sheets,
    route_of_sheet,
    sheet_named,
)
from witnessmark.desk.state import State, state
from witnessmark.record.event import Event
from witnessmark.record.replay import replay

LAYOUTS = (ENGINE, SINGLE, EIGHT)


def ordered(order: str, engine=ENGINE) -> State:
    return replace(tern(engine, with_readings=False), order=order)


@pytest.mark.parametrize("engine", LAYOUTS)
@pytest.mark.parametrize("order", ORDERS)
def test_all_sheets_together_walk_the_route_once_and_in_its_order(engine, order):
    now = ordered(order, engine)
    walked = [stop for one in blank_sheets(now) for stop in one.stops]
    assert walked == list(now.route)


@pytest.mark.parametrize("engine", LAYOUTS)
@pytest.mark.parametrize("order", ORDERS)
def test_every_station_of_a_sheet_has_one_box_and_no_sheet_is_too_long(engine, order):
    for one in blank_sheets(ordered(order, engine)):
        boxes = [(box.characteristic, box.place) for line in one.lines for box in line.boxes]
        assert sorted(boxes) == sorted((stop.characteristic, stop.place) for stop in one.stops)
        assert len(one.lines) <= MOST_LINES and len(one.columns) <= MOST_BOXES


def test_stems_stand_valve_by_valve_with_their_stations_side_by_side():
    now = ordered(BY_PART)
    sheet = next(one for one in blank_sheets(now) if one.title == "Inlet stem diameter")
    assert [line.name for line in sheet.lines][:3] == ["Inl 1F", "Inl 1R", "Inl 2F"]
    assert sheet.columns[:2] == ("top, along", "top, across")
    assert sheet.limit == "least 5.940 mm" and sheet.unit == "mm"
    assert "M-07" in sheet.gauge and ALONG in sheet.hints
    assert [stop.place for stop in sheet.stops][:2] == ["inl-1f/top/along", "inl-1f/top/across"]


def test_by_station_is_written_down_the_columns():
    sheet = next(one for one in blank_sheets(ordered(BY_STATION)) if one.title == "Stem diameter")
    assert DOWN in sheet.hints and len(sheet.lines) == 16 and sheet.limit == ""
    assert {line.limit for line in sheet.lines} == {"least 5.940 mm", "least 5.925 mm"}
    assert [stop.place for stop in sheet.stops][:2] == ["inl-1f/top/along", "inl-1r/top/along"]


def test_valve_by_valve_a_sheet_is_a_valve_and_each_line_has_its_own_limit():
    sheet = next(one for one in blank_sheets(ordered(BY_VALVE)) if one.title == "Inl 1F")
    limits = {line.name: line.limit for line in sheet.lines}
    assert limits["stem diameter top, along"] == "least 5.940 mm"
    assert limits["valve margin"] == "least 0.8 mm"
    assert sheet.drawing is None and sheet.limit == ""


def test_lines_of_one_face_stand_one_under_the_other_and_take_two_leaves():
    sheet = next(one for one in blank_sheets(ordered(BY_PART)) if one.title.startswith("Gasket face"))
    assert sheet.columns == () and all(len(line.boxes) == 1 for line in sheet.lines)
    assert LEAVES in sheet.hints and sheet.drawing is not None


def test_what_is_read_already_stands_in_its_box_and_what_was_left_out_says_so():
    waived = Event("w", "waived", {"characteristic": "valve_lash", "place": "exh-4r", "round": "as found",
                                   "scope": "place", "reason": "cannot be measured"})  # fmt: skip
    now = state(replay((*events(), waived.stored(999, ""))), tern().catalogue)
    kept = {(box.characteristic, box.place): box.kept
            for one in blank_sheets(now) for line in one.lines for box in line.boxes}  # fmt: skip
    assert kept["stem_diameter", "inl-1r/middle/across"] == "5.931"
    assert kept["stem_diameter", "inl-4f/top/along"] == ""
    assert kept["valve_lash", "exh-4r"] == "left out"


def test_a_sheet_is_found_by_its_number_and_by_its_code():
    now = ordered(BY_PART)
    third = blank_sheets(now)[2]
    assert route_of_sheet(now, 3) == route_of_sheet(now, third.code) == third.stops
    assert route_of_sheet(now, third.code.lower()) == third.stops


def test_a_sheet_is_found_by_its_digits_when_those_before_it_have_gone():
    before = ordered(BY_PART)
    last = blank_sheets(before)[-1]
    fewer = "".join(line for line in now_limits().splitlines(keepends=True) if "margin" not in line)
    fewer = fewer.replace('    - {service: {low: "0.8"}, unit: mm, page: 41}\n', "")
    after = state(replay(events(with_readings=False, limits=fewer)), before.catalogue)
    assert len(blank_sheets(after)) < len(blank_sheets(before))
    assert sheet_named(after, last.code).stops == last.stops


def now_limits() -> str:
    from desk.sheets.tern import LIMITS

    return LIMITS


def test_only_what_is_named_has_sheets_also_where_nobody_asks_for_it():
    sheets = blank_sheets(ordered(BY_GAUGE), ["seat_width"])
    assert {stop.characteristic for one in sheets for stop in one.stops} == {"seat_width"}
    assert route_of_sheet(ordered(BY_GAUGE), sheets[0].code) == sheets[0].stops


def test_a_look_is_answered_by_its_number_and_how_much():
    sheet = blank_sheets(ordered(BY_PART), ["head_cracks"])[0]
    assert sheet.answers[0].startswith("1 ") and AMOUNT in sheet.hints


@pytest.mark.parametrize(("name", "said"), [
    ("0", "has no sheet 0; sheets are numbered 1 to"), ("999", "has no sheet 999"),
    ("B1-0000", "was printed for other places"), ("seat", "is no code of a sheet"), ("", "is no code of a sheet"),
])  # fmt: skip
def test_a_sheet_that_is_not_there_is_told(name, said):
    with pytest.raises(NoSheet, match=said):
        sheet_named(ordered(BY_PART), name)


@pytest.mark.parametrize(("name", "said"), [
    ("stem_diametre", "did you mean 'stem_diameter'"), ("pushrod_length", "cannot be read on this engine"),
])  # fmt: skip
def test_what_this_engine_does_not_have_has_no_sheet(name, said):
    with pytest.raises(NoSheet, match=said):
        blank_sheets(ordered(BY_PART), [name])


@given(st.text(max_size=30))
def test_any_text_names_a_sheet_or_is_told(name):
    now = ordered(BY_PART)
    try:
        assert sheet_named(now, name).stops
    except NoSheet as told:
        assert str(told)
