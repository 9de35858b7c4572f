"""The plan of a job: what is asked of it, and what cannot be asked."""

from dataclasses import replace

import pytest

from witnessmark.desk.bench import Refused
from witnessmark.desk.planning import WANTED, bench_of, plan_of_job, wish_of
from witnessmark.desk.state import state
from witnessmark.record.replay import replay
from witnessmark.shell.demo import demo_events
from witnessmark.shell.resources import catalogue


def job(name="wren", **changes):
    return state(replace(replay(demo_events(name)), **changes), catalogue())


def asked(**plan_asked):
    return bench_of(job(plan_asked=plan_asked)).wanted


def test_where_nobody_asks_for_a_chance_the_usual_one_is_asked():
    assert asked() == WANTED
    assert asked(wanted="") == WANTED


@pytest.mark.parametrize(("text", "value"), [("0.9", 0.9), ("0,9", 0.9), (".5", 0.5)])
def test_a_chance_is_read_as_it_is_written(text, value):
    assert asked(wanted=text) == value


@pytest.mark.parametrize("text", ["97", "1", "0", "-0.5", "nan", "inf", "much"])
def test_what_is_no_chance_is_refused_with_what_to_write(text):
    with pytest.raises(Refused, match=r"write 0\.97 where it shall hold in 97 of 100"):
        asked(wanted=text)


def test_pins_and_forbidden_work_come_from_the_job():
    wish = wish_of(job(plan_asked={"pins": [{"operation": "seat_cut", "place": "inl-1", "amount": "0.1", "unit": "mm"}],
                                   "forbid": [{"operation": "skim", "place": "all"},
                                              {"operation": "spring_shim", "place": "exh-1"}]}))  # fmt: skip
    assert wish.pins == (("seat_cut", "inl-1", pytest.approx(0.1)),)
    assert wish.forbid == (("skim", ""), ("spring_shim", "exh-1"))


def test_a_pin_in_inches_is_the_same_pin():
    inch, metric = (wish_of(job(plan_asked={"pins": [{"operation": "seat_cut", "place": "inl-1", **one}]})).pins
                    for one in ({"amount": "0.010", "unit": "in"}, {"amount": "0.254", "unit": "mm"}))  # fmt: skip
    assert inch[0][2] == pytest.approx(metric[0][2])


@pytest.mark.parametrize(
    ("pin", "words"),
    [
        ({"operation": "seatcut", "place": "inl-1", "amount": "0.1"}, "did you mean 'seat_cut'"),
        ({"operation": "seat_cut", "place": "inl-9", "amount": "0.1"}, "is not done at 'inl-9'"),
        ({"operation": "seat_cut", "place": "inl-1"}, "needs an amount"),
        ({"operation": "seat_cut", "place": "inl-1", "amount": "0.1", "unit": "N"}, "write digits with mm or in"),
        ({"operation": "valve_replace", "place": "inl-1", "amount": "2"}, "has no amount"),
    ],
)
def test_a_pin_that_cannot_be_meant_is_refused(pin, words):
    with pytest.raises(Refused, match=words):
        wish_of(job(plan_asked={"pins": [pin]}))


def test_the_plan_of_one_state_is_worked_out_once():
    now = job()
    assert plan_of_job(now) is plan_of_job(now)


def test_what_was_taken_off_before_counts_against_what_may_come_off():
    bench = bench_of(job())
    assert all(amount > 0 for amount in (bench.removed or {}).values())


def test_an_engine_that_nobody_described_has_no_plan_and_says_what_to_do():
    bare = replace(replay(demo_events("wren")), engine={})
    with pytest.raises(Refused, match="describe the engine first"):
        bench_of(state(bare, catalogue()))
