"""The sheet of verification: what stands beside what, in either unit, and what it never says."""

import pytest

from desk.verifying import read, read_together
from desk.worked import Desk
from witnessmark.assemble.verify import Finding
from witnessmark.desk.commands import enter_limit_sheet
from witnessmark.desk.conditions import enter_conditions
from witnessmark.desk.sheets.verify import verify_sheet
from witnessmark.draw.svg import svg
from witnessmark.explain.verified import WORDS, finding_words

SAID = {"air_pressure": "101.3 kPa", "orifice": "0.040 in", "inlet_closes": "44", "engine": "warm"}


@pytest.fixture(scope="module")
def together():
    desk = Desk("tern")
    desk.do(enter_conditions, SAID)
    read_together(desk, cranking_compression="900 kPa", cranking_wet="1150 kPa", leak_down_cylinder="60 psi")
    for place in ("cam-inl/lobe-1f", "cam-exh/lobe-1f"):
        for name, was, then in (("equal_lift_first", "76.5", "77.0"), ("equal_lift_second", "146.5", "150.6")):
            read(desk, name, place, was, round_="as found")
            read(desk, name, place, then)
    read(desk, "valve_lash", "inl-1f", "0.18 0.20")
    return desk


def sheet(desk, unit="mm"):
    return verify_sheet(desk.now, unit)


def wanting(found):
    return {one.term: one.count for one in found.wanting}


def test_a_head_on_the_bench_is_asked_for_every_test_and_shows_no_value():
    found = sheet(Desk("tern"))
    left = wanting(found)
    assert left["cranking compression"] == "4 of 4 places"
    assert left["leakage of the cylinder"] == "4 of 4 places"
    assert left["oil pressure"] == "2 of 2 places"
    assert "lobe centre by the degree wheel" in left
    assert {row.dry for row in found.cylinders} == {"–"}
    assert found.lines == found.timing == found.oil == found.hints == ()
    assert "round=as+assembled" in found.wanting[0].href


def test_what_was_tried_is_asked_for_no_more(together):
    assert not {"cranking compression", "leakage of the cylinder", "oil pressure"} & wanting(sheet(together)).keys()


def test_a_cylinder_stands_beside_what_it_should_give(together):
    one, *others = sheet(together).cylinders
    assert (one.place, one.dry, one.wet, one.before) == ("Cylinder 1", "900", "1150", "–")
    low, _, high = one.expected.partition(" to ")
    assert 1100 < int(low) < 1280 < int(high) < 1600
    assert [row.dry for row in others] == ["1280"] * 3
    assert "expected" in one.drawing.name and "Cylinder 1: 900 kPa" in one.drawing.name


def test_the_bracket_is_dotted_and_never_a_wall(together):
    roles = {shape.role for row in sheet(together).cylinders for shape in row.drawing.shapes}
    assert "usual" in roles
    assert not {role for role in roles if "wall" in role or role in ("within", "out", "close", "edge")}
    assert all(svg(row.drawing).startswith("<svg") for row in sheet(together).cylinders)


def test_an_inch_bench_reads_pounds_and_holes_in_inches(together):
    found = sheet(together, "in")
    assert (found.pressure, found.cylinders[0].dry) == ("psi", "131")
    assert found.leaks[0].supply == "80.0"
    assert found.leaks[0].area.startswith("Ø 0.041 in")
    assert found.leaks[0].others == "6 % on 0.060 in"


def test_a_leak_is_told_by_its_size_and_as_another_set_would_show_it(together):
    """Truth: 60 of 80 psi on 0.040 in is 0.86 mm2, a hole of 1.05 mm; 75.3 psi on 0.060 in."""
    one = sheet(together).leaks[0]
    assert one.loss == "25 %"
    assert one.area.startswith("0.86 mm²") and one.area.endswith("Ø 1.05 mm")
    assert one.others == "6 % on 1.52 mm"
    assert one.line.verdict == ""  # no limit was entered, so nothing is judged


def test_the_hints_name_the_cylinder_and_the_trap(together):
    told = " ".join(sheet(together).hints)
    assert "Cylinder 1 is low: the lowest is 70 % of the highest" in told
    assert "Cylinder 1 is 28 % higher with oil: rings or bore" in told
    assert "carbon" in told


def test_timing_that_the_work_does_not_explain_is_flagged_with_its_doubt(together):
    inlet, exhaust = (line for line in sheet(together).timing if line.characteristic == "lobe_centreline")
    assert (inlet.before, inlet.predicted, inlet.after) == ("(111.5)", "111.8", "(113.8)")
    assert (exhaust.before, exhaust.predicted, exhaust.after) == ("(111.5)", "111.2", "(113.8)")
    assert exhaust.unexplained.endswith("a reading that went wrong, or work that nobody wrote down")
    assert "deg crank not explained, doubt" in exhaust.unexplained
    assert sheet(together).unexplained >= 1


def test_a_row_of_the_ledger_has_its_reading_and_its_mark(together):
    (one,) = sheet(together).lines
    assert (one.characteristic, one.place, one.after, one.line.verdict) == (
        "valve_lash",
        "Inl 1F",
        "0.18–0.20",
        "within",
    )


def test_the_way_it_hurts_stands_at_its_own_test_and_names_what_is_done(together):
    cautions = sheet(together).cautions
    ((_, crank),), ((_, air),) = cautions["cranking_compression"], cautions["leak_down"]
    assert "Disable ignition and injection" in crank
    assert "Lock the crankshaft" in air


def test_which_work_the_prediction_is_of():
    desk = Desk("tern", left=("work_set",))
    assert sheet(desk).work == "no work is intended"
    assert "intended work" in sheet(Desk("tern")).work


def test_every_hint_has_words_and_no_braces_are_left():
    for name in WORDS:
        said = finding_words(Finding(name, ("chamber-1", "chamber-2"), {"share": 0.7, "line": 0.75}))
        assert said.endswith(".") and "{" not in said and "  " not in said
        assert not {"safe", "ok"} & set(said.casefold().replace(",", " ").split())


def test_a_limit_on_how_far_apart_cylinders_lie_is_judged_on_the_sheet():
    """Truth: US Army TM 5-3895-359-14&P, table 2: 445, 440, 405, 435 psi, at most 25 psi apart."""
    desk = Desk("tern", left=("limits_entered",))
    body = "limits:\n  cranking_compression:\n    - {service: {high: 25}, unit: psi, stations: spread_of_places, page: 2}\n"
    desk.do(
        enter_limit_sheet, f"format: witnessmark-limits-1\nsheet: {{name: T, document: Table 2}}\n{body}", "limits.yaml"
    )
    for n, psi in enumerate((445, 440, 405, 435), 1):
        read(desk, "cranking_compression", f"chamber-{n}", f"{psi} psi")
    (one,) = sheet(desk, "in").spreads
    assert (one.value, one.limit) == ("(40)", "most 25")  # worked out
    assert one.verdict in ("out", "too close to call")
    assert {row.line.verdict for row in sheet(desk, "in").cylinders} == {""}
