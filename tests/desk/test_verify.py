"""What a job knows of its engine once it is together: before, predicted, after, and what each cylinder should give."""

from math import radians

import pytest

from desk.verifying import TOGETHER, read, read_together
from desk.worked import Desk
from witnessmark.desk import intend
from witnessmark.desk.conditions import enter_conditions
from witnessmark.desk.verify import verified
from witnessmark.desk.verify_data import verification_data

SAID = {"air_pressure": "101.3 kPa", "orifice": "0.040 in", "inlet_closes": "44"}


def tried(name="tern", **more):
    desk = Desk(name)
    desk.do(enter_conditions, {**SAID, **more})
    return desk


def first(desk):
    return verified(desk.now).tried[0]


def test_nothing_is_expected_before_the_closing_is_known_and_that_is_told():
    desk = Desk("tern")
    assert first(desk).cylinder.expected is None
    assert "when the inlet closes" in first(desk).why
    desk.do(enter_conditions, {"inlet_closes": "44"})
    assert first(desk).cylinder.expected is not None


def test_an_engine_without_its_stroke_is_told_what_to_enter():
    desk = tried("wren")
    desk.do(intend.forget_geometry, "rod_length")
    assert first(desk).why == "enter the rod length, on the sheet of intended work"


def test_a_skim_raises_what_is_expected_and_the_late_camshaft_takes_some_back():
    """What the skim does to the ratio is +8 %/unit; the camshaft closes later, which costs compression."""
    desk = tried()
    desk.do(intend.clear_work)
    plain = first(desk).cylinder.expected.middle
    desk.do(intend.step_work, "skim", "head", "0.30")
    skimmed = verified(desk.now)
    row = next(r for r in skimmed.ledger.rows if (r.characteristic, r.location) == ("cam_timing", "cam-inl"))
    assert row.predicted > row.before
    with_ratio_alone = first(tried_with_ratio_of(desk)).cylinder.expected.middle
    assert plain < skimmed.tried[0].cylinder.expected.middle < with_ratio_alone


def tried_with_ratio_of(desk):
    """The same engine whose inlet was read to close where it did before the skim."""
    other = Desk("tern")
    other.log = list(desk.log)
    found = next(
        r for r in verified(desk.now).ledger.rows if (r.characteristic, r.location) == ("cam_timing", "cam-inl")
    )
    from math import degrees

    read(other, "lobe_closes", "cam-inl/lobe-1f", f"{44 + degrees(found.before):.3f}")
    return other


def test_a_closing_that_was_read_goes_before_the_book():
    desk = tried()
    book = first(desk).cylinder.expected.middle
    read(desk, "lobe_closes", "cam-inl/lobe-3f", "60")
    later = first(desk).cylinder.expected.middle  # nobody read cylinder 1: it is taken as 3, of the same camshaft
    assert later < book


def test_thin_air_takes_its_part():
    low, high = (first(tried(air_pressure=text)).cylinder.expected.middle for text in ("101.325 kPa", "89.875 kPa"))
    assert high / low == pytest.approx(89.875 / 101.325, abs=1e-6)


@pytest.mark.parametrize("name", ["tern", "egret", "wren", "petrel"])
def test_every_kind_of_engine_is_expected_something_and_leaks_by_size(name):
    desk = tried(name)
    read_together(desk)
    for one in verified(desk.now).tried:
        assert one.cylinder.expected is not None and one.why == ""
        assert one.leak is not None and one.leak_why == ""
        assert one.leak.area == pytest.approx(0.44, abs=0.01)  # 80 and 74 psi on 0.040 in
        assert one.cylinder.loss == pytest.approx(0.075, abs=1e-3)


def test_without_the_orifice_a_leak_has_no_size_and_one_gauge_alone_is_half_of_a_set():
    desk = tried(orifice="")
    read(desk, "leak_down_supply", "chamber-1", "80 psi")
    assert first(desk).leak_why == "read both gauges of the set"
    read(desk, "leak_down_cylinder", "chamber-1", "76 psi")
    assert (first(desk).leak, first(desk).leak_why) == (None, "enter the orifice of the set")
    assert verified(desk.now).tried[1].leak_why == ""  # nothing was tried there


def test_what_was_read_before_it_came_apart_is_before_and_never_after():
    desk = tried("wren")
    read(desk, "cranking_compression", "chamber-1", "700 kPa", round_="as found")
    assert (first(desk).before, first(desk).cylinder.dry) == (pytest.approx(0.7), None)
    read(desk, "cranking_compression", "chamber-1", "1100 kPa")
    assert (first(desk).before, first(desk).cylinder.dry) == (pytest.approx(0.7), pytest.approx(1.1))


def test_the_engine_together_goes_before_the_head_on_the_bench():
    desk = Desk("tern")
    read(desk, "valve_lash", "inl-1f", "0.18 0.20", round_="back from machining")
    row = lash(desk)
    assert row.after == pytest.approx(0.19)
    read(desk, "valve_lash", "inl-1f", "0.23 0.25", round_=TOGETHER)
    assert lash(desk).after == pytest.approx(0.24)
    assert lash(desk).u_after == pytest.approx(0.02 / 12**0.5)


def lash(desk):
    return next(r for r in verified(desk.now).ledger.rows if (r.characteristic, r.location) == ("valve_lash", "inl-1f"))


def test_as_plain_data_pressures_are_in_kilopascal():
    desk = tried()
    read_together(desk, cranking_compression="900 kPa")
    found = verification_data(desk.now)
    one = found["cylinders"][0]
    assert (one["place"], one["dry"], one["unit"]) == ("chamber-1", pytest.approx(900), "kPa")
    assert one["expected"]["low"] < one["expected"]["middle"] < one["expected"]["high"]
    assert found["lowest_over_highest"] == pytest.approx(900 / 1280)
    assert found["hints"][0]["name"] == "uneven"
    assert found["air"] == {"pressure": pytest.approx(101.3), "unit": "kPa", "origin": "entered"}
    assert found["conditions"]["inlet_closes"] == "44 deg crank"


def test_a_closing_is_kept_in_radians_of_the_crank():
    from witnessmark.desk.conditions import condition

    assert condition(tried().now, "inlet_closes") == pytest.approx(radians(44))
