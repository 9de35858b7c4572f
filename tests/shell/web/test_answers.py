"""Bad input gets what, where and what to do: never a traceback, never a page that says nothing."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient

from shell.web.shop import JOB, Shop
from witnessmark.record.event import EventFault
from witnessmark.shell.store import fault
from witnessmark.shell.web.answers import status_of


@pytest.fixture(scope="module")
def client(tmp_path_factory):
    shop = Shop(tmp_path_factory.mktemp("answers"))
    shop.open_job()
    shop.measure()
    yield TestClient(shop.app(hosts=["testserver"]), raise_server_exceptions=False)
    shop.store.close()


def told(answer, status):
    assert answer.status_code == status, answer.text
    body = answer.json()
    assert set(body) == {"what", "where", "do", "faults"} and body["what"]
    assert "Traceback" not in answer.text
    return body


def test_an_unknown_job_is_told_by_name(client):
    assert "'HL-0000'" in told(client.get("/api/jobs/HL-0000/judge"), 404)["what"]


def test_an_unknown_address_names_the_nearest(client):
    assert told(client.get("/api/jobz"), 404)["do"] == "Did you mean /api/jobs?"


def test_a_method_that_an_address_does_not_take_is_told_with_those_it_takes(client):
    answer = client.delete("/api/jobs")
    assert "GET" in told(answer, 405)["do"]
    assert "GET" in answer.headers["allow"]


def test_an_unknown_characteristic_names_the_nearest(client):
    assert "did you mean 'stem_diameter'" in told(client.get("/api/catalogue/stem_diametre"), 404)["what"]


def test_a_page_tells_a_person_in_a_page(client):
    answer = client.get(f"/jobs/{JOB}/bench?characteristic=stem_diametre", headers={"accept": "text/html"})
    assert answer.status_code == 404
    assert "did you mean &#39;stem_diameter&#39;" in answer.text
    assert "<main" in answer.text


def test_every_key_that_is_amiss_is_listed(client):
    body = told(client.post(f"/api/jobs/{JOB}/line", json={"lime": "5.952", "device_seq": -1, "place": ""}), 422)
    assert {fault["where"]: fault["message"] for fault in body["faults"]} == {
        "line": "it is missing.", "characteristic": "it is missing.", "lime": "no such key is known here.",
        "device_seq": "it must be at least 0.", "place": "it is empty or too short.",
    }  # fmt: skip


BROKEN = [b"", b"{", b"[" * 200_000, b"nul", b'{"a": 1' + b"9" * 5000 + b"}", b"\xff\xfe{\x00}\x00"]


@pytest.mark.parametrize("body", BROKEN)
def test_what_is_no_json_is_told_so(client, body):
    answer = client.post(f"/api/jobs/{JOB}/limits", content=body, headers={"content-type": "application/json"})
    assert answer.status_code in {400, 422}
    told(answer, answer.status_code)


@pytest.mark.parametrize("raw", [r'"\ud800"', r'"a\u0000b"'])
def test_half_a_character_pair_and_nul_are_refused_and_nothing_is_stored(client, raw):
    before = client.get(f"/api/jobs/{JOB}").json()["seq"]
    body = f'{{"about": "inl-3f", "text": {raw}}}'.encode()
    told(client.post(f"/api/jobs/{JOB}/note", content=body, headers={"content-type": "application/json"}), 422)
    assert client.get(f"/api/jobs/{JOB}").json()["seq"] == before


def test_every_fault_of_a_limit_sheet_is_told_with_its_line(client):
    text = ("format: witnessmark-limits-1\nsheet: {name: TN-3, document: invented}\nlimits:\n"
            "  stem_diametre:\n    - {service: {low: 5.94}, unit: mm, page: 41}\n"
            "  seat_width:\n    - {service: {low: 2, high: 1}, unit: mm}\n")  # fmt: skip
    body = told(client.post(f"/api/jobs/{JOB}/limits", json={"text": text, "name": "TN-3.yaml"}), 422)
    assert {fault["line"] for fault in body["faults"]} >= {4, 7}


@pytest.mark.parametrize("job", ["../etc", "%2e%2e", "a b", "\u202e", "HL-0147%00", "x" * 500])
def test_odd_job_names_in_addresses_are_no_jobs(client, job):
    assert client.get(f"/api/jobs/{job}/judge").status_code == 404
    assert client.get(f"/jobs/{job}/bench").status_code == 404


def test_a_bug_of_ours_says_that_it_is_one(tmp_path):
    shop = Shop(tmp_path)
    app = shop.app(hosts=["testserver"])
    app.add_api_route("/api/broken", lambda: 1 / 0)
    answer = TestClient(app, raise_server_exceptions=False).get("/api/broken")
    assert "The tool itself went wrong" in told(answer, 500)["what"]
    shop.store.close()


@pytest.mark.parametrize(("kind", "status"), [
    (fault.NoSuchJob("x"), 404), (fault.JobExists("x"), 409), (fault.OtherBytes("x"), 409), (fault.StoreFull("x"), 507),
    (fault.StoreBusy("x"), 503), (fault.StoreDamaged("x"), 503), (fault.TooMany("x"), 413), (EventFault("x"), 422),
])  # fmt: skip
def test_each_fault_of_the_store_has_its_status(kind, status):
    assert status_of(kind) == status


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(query=st.dictionaries(st.sampled_from(["characteristic", "place", "round", "gauge", "part_at", "open", "x"]),
                             st.text(max_size=30)))  # fmt: skip
def test_no_query_breaks_the_bench_page(client, query):
    assert client.get(f"/jobs/{JOB}/bench", params=query).status_code in {200, 404, 422}


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(cookies=st.dictionaries(
    st.sampled_from(["unit", "light", "by", "device", "stray"]),
    st.text(st.characters(codec="ascii", exclude_characters=";\r\n\0"), max_size=20),
))  # fmt: skip
def test_no_cookie_breaks_the_bench_page(client, cookies):
    header = "; ".join(f"{name}={value}" for name, value in cookies.items())
    assert client.get(f"/jobs/{JOB}/bench", headers={"cookie": header}).status_code == 200
