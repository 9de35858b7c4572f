"""The door of the API, knocked at in every odd way: one sentence for each, and the log counted before and after."""

import json

import pytest
from starlette.testclient import TestClient

from shell.web.shop import JOB, Shop
from witnessmark.shell.web.middleware import BODY_MOST, LINE_MOST

LINE = {"line": "5.951", "characteristic": "stem_diameter", "place": "inl-3f/top/along", "gauge": "M-07", "id": "r-1"}


@pytest.fixture
def shop(tmp_path):
    shop = Shop(tmp_path)
    shop.open_job()
    yield shop
    shop.store.close()


@pytest.fixture
def client(shop):
    return TestClient(shop.app(), base_url="http://127.0.0.1:8620", raise_server_exceptions=False)


def count(shop):
    return len(shop.store.events(JOB))


def sentence(answer, status):
    assert answer.status_code == status, answer.text
    said = answer.json()
    assert set(said) == {"what", "where", "do", "faults"}
    assert said["what"].strip() and (said["do"] or said["where"] or said["faults"] or status in (404, 409, 422)), said
    return said


@pytest.mark.parametrize(("headers", "content", "status"), [
    ({"host": "engines.example"}, b"{}", 421),
    ({"origin": "http://engines.example"}, b"{}", 403),
    ({"origin": "null"}, b"{}", 403),
    ({"content-type": "text/plain"}, b"{}", 415),
    ({"content-type": "application/x-www-form-urlencoded"}, b"line=5.951", 415),
    ({"content-type": "multipart/form-data; boundary=x"}, b"--x--", 415),
    ({"content-type": "application/json; charset=utf-16"}, json.dumps(LINE).encode("utf-16"), 422),
    ({}, b"", 422),
    ({}, b"{", 422),
    ({}, b'{"line": "5.951",}', 422),
    ({}, b"[" * 10_000, 400),
    ({}, b"null", 422),
    ({}, b"[]", 422),
    ({}, b'"5.951"', 422),
    ({}, b"NaN", 422),
    ({}, b"\xff\xfe", 422),
    ({}, b"x" * (LINE_MOST + 1), 413),
    ({}, json.dumps({**LINE, "line": 5.951}).encode(), 422),
    ({}, json.dumps({**LINE, "lines": "x"}).encode(), 422),
    ({}, json.dumps({**LINE, "line": "5" * 201}).encode(), 422),
    ({}, json.dumps({**LINE, "id": "../x"}).encode(), 422),
    ({}, json.dumps({**LINE, "device_seq": -1}).encode(), 422),
    ({}, json.dumps({**LINE, "temperature": {"part": "hot"}}).encode(), 422),
    ({}, b'{"line": "\\ud800", "characteristic": "stem_diameter", "place": "inl-3f/top/along"}', 422),
    ({}, json.dumps({**LINE, "line": "5.9\0"}).encode(), 422),
])  # fmt: skip
def test_what_is_not_a_line_is_told_and_nothing_is_kept(shop, client, headers, content, status):
    before = count(shop)
    sent = {"content-type": "application/json", **headers}
    answer = client.post(f"/api/jobs/{JOB}/line", content=content, headers=sent)
    sentence(answer, status)
    assert count(shop) == before


@pytest.mark.parametrize("changed", [
    {"characteristic": "stem_diametre"}, {"characteristic": "stem_guide_clearance"}, {"place": "inl-9f/top/along"},
    {"place": "//"}, {"place": "inl-3f"}, {"gauge": "X-9"}, {"round": "yesterday"}, {"line": "*99"}, {"line": "*1"},
    {"place": "//", "line": "-"}, {"place": "inl-9f", "line": "*5"}, {"place": "head", "line": "*6"},
    {"characteristic": "stem_diametre", "line": "*5"}, {"round": "yesterday", "line": "-"}, {"line": "*"},
    {"line": ""}, {"line": "\r\n"},
])  # fmt: skip
def test_a_line_that_cannot_be_taken_says_why_and_keeps_nothing(shop, client, changed):
    before = count(shop)
    answer = client.post(f"/api/jobs/{JOB}/line", json={**LINE, **changed})
    assert answer.status_code == 200 and answer.json()["status"] in {"refused", "nothing"}, answer.text
    assert answer.json()["detail"] or not changed["line"].strip()
    assert count(shop) == before


def test_the_same_bytes_again_are_stored_once_and_other_bytes_are_refused(shop, client):
    first = client.post(f"/api/jobs/{JOB}/line", json=LINE).json()
    before = count(shop)
    again = client.post(f"/api/jobs/{JOB}/line", json=LINE)
    assert (again.status_code, again.json()["again"], again.json()["seq"]) == (200, True, first["seq"])
    said = sentence(client.post(f"/api/jobs/{JOB}/line", json={**LINE, "line": "5.952"}), 409)
    assert "r-1" in said["what"] and count(shop) == before


@pytest.mark.parametrize(
    "path", ["gauge", "limits", "limit", "setting", "part", "engine", "note", "reason", "take-back", "zero", "compare",
             "decision", "customer", "route", "limits/entry", "limits/operation"]
)
def test_every_door_is_told_of_an_empty_body_a_foreign_one_and_a_large_one(shop, client, path):
    before, address = count(shop), f"/api/jobs/{JOB}/{path}"
    sentence(client.post(address, json={}), 422)
    sentence(client.post(address, content=b"x", headers={"content-type": "text/html"}), 415)
    sentence(client.post(address, json={}, headers={"origin": "http://engines.example"}), 403)
    large = client.post(address, content=b" " * (BODY_MOST + 1), headers={"content-type": "application/json"})
    sentence(large, 413)
    if path != "limits":  # the sheet can be read
        sentence(client.get(address), 405)
    assert count(shop) == before


@pytest.mark.parametrize(("path", "status"), [
    ("/api/job", 404), ("/api/", 404), ("/api/jobs/HL-9", 404), ("/api/jobs/HL-9/judge", 404), ("/api/catalogue/x", 404),
    ("/api/jobs/HL-9/export", 404), ("/api/jobs/%00", 404), ("/api/jobs/..%2f..%2fetc", 404), ("/api/jobs/" + "x" * 5000, 404),
])  # fmt: skip
def test_an_address_that_is_not_there_is_told_in_json(client, path, status):
    said = sentence(client.get(path), status)
    assert len(said["what"]) < 400


@pytest.mark.parametrize("path", ["/nothing", "/jobs/HL-9", "/jobs/HL-9/bench", "/jobs/HL-9/head", "/static/x/y.css",
                                  f"/jobs/{JOB}/nothing", "/%00", "/jobs/%ff/bench", "/jobs/../../etc/passwd"])  # fmt: skip
def test_an_address_that_is_not_there_is_told_on_a_page(client, path):
    answer = client.get(path)
    assert answer.status_code == 404 and answer.headers["content-type"].startswith("text/html")
    assert "Traceback" not in answer.text and "<h1" in answer.text


@pytest.mark.parametrize("path", ["bench", "head", "job", "record", ""])
@pytest.mark.parametrize("query", ["place=inl-99", "place=%00", "characteristic=x", "unit=furlong", "round=yesterday",
                                   "place=//&characteristic=stem_diameter", "valve=x&bank=y&group=z", "budget=" + "x" * 3000])  # fmt: skip
def test_a_page_asked_for_something_odd_is_a_page(client, path, query):
    answer = client.get(f"/jobs/{JOB}/{path}?{query}")
    assert answer.status_code in (200, 404, 422), answer.text[:300]
    assert answer.headers["content-type"].startswith("text/html") and "Traceback" not in answer.text


def test_what_is_described_is_what_there_is(client):
    described = client.get("/api/openapi.json").json()
    assert described["openapi"].startswith("3.") and all(path.startswith("/api/") for path in described["paths"])
    for methods in described["paths"].values():
        assert all(one.get("summary") and "422" in one["responses"] for one in methods.values())
