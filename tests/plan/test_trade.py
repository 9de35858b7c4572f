"""What the trade knows of repairs, asked of the planner. Common practice, no source."""

from dataclasses import replace

import numpy as np
import pytest

from plan.worked import bench, limited, listed, operations
from witnessmark.engine.work import Cut
from witnessmark.plan.ledger import ledger
from witnessmark.plan.offers import Wish
from witnessmark.plan.plan import plan

HIGH = "  stem_height: [{service: {low: 43.75, high: 44.25}, unit: mm}]\n"
OPEN = "  seat_cut: {allowed: yes}\n  tip_grind: {allowed: up to, most: 0.20, unit: mm}\n"
WORK = ("work: {valve_replace: {cost: 5}, seat_insert: {cost: 50}, tip_grind: {cost: 4, least: 0.02, step: 0.01, unit: mm},\n"
        "  seat_cut: {cost: 18, least: 0.03, step: 0.01, unit: mm}, head_replace: {cost: 800}}\n")  # fmt: skip
PARTS = ("parts: [{id: v, fits: valve_replace, cost: 30, unit: mm, brings: {margin: {value: 1.2}, stem_diameter: {value: 5.97},\n"
         "  valve_length: {value: 103}}}]\n")  # fmt: skip


def high_stem(**found):
    """The Tern with one stem too high at inl-1f, and nothing else held."""
    made = limited(bench("tern"), HIGH, OPEN)
    at = made.model.axes.index("valve", "inl-1f")
    values = {name: row.copy() for name, row in made.state.values.items()}
    values["stem_height"][:] = 44.0
    for name, value in found.items():
        values[name][at] = value
    return replace(made, state=made.state.with_values(**{name: values[name] for name in ("stem_height", *found)}),
                   prices=listed(WORK + PARTS))  # fmt: skip


def test_a_stem_too_high_asks_for_another_valve_first():
    """A worn face lets the valve sit deep: 0.35 of margin gone is 0.35 of stem too much."""
    found = plan(high_stem(stem_height=44.35, margin=0.85))
    assert operations(found.plans[0]) == {"valve_replace"}


def test_where_a_new_valve_does_not_bring_it_down_the_seat_or_the_head_does():
    """With the margin of a new valve nothing is gained by another: the seat has sunk."""
    made = high_stem(stem_height=44.60, margin=1.20)
    lower = made.state.with_values(new_seat_drop=0.5)  # the insert that can be bought stands that much lower
    assert operations(plan(replace(made, state=lower)).plans[0]) == {"seat_insert"}
    assert "head_replace" in operations(plan(made).plans[0])  # this one does not


def test_a_stem_too_high_is_not_cured_by_grinding_its_tip():
    """0.15 too much, and 0.20 may come off the tip; it hides what is wrong, and is no cure."""
    made = high_stem(stem_height=44.40, margin=1.20)
    barred = replace(made, wish=Wish(forbid=(("head_replace", ""),)))
    assert plan(barred).status == "impossible"
    pinned = replace(made, wish=Wish(pins=(("tip_grind", "inl-1f", 0.20),), forbid=(("head_replace", ""),)))
    assert operations(plan(pinned).plans[0]) == {"tip_grind"}  # who says so may


def test_a_tip_ground_back_leaves_the_retainer_high_and_a_shim_brings_the_spring_back():
    made = bench("tern")
    cuts = (Cut("seat_cut", "inl-1f", 0.30), Cut("tip_grind", "inl-1f", 0.30))

    def moved(*work):
        rows = ledger(made.model, made.state, work, None, made.catalogue).rows
        return {row.characteristic: row.predicted - row.before for row in rows
                if row.location == "inl-1f" and row.before is not None}  # fmt: skip

    high = moved(*cuts)
    assert high["stem_height"] == pytest.approx(0.0)
    assert high["installed_height"] == pytest.approx(0.30)
    assert high["seat_load"] < 0
    shimmed = moved(*cuts, Cut("spring_shim", "inl-1f", 0.30))
    assert shimmed["installed_height"] == pytest.approx(0.0)
    assert shimmed["seat_load"] == pytest.approx(0.0)


def test_a_planner_that_may_shim_does_so():
    limits = "  installed_height: [{service: {low: 37.9, high: 38.3}, unit: mm}]\n" + HIGH
    made = limited(bench("tern"), limits, "  spring_shim: {allowed: up to, most: 1.0, unit: mm}\n")
    at = made.model.axes.index("valve", "inl-1f")
    tall = np.full(made.model.axes.size("valve"), 38.1)
    tall[at] = 38.6
    prices = listed("work: {spring_shim: {cost: 3}}\nstock: {spring_shim: {unit: mm, sizes: [0.25, 0.5], cost: 1, most: 1.5}}\n")
    found = plan(replace(made, state=made.state.with_values(installed_height=tall, stem_height=44.0), prices=prices))
    assert [(item.operation, item.location, item.amount) for item in found.plans[0].items] == [("spring_shim", "inl-1f", 0.5)]


FLAT = "  head_flatness: [{service: {high: 0.05}, new: {high: 0.03}, unit: mm}]\n"
HEADS = ("work: {skim: {cost: 85, least: 0.03, step: 0.01, unit: mm}, head_replace: {cost: 800}}\n"
         "parts: [{id: h, fits: head_replace, cost: 1, unit: mm, brings: {head_height: {value: 133}, stem_height: {value: 44},\n"
         "  installed_height: {value: 38}, seat_width: {value: 1.3}}}]\n")  # fmt: skip


@pytest.mark.parametrize(("book", "done"), [("yes", "skim"), ("no", "head_replace")])
def test_a_head_out_of_flatness_is_skimmed_and_replaced_where_the_book_forbids_that(book, done):
    made = limited(bench("tern"), FLAT, f"  skim: {{allowed: {book}}}\n")
    made = replace(made, state=made.state.with_values(head_flatness=0.12, new_head_flatness=0.02), prices=listed(HEADS))
    found = plan(made)
    assert operations(found.plans[0]) == {done}


def test_the_obvious_repair_of_exhaust_3f_strikes_the_piston_and_the_plan_does_not():
    """1.94 less what a new valve sits lower, 1.20 - 0.71, is 1.45; the least is 1.60."""
    made = bench("tern")

    def room(*cuts):
        rows = ledger(made.model, made.state, cuts, made.sheet, made.catalogue).rows
        return next(row for row in rows if (row.characteristic, row.location) == ("ptv_axial", "exh-3f"))

    assert room(Cut("valve_replace", "exh-3f", 1.0)).predicted == pytest.approx(1.94 - 0.49)
    assert room(Cut("valve_replace", "exh-3f", 1.0)).verdict == "out"
    best = plan(made).plans[0]
    after = next(row for row in best.predicted if (row.characteristic, row.location) == ("ptv_axial", "exh-3f"))
    assert after.verdict == "within" and after.predicted > 1.60
