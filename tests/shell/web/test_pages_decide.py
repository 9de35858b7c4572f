"""The decision sheet: a person's decision beside each verdict, the rest in one touch, the customer's yes or no."""

import pytest

from shell.web.bench import bench, form
from witnessmark.shell.demo import demo_events

JOB = "DE-1"


@pytest.fixture
def shop(tmp_path):
    with bench(tmp_path, jobs=False) as (client, store):
        store.create(JOB, created_at="2026-11-25T08:00:00Z", title="Petrel", events=demo_events("petrel"))
        yield client, store


def row(**more):
    return {"characteristic": "stem_diameter", "place": "inl-1", "decision": "replaced", "operation": "valve_replace",
            "why": "worn in the middle", "saw": "", "next": "x", **more}  # fmt: skip


def test_the_sheet_lists_what_is_out_or_too_close_with_reasons_and_nothing_that_is_within(shop):
    client, _ = shop
    page = client.get(f"/jobs/{JOB}/decide").text
    judged = client.get(f"/api/jobs/{JOB}/judge").json()["results"]
    assert "outside the limit you entered" in page
    assert page.count('class="decision') >= sum(one["verdict"] == "out" and one["complete"] for one in judged) // 2


def test_a_decision_is_kept_and_may_be_changed_and_the_later_one_stands(shop):
    client, store = shop
    assert form(client, f"/jobs/{JOB}/decide/row", **row()).status_code == 303
    (first,) = [one for one in store.job(JOB).decisions if one.place == "inl-1"]
    again = form(client, f"/jobs/{JOB}/decide/row", **row(decision="used again", operation="", saw=first.event))
    assert again.status_code == 303
    (now,) = [one for one in store.job(JOB).decisions if one.place == "inl-1"]
    assert (now.decision, now.based_on) == ("used again", first.event)
    assert first.event in [one.event for one in store.job(JOB).earlier]


def test_what_is_missing_is_told_at_its_row_and_nothing_is_kept(shop):
    client, store = shop
    before = store.job(JOB).seq
    without = form(client, f"/jobs/{JOB}/decide/row", **row(why=""))
    assert without.status_code == 422 and "needs its reason" in without.text
    assert form(client, f"/jobs/{JOB}/decide/row", **row(decision="")).status_code == 422
    assert form(client, f"/jobs/{JOB}/decide/row", **row(operation="polish")).status_code == 422
    assert form(client, f"/jobs/{JOB}/decide/vote", **row()).status_code == 404
    assert store.job(JOB).seq == before


def test_the_rest_within_is_used_again_in_one_touch(shop):
    client, store = shop
    assert form(client, f"/jobs/{JOB}/decide/rest").status_code == 303
    made = store.job(JOB).decisions
    judged = {(one["characteristic"], one["location"]): one["verdict"] for one in client.get(f"/api/jobs/{JOB}/judge").json()["results"]}
    assert len(made) > 20 and {one.decision for one in made} >= {"used again"}
    for one in made:
        if one.why == "within every limit entered":
            assert judged.get((one.characteristic, one.place), "within") == "within"


def test_the_customer_says_yes_up_to_a_price_and_no_to_one_which_stays_listed(shop):
    client, store = shop
    form(client, f"/jobs/{JOB}/decide/row", **row())
    form(client, f"/jobs/{JOB}/decide/row", **row(place="exh-1", why="worn"))
    yes = {"answer": "yes", "ceiling": "620,00", "currency": "eur", "said_by": "Quay Deliveries (invented)"}
    assert form(client, f"/jobs/{JOB}/decide/customer", **yes).status_code == 303
    declined = next(one for one in store.job(JOB).decisions if one.place == "exh-1")
    assert form(client, f"/jobs/{JOB}/decide/customer", about=declined.event, answer="no").status_code == 303
    page = client.get(f"/jobs/{JOB}/decide").text
    assert "Declined" in page and "up to 620.00 EUR" in page
    assert form(client, f"/jobs/{JOB}/decide/customer", answer="yes", ceiling="much").status_code == 422
