"""Invented heads carried through: plan ordered, bolts turned, steps signed, tested, closed, taken away, proved.

The Wren in millimetres with nuts, the Egret with two banks in inches; each by the forms that the sheets send.
"""

import html
import re

import pytest

from shell.cli.command import run
from shell.web.bench import form
from shell.web.worked import heads
from witnessmark.record.job import ASKED

BY = "J. M."
ORIGIN = {"Origin": "http://127.0.0.1:8620"}
TESTED = {"wren": ("as assembled", "1180 kPa", {"altitude": "300 m", "inlet_closes": "44"}),
          "egret": ("as assembled", "165 psi", {"altitude": "1000 ft", "inlet_closes": "60"})}  # fmt: skip


@pytest.fixture(params=["wren", "egret"])
def head(request, tmp_path):
    with heads(tmp_path / "store", request.param) as (client, store):
        client.cookies.set("by", BY)
        yield request.param, client, store, tmp_path


def shown(page, name):
    """The value of the first blank of this name."""
    found = re.search(rf'name="{name}" value="([^"]*)"', page)
    return html.unescape(found[1]) if found else ""


def tightened(client, job, joint):
    """One joint from its first bolt to its last, without what waits for a warm-up."""
    sheet = f"/jobs/{job}/tighten/{joint}"
    assert form(client, f"{sheet}/begin", way="tighten").status_code == 303
    page = client.get(sheet).text
    run_ = shown(page, "run")
    while (saw := shown(page, "saw")) and ": again " not in page:
        assert form(client, f"{sheet}/press", run=run_, saw=saw, line="").status_code == 303
        page = client.get(sheet).text
    assert "are through their last stage" in page


def signed(client, job):
    """Every step, in the order of the sheet; one that waits for something outside this story with a note."""
    sheet = f"/jobs/{job}/assemble"
    count = 0
    while 'id="done"' in (page := client.get(sheet).text):
        words = {"step": shown(page, "step"), "seen": shown(page, "seen"), "did": "done"}
        answer = form(client, f"{sheet}/sign", **words)
        if answer.status_code == 422:
            answer = form(client, f"{sheet}/sign", **words, note="done as the book says")
        assert answer.status_code == 303, answer.text
        count += 1
    assert "Every step is signed." in page
    return count


def answered(client, store, job):
    """Every open question answered on the entry line, by its first answer."""
    for _ in range(20):
        asked = [one for one in store.job(job).readings if one.state == ASKED]
        if not asked:
            return
        line = {"characteristic": asked[0].characteristic, "place": asked[0].place, "round": asked[0].round, "line": "*1"}
        answer = client.post(f"/api/jobs/{job}/line", json={**line, "by": BY}, headers=ORIGIN)
        assert answer.status_code == 200, answer.text
    raise AssertionError("questions stay open")


def test_from_the_plan_to_a_closed_record_that_proves_itself(head):
    job, client, store, folder = head
    round_, reading, conditions = TESTED[job]
    form(client, f"/jobs/{job}/plan/order", name="A")
    for joint in re.findall(rf'href="/jobs/{job}/tighten/(\w+)"', client.get(f"/jobs/{job}/assemble").text):
        tightened(client, job, joint)
    assert signed(client, job) > 30
    assert form(client, f"/jobs/{job}/verify/conditions", **conditions).status_code == 303
    line = {"characteristic": "cranking_compression", "place": "cylinder-1", "round": round_, "line": reading, "by": BY}
    assert client.post(f"/api/jobs/{job}/line", json=line, headers=ORIGIN).status_code == 200
    verified = client.get(f"/jobs/{job}/verify").text
    assert "Nothing is expected" not in verified
    answered(client, store, job)
    page = client.get(f"/jobs/{job}/record").text
    closed = form(client, f"/jobs/{job}/record/close", seen=shown(page, "seen"), note="the customer takes it so")
    assert closed.status_code == 303, re.sub("<[^>]+>", " ", closed.text)[:2000]
    (closing,) = store.job(job).closings
    assert {"full-report", "assembly-sheet"} <= set(closing.papers)
    proves(client, job, folder)


def proves(client, job, folder):
    """What is taken away proves itself, and one byte changed is named."""
    bundle = folder / "evidence.zip"
    bundle.write_bytes(client.get(f"/jobs/{job}/evidence.zip").content)
    assert run("verify", str(bundle)).status == 0
    record = folder / "record.yaml"
    record.write_bytes(client.get(f"/api/jobs/{job}/export").content)
    text = record.read_text("utf-8")
    assert "bolt_turned" in text
    at = text.index('\\"bolt_turned\\"') if '\\"bolt_turned\\"' in text else text.index("bolt_turned")
    record.write_text(text[:at] + text[at:].replace("1", "2", 1), "utf-8")
    changed = run("verify", str(record))
    assert changed.status == 2
    assert changed.err.strip()
