"""A price list read: what stands in it, and every fault of it with its place and what to do."""

from importlib.resources import files

import pytest

from catalogue.shelf import shipped
from witnessmark.plan.prices import json_schema, read_prices
from witnessmark.text.fault import Faulty

HEAD = "format: witnessmark-prices-1\nsheet: {name: A, currency: EUR}\n"


def listed(body):
    return read_prices(f"{HEAD}{body}\n", "prices.yaml", shipped())


def told(body):
    with pytest.raises(Faulty) as faulty:
        listed(body)
    return [str(fault) for fault in faulty.value.faults]


@pytest.mark.parametrize("name", ["tern", "egret", "wren", "petrel"])
def test_the_lists_of_the_four_heads_are_read_and_are_told_to_be_invented(name):
    text = files("witnessmark.shell.demo").joinpath(f"{name}-prices.yaml").read_text()
    found = read_prices(text, f"{name}-prices.yaml", shipped())
    assert found.invented
    assert found.work["seat_cut"].cost > 0


def test_a_tolerance_is_a_half_width_at_two_standard_uncertainties():
    work = listed("work: {seat_cut: {cost: 18, least: 0.03, most: 0.6, step: 0.01, tolerance: 0.01, unit: mm}}").work
    assert work["seat_cut"].tolerance == pytest.approx(0.005)


def test_a_list_in_inches_says_what_one_in_millimetres_says():
    inch = listed("work: {skim: {cost: 65, least: 0.002, most: 0.010, step: 0.001, tolerance: 0.0004, unit: in}}")
    metric = listed("work: {skim: {cost: 65, least: 0.0508, most: 0.254, step: 0.0254, tolerance: 0.01016, unit: mm}}")
    for key in ("least", "most", "step", "tolerance", "cost", "minutes"):
        assert getattr(inch.work["skim"], key) == pytest.approx(getattr(metric.work["skim"], key))


def test_sizes_are_counted_in_exact_decimals_and_keep_how_they_are_written():
    stock = listed("stock: {lash_shim: {unit: mm, from: 2.00, to: 3.00, step: 0.02, cost: 9}}").stock["lash_shim"]
    assert len(stock.sizes) == 51
    assert (stock.texts[0], stock.texts[7], stock.texts[-1]) == ("2.00", "2.14", "3.00")
    assert stock.sizes[7] == pytest.approx(2.14, abs=1e-12)


def test_sizes_may_be_listed_in_fractions_of_an_inch():
    stock = listed("stock: {spring_shim: {unit: in, sizes: [1/64, 1/32], cost: 1}}").stock["spring_shim"]
    assert stock.sizes == pytest.approx((25.4 / 64, 25.4 / 32))


def test_what_costs_nothing_says_so_and_is_read():
    assert listed("work: {seat_cut: {cost: 0}}").work["seat_cut"].cost == 0.0


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ("work: {seat_cut: {cost: -18}}", "-18 is below nothing; write what is paid"),
        ("work: {seat_cut: {cost: nan}}", "'nan' is no sum of money"),
        ("work: {seat_cut: {cost: 1.234}}", "at most two decimals"),
        ("work: {seat_cut: {minutes: 3}}", "the key 'cost' is missing"),
        ("work: {seat_cut: {cost: 1, minutes: soon}}", "'soon' is no time in minutes; write digits"),
        ("work: {seat_cut: {cost: 1, wait: 1.5}}", "'1.5' is no count; write a whole number"),
        ("work: {seatcut: {cost: 1}}", "did you mean 'seat_cut'?"),
        ("work: {seat_cut: {cost: 1, least: 0.6, most: 0.1, unit: mm}}", "exchange the two"),
        ("work: {seat_cut: {cost: 1, least: 0.6}}", "needs its unit"),
        ("work: {seat_cut: {cost: 1, step: 0, unit: mm}}", "leave `step` out"),
        ("parts: [{id: a, fits: valve_replace, cost: -3}]", "-3 is below nothing"),
        ("parts: [{id: a, fits: seat_cut, cost: 3}, {id: a, fits: seat_cut, cost: 3}]", "second time"),
        ("parts: [{id: a, fits: valve_replace, cost: 3, brings: {margn: {value: 1, unit: mm}}}]", "did you mean 'margin'"),
        ("stock: {lash_shim: {unit: mm, cost: 9, sizes: []}}", "at least 1 must stand here"),
        ("stock: {lash_shim: {unit: mm, cost: 9}}", "write sizes: [2.00, 2.02]"),
        ("stock: {lash_shim: {unit: mm, cost: 9, sizes: [2.0, 2.00]}}", "2.0 and 2.00 are one size; take one of them out"),
        ("stock: {lash_shim: {unit: mm, cost: 9, sizes: [2.0, 2.0]}}", "more than once"),
        ("stock: {lash_shim: {unit: mm, cost: 9, sizes: [0]}}", "sizes are above nothing"),
        ("stock: {lash_shim: {unit: in, cost: 9, from: 1/64, to: 1/4, step: 1/64}}", "write fractions one by one"),
        ("stock: {lash_shim: {unit: mm, cost: 9, from: 3, to: 2, step: 0.1}}", "write the smaller as from"),
        ("stock: {lash_shim: {unit: mm, cost: 9, from: 2, to: 3, step: 0}}", "step of nothing"),
        ("stock: {lash_shim: {unit: mm, cost: 9, from: nan, to: 3, step: 1}}", "are decimals"),
        ("stock: {lash_shim: {unit: mm, cost: 9, sizes: [2.48], on_hand: {-2.48: 1}}}", "-2.48 does not exist"),
        ("stock: {lash_shim: {unit: mm, cost: 9, sizes: [2.48], on_hand: {2.48: 1, 2.480: 5}}}",
         "2.48 and 2.480 are one size; write it once"),
        ("one_time: {head_gasket: nan}", "'nan' is no sum of money"),
        ("one_time: {head_gasket: inf}", "'inf' is no sum of money"),
        ("one_time: {head_gasket: -4}", "-4 is below nothing"),
        ("one_time: {head_gaskt: 5}", "did you mean 'head_gasket'?"),
        ("one_time: {banana: 5}", "write one of head_gasket"),
    ],
)  # fmt: skip
def test_each_fault_says_where_and_what_to_write(body, words):
    faults = told(body)
    assert any(words in fault for fault in faults), faults
    assert all(fault.startswith("prices.yaml:3:") for fault in faults)


def test_every_fault_of_a_list_is_told_at_once():
    assert len(told("work: {seatcut: {cost: 1}, skim: {cost: -1}}\none_time: {banana: 1}")) == 3


def test_a_currency_is_three_capitals():
    with pytest.raises(Faulty) as faulty:
        read_prices("format: witnessmark-prices-1\nsheet: {name: A, currency: euro}\n", "p.yaml", shipped())
    assert "such as EUR" in str(faulty.value.faults[0])


def test_the_published_schema_names_every_operation():
    schema = json_schema(shipped())
    assert "seat_cut" in schema["properties"]["work"]["propertyNames"]["enum"]
