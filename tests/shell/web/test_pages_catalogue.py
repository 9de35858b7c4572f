"""The catalogue, part sheets and the list of what to measure as pages: forms without a script, words of either side."""

import pytest
from starlette.testclient import TestClient

from shell.web.shop import JOB, Shop


@pytest.fixture
def shop(tmp_path):
    shop = Shop(tmp_path)
    shop.open_job()
    shop.measure()
    return shop


@pytest.fixture
def client(shop):
    return TestClient(shop.app(), base_url="http://127.0.0.1")


def test_the_catalogue_is_found_by_the_other_sides_word(client):
    assert "gasket face flatness" in client.get("/catalogue?find=warpage").text
    assert 'find=warpage">warpage</a>' in client.get("/catalogue?find=warpge").text


def test_every_entry_has_a_page_also_in_the_engine_of_a_job(shop, client):
    for name in shop.catalogue.characteristics:
        answer = client.get(f"/catalogue/{name}?job={JOB}")
        assert answer.status_code == 200, name
    text = client.get(f"/catalogue/stem_diameter?job={JOB}").text
    assert "usual, not a limit" in text and "5.940" in text and "print the card" in text


def test_an_unknown_entry_is_told_with_the_nearest(client):
    answer = client.get("/catalogue/stem_diametr")
    assert answer.status_code == 404 and "stem_diameter" in answer.text


def test_the_card_of_an_entry_comes_as_a_pdf(client):
    answer = client.get("/catalogue/stem_diameter.pdf?paper=letter")
    assert answer.status_code == 200 and answer.content.startswith(b"%PDF")


def test_ways_of_looking_say_what_they_cannot_find(client):
    assert "proves nothing" in client.get("/catalogue/methods").text


def test_words_follow_the_setting_of_the_device_and_data_do_not(client):
    client.cookies.set("words", "american")
    assert "Gasket face warpage" in client.get("/catalogue/head_flatness").text
    assert "warpage" not in client.get("/api/catalogue/head_flatness").json()["term"]


@pytest.mark.parametrize("place", ["inl-3f", "cam-inl/lobe-3f", "cam-inl/journal-2", "cam-inl", "drive", "bolt-1"])
def test_every_kind_of_part_has_its_sheet(client, place):
    assert client.get(f"/jobs/{JOB}/part/{place}").status_code == 200


@pytest.mark.parametrize("kind", ["valve", "guide", "seat", "spring", "follower"])
def test_a_valve_shares_its_place_with_its_fellows(client, kind):
    answer = client.get(f"/jobs/{JOB}/part/inl-3f?kind={kind}")
    assert answer.status_code == 200 and f"Inl 3F, {kind}" in answer.text


def test_a_place_without_a_part_of_its_own_is_told(client):
    assert client.get(f"/jobs/{JOB}/part/inl-9f").status_code == 404
    assert client.get(f"/jobs/{JOB}/part/gasket-face").status_code == 404


def test_a_part_gets_its_name_and_a_spare_lies_on_the_shelf(shop, client):
    answer = client.post(f"/jobs/{JOB}/part/inl-3f", data={"part": "spare-1", "kind": "valve", "new": "yes", "at": "shelf"})
    assert answer.status_code == 200 and "new valve, on the shelf" in answer.text
    assert shop.store.job(JOB).parts["spare-1"].at is None


def test_a_part_without_a_name_is_told_at_the_form(client):
    answer = client.post(f"/jobs/{JOB}/part/inl-3f", data={"part": " ", "kind": "valve", "new": "yes"})
    assert answer.status_code == 422 and "a part needs a name" in answer.text


def test_the_list_is_written_into_the_job_and_walked(shop, client):
    before = shop.state().progress[1]
    answer = client.post(f"/jobs/{JOB}/list", data={"measure": ["valve_lash", "margin"]})
    assert answer.status_code == 200 and "The list is kept." in answer.text
    job = shop.store.job(JOB)
    assert list(job.header["also_measure"]) == ["valve_lash", "margin"]
    assert job.header["complaint"] == "overheated" and job.engine and not job.conflicts
    assert shop.state().progress[1] == before + 32


@pytest.mark.parametrize(("preset", "has", "lacks"), [
    ("gasket job", "head_cracks", "stem_diameter"), ("valve job", "valve_lash", "head_cracks"),
    ("whole head", "cam_runout", "deck_finish"),
])  # fmt: skip
def test_a_preset_ticks_what_such_a_job_needs(shop, client, preset, has, lacks):
    client.post(f"/jobs/{JOB}/list", data={"preset": preset})
    listed = shop.store.job(JOB).header["also_measure"]
    assert has in listed and lacks not in listed


@pytest.mark.parametrize("name", ["stem_diametr", "pushrod_length"])
def test_what_this_engine_does_not_have_stays_off_the_list(shop, client, name):
    answer = client.post(f"/jobs/{JOB}/list", data={"measure": [name]})
    assert answer.status_code == 422
    assert "also_measure" not in shop.store.job(JOB).header


def test_facts_of_the_job_are_kept_in_its_head_and_one_left_empty_is_struck_out(shop, client):
    facts = {"head_number": "H-0412", "distance": "182 000 km", "received": "2026-11-24", "complaint": ""}
    assert client.post(f"/jobs/{JOB}/job/facts", data=facts).status_code == 200
    header = shop.store.job(JOB).header
    assert (header["head_number"], header["received"]) == ("H-0412", "2026-11-24")
    assert "complaint" not in header and header["engine"] == "Tern 2.0"


def test_a_day_that_is_none_is_told_at_the_form_and_stays_typed(shop, client):
    answer = client.post(f"/jobs/{JOB}/job/facts", data={"received": "last week"})
    assert answer.status_code == 422 and 'value="last week"' in answer.text
    assert "received" not in shop.store.job(JOB).header


def test_sheets_of_a_job_speak_as_the_device_does(client):
    client.cookies.set("words", "american")
    assert "gasket face warpage" in client.get(f"/jobs/{JOB}/head?group=valves").text
    assert "gasket face warpage" not in client.get(f"/api/jobs/{JOB}/judge").text
    client.cookies.clear()
    assert "warpage" not in client.get(f"/jobs/{JOB}/head?group=valves").text


def test_what_the_pages_do_programs_can_do(shop, client):
    assert client.post(f"/api/jobs/{JOB}/list", json={"measure": ["margin"]}).status_code == 200
    assert client.post(f"/api/jobs/{JOB}/facts", json={"facts": {"hours": "3400 h"}}).status_code == 200
    assert shop.store.job(JOB).header["hours"] == "3400 h" and not shop.store.job(JOB).conflicts
    refused = client.post(f"/api/jobs/{JOB}/facts", json={"facts": {"colour": "red"}})
    assert refused.status_code == 422 and "head_number" in refused.text
    assert {one["id"] for one in client.get("/api/methods").json()["methods"]} == set(shop.catalogue.methods)
