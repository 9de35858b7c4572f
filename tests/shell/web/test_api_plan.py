"""Ledger, plan and fit for programs, and what programs enter and order."""

import json

import pytest

from shell.web.worked import heads


@pytest.fixture
def shop(tmp_path):
    with heads(tmp_path, "wren") as (client, store):
        yield client, store


def got(client, address):
    answer = client.get(f"/api/jobs/wren/{address}")
    assert answer.status_code == 200, answer.text
    return json.loads(answer.text, parse_constant=lambda text: pytest.fail(f"{text} is no JSON"))


def sent(client, address, **body):
    return client.post(f"/api/jobs/wren/{address}", json={"id": f"x-{address}-{len(str(body))}", **body})


def predicted(client, *cuts):
    rows = got(client, "ledger" + ("?" + "&".join(f"cut={cut}" for cut in cuts) if cuts else ""))["rows"]
    return {(one["characteristic"], one["location"]): one["predicted"] for one in rows}


def test_the_ledger_of_cuts_that_are_only_asked_about_keeps_nothing(shop):
    client, store = shop
    before = store.job("wren").seq
    plain, cut = predicted(client, "skim@head=0.1mm"), predicted(client, "seat_cut@inl-1=0.20mm", "skim@head=0.1mm")
    assert cut["installed_height", "inl-1"] - plain["installed_height", "inl-1"] == pytest.approx(0.20)
    assert store.job("wren").seq == before


def test_work_is_stepped_and_taken_out_and_the_plain_ledger_is_of_it(shop):
    client, store = shop
    for one in list(store.job("wren").work):
        assert sent(client, "work", operation=one["operation"], place=one["place"]).status_code == 200
    bare = predicted(client)
    assert sent(client, "work", operation="seat_cut", place="inl-1", amount="0.010", unit="in").status_code == 200
    assert predicted(client)["installed_height", "inl-1"] - bare["installed_height", "inl-1"] == pytest.approx(0.254)


def test_a_size_is_entered_and_goes_again(shop):
    client, store = shop
    assert sent(client, "geometry", quantity="stroke", value="50", unit="mm").status_code == 200
    assert store.job("wren").geometry["stroke"][-1]["value"] == "50"
    assert sent(client, "geometry", quantity="stroke").status_code == 200
    assert "stroke" not in store.job("wren").geometry


def test_plan_ask_order_and_fit(shop):
    client, store = shop
    first = got(client, "plan")
    assert first["status"] == "optimal" and first["operations"]
    assert sent(client, "ask", change="forbid", operation="seat_cut", place="all").status_code == 200
    assert not any(one["operation"] == "seat_cut" for one in got(client, "plan")["operations"])
    assert sent(client, "ask", change="free").status_code == 200
    assert got(client, "plan")["cost"] == first["cost"]
    assert sent(client, "order", name="A").status_code == 200
    assert store.job("wren").order["cost"] == f"{first['cost']:.2f}"
    assert got(client, "fit")["for"] == "order"


@pytest.mark.parametrize(("address", "body", "words"), [
    ("work", {"operation": "seat_cutt", "place": "inl-1", "amount": "1"}, "did you mean"),
    ("work", {"operation": "seat_cut", "place": "inl-1", "amount": "0.1", "seen": "old"}, "changed meanwhile"),
    ("geometry", {"quantity": "stroke", "value": "-50", "unit": "mm"}, "below nothing"),
    ("geometry", {"quantity": "strok", "value": "50", "unit": "mm"}, "did you mean"),
    ("prices", {"text": "format: witnessmark-prices-1\nsheet: {name: A, currency: EUR}\nwork: {skim: {cost: -1}}\n"}, "mend these"),
    ("ask", {"change": "paint"}, "pin, forbid, free and wanted"),
    ("order", {"name": "Q"}, "there is no plan Q"),
])  # fmt: skip
def test_what_cannot_be_is_told_in_the_words_of_the_desk_and_not_kept(shop, address, body, words):
    client, store = shop
    before = store.job("wren").seq
    answer = sent(client, address, **body)
    assert answer.status_code == 422, answer.text
    said = answer.json()
    assert set(said) == {"what", "where", "do", "faults"} and words in said["what"] + str(said["faults"])
    assert store.job("wren").seq == before


def test_a_cut_that_is_none_is_told(shop):
    client, _ = shop
    answer = client.get("/api/jobs/wren/ledger?cut=polish@inl-1")
    assert answer.status_code == 422 and "polish" in answer.json()["what"]
