"""The gauges of a job and of the works: due dates in words, zero checks with what they touch, two gauges on one part."""

import pytest

from shell.web.bench import bench, form
from witnessmark.shell.demo import demo_events

TERN, EGRET = "GA-1", "GA-2"


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    with bench(tmp_path_factory.mktemp("store")) as both:
        client, store = both
        for name, job in (("tern", TERN), ("egret", EGRET)):
            store.create(job, created_at="2026-11-25T08:00:00Z", title=name, events=demo_events(name))
        yield client, store


def test_the_register_of_a_job_says_what_each_gauge_is_and_when_it_is_due(shop):
    client, store = shop
    page = client.get(f"/jobs/{TERN}/gauges").text
    assert all(name in page for name in store.job(TERN).gauges)
    assert "past due since" in page and "due in" in page


def test_the_works_see_every_gauge_of_every_job_what_is_late_first(shop):
    client, store = shop
    page = client.get("/gauges").text
    names = {*store.job(TERN).gauges, *store.job(EGRET).gauges}
    assert all(f"<b>{name}</b>" in page for name in names)
    assert page.index("past due since") < page.index("due in ")


def test_a_check_that_passes_touches_nothing(shop):
    client, store = shop
    before = len(store.job(TERN).checks)
    answer = form(client, f"/jobs/{TERN}/gauges/zero", gauge="M-07", found="0.000", against="closed", when="before")
    assert answer.status_code == 303
    assert len(store.job(TERN).checks) == before + 1 and store.job(TERN).checks[-1].passed
    assert "are open again" not in client.get(f"/jobs/{TERN}/gauges").text


def test_a_check_after_the_series_opens_what_lies_since_the_last_good_one_and_nothing_else(shop):
    client, _ = shop
    judged = client.get(f"/api/jobs/{TERN}/judge").json()
    assert not any(row["suspect"] for row in judged["results"])
    line = {"line": "5.961", "characteristic": "stem_diameter", "place": "inl-4f/top/along", "gauge": "M-07"}
    taken = client.post(f"/api/jobs/{TERN}/line", json=line).json()
    form(client, f"/jobs/{TERN}/gauges/zero", gauge="M-07", found="+0.020", when="after")
    touched = {name for row in client.get(f"/api/jobs/{TERN}/judge").json()["results"] for name in row["suspect"]}
    assert touched == {taken["reading"]}
    page = client.get(f"/jobs/{TERN}/gauges").text
    assert "1 of 1 readings since the last good check are open again" in page and "stem diameter, 1 reading" in page


def test_what_cannot_be_kept_is_told_at_the_form_and_stays_in_its_blanks(shop):
    client, store = shop
    before = store.job(TERN).seq
    answer = form(client, f"/jobs/{TERN}/gauges/zero", gauge="M-07", found="nearly", when="after")
    assert answer.status_code == 422 and 'value="nearly"' in answer.text and "nearly" in answer.text
    assert form(client, f"/jobs/{TERN}/gauges/zero", gauge="L-04", found="0").status_code == 422
    assert form(client, f"/jobs/{TERN}/gauges/weigh", gauge="M-07").status_code == 404
    assert store.job(TERN).seq == before


def test_two_gauges_on_one_part_are_told_in_a_sentence_with_e_n(shop):
    client, _ = shop
    names = {"first": "M-07", "second": "M-25", "on": "ring 6"}
    assert form(client, f"/jobs/{TERN}/gauges/compare", first_read="6.001", second_read="6.000", **names).status_code == 303
    assert "they agree within their doubts" in client.get(f"/jobs/{TERN}/gauges").text
    form(client, f"/jobs/{TERN}/gauges/compare", first_read="6.031", second_read="6.000", **names)
    assert "One of them is wrong" in client.get(f"/jobs/{TERN}/gauges").text


def test_the_start_sheet_leads_to_the_gauges_and_says_which_are_late(shop):
    client, _ = shop
    page = client.get(f"/jobs/{TERN}").text
    assert f'href="/jobs/{TERN}/gauges"' in page and "past due" in page
