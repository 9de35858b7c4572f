"""The way of one reading through the API: kept before it is answered, once and only once."""

from typing import get_args

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient

from shell.web.shop import JOB
from witnessmark.shell.web.shapes import LineOut

HERE = {"characteristic": "stem_diameter", "place": "inl-3f/middle/across"}


@pytest.fixture
def client(shop):
    return TestClient(shop.app(hosts=["testserver"]))


def post(client, line, **more):
    answer = client.post(f"/api/jobs/{JOB}/line", json={"line": line, "device": "d-1", **HERE, **more})
    assert answer.status_code == 200, answer.text
    return answer.json()


def test_a_reading_is_in_the_store_when_it_is_answered(shop, client):
    said = post(client, "5.951", id="r-1")
    assert said["status"] == "kept" and said["echo"].startswith("5.951 kept as it came")
    kept = shop.store.events(JOB)[-1]
    assert (kept.seq, kept.id, kept.body["raw"]) == (said["seq"], "r-1", "5.951")
    assert '"line":"5.951"' in kept.received.replace(" ", ""), "the bytes as they came are kept"


def test_the_answer_leads_on_along_the_route(client):
    onward = post(client, "5.951")["next"]
    assert (onward["name"], onward["detail"], onward["n"], onward["of"]) == ("Inl 3F", "bottom, along", 5, 6)


def test_the_same_line_sent_again_is_stored_once(shop, client):
    body = {"line": "5.951", "device": "d-1", "id": "r-1", "at": "2026-11-24T10:42:18Z", **HERE}
    first = client.post(f"/api/jobs/{JOB}/line", json=body).json()
    again = client.post(f"/api/jobs/{JOB}/line", json=body).json()
    assert (first["again"], again["again"]) == (False, True)
    assert first["seq"] == again["seq"] == shop.store.job(JOB).seq


def test_another_line_under_the_same_id_is_told_and_not_stored(shop, client):
    post(client, "5.951", id="r-1")
    before = shop.store.job(JOB).seq
    answer = client.post(f"/api/jobs/{JOB}/line", json={"line": "5.950", "device": "d-1", "id": "r-1", **HERE})
    assert answer.status_code == 409 and "r-1" in answer.json()["what"]
    assert shop.store.job(JOB).seq == before


def test_a_line_without_a_gauge_takes_the_one_in_hand_and_can_be_told_not_to(shop, client):
    post(client, "5.951", id="r-1")
    post(client, "5.951", id="r-2", gauge="assumed")
    gauges = {reading.id: reading.gauge for reading in shop.store.job(JOB).readings}
    assert (gauges["r-1"], gauges["r-2"]) == ("M-07", None)


def test_a_bare_number_has_the_unit_of_the_gauge_in_hand(shop, client):
    post(client, "0.2344", id="r-1", gauge="M-11")
    meaning = next(r.meaning for r in shop.store.job(JOB).readings if r.id == "r-1")
    assert (meaning["value"], meaning["unit"]) == ("0.2344", "in")


def test_the_temperature_of_the_part_is_kept_with_a_decimal_point(shop, client):
    post(client, "5.951", id="r-1", temperature={"part": "24,5"})
    assert next(r.temperature for r in shop.store.job(JOB).readings if r.id == "r-1") == {"part": "24.5", "gauge": None}
    assert client.get(f"/jobs/{JOB}/bench").status_code == 200


@pytest.mark.parametrize("part", ["warm", "", "1e9", "21 °C", "nan"])
def test_a_temperature_that_is_no_number_is_told_and_the_reading_not_kept(shop, client, part):
    before = shop.store.job(JOB).seq
    sent = {"line": "5.951", "temperature": {"part": part}, **HERE}
    answer = client.post(f"/api/jobs/{JOB}/line", json=sent)
    assert answer.status_code == 422 and "temperature.part" in answer.json()["what"]
    assert shop.store.job(JOB).seq == before


def test_an_empty_line_skips_no_place(client):
    assert post(client, "  ")["status"] == "nothing"


def test_what_cannot_be_read_says_which_characters(client):
    said = post(client, "5..952")
    assert said["status"] == "unread" and said["span"] == [2, 3]
    assert said["next"]["place"] == HERE["place"], "the walk stays"


def test_two_meanings_are_offered_and_the_answer_is_taken(shop, client):
    said = post(client, "2 tenths", id="r-1")
    assert said["status"] == "which" and len(said["question"]["answers"]) >= 2
    done = post(client, "*1", question=said["reading"])
    assert done["status"] == "done"
    assert next(r for r in shop.store.job(JOB).readings if r.id == "r-1").meaning is not None


def test_a_correction_names_what_it_replaces_and_takes_one_digit_for_the_reason(shop, client):
    post(client, "5.952", id="r-1")
    said = post(client, "5.951", id="r-2", supersedes="r-1")
    assert said["correction"] is True
    told = client.post(f"/api/jobs/{JOB}/reason", json={"reading": "r-2", "digit": "1"})
    assert told.status_code == 200
    states = {reading.id: reading.state for reading in shop.store.job(JOB).readings}
    assert (states["r-1"], states["r-2"]) == ("superseded", "counted")


def test_a_characteristic_beside_the_route_walks_on_as_well(client):
    onward = post(client, "45.1", characteristic="spring_free_length", place="inl-1f")["next"]
    assert (onward["characteristic"], onward["place"]) == ("spring_free_length", "inl-1r")


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(line=st.one_of(st.text(max_size=40), st.from_regex(r"[-+*/.,0-9 ]{1,12}", fullmatch=True)))
def test_no_line_breaks_anything(client, line):
    answer = client.post(f"/api/jobs/{JOB}/line", json={"line": line, "device": "d-1", **HERE})
    assert answer.status_code in {200, 422}
    if answer.status_code == 200:
        assert answer.json()["status"] in get_args(LineOut.model_fields["status"].annotation)


def test_on_the_quick_route_a_value_near_its_limit_asks_for_the_other_stations_and_leads_there(shop, client):
    assert client.post(f"/api/jobs/{JOB}/route", json={"extent": "quick"}).status_code == 200
    far = post(client, "5.969", place="inl-4f/top/across")
    assert "near its limit" not in far["echo"]
    near = post(client, "5.9405", place="inl-4r/top/across")
    assert "near its limit, so" in near["echo"] and "more places are read" in near["echo"]
    assert near["next"]["place"].startswith("inl-4r/") and near["next"]["place"] != "inl-4r/top/across"
