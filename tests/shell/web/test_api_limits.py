"""The limit sheet for programs: read with its marks, changed entry by entry, never over what another has changed."""

import pytest
from starlette.testclient import TestClient

from shell.web.shop import JOB, Shop

AT = f"/api/jobs/{JOB}/limits"
STEM = {"characteristic": "stem_diameter", "for": "exh"}


@pytest.fixture
def shop(tmp_path):
    shop = Shop(tmp_path)
    shop.open_job()
    yield shop
    shop.store.close()


@pytest.fixture
def client(shop):
    return TestClient(shop.app(hosts=["testserver"]))


def ok(answer):
    assert answer.status_code == 200, answer.text
    return answer.json()


def entry_of(client, characteristic):
    return [one for one in ok(client.get(AT))["entries"] if one["entry"]["characteristic"] == characteristic]


@pytest.mark.parametrize(("low", "unit", "inside"), [("1.40", "mm", 1.4), ("0.0551", "in", 1.39954)])
def test_a_limit_is_typed_read_changed_and_taken_out(shop, client, low, unit, inside):
    ok(client.post(f"{AT}/entry", json={"entry": {"characteristic": "seat_width"}, "low": low, "unit": unit}))
    (one,) = entry_of(client, "seat_width")
    assert one["says"][0]["service"] == {"low": low} and shop.state().sheet.index["seat_width"][0].low == pytest.approx(inside)
    changed = {"entry": one["entry"], "was": one["entry"], "high": "99" if unit == "mm" else "3.9", "unit": unit, "seen": one["mark"]}
    ok(client.post(f"{AT}/entry", json=changed))
    (later,) = entry_of(client, "seat_width")
    assert later["mark"] != one["mark"] and "low" not in later["says"][0]["service"]
    ok(client.post(f"{AT}/remove", json={"entry": later["entry"], "seen": later["mark"]}))
    assert entry_of(client, "seat_width") == []


def test_what_another_device_has_changed_is_told_and_nothing_is_taken(shop, client):
    new = {"entry": {"characteristic": "seat_width"}, "low": "1.4", "unit": "mm", "seen": "none"}
    ok(client.post(f"{AT}/entry", json=new))
    before = len(shop.store.events(JOB))
    for form, sent in (("entry", {**new, "was": new["entry"], "low": "1.5"}),
                       ("remove", {"entry": new["entry"], "seen": "0123456789ab"}),
                       ("sheet", {"name": "TN-9", "document": "Tern book (invented)", "seen": "e0"})):  # fmt: skip
        answer = client.post(f"{AT}/{form}", json=sent)
        assert answer.status_code == 409, answer.text
        assert "another device" in answer.json()["what"] and AT in answer.json()["do"]
    assert len(shop.store.events(JOB)) == before


def test_a_copy_waits_to_be_checked_by_somebody_with_a_name(shop, client):
    text = ok(client.get(AT))["text"]
    assert client.post(f"{AT}/copy", json={"text": text, "source": "the drawer"}).status_code == 422  # one stands here
    ok(client.post(f"{AT}/copy", json={"text": text, "source": "the drawer", "replace": True}))
    assert all(limit.to_check for limit in shop.state().sheet.limits)
    assert "name" in client.post(f"{AT}/check", json={}).json()["what"]
    key = ok(client.get(AT))["entries"][0]["entry"]
    ok(client.post(f"{AT}/check", json={"entry": key, "by": "J. M.", "page": "7"}))
    ok(client.post(f"{AT}/check", json={"by": "J. M."}))
    assert not any(limit.to_check for limit in shop.state().sheet.limits)


def test_what_the_book_allows_and_the_head_of_the_sheet(shop, client):
    ok(client.post(f"{AT}/operation", json={"operation": "skim", "allowed": "up to", "most": "0.2", "unit": "mm"}))
    ok(client.post(f"{AT}/sheet", json={"name": "TN-9", "document": "Tern book (invented)", "doubt": "even"}))
    sheet = ok(client.get(AT))
    assert (sheet["name"], sheet["operations"]["skim"]["says"]["most"]) == ("TN-9", "0.2")
    ok(client.post(f"{AT}/operation", json={"operation": "skim", "seen": sheet["operations"]["skim"]["mark"]}))
    assert "skim" not in ok(client.get(AT))["operations"]


@pytest.mark.parametrize(("form", "sent", "words"), [
    ("entry", {"entry": {"characteristic": "stem_diametre"}, "low": "1"}, "did you mean"),
    ("entry", {"entry": STEM, "low": "five"}, "cannot be taken"),
    ("copy", {}, "job to copy from"), ("copy", {"from_job": "HL-9"}, "HL-9"),
    ("operation", {"operation": "skimm", "allowed": "yes"}, "did you mean"),
])  # fmt: skip
def test_what_the_sheet_would_not_take_is_told(shop, client, form, sent, words):
    before = len(shop.store.events(JOB))
    answer = client.post(f"{AT}/{form}", json=sent)
    assert answer.status_code in (404, 422) and words in answer.json()["what"], answer.text
    assert len(shop.store.events(JOB)) == before
