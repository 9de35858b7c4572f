"""A new operation is one entry of the catalogue and one pure function: everything else finds it by itself.

A cutter for spring seats, invented for these tests, lets the spring down, and with it the surface that stem and guide
are measured from.
"""

from functools import cache

import numpy as np
import pytest

from catalogue.shelf import texts
from engine.heads import SIXTEEN, head
from witnessmark.catalogue.entry import Catalogue
from witnessmark.catalogue.load import load
from witnessmark.engine.described import layout
from witnessmark.engine.model import Model, evaluate, model
from witnessmark.engine.operation import Working
from witnessmark.engine.tables import LAWS, OPERATIONS, QUANTITIES
from witnessmark.engine.work import Cut, amounts, worked
from witnessmark.plan.ledger import ledger
from witnessmark.plan.offers import Wish, open_work
from witnessmark.plan.prices import read_prices

ENTRY = """
  spring_seat_cut:
    {term: cut the spring seat, amount: length, direction: metal off along the valve axis, source: common-practice,
     at: spring, kind: metal, order: 99, by: shop, gates: [sound], check: [installed_height]}
"""
PRICES = """format: witnessmark-prices-1
sheet: {name: invented, currency: EUR}
work: {spring_seat_cut: {cost: 7, minutes: 4, least: 0.05, most: 1.0, step: 0.05, tolerance: 0.02, unit: mm}}
"""


def spring_seat_cut(amount, spring_shim_added, stem_height, guide_height):
    return {"spring_shim_added": spring_shim_added - amount, "stem_height": stem_height + amount,
            "guide_height": guide_height + amount}  # fmt: skip


@cache
def catalogue() -> Catalogue:
    found = dict(texts())
    name = next(name for name in found if name.endswith("operations.yaml"))
    at = found[name].index("\n  lash_cap:")
    return load({**found, name: found[name][:at] + ENTRY + found[name][at:]})


def with_cutter() -> Model:
    return model(layout(SIXTEEN), QUANTITIES, LAWS, (*OPERATIONS, Working("spring_seat_cut", "valve", spring_seat_cut)))


def test_evaluate_sees_it():
    made, (_, state) = with_cutter(), head()
    then = evaluate(made, worked(made, state.values, amounts(made, (Cut("spring_seat_cut", "inl-1f", 0.4),))))
    before = evaluate(made, state.values)
    at = made.axes.index("valve", "inl-1f")
    for name, by in (("installed_height", 0.4), ("seat_load", -12.0), ("coil_bind_clearance", 0.4), ("stem_height", 0.4),
                     ("valve_lash", 0.0), ("retainer_seal_gap", 0.0), ("seat_recession", 0.0)):  # fmt: skip
        moved = then[name] - before[name]
        assert moved[at] == pytest.approx(by, abs=1e-9), name
        assert np.delete(moved, at) == pytest.approx(0.0, abs=1e-12), name


def test_the_ledger_sees_it_and_says_what_it_added():
    made, (_, state) = with_cutter(), head()
    cuts = Cut("spring_seat_cut", "inl-1f", 0.4), Cut("seat_cut", "inl-1f", 0.1)
    rows = {(row.characteristic, row.location): row for row in ledger(made, state, cuts, None, catalogue()).rows}
    height = rows["installed_height", "inl-1f"]
    assert height.predicted == pytest.approx(38.5)
    assert dict(height.terms) == pytest.approx({"spring_seat_cut": 0.4, "seat_cut": 0.1})
    load_row = rows["seat_load", "inl-1f"]
    assert load_row.predicted - load_row.before == pytest.approx(-15.0)
    assert load_row.u == pytest.approx(30 * (2 * 0.005**2) ** 0.5, rel=1e-3)  # both cuts, and a tester nobody doubted


def test_the_plan_is_offered_it_at_every_valve_where_a_price_is_known():
    made, prices = with_cutter(), read_prices(PRICES, "prices.yaml", catalogue())
    opened = open_work(made, None, prices, catalogue(), Wish(), ask_nothing=True)
    found = [one for one in opened.offers if one.operation == "spring_seat_cut"]
    assert [one.location for one in found] == list(made.axes.locations["valve"])
    assert {(one.least, one.most, one.step, one.cost, one.kind) for one in found} == {(0.05, 1.0, 0.05, 7.0, "metal")}
    asked = open_work(made, None, prices, catalogue(), Wish())
    assert ("ask", {"operation": "spring_seat_cut", "page": ""}) in asked.questions  # metal off asks the book first


def test_one_that_reads_what_no_table_has_is_a_slip_of_ours():
    def slip(amount, sprung_height):
        return {"spring_shim_added": sprung_height - amount}

    with pytest.raises(ValueError, match="spring_seat_cut reads what bucket_shim with a chain has not: sprung_height"):
        model(layout(SIXTEEN), QUANTITIES, LAWS, (Working("spring_seat_cut", "valve", slip),))
