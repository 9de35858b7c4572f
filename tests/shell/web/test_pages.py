"""What every page shares: the unit of a device that was never told, and the words of either side of the Atlantic."""

import re

import pytest

from shell.web.bench import bench
from witnessmark.shell.demo import demo_events

TERN, EGRET = "PA-1", "PA-2"


@pytest.fixture(scope="module")
def client(tmp_path_factory):
    with bench(tmp_path_factory.mktemp("store")) as (client, store):
        for name, job in (("tern", TERN), ("egret", EGRET)):
            store.create(job, created_at="2026-11-25T08:00:00Z", title=name, events=demo_events(name))
        yield client


def unit_of(page):
    return re.search(r'<body data-unit="(\w+)"', page)[1]


def words_of(page):
    return re.sub(r"<[^>]*>", " ", re.sub(r"<style.*?</style>|<script.*?</script>", "", page, flags=re.S))


def test_a_job_measured_in_inch_is_shown_in_inch_until_the_device_says_otherwise(client):
    assert unit_of(client.get(f"/jobs/{EGRET}/head").text) == "in"
    assert unit_of(client.get(f"/jobs/{TERN}/head").text) == "mm"
    for unit in ("mm", "in"):
        client.cookies.set("unit", unit)
        assert {unit_of(client.get(f"/jobs/{job}/head").text) for job in (TERN, EGRET)} == {unit}
    client.cookies.delete("unit")
    assert client.get("/jobs/NO-1/head").status_code == 404


def test_templates_and_drawings_speak_the_words_of_the_device_and_nothing_else_changes(client):
    plain = client.get(f"/jobs/{TERN}/head").text
    client.cookies.set("words", "american")
    spoken = client.get(f"/jobs/{TERN}/head").text
    client.cookies.delete("words")
    word = r"\binlet\b(?! (edge|face|cam))"  # places have one form everywhere
    assert re.search(word, words_of(plain)) and not re.search(word, words_of(spoken))
    assert re.search(r"\bintake\b", words_of(spoken))
    assert re.findall(r'(?:href|id|class|name|data-[a-z]+)="[^"]*"', plain) == re.findall(
        r'(?:href|id|class|name|data-[a-z]+)="[^"]*"', spoken
    ), "no address, id or class is a word"
    assert re.findall(r"\d[\d.]*", words_of(plain)) == re.findall(r"\d[\d.]*", words_of(spoken))


def test_what_a_person_typed_is_never_put_into_other_words(client):
    note = {"about": "inl-1f", "text": "the inlet is grey at its centre"}
    assert client.post(f"/api/jobs/{TERN}/note", json=note).status_code == 200
    client.cookies.set("words", "american")
    assert "the inlet is grey at its centre" in client.get(f"/jobs/{TERN}/record?sheet=99").text or any(
        "the inlet is grey at its centre" in client.get(f"/jobs/{TERN}/record?sheet={n}").text for n in range(1, 30)
    )
    client.cookies.delete("words")
