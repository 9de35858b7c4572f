"""Zero checks, dates of calibration, and two gauges on one part: what they touch, and what they leave alone."""

from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench_job import BORE, MICROMETER, STEM, Shop
from witnessmark.desk.report import judgement, row
from witnessmark.explain.compared import compared_words
from witnessmark.explain.why import why
from witnessmark.explain.words import verdict_words
from witnessmark.judge.compared import comparisons
from witnessmark.judge.zero import allowed_zero, suspects
from witnessmark.record.job import GaugeRevision
from witnessmark.record.replay import replay

LIMIT = "  stem_diameter:\n    - {for: inl, service: {low: 5.940}, unit: mm}\n"
INCH = {"kind": "micrometer", "unit": "in", "resolution": "0.0001", "calibration": {"U": "0.0002", "k": "2"}}


def check(shop, gauge, passed, when="after", found="0.000"):
    shop.add("zero_checked", {"gauge": gauge, "found": found, "unit": "mm", "against": "closed", "when": when,
                              "allowed": None, "passed": passed})  # fmt: skip


def measured(*steps):
    """Stems read one by one, with checks between: a valve's name, or `good` or `bad`."""
    shop = Shop(LIMIT, gauges={"M-07": MICROMETER, "M-08": MICROMETER, "B-02": BORE})
    for step in steps:
        gauge, _, what = step.rpartition(" ")
        if what in ("good", "bad"):
            check(shop, gauge or "M-07", what == "good")
        else:
            shop.stem(what, *["5.961"] * 6, gauge=gauge or "M-07")
    return shop


def marked(shop):
    return {one.location: bool(one.suspect) for one in shop.results("stem_diameter")}


def test_a_bad_check_touches_what_was_read_since_the_last_good_one_and_nothing_else():
    shop = measured("inl-1f", "good", "inl-1r", "M-08 inl-2f", "bad", "inl-2r")
    assert marked(shop) == {"inl-1f": False, "inl-1r": True, "inl-2f": False, "inl-2r": False}


def test_without_a_good_check_a_bad_one_touches_all_that_came_before():
    assert marked(measured("inl-1f", "inl-1r", "bad")) == {"inl-1f": True, "inl-1r": True}


def test_a_good_check_later_does_not_mend_what_a_bad_one_touched():
    assert marked(measured("good", "inl-1f", "bad", "good", "inl-1r")) == {"inl-1f": True, "inl-1r": False}


def test_a_touched_row_is_not_finished_and_says_so():
    shop = measured("inl-1f", "bad")
    result = shop.only("stem_diameter")
    assert (result.verdict, result.decided, result.complete, len(result.suspect)) == ("within", False, False, 6)
    assert verdict_words(result) == ("within", "zero check")
    assert "throws doubt on 6 readings behind this; measure again." in why(result)
    summary = shop.state().judgement.summary
    assert (summary["so far"], summary["within"]) == (1, 0)
    assert row(result)["suspect"] == list(result.suspect)


def test_what_is_read_again_is_finished_again():
    shop = measured("inl-1f", "bad", "good")
    for station in STEM:
        old = next(e for e in shop.log if e.kind == "reading_taken" and e.body["place"] == f"inl-1f/{station}")
        shop.type("stem_diameter", f"inl-1f/{station}", "5.960", "M-07", supersedes=old.id, reason="other")
    result = shop.only("stem_diameter")
    assert (result.suspect, result.decided, result.verdict) == ((), True, "within")


def test_a_bad_check_that_is_taken_back_touches_nothing():
    shop = measured("inl-1f", "bad")
    shop.add("taken_back", {"event": shop.log[-1].id})
    assert marked(shop) == {"inl-1f": False}


def test_the_master_of_a_setting_touches_what_was_read_under_it():
    shop = Shop("", gauges={"M-07": MICROMETER, "B-02": BORE})
    shop.set_to("B-02", "6.000", "M-07")
    shop.type("guide_bore", "inl-1f/top/along", "+0.010", "B-02")
    check(shop, "M-07", passed=False)
    shop.set_to("B-02", "6.000", "M-07")
    shop.type("guide_bore", "inl-1r/top/along", "+0.010", "B-02")
    assert {one.location: bool(one.suspect) for one in shop.results("guide_bore")} == {"inl-1f": True, "inl-1r": False}


def test_a_clearance_is_touched_by_the_check_of_either_gauge():
    shop = Shop("  stem_guide_clearance:\n    - {service: {high: 0.08}, unit: mm}\n")
    shop.set_to("B-02", "6.000", None)
    shop.stem("inl-1f", *["5.961"] * 6)
    for station in STEM:
        shop.type("guide_bore", f"inl-1f/{station}", "+0.010", "B-02")
    check(shop, "B-02", passed=False)
    assert len(shop.only("stem_guide_clearance").suspect) == 6


STEPS = st.lists(st.sampled_from(["inl-1f", "inl-1r", "M-08 inl-2f", "M-08 inl-2r", "good", "bad", "M-08 good", "M-08 bad"]),
                 max_size=8)  # fmt: skip


@settings(max_examples=25, deadline=None)
@given(STEPS)
def test_a_reading_is_suspect_exactly_when_its_next_check_is_bad_or_a_bad_one_comes_before_the_next_good_one(steps):
    shop = measured(*steps)
    job = replay(shop.log)
    expected = set()
    for reading in job.readings:
        later = [one.passed for one in job.checks if one.gauge == reading.gauge and one.seq > reading.seq]
        if False in later[: later.index(True) if True in later else len(later)]:
            expected.add(reading.id)
    assert suspects(job) == expected


@pytest.mark.parametrize(
    ("fields", "most"),
    [
        ({"unit": "mm", "resolution": "0.001", "calibration": {"U": "0.002", "k": "2"}}, 0.002),
        ({"unit": "mm", "resolution": "0.001", "calibration": {"U": "0.003", "k": "3"}}, 0.002),
        ({"unit": "mm", "resolution": "0.01", "calibration": {"U": "0.002", "k": "2"}}, 0.01),
        ({"unit": "mm", "resolution": "0.002", "permissible_error": "0.004"}, 0.008 / sqrt(3)),
        ({"unit": "in", "resolution": "0.0001", "calibration": {"U": "0.0002", "k": "2"}}, 0.0002 * 25.4),
        ({"unit": "mm", "resolution": "0.001"}, 0.001),
    ],
)
def test_the_zero_may_be_off_by_a_step_or_by_what_the_calibration_leaves_open(fields, most):
    assert allowed_zero(GaugeRevision("M-1", 1, {"kind": "micrometer", **fields}, "e1")) == pytest.approx(most)


@pytest.mark.parametrize(("due", "late"), [("2026-11-23", ["M-1"]), ("2026-11-24", []), ("", []), (None, [])])
def test_a_gauge_past_the_date_of_its_next_calibration_is_named(due, late):
    calibration = {"U": "0.002", "k": "2", "date": "2025-11-23", **({"due": due} if due is not None else {})}
    shop = Shop(LIMIT, gauges={"M-1": {**MICROMETER, "calibration": calibration}})
    shop.stem("inl-1f", *["5.961"] * 6, gauge="M-1")
    result = shop.only("stem_diameter")
    assert row(result)["overdue"] == late and result.verdict == "within" and result.decided
    assert ("M-1 had passed the date" in why(result)) == bool(late)


def compare(shop, first, second, a, b, unit="mm"):
    shop.add("gauges_compared", {"first": first, "second": second, "on": "the stem of Inl 1F", "first_read": a,
                                 "second_read": b, "unit": unit})  # fmt: skip
    return comparisons(replay(shop.log))[-1]


@pytest.mark.truth("derived: E_n by hand for U 0.002, s 0.0012 and a step of 0.001 mm in both gauges")
def test_two_gauges_on_one_part():
    shop = Shop("", gauges={"M-07": MICROMETER, "M-08": MICROMETER})
    U = 2 * sqrt(0.001**2 + 0.0012**2 + 0.001**2 / 12)
    near, far = compare(shop, "M-07", "M-08", "5.961", "5.958"), compare(shop, "M-07", "M-08", "5.961", "5.955")
    assert near.score == pytest.approx(0.003 / (U * sqrt(2))) and far.score == pytest.approx(0.006 / (U * sqrt(2)))
    assert (near.agree, far.agree, near.stated) == (True, False, True)
    assert "so they agree within their doubts" in compared_words(near)
    assert "try a third, or a master" in compared_words(far)


def test_an_inch_and_a_millimetre_gauge_are_compared_in_one_unit():
    shop = Shop("", gauges={"M-07": MICROMETER, "I-1": INCH})
    assert compare(shop, "M-07", "I-1", "5.9563", "5.9563").score == pytest.approx(0)
    found = compare(shop, "I-1", "M-07", "0.2345", "0.2346", "in")
    assert found.first == pytest.approx(5.9563) and found.second - found.first == pytest.approx(0.00254)


def test_a_gauge_of_which_nothing_is_known_proves_little():
    shop = Shop("", gauges={"M-07": MICROMETER, "M-9": {"kind": "micrometer", "unit": "mm", "resolution": "0.001"}})
    assert "only the step is known" in compared_words(compare(shop, "M-07", "M-9", "5.961", "5.961"))
    unknown = compare(shop, "M-07", "M-99", "5.961", "5.961")
    assert [one["agree"] for one in judgement(shop.state())["comparisons"]] == [True, None]
    assert unknown.agree is None and "M-99 is not in the register" in compared_words(unknown)
