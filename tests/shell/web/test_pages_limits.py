"""The limits sheet as a page: forms without script, faults at their blank, nothing that was typed is lost."""

import pytest
from starlette.testclient import TestClient

from shell.web.shop import JOB, Shop

BASE = f"/jobs/{JOB}/limits"


@pytest.fixture
def both(tmp_path):
    shop = Shop(tmp_path)
    shop.open_job()
    shop.measure()
    yield shop, TestClient(shop.app(hosts=["testserver"]), follow_redirects=False)
    shop.store.close()


def send(client, form, **fields):
    return client.post(f"{BASE}/{form}", data=fields, headers={"Origin": "http://testserver"})


def test_what_has_readings_and_no_limit_stands_first(both):
    shop, client = both
    shop.line("5.98", "inl-1f/top/along", "guide_bore", "M-07")
    text = client.get(BASE).text
    assert text.index("Read, and no limit yet") < text.index("guide bore diameter") < text.index(">The sheet</h2>")
    assert f'href="{BASE}"' in client.get(f"/jobs/{JOB}/head").text


def test_a_limit_is_kept_and_the_hand_goes_on_to_the_other_side(both):
    shop, client = both
    answer = send(client, "entry", characteristic="margin", who="inl;;", low="0.031", unit="in", page="41", then="next")
    assert answer.status_code == 303 and "entry=margin%3Bexh%3B%3B%3B&page=41#entry-low" in answer.headers["location"]
    assert any(one.low_text == "0.031" for one in shop.state().sheet.limits)


def test_a_fault_stands_at_its_blank_and_what_was_typed_stays(both):
    shop, client = both
    seq = shop.store.job(JOB).seq
    answer = send(client, "entry", characteristic="margin", who="inl;;", low="O.8", high="1.2", unit="mm")
    assert answer.status_code == 422 and shop.store.job(JOB).seq == seq
    assert 'value="O.8"' in answer.text and 'id="entry-low-told"' in answer.text and 'value="1.2"' in answer.text


def test_a_stale_change_is_told_and_its_figures_stay_in_the_blanks(both):
    shop, client = both
    again = {"characteristic": "head_flatness", "who": ";;", "was": "head_flatness;;;;", "unit": "mm"}
    assert send(client, "entry", **again, high="0.04", seen="").status_code == 303
    answer = send(client, "entry", **again, high="0.03", seen="0123456789ab")
    assert answer.status_code == 422 and "another device" in answer.text and 'value="0.03"' in answer.text
    assert any(one.high_text == "0.04" for one in shop.state().sheet.limits)


def test_a_sheet_is_copied_from_a_file_and_taken_back(both):
    shop, client = both
    before = shop.store.job(JOB).limits
    files = {"file": ("old.yaml", before.text.encode(), "text/yaml")}
    answer = client.post(f"{BASE}/copy", files=files, data={"replace": "yes"}, headers={"Origin": "http://testserver"})
    assert answer.status_code == 303 and shop.state().sheet.copied_from == "file old.yaml, sheet TN-3"
    assert "to be checked" in client.get(BASE).text
    assert send(client, "back", event=shop.store.job(JOB).limits.event).status_code == 303
    assert shop.store.job(JOB).limits == before


@pytest.mark.parametrize("address", [f"{BASE}?entry=stem_diamter;;;;", f"{BASE}?entry=x"])
def test_an_address_that_names_nothing_is_told(both, address):
    answer = both[1].get(address)
    assert answer.status_code == 404 and "Traceback" not in answer.text


def test_a_form_that_is_none_is_told(both):
    assert send(both[1], "nothing").status_code == 404
    assert send(both[1], "remove", key="x").status_code == 422
    assert send(both[1], "copy", **{"from": "HL-9"}).status_code == 422
