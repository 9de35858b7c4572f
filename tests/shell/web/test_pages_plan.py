"""The plan sheet without a script: pin, forbid, let go, ask for more chance, order; and what stands in the way."""

import re

import pytest

from shell.web.bench import form
from shell.web.worked import shop_of

PAGE = "/jobs/wren/plan"
shop = shop_of("wren")


def asked(client, **fields):
    return form(client, f"{PAGE}/ask", **{"change": "", "operation": "", "place": "", **fields})


def titles(page):
    return re.findall(r"<h2>(.*?) <small>", page)


def test_a_plan_has_steps_with_reasons_and_a_price_and_others_beside_it(shop):
    client, _ = shop
    page = client.get(PAGE).text
    assert titles(page) and "right first time" in page and "proven the cheapest" in page
    assert re.search(r"<th scope=\"col\" class=\"shown\"><b>A</b>", page)
    for step in re.findall(r'<li class="step">.*?</li>\n', page, re.S):
        assert re.search(r'class="why">[^<]+<', step), step[:200]


def test_what_is_forbidden_is_not_planned_and_can_be_let_go(shop):
    client, _ = shop
    first = titles(client.get(PAGE).text)
    assert asked(client, change="forbid", operation="seat_cut", place="all").status_code == 303
    page = client.get(PAGE).text
    assert "Cut the seat" in first and "Cut the seat" not in titles(page)
    assert "must not be in it" in page
    asked(client, change="free", operation="seat_cut", place="all")
    assert titles(client.get(PAGE).text) == first


def test_a_pin_stands_in_the_plan_with_its_amount(shop):
    client, _ = shop
    asked(client, change="pin", operation="seat_cut", place="inl-1", amount="0.10", unit="mm")
    page = client.get(PAGE).text
    assert "must be in it" in page and "0.10" in page


def test_a_pinned_size_that_does_not_exist_is_told_as_what_stands_in_the_way(shop):
    client, _ = shop
    asked(client, change="pin", operation="spring_shim", place="inl-1", amount="9", unit="mm")
    page = client.get(PAGE).text
    assert "What stands in the way" in page
    assert asked(client, change="free").status_code == 303
    assert "What stands in the way" not in client.get(PAGE).text


@pytest.mark.parametrize(("fields", "words"), [
    ({"change": "pin", "operation": "seat_cutt", "place": "inl-1"}, "did you mean"),
    ({"change": "pin", "operation": "seat_cut", "place": "inl-7", "amount": "0.1", "unit": "mm"}, "is not done at"),
    ({"change": "pin", "operation": "seat_cut", "place": "inl-1"}, "needs an amount"),
    ({"change": "wanted", "wanted": "97"}, "is no chance to ask for"),
    ({"change": "paint"}, "there are pin, forbid, free and wanted"),
])  # fmt: skip
def test_what_cannot_be_asked_is_told_and_the_plan_stays(shop, fields, words):
    client, store = shop
    before = store.job("wren").seq
    answer = asked(client, **fields)
    assert answer.status_code == 422 and words in answer.text and titles(answer.text)
    assert store.job("wren").seq == before


def test_more_chance_is_asked_for_by_a_key(shop):
    client, store = shop
    asked(client, change="wanted", wanted="0.90")
    assert store.job("wren").plan_asked["wanted"] == "0.90"
    assert re.search(r'value="0.90" aria-pressed="true"', client.get(PAGE).text)


def test_a_plan_is_ordered_and_becomes_the_intended_work_and_a_later_limit_unsettles_it(shop):
    client, store = shop
    assert form(client, f"{PAGE}/order", name="A").status_code == 303
    job = store.job("wren")
    assert job.order["name"] == "A" and {one["operation"] for one in job.work} <= {
        one["operation"] for one in job.order["work"]
    }
    assert "Ordered: plan A" in client.get(PAGE).text
    asked(client, change="forbid", operation="seat_cut", place="all")
    assert "is none of these plans any more" in client.get(PAGE).text


def test_a_plan_that_is_not_there_any_more_cannot_be_ordered(shop):
    client, store = shop
    told = form(client, f"{PAGE}/order", name="F")
    assert told.status_code == 422 and "There is no plan F any more" in told.text
    assert store.job("wren").order is None


def test_another_plan_is_shown_by_its_name(shop):
    client, _ = shop
    page = client.get(f"{PAGE}?plan=B").text
    assert "<h1>Plan B: other head</h1>" in page and "Other head" in titles(page)


def test_in_inches_amounts_and_values_are_inches(shop):
    client, _ = shop
    client.cookies.set("unit", "in")
    page = client.get(PAGE).text
    assert ", in</th>" in page or ", in<small>" in page
