"""The sheet that starts a job."""

from desk.sheets.tern import catalogue, tern
from witnessmark.desk.sheets.new import new_sheet, register_of, suggested_id
from witnessmark.desk.sheets.setup import Typed


def test_the_next_number_follows_the_highest_of_its_kind():
    assert suggested_id(["HL-0147", "HL-0151", "Wren"]) == "HL-0152"
    assert suggested_id([]) == "HL-0001"
    assert suggested_id(["HL-9999"]) == "HL-10000"


def test_the_register_holds_the_gauges_of_earlier_jobs():
    register = register_of([tern(with_readings=False).job])
    sheet = new_sheet("HL-0148", register, catalogue(), chosen=["M-07"])
    told = {gauge.gauge: gauge for gauge in sheet.gauges}
    assert told["M-07"].chosen and not told["D-01"].chosen
    assert "0.001 mm · U 0.002 · 2026-03-02" in told["M-07"].words


def test_nothing_of_the_engine_is_needed_and_what_was_typed_stays():
    sheet = new_sheet("HL-0148", {}, catalogue(), Typed("new", {"engine": "Wren 125", "cylinders": "1"}))
    assert not any(blank.wanted for blank in sheet.engine)
    assert next(blank.value for blank in sheet.engine if blank.name == "cylinders") == "1"
    assert [blank.value for blank in sheet.job] == ["HL-0148", "Wren 125", *[""] * 10]
