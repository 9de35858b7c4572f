"""What a person says to the plan, and what becomes of the one that is taken."""

import pytest

from desk.worked import Desk
from witnessmark.desk.bench import Refused
from witnessmark.desk.intend import enter_prices
from witnessmark.desk.order import ask_plan, order_plan, ordered_plan
from witnessmark.desk.planning import plan_of_job


@pytest.fixture
def desk():
    return Desk("wren")


def asked(desk):
    said = desk.now.job.plan_asked
    return said.get("pins") or [], said.get("forbid") or [], said.get("wanted")


def test_a_pin_takes_the_place_of_a_ban_and_a_ban_that_of_a_pin(desk):
    desk.do(ask_plan, "pin", "seat_cut", "inl-1", "0.1", "mm")
    desk.do(ask_plan, "forbid", "seat_cut", "inl-1")
    assert asked(desk)[:2] == ([], [{"operation": "seat_cut", "place": "inl-1"}])
    desk.do(ask_plan, "pin", "seat_cut", "inl-1", "0.1", "mm")
    assert asked(desk)[:2] == ([{"operation": "seat_cut", "place": "inl-1", "amount": "0.1", "unit": "mm"}], [])


def test_one_thing_or_all_is_let_go_and_the_chance_stays(desk):
    desk.do(ask_plan, "wanted", wanted="0.95")
    desk.do(ask_plan, "forbid", "seat_cut", "all")
    desk.do(ask_plan, "forbid", "face_grind", "exh-1")
    desk.do(ask_plan, "free", "seat_cut", "all")
    assert asked(desk) == ([], [{"operation": "face_grind", "place": "exh-1"}], "0.95")
    desk.do(ask_plan, "free")
    assert asked(desk) == ([], [], "0.95")


@pytest.mark.parametrize(("args", "words"), [
    (("pin", "seat_cutt", "inl-1", "0.1", "mm"), "did you mean"),
    (("pin", "seat_cut", "inl-1"), "needs an amount"),
    (("forbid", "polish", "all"), "no operation of this engine"),
    (("wanted", "", "", "", "", "1.2"), "is no chance to ask for"),
    (("paint",), "nothing to ask of a plan"),
])  # fmt: skip
def test_what_cannot_be_asked_is_refused(desk, args, words):
    with pytest.raises(Refused, match=words):
        ask_plan(desk.now, desk.stamp(), *args)


def test_what_is_ordered_is_kept_as_it_stood_and_becomes_the_intended_work(desk):
    planned = plan_of_job(desk.now)
    desk.do(order_plan, planned, "A")
    order = desk.now.job.order
    assert (order["name"], order["cost"], order["currency"]) == ("A", f"{planned.plans[0].cost:.2f}", "EUR")
    assert [(one["operation"], one["place"]) for one in order["work"]] == [
        (item.operation, item.location) for item in planned.plans[0].items
    ]
    assert ordered_plan(desk.now, plan_of_job(desk.now)).name == "A"


def test_a_dearer_price_list_leaves_the_order_and_says_that_it_is_none_of_the_plans(desk):
    desk.do(order_plan, plan_of_job(desk.now), "A")
    kept = desk.now.job.order
    text = "format: witnessmark-prices-1\nsheet: {name: other, currency: EUR}\nwork: {head_replace: {cost: 1}}\n"
    desk.do(enter_prices, text, "prices.yaml")
    assert desk.now.job.order == kept
    assert ordered_plan(desk.now, plan_of_job(desk.now)) is None


def test_a_plan_that_is_not_there_is_refused_with_those_that_are(desk):
    with pytest.raises(Refused, match="there is A, B: read the sheet again"):
        order_plan(desk.now, desk.stamp(), plan_of_job(desk.now), "Q")
