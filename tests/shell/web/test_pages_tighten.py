"""The tightening and assembly sheets over HTTP: forms that work without a script, papers, the API, two people at once."""

import re
from concurrent.futures import ThreadPoolExecutor

import pytest

from shell.web.bench import form
from shell.web.worked import DAY, shop_of, without

shop = shop_of("wren", "tern")
HEAD = "/jobs/wren/tighten/head"
RUN = "tighten:head:1"


def begun(client, **more):
    return form(client, f"{HEAD}/begin", **{"way": "tighten", "wrench": "W-3", "threads": "oiled", **more})


def saw(client):
    return re.search(r'name="saw" value="([^"]*)"', client.get(HEAD).text)[1]


def test_from_the_first_bolt_to_the_last(shop):
    client, store = shop
    page = client.get(HEAD).text
    assert "Head nuts" in page
    assert 'class="joints"' not in page  # one joint has no list beside it
    assert begun(client).status_code == 303
    for n in range(8):
        assert saw(client) == f"{n // 4 + 1}.{n % 4 + 1}"
        assert form(client, f"{HEAD}/press", run=RUN, saw=saw(client), line="").status_code == 303
    page = client.get(HEAD).text
    assert "All 4 bolts are through their last stage." in page
    kinds = [event.kind for event in store.events("wren")]
    assert kinds.count("bolt_turned") == 8


def test_what_is_refused_keeps_the_page_and_turns_nothing(shop):
    client, store = shop
    begun(client)
    stale = form(client, f"{HEAD}/press", run=RUN, saw="1.3", line="")
    assert stale.status_code == 422
    assert "The run has moved on meanwhile: bolt 1 is next." in stale.text
    assert form(client, f"{HEAD}/press", run="other", line="").status_code == 422
    assert form(client, f"{HEAD}/doubt", run=RUN, bolt="9", why="lost count").status_code == 422
    assert form(client, f"{HEAD}/settle", run=RUN, bolt="1", how="new bolt, begun again").status_code == 422
    assert form(client, f"{HEAD}/spin", run=RUN).status_code == 404
    assert not [event for event in store.events("wren") if event.kind == "bolt_turned"]


def test_a_joint_that_there_is_not(shop):
    client, _ = shop
    lost = client.get("/jobs/wren/tighten/mains")
    assert lost.status_code == 404
    assert "The limit sheet has head." in lost.text
    assert client.get("/jobs/wren/tighten/mains.pdf").status_code == 404


def test_loosening_shows_what_to_measure_first_and_goes_backwards(shop):
    client, store = shop
    store.create("bare", created_at=DAY, events=without(store.events("tern"), "reading_taken"))
    page = client.get("/jobs/bare/tighten/head").text
    assert "Measure before anything comes off" in page
    assert "<li>valve lash</li>" in page
    assert "Measure before" not in client.get("/jobs/tern/tighten/head").text  # there it is all read
    begun(client, way="loosen")
    assert saw(client) == "1.4"
    assert "loosening 1: all a little first" in client.get(HEAD).text


def test_two_people_at_one_bolt_one_wins_and_the_other_is_told(shop):
    client, store = shop
    begun(client)
    for _ in range(8):
        page = saw(client)

        def press(name, page=page):
            client.cookies.set("by", name)
            return form(client, f"{HEAD}/press", run=RUN, saw=page, line="")

        with ThreadPoolExecutor(2) as two:
            answers = sorted(one.status_code for one in two.map(press, ("A. T.", "J. M.")))
        assert answers[0] == 303
        assert answers[1] in (409, 422)
    turned = [event for event in store.events("wren") if event.kind == "bolt_turned"]
    assert len(turned) == len({(one.body["bolt"], one.body["stage"]) for one in turned}) == 8


@pytest.mark.parametrize("address", ["tighten/head.pdf", "tighten/head.pdf?blank=true", "assemble.pdf?paper=letter"])
def test_each_paper_is_a_pdf(shop, address):
    client, _ = shop
    begun(client)
    answer = client.get(f"/jobs/wren/{address}")
    assert answer.status_code == 200
    assert answer.content.startswith(b"%PDF")


def test_steps_are_signed_by_a_person_in_their_order(shop):
    client, store = shop
    client.cookies.clear()
    page = client.get("/jobs/wren/assemble").text
    step, seen = (re.search(rf'name="{name}" value="([^"]*)"', page)[1] for name in ("step", "seen"))
    nobody = form(client, "/jobs/wren/assemble/sign", step=step, seen=seen, did="done")
    assert nobody.status_code == 422
    assert "say who you are first" in nobody.text
    assert form(client, "/jobs/wren/assemble/sign", step=step, seen=seen, did="done", by="J. M.").status_code == 303
    assert "by" in client.cookies
    (signed,) = store.job("wren").signed
    assert (signed.step, signed.by) == (step, "J. M.")
    again = form(client, "/jobs/wren/assemble/sign", step=step, seen=seen, did="done", by="J. M.")
    assert again.status_code == 422
    assert "is signed already" in again.text
    assert form(client, "/jobs/wren/assemble/back", event=signed.event).status_code == 303
    assert store.job("wren").signed == ()
    assert form(client, "/jobs/wren/assemble/back", event=signed.event).status_code == 422


def test_a_head_is_not_signed_tight_while_a_bolt_is_next(shop):
    client, _ = shop
    page = client.get("/jobs/wren/assemble").text
    step = next(one for one in re.findall(r"step=([a-z_]+)", page) if one == "head_tight")
    held = client.get(f"/jobs/wren/assemble?step={step}").text
    assert "not tightened yet" in held
    assert 'href="/jobs/wren/tighten/head"' in held
    refused = form(client, "/jobs/wren/assemble/sign", step=step, did="done", by="J. M.")
    assert refused.status_code == 422


def test_the_same_for_programs(shop):
    client, _ = shop
    origin = {"Origin": "http://127.0.0.1:8620"}
    begin = client.post("/api/jobs/wren/tighten/head/begin", json={"wrench": "W-3", "by": "J. M."}, headers=origin)
    assert begin.status_code == 200, begin.text
    (run,) = begin.json()["events"]
    press = client.post("/api/jobs/wren/tighten/press", json={"run": run, "saw": "1.1"}, headers=origin)
    assert press.status_code == 200
    assert client.post("/api/jobs/wren/tighten/press", json={"run": run, "saw": "1.1"}, headers=origin).status_code == 422
    now = client.get("/api/jobs/wren/tighten").json()
    assert now["next"] == {"stage": 1, "bolt": "2"}
    body = {"run": run, "bolt": "2", "why": "torque fell"}
    assert client.post("/api/jobs/wren/tighten/doubt", json=body, headers=origin).status_code == 200
    body = {"run": run, "bolt": "2", "how": "new bolt, begun again"}
    assert client.post("/api/jobs/wren/tighten/settle", json=body, headers=origin).status_code == 200
    steps = client.get("/api/jobs/wren/steps").json()
    first = steps["rows"][0]["id"]
    sign = client.post("/api/jobs/wren/steps", json={"step": first, "by": "J. M."}, headers=origin)
    assert sign.status_code == 200
    assert client.get("/api/jobs/wren/steps").json()["rows"][0]["signed_by"] == "J. M."


def test_traces_for_programs(shop):
    client, _ = shop
    origin = {"Origin": "http://127.0.0.1:8620"}
    rows = "\n".join(f"{n / 2},{max(1.0, (n / 2 - 30) * 1.0 + 1):.2f}" for n in range(200))
    text = f"angle (deg),torque (N·m)\n{rows}\n"
    sent = {"text": text, "name": "bolt-2.csv", "by": "J. M."}
    assert client.post("/api/jobs/wren/tighten/head/traces", json=sent, headers=origin).status_code == 200
    (bolt,) = client.get("/api/jobs/wren/tighten/head/traces").json()["bolts"]
    assert bolt["bolt"] == "2"
    assert bolt["points"]["origin"]["angle"] == pytest.approx(30, abs=0.5)
    broken = client.post("/api/jobs/wren/tighten/head/traces", json={**sent, "text": "angle,torque\n1,2\n"}, headers=origin)
    assert broken.status_code == 422
    assert client.get("/api/jobs/wren/tighten/mains/traces").status_code == 422
