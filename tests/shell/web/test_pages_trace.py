"""The sheet of traces over HTTP: files in, curve and table out; what is not taken is told and the rest is kept."""

import re

from desk.test_traces import csv
from shell.web.bench import form
from shell.web.worked import shop_of

shop = shop_of("wren")
PAGE = "/jobs/wren/tighten/head/traces"


def send(client, *files, **fields):
    sent = [("file", (name, data if isinstance(data, bytes) else data.encode(), "text/csv")) for name, data in files]
    return client.post(PAGE, data=fields, files=sent, headers={"Origin": "http://127.0.0.1:8620"})


def test_files_are_sent_and_shown(shop):
    client, store = shop
    assert "No trace yet" in client.get(PAGE).text
    assert f'href="{PAGE}"' in client.get("/jobs/wren/tighten/head").text
    assert form(client, "/jobs/wren/tighten/head/begin", way="tighten").status_code == 303
    done = send(client, *((f"bolt-{n}.csv", csv(n)) for n in range(1, 5)))
    assert done.status_code == 303
    assert done.headers["location"] == f"{PAGE}?bolt=4"
    page = client.get(done.headers["location"]).text
    assert "4 of 4 bolts have a trace" in page
    assert "<title id=\"trace-name\">torque over angle, bolt 4 among 4, in N·m" in page
    assert "not tightened to yield" in page
    assert "Five bolts at least are needed" in page
    assert [event.kind for event in store.events("wren")].count("trace_entered") == 4
    client.cookies.set("unit", "in")
    page = client.get(f"{PAGE}?bolt=1").text
    assert "in lbf·ft" in page
    assert re.search(r'aria-current="true"><b>1</b>', page)


def test_what_is_not_taken_is_told_and_the_rest_is_kept(shop):
    client, store = shop
    answer = send(client, ("bolt-1.csv", csv(1)), ("bolt-2.csv", "angle,torque (mm)\n1,2\n"), ("photo.csv", b"\xff\x00"),
                  ("curve.csv", csv(3)))  # fmt: skip
    assert answer.status_code == 422
    assert "bolt-2.csv:1: in which unit is the angle?" in answer.text
    assert "photo.csv: this is no text" in answer.text
    assert "Which bolt is curve.csv?" in answer.text
    assert [event.body["bolt"] for event in store.events("wren") if event.kind == "trace_entered"] == ["1"]
    assert send(client).status_code == 422
    assert send(client, ("1.csv", csv(2)), bolt="9").status_code == 422
    assert client.get("/jobs/wren/tighten/none/traces").status_code == 404


def test_the_old_code_page_and_the_wide_one(shop):
    client, _ = shop
    old = csv(1).replace("(deg)", "(°)").replace("N·m", "Nm")
    assert send(client, ("1.csv", old.encode("cp1252"))).status_code == 303
    assert send(client, ("2.csv", csv(2).encode("utf-16"))).status_code == 303


def test_a_run_in_the_file_is_chosen(shop):
    client, _ = shop
    twice = csv(1) + csv(2).split("\n", 1)[1]
    answer = send(client, ("1.csv", twice))
    assert "run 1 to 2" in answer.text
    assert send(client, ("1.csv", twice), part="2").status_code == 303


def test_a_trace_of_the_wrong_bolt_is_taken_back(shop):
    client, store = shop
    send(client, ("bolt-1.csv", csv(1)))
    page = client.get(PAGE).text
    assert "take back <b>bolt 1, bolt-1.csv</b>" in page
    event = re.search(r'name="event" value="([^"]+)"', page)[1]
    assert form(client, f"{PAGE}/back", event=event).status_code == 303
    assert store.job("wren").traces == ()
    again = form(client, f"{PAGE}/back", event=event)
    assert again.status_code == 422
    assert "not in the record any more" in again.text
    assert send(client, ("bolt-2.csv", csv(1))).status_code == 303
