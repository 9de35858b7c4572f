"""Filled blanks become plain mappings and come back the same."""

from hypothesis import given
from hypothesis import strategies as st

from desk.sheets.tern import EIGHT, ENGINE, GAUGES, SINGLE, catalogue, tern
from witnessmark.desk.sheets.blanks import (
    engine_blank_of,
    engine_blanks,
    engine_fields,
    engine_from,
    gauge_blanks,
    gauge_fields,
    gauge_from,
)
from witnessmark.engine.layout import LayoutError, layout


def test_an_engine_goes_through_its_blanks_unchanged():
    told = ENGINE | {"seal": "positive", "fuel": "petrol", "cooling": "liquid", "hybrid": "no"}
    for engine in (ENGINE, SINGLE, EIGHT, told):
        assert layout(engine_from(engine_fields(engine))) == layout(engine)


def test_a_gauge_goes_through_its_blanks_unchanged():
    for fields in GAUGES.values():
        assert gauge_from(gauge_fields(fields)) == fields


def test_an_empty_blank_stays_out():
    assert engine_from({"layout": " ", "cylinders": ""}) == {}
    assert gauge_from({"kind": "micrometer", "k": "2", "U": ""}) == {"kind": "micrometer"}


def test_what_follows_from_the_rest_stands_as_a_hint():
    desk = tern(with_readings=False)
    blanks = {one.name: one for one in engine_blanks(ENGINE, desk.layout, {}, {})}
    assert blanks["head_bolts"].value == "" and blanks["head_bolts"].hint == "10, as it follows"
    assert blanks["inl"].value == "2"


def test_what_was_typed_wins_over_what_the_job_holds():
    blanks = {one.name: one for one in engine_blanks(ENGINE, None, {"cylinders": "99"}, {"cylinders": "no"})}
    assert (blanks["cylinders"].value, blanks["cylinders"].fault) == ("99", "no")
    gauge = {one.name: one.value for one in gauge_blanks(catalogue(), "M-07", GAUGES["M-07"], {"U": "0.003"})}
    assert (gauge["gauge"], gauge["U"], gauge["s"]) == ("M-07", "0.003", "0.0012")


def test_a_fault_finds_its_blank():
    assert engine_blank_of(("valves", "exh")) == "exh"
    assert engine_blank_of(("banks", "left", 2)) == "left"
    assert engine_blank_of(("banks",)) == "left"
    assert engine_blank_of(("gear",)) == "gear"


@given(st.dictionaries(st.sampled_from(["layout", "cylinders", "inl", "exh", "gear", "left", "right", "cams"]),
                       st.text(max_size=12)))  # fmt: skip
def test_any_text_in_the_blanks_is_laid_out_or_told(fields):
    try:
        layout(engine_from(fields))
    except LayoutError as error:
        assert all(engine_blank_of(path) for path, _ in error.faults)
