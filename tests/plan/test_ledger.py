"""The ledger: what every cut does to every characteristic, with the sum behind it."""

from dataclasses import replace
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalogue.shelf import shipped
from engine.heads import head
from witnessmark.engine.predict import predict
from witnessmark.engine.work import Cut, amounts
from witnessmark.limits.sheet import read_sheet
from witnessmark.plan.ledger import GROUPS, ledger, slack

SHEET = """\
format: witnessmark-limits-1
sheet: {name: S-1, document: A book (invented), invented: yes}
limits:
  stem_height: [{service: {low: 43.75, high: 44.25}, new: {low: 43.85, high: 44.15}, unit: mm}]
  seat_width: [{service: {low: 1.0, high: 1.6}, unit: mm}]
  ptv_axial: [{service: {low: 1.60}, unit: mm}]
  stem_diameter: [{service: {low: 5.94}, new: {low: 5.96, high: 5.98}, unit: mm}]
  head_height: [{service: {low: 132.80}, unit: mm}]
"""
WORK = (Cut("seat_cut", "inl-1f", 0.20), Cut("face_grind", "inl-1f", 0.10), Cut("skim", "head", 0.15),
        Cut("tip_grind", "inl-1f", 0.05))  # fmt: skip


@pytest.fixture(scope="module")
def engine():
    model, state = head(new_stem_height=43.95)
    n = model.axes.size("valve")
    return model, replace(state, own={"stem_height": np.full(n, 0.01), "ptv_axial": np.full(n, 0.02)})


@pytest.fixture(scope="module")
def sheet():
    return read_sheet(SHEET, "limits.yaml", shipped())


def made(engine, sheet, cuts, **others):
    return ledger(*engine, cuts, sheet, shipped(), **others)


def row(found, characteristic, location):
    return next(one for one in found.rows if (one.characteristic, one.location) == (characteristic, location))


def test_without_a_cut_nothing_moves(engine, sheet):
    found = made(engine, sheet, ())
    assert not any(one.moved or one.terms for one in found.rows)
    assert found.crossed == ()
    assert all(one.before == one.predicted for one in found.rows)


def test_the_terms_of_every_row_add_up_to_what_it_moves(engine, sheet):
    for one in made(engine, sheet, WORK).rows:
        if one.before is not None and one.predicted is not None:
            assert sum(by for _, by in one.terms) == pytest.approx(one.predicted - one.before, abs=1e-8)
            sizes = [abs(by) for _, by in one.terms]
            assert sizes == sorted(sizes, reverse=True)


@given(st.lists(st.floats(0.03, 0.3), min_size=4, max_size=4))
@settings(max_examples=20)
def test_terms_add_up_for_any_depth(depths):
    model, state = head()
    cuts = tuple(replace(cut, amount=depth) for cut, depth in zip(WORK, depths, strict=True))
    for one in ledger(model, state, cuts, None, shipped()).rows:
        if one.before is not None and one.predicted is not None:
            assert sum(by for _, by in one.terms) == pytest.approx(one.predicted - one.before, abs=1e-8)


def test_the_order_in_which_cuts_are_named_changes_nothing(engine, sheet):
    first = made(engine, sheet, WORK).rows
    for order in list(permutations(WORK))[1::5]:
        for one, other in zip(made(engine, sheet, order).rows, first, strict=True):
            assert (one.predicted, one.u, one.p_within) == pytest.approx((other.predicted, other.u, other.p_within))
            assert (one.verdict, one.moved, one.against) == (other.verdict, other.moved, other.against)


def test_two_cuts_at_one_place_are_one_cut_of_both(engine, sheet):
    twice = made(engine, sheet, (Cut("seat_cut", "inl-1f", 0.08), Cut("seat_cut", "inl-1f", 0.12)))
    once = made(engine, sheet, (Cut("seat_cut", "inl-1f", 0.20),))
    for one, other in zip(twice.rows, once.rows, strict=True):
        assert one.predicted == pytest.approx(other.predicted, abs=1e-12)


def test_an_inch_is_twenty_five_point_four_millimetres(engine, sheet):
    metric = made(engine, sheet, (Cut("seat_cut", "inl-1f", 0.254),))
    inch = made(engine, sheet, (Cut("seat_cut", "inl-1f", 0.010 * 25.4, "in", "0.010"),))
    for one, other in zip(metric.rows, inch.rows, strict=True):
        assert one.predicted == pytest.approx(other.predicted, abs=1e-12)
        assert one.verdict == other.verdict


def test_what_crosses_its_limit_is_told_once_and_only_where_it_was_not_out_before(engine, sheet):
    """Inlet room 1.62 and least 1.60: a seat cut takes none of it, a skim of 0.15 takes too much of it."""
    found = made(engine, sheet, (Cut("skim", "head", 0.15),))
    crossed = {one.characteristic for one in found.crossed}
    assert "ptv_axial" in crossed
    assert all(one.verdict_before != "out" and one.verdict == "out" and one.moved for one in found.crossed)
    again = made((engine[0], engine[1].with_values(ptv_axial=1.0)), sheet, (Cut("skim", "head", 0.15),))
    assert "ptv_axial" not in {one.characteristic for one in again.crossed}


def test_a_skim_takes_from_the_height_of_the_head_what_comes_off(engine, sheet):
    one = row(made(engine, sheet, (Cut("skim", "head", 0.15),)), "head_height", "head")
    assert one.predicted == pytest.approx(one.before - 0.15)
    assert one.terms == (("skim", pytest.approx(-0.15)),)


def test_a_new_valve_answers_to_the_new_limit_and_the_others_to_the_service_limit(engine, sheet):
    found = made(engine, sheet, (Cut("valve_replace", "inl-1f", 1.0),))
    new, old = (row(found, "stem_diameter", where).against for where in ("inl-1f", "inl-2f"))
    assert (new.low, new.high) == pytest.approx((5.96, 5.98))
    assert (old.low, old.high) == (pytest.approx(5.94), None)


def test_the_doubt_of_a_row_is_that_of_the_geometry_with_the_machine(engine, sheet):
    model, state = engine
    work = amounts(model, WORK)
    own = predict(model, state, work, slack(model, work, {"seat_cut": 0.02}))
    one = row(made(engine, sheet, WORK, tolerances={"seat_cut": 0.02}), "stem_height", "inl-1f")
    assert one.u == pytest.approx(own.u["stem_height"][model.axes.index("valve", "inl-1f")])
    finer = row(made(engine, sheet, WORK, tolerances={"seat_cut": 0.001}), "stem_height", "inl-1f")
    assert finer.u < one.u


@pytest.mark.parametrize(("read", "told"), [(0.0, False), (0.02, False), (0.30, True), (-0.30, True)])
def test_what_the_geometry_does_not_explain_is_told(engine, sheet, read, told):
    cuts = (Cut("seat_cut", "inl-1f", 0.20),)
    said = row(made(engine, sheet, cuts), "stem_height", "inl-1f").predicted
    found = made(engine, sheet, cuts, after={("stem_height", "inl-1f"): (said + read, 0.01)})
    one = row(found, "stem_height", "inl-1f")
    assert one.after == pytest.approx(said + read)
    assert (one.unexplained == pytest.approx(read)) if told else (one.unexplained is None)


def test_what_is_not_known_says_what_to_measure_and_is_told_once(engine, sheet):
    model, state = engine
    found = made((model, state.with_values(ptv_axial=np.nan)), sheet, WORK)
    one = row(found, "ptv_axial", "inl-1f")
    assert (one.before, one.predicted, one.verdict, one.p_within) == (None, None, "", None)
    assert "not known" in one.unknown
    names = [name for name, _ in found.unknown]
    assert names.count("ptv_axial") == 1


def test_a_value_without_any_doubt_holds_or_does_not(sheet):
    model, state = head()
    found = ledger(model, state, (), sheet, shipped())
    assert {one.p_within for one in found.rows if one.verdict} <= {0.0, 1.0}


def test_rows_stand_in_the_order_in_which_a_bench_cares(engine, sheet):
    groups = [GROUPS.index(one.group) for one in made(engine, sheet, WORK).rows if one.group in GROUPS]
    assert groups == sorted(groups)


def test_work_that_an_engine_has_no_place_for_is_refused(engine, sheet):
    with pytest.raises(KeyError, match="knows"):
        made(engine, sheet, (Cut("pushrod_replace", "inl-1f", 1.0),))
