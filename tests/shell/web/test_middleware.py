"""The door of the pages: foreign hosts, foreign pages, bodies that are too large or of another kind."""

import pytest
from starlette.testclient import TestClient

from shell.web.shop import JOB, Shop
from witnessmark.shell.web.middleware import BODY_MOST, HEADERS, LINE_MOST


@pytest.fixture(scope="module")
def client(tmp_path_factory):
    shop = Shop(tmp_path_factory.mktemp("door"))
    shop.open_job()
    yield TestClient(shop.app(), base_url="http://127.0.0.1:8620")
    shop.store.close()


def count(client):
    return client.get(f"/api/jobs/{JOB}").json()["seq"]


@pytest.mark.parametrize("host", ["engines.example", "127.0.0.1.engines.example", "", "localhost.", "[::2]:8620"])
def test_a_foreign_host_is_told_which_name_to_use(client, host):
    answer = client.get("/api/jobs", headers={"host": host})
    assert answer.status_code == 421
    assert "http://127.0.0.1:8620/" in answer.json()["do"]


@pytest.mark.parametrize("host", ["127.0.0.1:8620", "localhost:1", "LOCALHOST", "[::1]:8620"])
def test_this_machine_is_let_in_under_each_of_its_names(client, host):
    assert client.get("/api/jobs", headers={"host": host}).status_code == 200


@pytest.mark.parametrize("headers", [
    {"origin": "http://engines.example"},
    {"origin": "null"},
    {"origin": "http://127.0.0.1:9999"},
    {"sec-fetch-site": "cross-site"},
    {"sec-fetch-site": "same-site"},
    {"origin": "http://127.0.0.1:8620", "sec-fetch-site": "cross-site"},
])  # fmt: skip
def test_another_page_cannot_write(client, headers):
    before = count(client)
    answer = client.post(f"/api/jobs/{JOB}/note", json={"about": "inl-3f", "text": "x"}, headers=headers)
    assert answer.status_code == 403
    assert "nothing was kept" in answer.json()["what"]
    assert count(client) == before


def test_the_own_page_and_a_command_may_write(client):
    for headers in ({"origin": "http://127.0.0.1:8620", "sec-fetch-site": "same-origin"}, {}):
        answer = client.post(f"/api/jobs/{JOB}/note", json={"about": "inl-3f", "text": "carbon"}, headers=headers)
        assert answer.status_code == 200, answer.text


def test_a_body_that_says_it_is_too_large_is_refused_before_it_is_read(client):
    answer = client.post(f"/api/jobs/{JOB}/line", content=b"x", headers={"content-length": str(LINE_MOST + 1),
                                                                      "content-type": "application/json"})  # fmt: skip
    assert answer.status_code == 413
    assert "20 000 bytes" in answer.json()["what"]


def test_a_body_that_does_not_say_its_length_is_counted(client):
    def parts():
        for _ in range(BODY_MOST // 65536 + 2):
            yield b" " * 65536

    answer = client.post(f"/api/jobs/{JOB}/limits", content=parts(), headers={"content-type": "application/json"})
    assert answer.status_code == 413
    assert answer.json()["do"].startswith("Send it in parts")


@pytest.mark.parametrize("length", ["-1", "1e3", "", "９"])
def test_a_length_that_is_no_number_is_told(client, length):
    answer = client.post(f"/api/jobs/{JOB}/note", content=b"{}", headers={"content-length": length.encode(),
                                                                      "content-type": "application/json"})  # fmt: skip
    assert answer.status_code == 400
    assert "no number" in answer.json()["what"]


@pytest.mark.parametrize("kind", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data", ""])
def test_a_form_of_a_foreign_page_is_no_json(client, kind):
    answer = client.post(f"/api/jobs/{JOB}/note", content=b"{}", headers={"content-type": kind})
    assert answer.status_code == 415
    assert "application/json" in answer.json()["do"]


@pytest.mark.parametrize("path", ["/api/jobs", f"/jobs/{JOB}/bench", "/nothing", "/static/x/style.css"])
def test_every_answer_forbids_foreign_scripts_and_frames(client, path):
    answer = client.get(path)
    assert {name: answer.headers[name] for name in HEADERS} == HEADERS
    assert "unsafe" not in answer.headers["content-security-policy"]
