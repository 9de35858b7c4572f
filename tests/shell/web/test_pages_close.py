"""Closing a job on its record sheet and under /api/: what is open, who wins of two, what is taken away."""

import io
import json
import zipfile
from concurrent.futures import ThreadPoolExecutor
from itertools import count

import pytest
from starlette.testclient import TestClient

from shell import closed
from shell.web.bench import form
from witnessmark.desk.commands import note
from witnessmark.record.proof import proof
from witnessmark.shell.resources import catalogue
from witnessmark.shell.web.app import create_app

PAGE, CLOSE = f"/jobs/{closed.JOB}/record", f"/jobs/{closed.JOB}/record/close"


@pytest.fixture
def both(tmp_path):
    store = closed.fill(tmp_path)
    numbers = count(1)
    app = create_app(store, catalogue(), lambda: closed.NOW, lambda: f"n{next(numbers):09d}")
    yield TestClient(app, base_url="http://127.0.0.1:8620", follow_redirects=False), store
    store.close()


def shut(client, **fields):
    return form(client, CLOSE, **{"by": "R. P.", "note": "sold as it is", **fields})


def test_the_sheet_says_what_is_open_and_where_it_is_settled(both):
    page = both[0].get(PAGE).text
    assert ">Not closed<" in page and "not measured, as found" in page
    assert f'href="/jobs/{closed.JOB}/assemble"' in page and "bolt 2, lost count" in page
    assert 'name="note"' in page and 'name="by"' in page and "close the job</button>" in page


def test_a_closed_job_shows_its_hash_in_fours_and_gives_its_papers_back(both):
    client, store = both
    answer = shut(client)
    assert answer.status_code == 303 and answer.headers["location"] == f"{PAGE}#closing"
    (one,) = proof(store.events(closed.JOB)).closings
    page = client.get(PAGE).text
    assert "Closed 26 Nov 2026, 10:00, by R. P.<" in page and "close the job" not in page
    assert all(f"<span>{one.hash[at:at + 4].upper()}</span>" in page for at in range(0, 64, 4))
    for name, paper in one.papers.items():
        kept = client.get(f"/jobs/{closed.JOB}/closed/1/{name}.pdf")
        assert kept.content == store.papers.get(paper) and f"{closed.JOB}-{name}.pdf" in kept.headers["content-disposition"]
    with zipfile.ZipFile(io.BytesIO(client.get(f"/jobs/{closed.JOB}/evidence.zip").content)) as file:
        assert file.read("papers/closed-1/full-report.pdf") == store.papers.get(one.papers["full-report"])


def test_what_comes_after_is_taken_and_listed_as_later_and_the_job_may_be_closed_again(both):
    client, store = both
    shut(client)
    store.append(closed.JOB, note(closed.now(store), closed.stamp("late"), "inl-1", "carbon on the stem"), closed.NOW)
    page = client.get(PAGE).text
    assert "by R. P., 1 later entry<" in page and "carbon on the stem" in page and "close the job again" in page
    assert shut(client).status_code == 303
    assert [one.sound for one in proof(store.events(closed.JOB)).closings] == [True, True]
    assert "<b>closing 2</b>" in client.get(PAGE).text


def test_a_refusal_keeps_what_was_typed(both):
    client, store = both
    answer = shut(client, note="", by="R. & P.")
    assert answer.status_code == 422 and "This stays open: " in answer.text and 'value="R. &amp; P."' in answer.text
    assert shut(client, by="").status_code == 422 and "who you are" in shut(client, by="").text
    assert shut(client, seen="3").status_code == 422 and not proof(store.events(closed.JOB)).closings


def test_of_two_who_close_at_once_one_wins_and_the_other_is_told(both):
    client, store = both
    with ThreadPoolExecutor(4) as pool:
        answers = list(pool.map(lambda by: shut(client, by=by), ("A. A.", "B. B.", "C. C.", "D. D.")))
    assert sorted(one.status_code for one in answers)[0] == 303
    assert [one.status_code for one in answers].count(303) == 1
    for one in answers:
        assert one.status_code in (303, 409, 422)
        assert one.status_code == 303 or "at the same moment" in one.text or "closed already" in one.text
    found = proof(store.events(closed.JOB))
    assert len(found.closings) == 1 and found.sound


def test_a_record_that_was_changed_under_its_closing_says_so(both, monkeypatch):
    client, store = both
    shut(client)
    from dataclasses import replace

    log = store.events(closed.JOB)
    changed = tuple(replace(one, by="x") if one.seq == 9 else one for one in log)
    monkeypatch.setattr(type(store), "events", lambda self, job, after=0: changed)
    page = client.get(PAGE).text
    assert "Not as it was closed." in page and "event 9 (reading_taken r2" in page


def test_papers_that_were_never_kept_are_not_found(both):
    client, _ = both
    shut(client)
    for address in ("closed/2/full-report.pdf", "closed/1/other.pdf", "closed/0/full-report.pdf", "closed/x/y.pdf"):
        assert client.get(f"/jobs/{closed.JOB}/{address}").status_code in (404, 422), address
    assert client.get("/jobs/none/evidence.zip").status_code == 404
    assert client.get(f"/jobs/{closed.JOB}/full-report.pdf?paper=letter").content.startswith(b"%PDF-")


def test_programs_close_and_prove_and_take_away(both):
    client, store = both
    api = f"/api/jobs/{closed.JOB}"
    sent = {"by": "R. P.", "note": "sold as it is"}
    refused = client.post(f"{api}/close", json={**sent, "note": ""})
    assert refused.status_code == 422 and "stays open" in refused.text
    assert client.post(f"{api}/close", json=sent).json()["events"] == ["closed:1"]
    assert client.post(f"{api}/close", json=sent).status_code == 422
    proved = client.get(f"{api}/proof").json()
    assert proved["sound"] and proved["later"] == [] and proved["closings"][0]["id"] == "closed:1"
    assert client.get(f"{api}/tables/readings").text.startswith("number,id,characteristic,")
    assert client.get(f"{api}/tables/valves").status_code == 404
    with zipfile.ZipFile(io.BytesIO(client.get(f"{api}/evidence").content)) as file:
        assert json.loads(file.read("manifest.json"))["checksum"] == proved["checksum"]
    assert store.job(closed.JOB).closings[0].note == "sold as it is"
