"""The head sheet: columns under cylinders, counts at the row's end, a pick with words and reasons."""

import pytest

from desk.sheets.tern import EIGHT, LIMITS, SINGLE, catalogue, events, tern
from witnessmark.desk.sheets.apart import engine_picture
from witnessmark.desk.sheets.head import MOST_ROWS, head_sheet
from witnessmark.desk.sheets.start import start_sheet
from witnessmark.desk.state import state
from witnessmark.record.replay import replay


@pytest.fixture(scope="module")
def half():
    return tern()


@pytest.fixture(scope="module")
def sheet(half):
    return head_sheet(half, valve="exh-3f")


def row(sheet, name):
    return next(row for row in sheet.rows if row.characteristic == name)


def test_sixteen_columns_stand_under_four_cylinders(sheet):
    assert [column.label for column in sheet.columns[:4]] == ["Inl F", "Inl R", "Exh F", "Exh R"]
    assert [column.cylinder for column in sheet.columns] == [n for n in (1, 2, 3, 4) for _ in range(4)]
    assert [column.place for column in sheet.columns if column.first] == ["inl-1f", "inl-2f", "inl-3f", "inl-4f"]
    assert [column.name for column in sheet.columns if column.picked] == ["Exh 3F"]


def test_the_counts_at_the_rows_end_are_those_of_its_cells(sheet):
    stems = row(sheet, "stem_diameter")
    assert (stems.out, stems.close) == (1, 1)
    assert stems.limit == "least 5.940 · 5.925"
    words = [cell.word for cell in stems.cells]
    assert words[1] == "out" and words[4] == "too close to call" and words[12] == words[13] == "not measured"


def test_a_series_that_is_not_finished_is_open(sheet):
    cell = row(sheet, "stem_diameter").cells[5]
    assert (cell.place, cell.open, cell.small, cell.asked) == ("inl-2r", True, "so far, 5 of 6", True)


def test_no_sheet_has_more_rows_than_fit(half):
    for group in (choice.id for choice in head_sheet(half).groups):
        assert len(head_sheet(half, group).rows) <= MOST_ROWS


def test_lash_and_installed_height_stand_with_the_seats(sheet):
    assert [row.characteristic for row in sheet.rows][-2:] == ["valve_lash", "installed_height"]


def test_the_picked_valve_tells_each_value_with_its_reason(sheet):
    picked = sheet.picked
    assert (picked.name, picked.out) == ("Exh 3F", 4)
    margin = next(line for line in picked.lines if line.characteristic == "margin")
    assert (margin.value, margin.limit, margin.word, margin.small) == ("0.71", "least 0.8", "out", "by 0.09")
    assert "0.71 is 0.09 under the least 0.8 you entered" in margin.why


def test_the_six_lines_of_the_face_have_their_own_verdicts_and_reasons(sheet):
    lines = {line.place: line for line in sheet.flatness}
    assert len(lines) == 6
    assert lines["gasket-face/diagonal-1"].word == "out"
    assert lines["gasket-face/diagonal-2"].word == "within"
    assert "outside" not in lines["gasket-face/diagonal-2"].why
    assert lines["gasket-face/diagonal-2"].value == "0.04–0.05"


def test_shown_in_inch_nothing_but_the_numbers_changes(half, sheet):
    inches = head_sheet(half, valve="exh-3f", unit="in")
    assert [[cell.verdict for cell in row.cells] for row in inches.rows] == [
        [cell.verdict for cell in row.cells] for row in sheet.rows
    ]
    assert row(inches, "stem_diameter").limit == "least 0.2339 · 0.2333"
    assert row(inches, "stem_diameter").cells[1].value == "0.2335"


def test_limits_of_an_unread_head_come_from_the_sheet():
    sheet = head_sheet(tern(SINGLE, with_readings=False))
    assert row(sheet, "stem_diameter").limit == "least 5.940 · 5.925"
    assert row(sheet, "margin").limit == "least 0.8"
    assert {cell.mark.wall.low for cell in row(sheet, "stem_diameter").cells} == {5.94, 5.925}


def test_an_engine_with_two_banks_has_two_head_sheets():
    desk = tern(EIGHT, with_readings=False)
    left, right = head_sheet(desk), head_sheet(desk, bank="right")
    assert [choice.words for choice in left.heads] == ["left head", "right head"]
    assert {column.cylinder for column in left.columns} == {1, 3, 5, 7}
    assert {column.cylinder for column in right.columns} == {2, 4, 6, 8}
    assert head_sheet(desk, valve="exh-6").bank == "right"
    assert all(line.place.startswith("right/") for line in right.flatness)


def test_a_gear_without_lash_has_no_row_for_it():
    sheet = head_sheet(tern(EIGHT, with_readings=False))
    assert all(row.characteristic != "valve_lash" for row in sheet.rows)


def test_unknown_words_fall_back_to_what_there_is(half):
    sheet = head_sheet(half, group="pistons", valve="exh-9r", bank="upper")
    assert (sheet.group, sheet.picked, sheet.bank) == ("valves", None, "")


def test_without_an_engine_there_is_no_head():
    bare = tern({}, with_readings=False)
    with pytest.raises(ValueError, match="no engine has been described"):
        head_sheet(bare)


def test_a_spread_over_places_stands_under_the_columns_and_in_none_of_them():
    limits = LIMITS.replace(
        "  valve_lash:", '    - {service: {high: "0.10"}, unit: mm, stations: spread_of_places}\n  valve_lash:'
    )
    desk = state(replay(events(limits=limits)), catalogue())
    spread = next(r for r in desk.judgement.results if r.rule == "spread_of_places")
    assert (spread.location, spread.verdict) == ("all", "out")
    sheet = head_sheet(desk)
    line = next(line for line in sheet.lines if line.place == "all")
    assert line.shown == "over all places" and "over all places" in line.name
    assert engine_picture(start_sheet(desk), desk.layout)
    assert row(sheet, "installed_height").limit == "37.8 to 38.3"
