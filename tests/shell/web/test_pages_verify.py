"""The sheet of verification without a script, the conditions entered on it, and the same for programs."""

import re

import pytest

from shell.web.bench import form
from shell.web.worked import DAY, heads

PAGE, API = "/jobs/wren/verify", "/api/jobs/wren"
SAID = {"air_pressure": "101.3 kPa", "orifice": "1.0 mm", "inlet_closes": "40"}


@pytest.fixture
def shop(tmp_path):
    with heads(tmp_path, "wren", "egret") as found:
        yield found


def keep(client, **fields):
    saw = re.search(r'name="saw" value="([^"]*)"', client.get(PAGE).text).group(1)
    return form(client, f"{PAGE}/conditions", **{"saw": saw, **fields})


def test_the_stage_leads_to_the_sheet(shop):
    client, _ = shop
    page = client.get("/jobs/wren").text
    assert 'href="/jobs/wren/verify"' in page
    assert "Verification" in client.get(PAGE).text


def test_conditions_are_kept_and_tell_what_is_expected(shop):
    client, store = shop
    assert "when the inlet closes" in client.get(PAGE).text
    assert keep(client, **SAID).status_code == 303
    assert store.job("wren").conditions["inlet_closes"] == "40 deg crank"
    assert "when the inlet closes" not in client.get(PAGE).text


def test_what_cannot_be_read_is_told_and_stays_in_its_blank(shop):
    client, store = shop
    answer = keep(client, air_pressure="thin", strokes="6")
    assert answer.status_code == 422
    assert "cannot be read" in answer.text and 'value="thin"' in answer.text and 'value="6"' in answer.text
    assert not store.job("wren").conditions


def test_who_looked_at_what_was_changed_meanwhile_is_told(shop):
    client, store = shop
    keep(client, engine="warm")
    answer = form(client, f"{PAGE}/conditions", saw="", strokes="6")
    assert answer.status_code == 422 and "changed meanwhile" in answer.text
    assert "strokes" not in store.job("wren").conditions


def test_each_caution_stands_once_and_only_where_its_test_is(shop):
    client, _ = shop
    page = client.get(PAGE).text
    for words in ("Disable ignition and injection", "Lock the crankshaft"):
        assert page.count(words) == 1
    assert "Hot engine" not in page  # no oil pressure was read, and its test stands on the bench
    assert "Lock the crankshaft" not in client.get("/jobs/wren/intended").text


def test_a_job_without_an_engine_is_told_what_to_do(shop):
    client, store = shop
    store.create("bare", created_at=DAY, title="bare")
    answer = client.get("/jobs/bare/verify")
    assert answer.status_code == 422
    assert "Describe the engine first" in answer.text


def test_programs_read_the_same_and_enter_conditions(shop):
    client, store = shop
    answer = client.post(f"{API}/conditions", json={"conditions": SAID})
    assert answer.status_code == 200, answer.text
    again = client.post(f"{API}/conditions", json={"conditions": SAID})  # nothing is new, so nothing is written
    assert (again.status_code, again.json()["events"]) == (200, [])
    found = client.get(f"{API}/verification").json()
    assert found["seen"] == store.job("wren").conditions_event
    (cylinder,) = found["cylinders"]
    assert cylinder["expected"]["low"] < cylinder["expected"]["middle"]
    stale = client.post(f"{API}/conditions", json={"conditions": {"strokes": "6"}, "seen": "other"})
    assert stale.status_code == 422 and "changed meanwhile" in stale.text
    wrong = client.post(f"{API}/conditions", json={"conditions": {"strokes": "many"}})
    assert wrong.status_code == 422 and "whole number" in wrong.text


def test_eight_cylinders_stand_in_the_order_of_a_hand(shop):
    client, _ = shop
    page = client.get("/jobs/egret/verify").text
    order = re.findall(r'<th scope="row"><b>Cylinder (\d)</b>', page)
    assert order == [*"13572468", *"13572468"]
