"""The record sheet over HTTP."""

import pytest

from shell.web.bench import HEAD, bench
from witnessmark.record.event import digest


@pytest.fixture(scope="module")
def both(tmp_path_factory):
    with bench(tmp_path_factory.mktemp("store")) as both:
        yield both


def test_the_checksum_is_that_of_the_stored_events(both):
    client, store = both
    shown = client.get(f"/jobs/{HEAD}/record").text
    assert digest(store.events(HEAD))[:8].upper() in shown


def test_what_was_taken_back_is_struck_and_still_readable(both):
    client, store = both
    gone = next(reading for reading in store.job(HEAD).readings if reading.state == "taken back")
    page = client.get(f"/jobs/{HEAD}/record?at=Inl+2R").text
    assert f"<s>{gone.raw}</s>" in page
    assert "0.2351" in page and "asked" in page


def test_the_report_is_a_pdf_named_after_its_job(both):
    client, _ = both
    answer = client.get(f"/jobs/{HEAD}/report.pdf")
    assert answer.status_code == 200 and answer.content.startswith(b"%PDF-")
    assert f"{HEAD}-report.pdf" in answer.headers["content-disposition"]
    assert client.get(f"/jobs/{HEAD}/report.pdf?round=never").status_code == 404


def test_the_record_leads_to_report_and_export(both):
    client, _ = both
    page = client.get(f"/jobs/{HEAD}/record").text
    for address in (f"/jobs/{HEAD}/report.pdf", f"/api/jobs/{HEAD}/export"):
        assert f'href="{address}"' in page
        assert client.get(address).status_code == 200


def test_one_place_is_filtered_and_an_unknown_one_is_empty(both):
    client, _ = both
    assert "at Exh 3F" in client.get(f"/jobs/{HEAD}/record?at=Exh+3F").text
    assert "Nothing has been kept at piston" in client.get(f"/jobs/{HEAD}/record?at=piston").text


def test_hostile_text_in_the_filter_stays_text(both):
    client, _ = both
    page = client.get(f"/jobs/{HEAD}/record", params={"at": "<script>alert(1)</script>"}).text
    assert "<script>alert" not in page and "&lt;script&gt;" in page
