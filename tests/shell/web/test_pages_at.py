"""Where labels and blank sheets lead, and the papers that are taken away, over HTTP."""

from urllib.parse import parse_qs, urlsplit

import pytest

from shell.web.bench import HEAD, bench
from witnessmark.desk.sheets.blank_sheet import blank_sheets
from witnessmark.desk.state import state
from witnessmark.shell.resources import catalogue


@pytest.fixture(scope="module")
def both(tmp_path_factory):
    with bench(tmp_path_factory.mktemp("store")) as both:
        yield both


def led(client, address: str) -> dict[str, str]:
    """What the bench is asked for where an address leads."""
    answer = client.get(address, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    there = urlsplit(answer.headers["location"])
    assert there.path == f"/jobs/{HEAD}/bench"
    assert client.get(answer.headers["location"]).status_code == 200
    return {key: values[0] for key, values in parse_qs(there.query).items()}


@pytest.mark.parametrize("place", ["inl-4f", "exh-3f", "bolt-2", "cam-inl/journal-3"])
def test_a_label_opens_the_bench_at_its_place(both, place):
    client, _ = both
    asked = led(client, f"/at/{HEAD}/{place}")
    assert asked["place"] == place or asked["place"].startswith(f"{place}/")


def test_a_label_opens_what_is_still_to_be_read_there(both):
    client, store = both
    now = state(store.job(HEAD), catalogue())
    asked = led(client, f"/at/{HEAD}/inl-4f")
    first = next(stop for stop in now.route if stop.location == "inl-4f" and not now.done(stop))
    assert (asked["characteristic"], asked["place"]) == (first.characteristic, first.place)


@pytest.mark.parametrize("address", [
    f"/at/{HEAD}/piston-3", f"/at/{HEAD}/inl-9f", "/at/HL-9999/inl-1f", f"/at/{HEAD}/", f"/at/{HEAD}/inl-1f?round=x",
    f"/jobs/{HEAD}/sheets/B1-0000", f"/jobs/{HEAD}/sheets/seat", f"/jobs/{HEAD}/sheets/1?order=backwards",
    f"/jobs/{HEAD}/papers/poster.pdf", f"/jobs/{HEAD}/papers/short.pdf?paper=a3", f"/jobs/{HEAD}/report.pdf?paper=a3",
])  # fmt: skip
def test_what_is_not_there_is_told_in_words(both, address):
    client, _ = both
    answer = client.get(address, follow_redirects=False)
    assert answer.status_code == 404
    assert "Traceback" not in answer.text


def test_a_blank_sheet_is_typed_back_from_its_first_open_station(both):
    client, store = both
    now = state(store.job(HEAD), catalogue())
    sheet = blank_sheets(now)[1]
    first = next((stop for stop in sheet.stops if not now.done(stop)), sheet.stops[0])
    for name in ("2", sheet.code):
        asked = led(client, f"/jobs/{HEAD}/sheets/{name}")
        assert (asked["characteristic"], asked["place"]) == (first.characteristic, first.place)


@pytest.mark.parametrize("name", ["short", "blank", "labels", "cards"])
def test_every_paper_can_be_taken_away_on_both_papers(both, name):
    client, _ = both
    found = [client.get(f"/jobs/{HEAD}/papers/{name}.pdf?paper={paper}") for paper in ("a4", "letter")]
    assert all(one.status_code == 200 and one.content.startswith(b"%PDF") for one in found)
    assert found[0].content != found[1].content
    assert f"{HEAD}-{name}.pdf" in found[0].headers["content-disposition"]
