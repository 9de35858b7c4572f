"""Orders: work in groups with their gates, parts that follow from it, counted by hand."""

from dataclasses import replace

import pytest

from engine.heads import SIXTEEN
from witnessmark.engine.described import layout
from witnessmark.plan.orders import groups, parts
from witnessmark.plan.prices import read_prices
from witnessmark.plan.result import Item
from witnessmark.shell.resources import catalogue

LIST = """format: witnessmark-prices-1
sheet: {name: A, currency: EUR}
work: {valve_replace: {cost: 5}, spring_shim: {cost: 1}, lash_shim: {cost: 2}, gasket: {cost: 0}}
parts:
  - {id: valve-inl, fits: valve_replace, for: inl, cost: 29.00, number: V-1, wait: 2}
  - {id: valve-exh, fits: valve_replace, for: exh, cost: 34.00}
  - {id: valve-exh-2, fits: valve_replace, for: exh, cost: 40.00}
stock:
  spring_shim: {unit: mm, sizes: [0.25, 0.50], cost: 0.60, most: 1.5}
  lash_shim: {unit: mm, sizes: [2.50, 2.60], cost: 9}
  gasket: {unit: mm, sizes: [1.10, 1.40], cost: 64}
one_time: {head_gasket: 64.00, head_bolt: 4.20, stem_seal: 2.10}
"""


def item(operation, location, amount=None, cost=0.0):
    return Item(operation, location, amount, amount, amount, cost, 0.0)


def lines(*items, prices=LIST, described=SIXTEEN, single_use=()):
    known = read_prices(prices, "p.yaml", catalogue()) if prices else None
    found = parts(items, layout(described), known, catalogue(), single_use)
    return {(one.id, one.size): one for one in found}


def test_work_stands_in_working_order_and_a_gate_before_the_first_that_asks_for_it():
    work = [item("skim", "head", 0.1), item("seat_cut", "inl-1f", 0.1), item("seat_cut", "inl-2f", 0.1),
            item("guide_replace", "inl-1f"), item("crack_repair", "chamber-3")]  # fmt: skip
    found = groups(work, catalogue())
    assert [one.operation for one in found] == ["crack_repair", "guide_replace", "seat_cut", "skim"]
    assert [one.gates for one in found] == [(), ("sound",), (), ("cam_line",)]
    assert len(found[2].items) == 2


def test_parts_are_counted_the_cheapest_that_fits_each_side():
    found = lines(item("valve_replace", "inl-1f"), item("valve_replace", "inl-2f"), item("valve_replace", "exh-1f"))
    inlet, exhaust = found["valve-inl", None], found["valve-exh", None]
    assert (inlet.quantity, inlet.cost, inlet.number, inlet.wait) == (2, 58.0, "V-1", 2)
    assert (exhaust.quantity, exhaust.cost) == (1, 34.0)
    assert ("valve-exh-2", None) not in found


def test_a_head_that_was_off_takes_its_gaskets_and_a_seal_for_every_valve():
    """One head, sixteen valves, ten bolts in the head of an inline four; bolts only where the work replaces them."""
    found = lines(item("seat_cut", "inl-1f", 0.1))
    assert {name: one.quantity for (name, _), one in found.items()} == {
        "head_gasket": 1, "stem_seal": 16, "inlet_gasket": 1, "exhaust_gasket": 1, "cover_gasket": 1, "coolant": 1,
        "cam_seal": 2, "engine_oil": 1,
    }  # fmt: skip
    assert found["stem_seal", None].cost == pytest.approx(33.60)
    assert found["cover_gasket", None].cost is None  # no price entered: it must be bought all the same
    bolted = lines(item("bolt_replace", "head"))
    assert (bolted["head_bolt", None].quantity, bolted["head_bolt", None].cost) == (10, pytest.approx(42.0))


def test_a_v_engine_takes_two_of_each_and_a_pushrod_engine_leaves_its_drive_alone():
    vee = {"layout": "v", "cylinders": "8", "valves": {"inl": "1", "exh": "1"}, "gear": "pushrod", "head": "iron",
           "drive": "chain"}  # fmt: skip
    found = lines(item("seat_cut", "inl-1", 0.1), described=vee)
    assert (found["head_gasket", None].quantity, found["stem_seal", None].quantity) == (2, 16)
    assert ("cam_seal", None) not in found
    assert ("cam_seal", None) in lines(item("drive_replace", "engine"), described=vee)


def test_what_the_engine_is_said_not_to_have_is_not_bought_and_what_a_diesel_needs_is():
    told = SIXTEEN | {"seal": "none", "cooling": "air"}
    assert {name for name, _ in lines(item("seat_cut", "inl-1f", 0.1))} - {
        name for name, _ in lines(item("seat_cut", "inl-1f", 0.1), described=told)} == {"stem_seal", "coolant"}  # fmt: skip
    diesel = lines(item("seat_cut", "inl-1f", 0.1), described=SIXTEEN | {"fuel": "diesel"})
    assert (diesel["injector_washer", None].quantity, diesel["injector_washer", None].why) == (4, "injectors out")


def test_bolts_that_the_book_uses_once_are_bought_for_every_head_whatever_the_work_is():
    found = lines(item("seat_cut", "inl-1f", 0.1), single_use={"head_bolt"})["head_bolt", None]
    assert (found.quantity, found.why) == (10, "single use, by the sheet")
    vee = {"layout": "v", "cylinders": "8", "valves": {"inl": "1", "exh": "1"}, "gear": "pushrod", "head": "iron"}
    one_head = item("bolt_replace", "left/head")
    assert lines(one_head, described=vee)["head_bolt", None].quantity == 10
    assert lines(one_head, described=vee, single_use={"head_bolt"})["head_bolt", None].quantity == 20


def test_another_gasket_is_bought_in_its_size_and_not_once_more():
    found = lines(item("gasket", "head", 1.40))
    assert found["gasket", 1.40].quantity == 1
    assert ("head_gasket", None) not in found


@pytest.mark.parametrize(("height", "pieces"), [
    (0.25, {0.25: 1}), (0.5, {0.5: 1}), (0.75, {0.25: 1, 0.5: 1}), (1.0, {0.5: 2}), (1.5, {0.5: 3}), (3.5, {0.5: 7}),
])  # fmt: skip
def test_a_stack_is_bought_in_the_fewest_pieces_however_high(height, pieces):
    found = lines(item("spring_shim", "inl-1f", height, cost=1.0))
    assert {size: one.quantity for (name, size), one in found.items() if name == "spring_shim"} == pieces


def test_a_shim_off_the_shelf_is_not_bought():
    found = lines(item("lash_shim", "inl-1f", 2.50, cost=0.0), item("lash_shim", "inl-2f", 2.60, cost=9.0))
    assert {size: one.quantity for (name, size), one in found.items() if name == "lash_shim"} == {2.60: 1}


def test_without_a_price_list_all_that_is_needed_is_named_without_a_price():
    found = lines(item("valve_replace", "inl-1f"), item("thrust_plate", "cam-inl"), prices="")
    assert found["valve_replace", None].cost is None and found["thrust_plate", None].quantity == 1
    assert found["head_gasket", None].cost is None


def test_the_order_of_the_items_changes_nothing():
    work = [item("valve_replace", f"{side}-{n}f") for side in ("inl", "exh") for n in (1, 2, 3)]
    assert lines(*work).keys() == lines(*reversed(work)).keys()
    assert replace(lines(*work)["valve-inl", None]) == lines(*reversed(work))["valve-inl", None]
