"""Everything that the pages do, for machines: open, describe, enter, set, take back, export, import."""

import pytest
from starlette.testclient import TestClient

from shell.web.shop import GAUGES, JOB, LIMITS, TERN, Shop


@pytest.fixture
def shop(tmp_path):
    shop = Shop(tmp_path)
    yield shop
    shop.store.close()


@pytest.fixture
def client(shop):
    return TestClient(shop.app(hosts=["testserver"]))


def ok(answer, status=200):
    assert answer.status_code == status, answer.text
    return answer.json()


def opened(client):
    ok(client.post("/api/jobs", json={"job": JOB, "engine_name": "Tern 2.0", "invented": True, "engine": TERN}), 201)
    for name, fields in GAUGES.items():
        ok(client.post(f"/api/jobs/{JOB}/gauge", json={"gauge": name, "fields": fields}))
    ok(client.post(f"/api/jobs/{JOB}/limits", json={"name": "limits.yaml", "text": LIMITS}))


def test_a_job_is_opened_measured_and_judged(client):
    opened(client)
    for n, value in enumerate(("5.931", "5.934", "5.937", "5.936", "5.935", "5.938")):
        place = f"inl-1r/{('top', 'middle', 'bottom')[n // 2]}/{('along', 'across')[n % 2]}"
        sent = {"line": value, "characteristic": "stem_diameter", "place": place}
        ok(client.post(f"/api/jobs/{JOB}/line", json=sent))
    judged = ok(client.get(f"/api/jobs/{JOB}/judge"))
    row = next(row for row in judged["results"] if row["characteristic"] == "stem_diameter")
    assert (row["location"], row["verdict"], row["complete"]) == ("inl-1r", "out", True)
    assert row["value"] == pytest.approx(5.931, abs=1e-9)


def test_a_job_cannot_be_opened_twice(client):
    opened(client)
    assert client.post("/api/jobs", json={"job": JOB}).status_code == 409


def test_a_layout_that_does_not_hold_together_is_told(client):
    answer = client.post("/api/jobs", json={"job": "HL-1", "engine": {**TERN, "cylinders": "17"}})
    assert answer.status_code == 422 and "17" in answer.json()["what"]
    assert client.get("/api/jobs").json() == []


def test_a_limit_typed_at_the_bench_joins_the_sheet(shop, client):
    opened(client)
    sent = {"characteristic": "seat_width", "place": "exh-2r", "low": "1.4", "high": "2.0", "unit": "mm", "page": "44"}
    ok(client.post(f"/api/jobs/{JOB}/limit", json=sent))
    sheet = shop.state().sheet
    added = next(limit for limit in sheet.limits if limit.characteristic == "seat_width")
    assert (added.low_text, added.high_text, added.applies.for_, added.page) == ("1.4", "2.0", "exh", "44")
    assert len([limit for limit in sheet.limits if limit.characteristic == "stem_diameter"]) == 4


def test_a_take_back_taken_back_brings_the_reading_again(shop, client):
    opened(client)
    sent = {"line": "5.951", "characteristic": "stem_diameter", "place": "inl-3f/middle/across", "id": "r-1"}
    ok(client.post(f"/api/jobs/{JOB}/line", json=sent))
    ok(client.post(f"/api/jobs/{JOB}/take-back", json={"event": "r-1", "id": "t-1"}))
    assert shop.store.job(JOB).readings[0].state == "taken back"
    ok(client.post(f"/api/jobs/{JOB}/take-back", json={"event": "t-1", "id": "t-2"}))
    assert shop.store.job(JOB).readings[0].state == "counted"


def test_an_export_taken_in_elsewhere_exports_the_same_bytes(client):
    opened(client)
    first = client.get(f"/api/jobs/{JOB}/export")
    assert first.headers["content-type"].startswith("application/yaml")
    ok(client.post("/api/import", json={"text": first.text, "job": "HL-0148"}), 201)
    assert client.get("/api/jobs/HL-0148/export").content == first.content


def test_a_job_file_with_faults_is_not_stored(client):
    answer = client.post("/api/import", json={"text": "format: witnessmark-job-1\njob: {id: HL-1}\ngauge: {}\n"})
    assert answer.status_code == 422 and answer.json()["faults"][0]["line"]
    assert client.get("/api/jobs").json() == []


def test_the_catalogue_can_be_read(client):
    every = ok(client.get("/api/catalogue"))["characteristics"]
    assert ok(client.get("/api/catalogue/stem_diameter")) in every


def test_the_report_is_a_pdf(client):
    opened(client)
    answer = client.get(f"/api/jobs/{JOB}/report")
    assert answer.status_code == 200 and answer.content.startswith(b"%PDF")
