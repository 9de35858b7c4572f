"""The papers of an order, read back: the plan's own numbers in both units, what is used once, cautions where they apply."""

import re
from functools import cache

import pytest

from shell.papers.paper import pages, read_in_order, words
from witnessmark.desk.planning import plan_of_job
from witnessmark.desk.sheets.order import NAMES, ordered, paper
from witnessmark.desk.state import state
from witnessmark.explain.planned import amount, place
from witnessmark.plan.items import cuts_of
from witnessmark.plan.orders import SHOP
from witnessmark.record.replay import replay
from witnessmark.shell.demo import demo_events
from witnessmark.shell.papers.orders import order_pdf
from witnessmark.shell.resources import catalogue

HEADS = ("tern", "egret", "wren", "petrel")
SMALLEST = 8.0  # points


@cache
def job(name):
    return state(replay(demo_events(name)), catalogue())


@cache
def pdf(name, which, unit="mm", size="a4"):
    return order_pdf(job(name), which, date="2026-11-25", checksum="0" * 8, display=unit, size=size)


@cache
def text(*args):
    """All of it in the order of its tags, so that the lines of a cell stand together."""
    return " ".join(read_in_order(pdf(*args)).split())


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("name", HEADS)
def test_the_shop_order_has_target_least_and_most_of_every_cut(name, unit):
    said = text(name, "shop-order", unit)
    work = ordered(job(name), plan_of_job(job(name))).items
    mine = [one for one in work if job(name).catalogue.operations[one.operation].by == SHOP]
    assert mine
    for one in mine:
        assert place(one.location) in said, one
        if one.amount is not None:
            assert amount(one.amount, unit) in said
            assert f"{amount(one.least, unit)} to {amount(one.most, unit)}" in said or one.least == one.most
    assert "Who decides if a limit is hit" in said and "Send back with the head" in said
    assert f"target, {unit}" in said


def test_gates_stand_before_the_work_that_asks_for_them():
    said = text("tern", "shop-order")
    assert said.index("Crack and pressure test") < said.index("New guide") < said.index("Cam line checked") < said.index("Skim the gasket")


@pytest.mark.parametrize("name", HEADS)
def test_cautions_are_those_of_the_work_and_no_others(name):
    known = job(name).catalogue
    made = paper(job(name), plan_of_job(job(name)), "shop-order")
    work = ordered(job(name), plan_of_job(job(name))).items
    hazards = {known.operations[one.operation].hazard for one in work if known.operations[one.operation].by == SHOP} - {None, ""}
    assert {term for term, _ in made.cautions} == {known.hazards[name].term for name in hazards}
    said = text(name, "shop-order")
    for name_, hazard in known.hazards.items():
        assert (f"{hazard.term}." in said) == (name_ in hazards), name_


def test_what_is_sent_back_is_held_against_its_limit():
    said = text("tern", "shop-order")
    assert re.search(r"seat width 1\.0 to 1\.6 \(Inl", said) and "head height least 132.64" in said


def test_parts_that_are_used_once_follow_from_the_work():
    said = text("tern", "parts-order")
    for row in (r"head bolt\s+–\s+10\s+4\.20\s+42\.00", r"stem seal\s+–\s+16\s+2\.10\s+33\.60", r"valve exh\s.*?3\s+34\.00\s+102\.00"):
        assert re.search(row, " ".join(pages(pdf("tern", "parts-order")))), row
    assert "No price entered" in said and "camshaft seal" in said


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_shims_are_final_only_after_re_measuring_and_tell_where_each_comes_from(unit):
    said = text("tern", "shims", unit)
    assert "AFTER RE-MEASURING" in said and "stays" in said
    assert ("2.560" if unit == "mm" else "0.1008") in said
    assert "Plunger travel" in text("egret", "shims", unit)


def test_before_and_after_has_the_ledgers_own_numbers():
    from witnessmark.desk.ledger import ledger_of_job

    now = job("tern")
    items = ordered(now, plan_of_job(now)).items
    from witnessmark.desk.cuts import model_of

    rows = ledger_of_job(now, cuts_of([one for one in items if one.operation != "lash_shim"], model_of(now))).rows
    said = text("tern", "before-and-after")
    stem = next(row for row in rows if (row.characteristic, row.location) == ("stem_height", "exh-3f"))
    assert re.search(rf"stem height\s+Exh 3F\s+{stem.before:.2f}\s+{stem.predicted:.2f}", " ".join(pages(pdf("tern", "before-and-after"))))
    assert "Limits and prices are those that were entered" in said


@pytest.mark.parametrize("which", NAMES)
@pytest.mark.parametrize(("size", "wide", "high"), [("a4", 210, 297), ("letter", 215.9, 279.4)])
def test_nothing_stands_outside_the_frame(which, size, wide, high):
    for name, unit in (("tern", "in"), ("egret", "in")):
        outside = [(page, box, word) for page, box, word in words(pdf(name, which, unit, size))
                   if box[0] < 20 or box[2] > wide - 9.8 or box[1] < 10 or box[3] > high - 9.8]  # fmt: skip
        assert not outside, outside[:3]


def test_nothing_ordered_is_said_over_every_paper():
    for which in NAMES:
        assert "NOT ORDERED" in text("wren", which)
