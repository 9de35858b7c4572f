"""What no law moves and a plan must still answer: the cheapest remedy that is open, each with its reason."""

from dataclasses import replace
from functools import cache

import pytest

from witnessmark.desk.planning import bench_of
from witnessmark.desk.state import state
from witnessmark.judge.result import OUT
from witnessmark.plan.beside import beside, place_of
from witnessmark.record.replay import replay
from witnessmark.shell.demo import demo_events
from witnessmark.shell.resources import catalogue


@cache
def bench(name="tern"):
    return bench_of(state(replay(demo_events(name)), catalogue()))


def found(engine, **others):
    given = {"forbid": (), "offered": ()} | others
    return beside(engine.results, engine.model, engine.sheet, engine.prices, catalogue(), given["forbid"], given["offered"])


def beyond(engine):
    """Rows that are out and that no law moves."""
    return {(one.characteristic, one.location) for one in engine.results
            if one.verdict == OUT and one.characteristic not in engine.model.laws}  # fmt: skip


def told(answer):
    """Rows that an item answers, that ask for something else, or that have no remedy."""
    rows = [facts for item in answer.items for _, facts in item.reasons]
    rows += [facts for _, facts in answer.open_rows] + [one.facts for one in answer.demands]
    return {(one["characteristic"], one["location"]) for one in rows}


@pytest.mark.parametrize("name", ["tern", "egret", "wren", "petrel"])
def test_no_row_that_is_out_is_passed_over(name):
    assert beyond(bench(name)) <= told(found(bench(name)))


def test_every_item_costs_what_the_list_says_of_work_and_cheapest_part():
    engine = bench()
    for item in found(engine).items:
        parts = [one.cost for one in engine.prices.parts if one.fits == item.operation and one.covers(item.location)]
        assert item.cost == pytest.approx(engine.prices.work[item.operation].cost + min(parts, default=0.0))


def test_what_the_user_forbids_is_not_done_and_its_row_stays_open():
    engine = bench()
    plain = found(engine)
    cracks = next(one for one in plain.items if one.operation == "crack_repair")
    every = tuple((name, "") for name in catalogue().characteristics["head_cracks"].remedies)
    without = found(engine, forbid=every)
    assert cracks.operation not in {one.operation for one in without.items}
    assert ("head_cracks", cracks.location) in {(facts["characteristic"], facts["location"])
                                                for note, facts in without.open_rows if note == "no remedy"}  # fmt: skip


def test_without_prices_every_remedy_counts_one():
    engine = replace(bench(), prices=None)
    assert {one.cost for one in found(engine).items} == {1.0}


@pytest.mark.parametrize(("where", "at", "place"), [("gasket-face", "head", "head"), ("inl-1f", "engine", "engine"),
                                                    ("inl-1f", "chamber", "chamber-1"), ("gasket-face", "valve", "")])  # fmt: skip
def test_an_operation_is_done_where_its_row_belongs(where, at, place):
    assert place_of(where, at, bench().model) == place
