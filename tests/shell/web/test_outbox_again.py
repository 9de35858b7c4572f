"""A line that is sent a second time because its answer was lost: stored once, and told as it was told at first."""

import pytest
from starlette.testclient import TestClient

from shell.web.shop import JOB

HERE = {"characteristic": "stem_diameter", "place": "inl-3f/middle/across"}


@pytest.fixture
def client(shop):
    return TestClient(shop.app(hosts=["testserver"]))


def post(client, line, name, **more):
    body = {"line": line, "device": "d-1", "id": name, "at": "2026-11-24T10:42:18Z", **HERE, **more}
    answer = client.post(f"/api/jobs/{JOB}/line", json=body)
    assert answer.status_code == 200, answer.text
    return answer.json()


LINES = {
    "a reading": [("5.951", {})],
    "a reading in inch": [("0.2344 in", {})],
    "a doubtful reading": [("0.2351", {})],
    "what has two meanings": [("2 tenths", {})],
    "what cannot be read": [("5..952", {})],
    "a correction of what stands there": [("5.953", {"place": "inl-3f/middle/along", "corrects": True})],
    "a take-back": [("5.951", {}), ("*", {})],
    "a second take-back": [("5.951", {}), ("5.950", {"place": "inl-3f/bottom/along"}), ("*", {})],
    "an answer to the only question": [("*1", {})],
    "an answer to the question of the line": [("2 tenths", {}), ("*1", {"question": "r-0"})],
    "a place left out": [("-", {})],
    "a place measured elsewhere": [("*8", {})],
    "the rest left out": [("*5", {})],
}


@pytest.mark.parametrize("lines", LINES.values(), ids=LINES)
def test_a_line_sent_twice_is_stored_once_and_told_alike(shop, client, lines):
    for n, (line, more) in enumerate(lines):
        first = post(client, line, f"r-{n}", **more)
    assert first["status"] != "refused" and first["again"] is False
    stored = len(shop.store.events(JOB))
    again = post(client, line, f"r-{n}", **more)
    assert len(shop.store.events(JOB)) == stored, "nothing is stored twice"
    assert again["again"] is True
    told = ("status", "echo", "next", "seq", "reading", "correction")
    assert {key: again[key] for key in told} == {key: first[key] for key in told}


def test_a_refused_line_that_was_never_stored_is_refused_again(shop, client):
    assert post(client, "*", "r-9")["status"] == "refused", "nothing of this device stands"
    assert post(client, "*", "r-9")["status"] == "refused"


def test_another_line_under_a_stored_name_stays_refused(shop, client):
    post(client, "5.951", "r-0")
    post(client, "*", "r-1")
    answer = post(client, "*", "r-2")
    assert answer["status"] == "refused" and answer["again"] is False


def test_order_is_the_order_of_arrival_whatever_the_clock_of_a_device_says(shop, client):
    post(client, "5.951", "r-1", at="2031-01-01T00:00:00Z")
    post(client, "5.950", "r-2", at="2019-06-01T00:00:00Z")
    kept = shop.store.events(JOB)[-2:]
    assert [event.id for event in kept] == ["r-1", "r-2"] and kept[0].seq < kept[1].seq
    assert [event.at[:4] for event in kept] == ["2031", "2019"], "what the device's clock said is kept as it came"
    assert post(client, "*", "r-3")["echo"].startswith("5.950"), "the last one is the one that came last"
