"""The sheet of intended work without a script: every key is a form, and what cannot be done is told."""

import re

import pytest

from shell.web.bench import form
from shell.web.worked import heads, shop_of, without
from witnessmark.shell.demo import demo_events

PAGE = "/jobs/tern/intended"
shop = shop_of("tern")


def step(client, **fields):
    said = {"valve": "inl-2f", "view": "valve", "scope": "this valve", "operation": "seat_cut", "place": "inl-2f",
            "to": "0.20", "unit": "mm", "valve_axis": "yes", **fields}  # fmt: skip
    return form(client, f"{PAGE}/step", **said)


def row(page, term):
    """before and predicted of one row of the ledger."""
    found = re.search(rf"<summary>{term}<small>.*?</th><td class=\"num\">(.*?)</td><td class=\"num\"><b[^>]*>(.*?)</b>", page, re.S)
    return found.groups() if found else None


def work(store):
    return {(one["operation"], one["place"]): one.get("amount") for one in store.job("tern").work}


def fresh(client, store):
    """The token of the work as it stands."""
    return re.search(r'name="saw" value="([^"]*)"', client.get(PAGE).text).group(1)


def test_a_step_moves_what_hangs_on_it_and_a_step_back_takes_it_out(shop):
    client, store = shop
    form(client, f"{PAGE}/clear", saw=fresh(client, store))
    assert step(client, saw=fresh(client, store)).status_code == 303
    assert work(store) == {("seat_cut", "inl-2f"): "0.20"}
    page = client.get(f"{PAGE}?valve=inl-2f").text
    assert row(page, "stem height") == ("44.01", "44.21")  # 44.01 found, 0.20 cut along the valve's axis
    assert "stem 0.20 higher" in page
    assert step(client, to="", saw=fresh(client, store)).status_code == 303
    assert work(store) == {}


def test_a_step_may_be_taken_at_all_inlet_valves_at_once(shop):
    client, store = shop
    form(client, f"{PAGE}/clear", saw=fresh(client, store))
    step(client, scope="all inlet", saw=fresh(client, store))
    assert set(work(store)) == {("seat_cut", f"inl-{n}{side}") for n in range(1, 5) for side in "fr"}


def test_inch_and_millimetre_take_the_same_off(shop):
    client, store = shop
    form(client, f"{PAGE}/clear", saw=fresh(client, store))
    step(client, to="0.010", unit="in", saw=fresh(client, store))
    client.cookies.set("unit", "mm")
    assert row(client.get(f"{PAGE}?valve=inl-2f").text, "stem height") == ("44.01", "44.26")  # 0.254
    client.cookies.set("unit", "in")
    page = client.get(f"{PAGE}?valve=inl-2f").text
    assert row(page, "stem height") == ("1.7327", "1.7427")


def test_the_script_gets_the_fields_alone_and_a_refusal_with_them(shop):
    client, store = shop
    headers = {"Origin": "http://127.0.0.1:8620", "x-part": "yes"}
    fields = {"valve": "inl-2f", "view": "valve", "scope": "this valve", "operation": "seat_cut", "place": "inl-2f",
              "to": "0.20", "unit": "mm", "valve_axis": "yes", "saw": fresh(client, store)}  # fmt: skip
    part = client.post(f"{PAGE}/step", data=fields, headers=headers)
    assert part.status_code == 200 and "<html" not in part.text and "stem height" in part.text
    late = client.post(f"{PAGE}/step", data=fields, headers=headers)  # the token is that of before
    assert late.status_code == 422 and "was changed meanwhile" in late.text


def test_two_at_once_the_second_is_told_and_nothing_of_the_first_is_lost(shop):
    client, store = shop
    saw = fresh(client, store)
    assert step(client, saw=saw).status_code == 303
    kept = work(store)
    late = step(client, to="0.50", saw=saw)
    assert late.status_code == 422 and "was changed meanwhile, on another bench" in late.text
    assert work(store) == kept


@pytest.mark.parametrize(("fields", "words"), [
    ({"operation": "seat_cutt"}, "did you mean &#39;seat_cut&#39;"),
    ({"operation": "head_bolt"}, "no operation of this engine is called"),
    ({"place": "inl-9", "scope": ""}, "is not done at &#39;inl-9&#39;"),
    ({"to": "deep"}, "deep"),
    ({"to": "-0.2"}, "-0.2"),
    ({"to": "nan"}, "nan"),
    ({"unit": "N"}, "write digits with mm or in"),
])  # fmt: skip
def test_what_cannot_be_done_is_told_on_the_sheet_and_not_kept(shop, fields, words):
    client, store = shop
    kept = work(store)
    answer = step(client, **{"scope": "", "saw": fresh(client, store), **fields})
    assert answer.status_code == 422, answer.text[:300]
    assert words.lower() in answer.text.lower()
    assert "stem height" in answer.text, "the sheet stays"
    assert work(store) == kept


def test_a_size_of_the_engine_is_entered_there_and_used_at_once(tmp_path):
    with heads(tmp_path) as (client, store):
        store.create("tern", created_at="2026-11-25T08:00:00Z", title="t",
                     events=without(demo_events("tern"), "geometry_entered"))  # fmt: skip
        page = client.get(f"{PAGE}?valve=inl-2f").text
        assert row(page, "compression ratio") is None and "Not known" in page
        for quantity, value, unit in (("bore", "86", "mm"), ("stroke", "86", "mm"), ("deck_clearance", "0.2", "mm"),
                                      ("gasket_thickness", "1.1", "mm"), ("gasket_bore", "87", "mm"),
                                      ("crown_volume", "4", "mL"), ("chamber_volume", "44", "mL")):  # fmt: skip
            saw = re.search(r'name="saw_geometry" value="([^"]*)"', client.get(PAGE).text).group(1)
            kept = form(client, f"{PAGE}/geometry", valve="inl-2f", view="valve", quantity=quantity, value=value, unit=unit,
                        saw_geometry=saw)  # fmt: skip
            assert kept.status_code == 303, (quantity, re.search(r'role="alert">(.*?)<', kept.text))
        page = client.get(f"{PAGE}?valve=inl-2f").text
        assert "compression ratio" in page


@pytest.mark.parametrize(("fields", "words"), [
    ({"value": ""}, "needs its value"),
    ({"value": "tall"}, "tall"),
    ({"value": "86", "unit": "N"}, "N"),
    ({"quantity": "borre"}, "did you mean"),
])  # fmt: skip
def test_a_size_that_cannot_be_read_is_told(shop, fields, words):
    client, store = shop
    before = store.job("tern").seq
    saw = re.search(r'name="saw_geometry" value="([^"]*)"', client.get(PAGE).text)
    told = form(client, f"{PAGE}/geometry", **{"quantity": "stroke", "value": "86", "unit": "mm",
                "saw_geometry": saw.group(1) if saw else store.job("tern").geometry_event or "", **fields})  # fmt: skip
    assert told.status_code == 422 and words in told.text
    assert store.job("tern").seq == before


def test_a_valve_that_the_engine_has_not_and_an_address_that_is_none_lead_on(shop):
    client, _ = shop
    lost = client.get(f"{PAGE}?valve=inl-9")
    assert lost.status_code == 404 and "has no valve" in lost.text
    assert form(client, f"{PAGE}/polish").status_code == 404


def test_a_job_without_an_engine_says_what_to_do(tmp_path):
    from witnessmark.record.event import Event

    with heads(tmp_path) as (client, store):
        opened = Event("e1", "job_opened", {"job": {"id": "bare", "invented": True}}, at="2026-11-25T08:00:00Z")
        store.create("bare", created_at="2026-11-25T08:00:00Z", title="bare", events=(opened,))
        for sheet in ("intended", "order"):
            answer = client.get(f"/jobs/bare/{sheet}")
            assert answer.status_code == 422 and "engine" in answer.text
        assert client.get("/jobs/bare/plan").status_code == 200


@pytest.mark.parametrize("left", [("limits_entered",), ("prices_entered",), ("reading_taken",),
                                  ("limits_entered", "prices_entered", "reading_taken", "geometry_entered")])  # fmt: skip
def test_what_was_not_entered_leaves_every_sheet_alive(tmp_path, left):
    with heads(tmp_path) as (client, store):
        events = without(demo_events("wren"), *left)
        assert len(events) < len(demo_events("wren")), left
        store.create("wren", created_at="2026-11-25T08:00:00Z", title="w", events=events)
        for sheet in ("intended", "intended?view=head", "plan", "order"):
            assert client.get(f"/jobs/wren/{sheet}").status_code == 200, sheet
