"""The four ways of walking a head: all of them reach every station once, and none comes before what must go before."""

from itertools import pairwise

import pytest

from bench_job import TERN
from witnessmark.desk.route import BY_GAUGE, BY_PART, BY_STATION, BY_VALVE, ORDERS, Stop, position, route_of
from witnessmark.engine.layout import layout
from witnessmark.engine.walk import stations
from witnessmark.shell.resources import catalogue

KNOWN = catalogue().characteristics
ENGINES = (
    TERN,
    {"layout": "inline", "cylinders": "1", "valves": {"inl": "1", "exh": "1"}, "gear": "rocker"},
    {"layout": "v", "cylinders": "8", "valves": {"inl": "1", "exh": "1"}, "gear": "pushrod_hydraulic"},
    {"layout": "opposed", "cylinders": "4", "valves": {"inl": ["f", "r"], "exh": "1"}, "gear": "rocker"},
    {"layout": "inline", "cylinders": "3", "valves": {"inl": ["f", "m", "r"], "exh": ["f", "r"]}, "gear": "bucket_shim"},
)


def walk(engine):
    found = layout(engine)
    places = {name: stations(found, entry) for name, entry in KNOWN.items() if entry.measured}
    return {name: each for name, each in places.items() if each}


@pytest.mark.parametrize("engine", ENGINES, ids=["four", "single", "v8", "opposed", "five valves"])
@pytest.mark.parametrize("order", ORDERS)
def test_every_order_reaches_every_station_once(engine, order):
    asked = walk(engine)
    route = route_of(asked, order, KNOWN)
    wanted = sorted((name, place) for name, places in asked.items() for place in places)
    assert sorted((stop.characteristic, stop.place) for stop in route) == wanted


@pytest.mark.parametrize("engine", ENGINES, ids=["four", "single", "v8", "opposed", "five valves"])
@pytest.mark.parametrize("order", (BY_PART, BY_STATION, BY_GAUGE))
def test_nothing_is_measured_before_what_must_be_measured_first(engine, order):
    route = route_of(walk(engine), order, KNOWN)
    first, last = {}, {}
    for n, stop in enumerate(route):
        first.setdefault(stop.characteristic, n)
        last[stop.characteristic] = n
    for name in first:
        for before in KNOWN[name].after:
            if before in last:
                assert last[before] < first[name], f"{name} comes before {before} is done"


def test_valve_by_valve_keeps_the_order_of_measuring_at_each_valve():
    route = route_of(walk(TERN), BY_VALVE, KNOWN)
    here = [stop.characteristic for stop in route if stop.location == "inl-3f"]
    for name in dict.fromkeys(here):
        for before in KNOWN[name].after:
            if before in here:
                assert max(n for n, c in enumerate(here) if c == before) < here.index(name)


def test_by_part_reads_one_stem_before_the_next():
    route = route_of({"stem_diameter": walk(TERN)["stem_diameter"]}, BY_PART, KNOWN)
    assert [stop.location for stop in route[:7]] == ["inl-1f"] * 6 + ["inl-1r"]
    assert (route[2].n, route[2].of) == (3, 6)


def test_by_station_reads_one_height_on_all_stems():
    route = route_of({"stem_diameter": walk(TERN)["stem_diameter"]}, BY_STATION, KNOWN)
    assert {stop.place.partition("/")[2] for stop in route[:16]} == {"top/along"}
    assert route[0].location == "inl-1f" and route[15].location == "exh-4r"
    assert (route[16].n, route[16].of) == (2, 6), "the station keeps its number within its part"


def test_by_gauge_leaves_the_micrometer_in_the_hand():
    asked = {name: places for name, places in walk(TERN).items() if name in ("stem_diameter", "margin", "lash_shim")}
    hands = [KNOWN[stop.characteristic].usual_gauge for stop in route_of(asked, BY_GAUGE, KNOWN)]
    changes = sum(a != b for a, b in pairwise(hands))
    assert changes == len(set(hands)) - 1


def test_by_gauge_changes_hands_less_often_than_by_part():
    asked = walk(TERN)

    def changes(order):
        hands = [KNOWN[stop.characteristic].usual_gauge for stop in route_of(asked, order, KNOWN)]
        return sum(a != b for a, b in pairwise(hands))

    assert changes(BY_GAUGE) < changes(BY_PART)


def test_valve_by_valve_finishes_a_valve_before_the_next():
    route = [stop.location for stop in route_of(walk(TERN), BY_VALVE, KNOWN) if stop.location.startswith(("inl", "exh"))
             and "face" not in stop.location]  # fmt: skip
    runs = [place for n, place in enumerate(route) if n == 0 or route[n - 1] != place]
    assert len(runs) == len(set(runs)) == 16


def test_an_order_that_nobody_knows_is_by_part():
    asked = walk(TERN)
    assert route_of(asked, "by moonlight", KNOWN) == route_of(asked, BY_PART, KNOWN) == route_of(asked)


def test_a_station_that_is_not_on_the_route_has_no_position():
    assert position((Stop("margin", "inl-1f", 1, 1),), "margin", "inl-2f") is None
