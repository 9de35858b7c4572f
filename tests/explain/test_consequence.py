"""A row of the ledger in one sentence: the sum that it shows adds up as written."""

import re
from dataclasses import replace

import pytest

from witnessmark.explain.consequence import as_result, contradiction, the_sum, why_row
from witnessmark.judge.result import Against
from witnessmark.plan.result import LedgerRow
from witnessmark.shell.resources import catalogue

C = catalogue()
HELD = Against(kind="service", low=43.75, high=44.25, low_text="43.75", high_text="44.25", unit="mm",
               document="A book (invented)", page="41", bearer="must be proven good")  # fmt: skip


@pytest.fixture
def row():
    return LedgerRow("stem_height", "inl-1f", "valve", 44.00, 44.27, None, 0.01, 0.012, None, "within", "out", 0.05, HELD, 0.02,
                     True, None, (("seat_cut", 0.20), ("face_grind", 0.07)))  # fmt: skip


def test_the_sum_adds_up_as_it_is_written(row):
    assert the_sum(row, C) == "44.00 + 0.20 (seat cut) + 0.07 (face grind) = 44.27 mm."
    told = the_sum(replace(row, predicted=43.87, terms=(("seat_cut", 0.20), ("valve_replace", -0.33))), C)
    start, up, down, end = (float(one) for one in re.findall(r"\d+\.\d+", told))
    assert start + up - down == pytest.approx(end) and "− 0.33 (valve replace)" in told


def test_in_inches_it_adds_up_too(row):
    told = the_sum(row, C, "in")
    start, first, second, end = (float(one) for one in re.findall(r"\d+\.\d+", told))
    assert start + first + second == pytest.approx(end, abs=1.1e-4) and told.endswith("in.")


def test_what_is_not_moved_and_what_was_not_known_say_so(row):
    assert the_sum(replace(row, terms=(), predicted=44.0), C) == "44.00 mm; this work does not move it."
    assert "not known before it" in the_sum(replace(row, before=None), C)
    assert why_row(replace(row, predicted=None, unknown="the stroke is not known"), C).startswith("Not known: the stroke")


def test_the_verdict_and_what_it_means_follow_the_sum(row):
    assert "44.27 is 0.02 above the most 44.25 you entered" in why_row(row, C)
    lash = replace(row, characteristic="valve_lash", before=0.20, predicted=-0.07, terms=(("seat_cut", -0.27),), against=None,
                   verdict="")  # fmt: skip
    assert why_row(lash, C).endswith("Below nothing: the cam would hold the valve open.")


@pytest.mark.parametrize(("by", "side"), [(0.30, "above"), (-0.30, "under")])
def test_what_the_geometry_cannot_explain_is_told_with_both_questions(row, by, side):
    told = contradiction(replace(row, after=44.27 + by, unexplained=by), C)
    assert f"The gauge now reads {44.27 + by:.2f}, 0.30 {side} what this work explains" in told
    assert "measure again" in told and "what else was done" in told


def test_the_dust_of_adding_up_is_not_shown(row):
    dusty = replace(row, predicted=43.75 - 1e-14)
    assert as_result(dusty, C).value == 43.75
    assert as_result(row, C).value == 44.27
