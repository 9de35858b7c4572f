"""The shims of a head after its work: by hand on an invented engine, and whatever list and limits leave open."""

from dataclasses import replace
from math import nan, sqrt

import numpy as np
import pytest

from engine.heads import SIXTEEN, head
from limits.sheets import sheet
from witnessmark.engine.model import evaluate
from witnessmark.engine.work import Cut, amounts, worked
from witnessmark.fit.lash import BETWEEN, BOUGHT, SHELF, STAYS, SWAPPED, TOO_THICK
from witnessmark.plan.prices import Stock
from witnessmark.plan.shims import adjusters, screwed, shims, with_shims

LADDER = tuple(round(2.0 + 0.02 * n, 2) for n in range(51))
LASH = "valve_lash: [{service: {low: 0.15, high: 0.25}, unit: mm, page: 1}]"
CUTS = (Cut("seat_cut", "exh-3f", 0.20), Cut("face_grind", "exh-3f", 0.05))
SUNK = 0.20 + 0.05 * sqrt(2)  # a face of 45 degrees ground by 0.05 across itself sinks the valve by that much more


def stock(sizes=LADDER, unit="mm", **on_hand):
    """A price list's shims at 9 each."""
    held = {float(size.replace("_", ".")[1:]): count for size, count in on_hand.items()}
    return Stock(tuple(sizes), tuple(map(str, sizes)), unit, 9.0, held, None, None, 0)


def asked(limit=LASH, cuts=(), listed=None, described=SIXTEEN, **values):
    """The shims of the invented head, and what they were asked for."""
    model, state = head(described, **values)
    work = amounts(model, cuts)
    found = shims(model, state, work, sheet(limit) if limit else None, listed or stock(), {})
    return found, model, state, work


def one_of(found, place):
    return next(one for one in found.assignment.given if one.place == place)


def at(model, usual, **places):
    """A row over the valves: one value everywhere but at the places named (`_` for the dash)."""
    row = np.full(model.axes.size("valve"), usual)
    for place, value in places.items():
        row[model.axes.index("valve", place.replace("_", "-"))] = value
    return row


@pytest.mark.truth("derived: a valve that sinks by z takes z from the lash of its bucket; new shim = old + lash - target")
def test_a_sunk_valve_and_its_neighbours_by_hand():
    """0.20 of lash on 2.60 less 0.2707 of sink asks for 2.3293; 2.32 and 2.34 are in the list and 2.32 is nearer."""
    found, model, state, work = asked(cuts=CUTS)
    cut, beside = one_of(found, "exh-3f"), one_of(found, "exh-3r")
    assert cut.needed == pytest.approx(2.60 - SUNK)
    assert (cut.size, cut.source, found.assignment.bought, found.cost) == (2.32, BOUGHT, {2.32: 1}, 9.0)
    assert (beside.needed, beside.size, beside.source) == (pytest.approx(2.60), 2.60, STAYS)
    assert found.has["exh-3f"] == 2.60 and not found.unread and not found.assignment.unfit
    lash = evaluate(model, worked(model, state.values, with_shims(model, work, found)))["valve_lash"]
    assert lash[model.axes.index("valve", "exh-3f")] == pytest.approx(0.20 + (2.60 - SUNK) - 2.32)
    assert lash == pytest.approx(at(model, 0.20, exh_3f=0.20 + 2.60 - SUNK - 2.32))


def test_two_valves_exchange_and_nothing_is_bought():
    """Inl 1F stands 0.10 tight on 2.70, Exh 1F 0.10 wide on 2.60: each wants what the other has."""
    model, _ = head()
    found, *_ = asked(valve_lash=at(model, 0.20, inl_1f=0.10, exh_1f=0.30),
                      lash_shim=at(model, 2.65, inl_1f=2.70, exh_1f=2.60))  # fmt: skip
    assert [(one.place, one.size, one.source, one.came_from) for one in found.assignment.given if one.source != STAYS] == [
        ("inl-1f", 2.60, SWAPPED, "exh-1f"), ("exh-1f", 2.70, SWAPPED, "inl-1f"),
    ]  # fmt: skip
    assert found.cost == 0.0 and found.assignment.chains == (("exh-1f", "inl-1f", "exh-1f"),)


def test_what_lies_on_the_shelf_is_taken_before_anything_is_bought():
    found, *_ = asked(cuts=CUTS, listed=stock(_2_36=1))
    assert (one_of(found, "exh-3f").source, one_of(found, "exh-3f").size) == (SHELF, 2.36)


@pytest.mark.parametrize(("limit", "expected"), [
    (None, 2.32),  # no limit of the lash: the nearest size that there is
    ("valve_lash: [{service: {high: 0.25}, unit: mm, page: 1}]", 2.32),
    ("valve_lash: [{service: {low: 0.15}, unit: mm, page: 1}]", 2.32),
    ("valve_lash: [{for: inl, service: {low: 0.15, high: 0.25}, unit: mm, page: 1}]", 2.32),
])  # fmt: skip
def test_a_limit_that_was_not_entered_does_not_leave_a_valve_without_a_shim(limit, expected):
    found, *_ = asked(limit, CUTS)
    assert not found.assignment.unfit
    assert one_of(found, "exh-3f").size == expected and one_of(found, "exh-3r").source == STAYS
    assert found.cover["exh-3f"] == (2.32, 2.34)  # the doubt of the cuts reaches over the half-way 2.33


def test_a_valve_sunk_too_far_says_by_how_much_the_thinnest_is_too_thick():
    """2.0293 would do and 2.0793 at the most; the list begins at 2.30."""
    found, *_ = asked(cuts=CUTS, listed=stock(LADDER[15:]), lash_shim=2.30)
    one = found.assignment.unfit[0]
    assert (one.place, one.why, one.above) == ("exh-3f", TOO_THICK, 2.30)
    assert one.too_thick == pytest.approx(2.30 - (2.30 - SUNK + 0.05))
    assert found.cover["exh-3f"] == ()


def test_no_size_between_the_limits_says_which_two_are_nearest():
    narrow = "valve_lash: [{service: {low: 0.19, high: 0.21}, unit: mm, page: 1}]"
    found, *_ = asked(narrow, CUTS, stock([2.30, 2.40, 2.50, 2.60]))
    one = found.assignment.unfit[0]
    assert (one.why, one.below, one.above) == (BETWEEN, 2.30, 2.40)


@pytest.mark.parametrize("values", [{"valve_lash": nan}, {"lash_shim": nan}, {"lash_shim": -2.6}, {"lash_shim": 0.0},
                                    {"valve_lash": 200.0}, {"lash_shim": 2600.0}])  # fmt: skip
def test_what_cannot_be_is_read_again_and_the_rest_is_planned(values):
    model, _ = head()
    (name, value), usual = next(iter(values.items())), {"valve_lash": 0.20, "lash_shim": 2.60}
    found, *_ = asked(**{name: at(model, usual[name], inl_2f=value)})
    assert found.unread == ("inl-2f",) and len(found.assignment.given) == 15
    assert asked(**values)[0] is None


def test_sizes_written_in_another_unit_are_no_traceback():
    assert asked(listed=stock([2000.0, 2020.0]))[0] is None
    assert asked("valve_lash: [{service: {low: 0.1, high: 900}, unit: mm, page: 1}]", CUTS)[0].assignment.unfit == ()


def test_doubt_widens_what_is_at_hand_and_changes_nothing_else():
    """A lash read to 0.0122 (1 s): 1.645 of it each way reach from 2.5799 to 2.6201, nearest to 2.58 up to 2.62."""
    model, state = head()
    own = {"valve_lash": np.full(model.axes.size("valve"), 0.01222)}
    sure, unsure = (shims(model, each, {}, sheet(LASH), stock(), {}) for each in (state, replace(state, own=own)))
    assert sure.cover["inl-1f"] == (2.60,)
    assert unsure.u["inl-1f"] == pytest.approx(0.01222) and unsure.cover["inl-1f"] == (2.58, 2.60, 2.62)
    assert sure.assignment == unsure.assignment


def test_inch_is_millimetre():
    """The same head with a limit and a list written in inch; sizes are 0.0010 in apart on either side."""
    sizes = [size * 25.4 for size in (0.0900, 0.0910, 0.0920, 0.1020, 0.1024)]
    metric = "valve_lash: [{service: {low: 0.1524, high: 0.2540}, unit: mm, page: 1}]"
    inch = "valve_lash: [{service: {low: 0.0060, high: 0.0100}, unit: in, page: 1}]"
    one, other = (asked(limit, CUTS, stock(sizes, unit))[0] for limit, unit in ((metric, "mm"), (inch, "in")))
    assert one.assignment == other.assignment and one.cover == other.cover
    assert one_of(one, "exh-3f").size == pytest.approx(0.0920 * 25.4)


def test_a_gear_without_shims_and_a_shop_without_sizes_have_none():
    model, state = head()
    assert shims(model, state, {}, sheet(LASH), None, {}) is None
    assert asked(described={**SIXTEEN, "gear": "bucket_hydraulic"})[0] is None
    assert with_shims(model, {}, None) == {}


def test_a_screw_is_turned_to_its_target():
    """A seat cut by 0.20 takes the lash of a rocker as much; the screw gives it back, and leaves the others alone."""
    model, state = head({**SIXTEEN, "gear": "rocker"})
    work = amounts(model, CUTS[:1])
    done = screwed(model, state, work)
    assert done["lash_adjust"] == pytest.approx(at(model, 0.0, exh_3f=0.20), abs=1e-12)
    assert evaluate(model, worked(model, state.values, done))["valve_lash"] == pytest.approx(0.20)


def test_a_plunger_has_its_travel_left_by_hand():
    """Pressed in by 1.00 of 0.5 to 1.5; the sunk valve presses it in by 0.20 more."""
    model, state = head({**SIXTEEN, "gear": "bucket_hydraulic"})
    limit = sheet("hla_preload: [{service: {low: 0.5, high: 1.5}, unit: mm, page: 1}]")
    found = {one.place: one for one in adjusters(model, state, amounts(model, CUTS[:1]), limit)}
    assert len(found) == 16
    assert (found["exh-3f"].travel.inward, found["exh-3f"].travel.outward) == (pytest.approx(0.3), pytest.approx(0.7))
    assert (found["inl-1f"].travel.inward, found["inl-1f"].travel.outward) == (pytest.approx(0.5), pytest.approx(0.5))
    assert adjusters(*head()[:2], {}, limit) == ()
