"""What is read on an engine that is together: asked when it is, and led to with its own hazard."""

import pytest

from bench_job import Shop
from catalogue.shelf import shipped
from desk.worked import Desk
from engine.engines import egret, tern
from witnessmark.desk.route import Stop
from witnessmark.desk.sheets.stops import next_beside
from witnessmark.desk.state import state
from witnessmark.engine.layout import stations
from witnessmark.record.replay import replay
from witnessmark.shell.resources import catalogue

ENTRIES = shipped().characteristics
COMPRESSION = ("cranking_compression", "cranking_first", "cranking_wet")
LEAKAGE = ("leak_down_supply", "leak_down_cylinder")
TOGETHER = (*COMPRESSION, *LEAKAGE, "oil_pressure")
SHEET = """  cranking_compression:
    - {service: {low: 1000}, unit: kPa, page: 1}
  leak_down:
    - {service: {high: 20}, unit: "%", page: 1}
  stem_diameter:
    - {service: {low: 5.940}, unit: mm, page: 2}
"""


def in_round(shop, name):
    return state(replay(shop.log), catalogue(), name)


def test_only_an_engine_that_is_together_is_asked_for_them():
    assert {name for name, entry in ENTRIES.items() if entry.assembled} == set(TOGETHER)
    shop = Shop(SHEET)
    assert {stop.characteristic for stop in shop.state().route} == {"stem_diameter"}
    assert {gap.characteristic for gap in shop.state().judgement.missing} == {"stem_diameter"}
    walk = [(stop.characteristic, stop.place) for stop in in_round(shop, "as assembled").route]
    assert walk[:4] == [("cranking_compression", f"chamber-{n}") for n in range(1, 5)]
    assert walk[4:] == [(name, f"chamber-{n}") for n in range(1, 5) for name in LEAKAGE]  # both gauges at one moment


def test_beside_the_route_too_both_gauges_are_read_before_the_next_cylinder():
    now = in_round(Shop(), "as assembled")
    assert next_beside(now, "leak_down_supply", "chamber-1") == Stop("leak_down_cylinder", "chamber-1", 1, 1)
    assert next_beside(now, "leak_down_cylinder", "chamber-1") == Stop("leak_down_supply", "chamber-2", 1, 1)
    assert next_beside(now, "cranking_compression", "chamber-4") is None


def test_without_such_a_limit_the_last_round_walks_as_ever():
    shop = Shop("  stem_diameter:\n    - {service: {low: 5.940}, unit: mm, page: 2}\n")
    assert in_round(shop, "as assembled").route == shop.state().route


@pytest.mark.parametrize("name", ["tern", "egret", "wren", "petrel"])
def test_no_head_on_the_bench_is_asked_for_more(name):
    assert not {stop.characteristic for stop in Desk(name).now.route} & set(TOGETHER)


def test_leakage_is_worked_out_from_both_gauges_and_judged():
    shop = Shop(SHEET)
    for name, line in (("leak_down_supply", "80 psi"), ("leak_down_cylinder", "60 psi")):
        assert shop.type(name, "chamber-2", line, round="as assembled").status == "kept"
    (one,) = (r for r in shop.state().judgement.results if r.characteristic == "leak_down")
    assert (one.location, one.round, one.verdict) == ("chamber-2", "as assembled", "out")
    assert one.value == pytest.approx(0.25)


@pytest.mark.parametrize(
    ("line", "kpa"), [("1250", 1250), ("181 psi", 1247.95), ("12.5 bar", 1250), ("1.25 MPa", 1250)]
)
def test_a_gauge_reads_in_any_unit_of_pressure(line, kpa):
    shop = Shop(SHEET)
    assert shop.type("cranking_compression", "chamber-1", line, round="as assembled").status == "kept"
    (one,) = (r for r in shop.state().judgement.results if r.characteristic == "cranking_compression")
    assert one.value * 1000 == pytest.approx(kpa, abs=0.01)
    assert one.verdict == "within"


def test_each_has_its_place():
    assert stations(egret(), ENTRIES["cranking_wet"])[:2] == ("chamber-1", "chamber-3")
    assert stations(tern(), ENTRIES["cranking_first"]) == tuple(f"chamber-{n}" for n in range(1, 5))
    assert stations(tern(), ENTRIES["oil_pressure"]) == ("engine/hot-idle", "engine/stated-speed")


def test_what_turns_the_engine_or_fills_it_with_air_says_how_it_hurts():
    assert {ENTRIES[name].hazard for name in COMPRESSION} == {"cranking"}
    assert {ENTRIES[name].hazard for name in (*LEAKAGE, "leak_down")} == {"air_in_cylinder"}
    assert ENTRIES["oil_pressure"].hazard == "hot_engine"


@pytest.mark.parametrize(("kind", "resolution"), [("compression_gauge", 0.02), ("leak_down_set", 0.005)])
def test_gauges_of_pressure_have_a_usual_doubt(kind, resolution):
    gauge = catalogue().gauge_kinds[kind]
    assert (gauge.quantity, gauge.resolution) == ("pressure", resolution)  # MPa
    assert gauge.U > 0 and gauge.repeatability > 0


def test_a_book_that_limits_the_spread_of_the_cylinders_finds_the_one_that_is_low():
    """Truth: US Army TM 5-3895-359-14&P, compression pressure, table 2: 445, 440, 405 and 435 psi, 25 psi allowed."""
    shop = Shop("  cranking_compression:\n"
                "    - {service: {high: 25}, unit: psi, stations: spread_of_places, page: 2}\n")  # fmt: skip
    for n, psi in enumerate((445, 440, 405, 435), 1):
        assert shop.type("cranking_compression", f"chamber-{n}", f"{psi} psi", round="as assembled").status == "kept"
    spread = next(r for r in shop.state().judgement.results if r.rule == "spread_of_places")
    assert spread.value / 0.00689475729 == pytest.approx(40)
