"""Start and head sheets over HTTP: what they show, where their links lead, what they say to a wrong address."""

import re
from html.parser import HTMLParser

import pytest

from shell.web.bench import EIGHT, HEAD, SINGLE, bench

VOID = {"meta", "link", "br", "input", "col", "img"}


@pytest.fixture(scope="module")
def client(tmp_path_factory):
    with bench(tmp_path_factory.mktemp("store")) as (client, _):
        yield client


class Page(HTMLParser):
    """Links, ids, text and what breaks the rules of the sheet."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.links: list[str] = []
        self.ids: list[str] = []
        self.styled: list[str] = []
        self.open: list[str] = []
        self.text = ""
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        known = dict(attrs)
        if tag == "a":
            self.links.append(known["href"])
        if "id" in known:
            self.ids.append(known["id"])
        if "style" in known or tag == "style" or any(name.startswith("on") for name in known):
            self.styled.append(f"{tag} {attrs}")
        if tag == "script" and "src" not in known:
            self.styled.append("inline script")
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        if tag not in VOID:
            assert self.open.pop() == tag, f"</{tag}> closes nothing"

    def handle_data(self, data):
        self.text += data


PAGES = [
    "/", "/jobs", f"/jobs/{HEAD}", f"/jobs/{SINGLE}", f"/jobs/{EIGHT}", f"/jobs/{HEAD}/head",
    f"/jobs/{SINGLE}/head",
    f"/jobs/{EIGHT}/head?bank=right", f"/jobs/{HEAD}/head?valve=exh-3f&values=shown",
    f"/jobs/{HEAD}/head?group=cams", f"/jobs/{HEAD}/head?group=head", f"/jobs/{HEAD}/job",
    f"/jobs/{HEAD}/record", "/new",
]  # fmt: skip


@pytest.mark.parametrize("address", PAGES)
def test_every_sheet_is_well_formed_and_keeps_to_its_content_policy(client, address):
    answer = client.get(address)
    assert answer.status_code == 200
    page = Page(answer.text)
    assert not page.open and not page.styled
    assert len(page.ids) == len(set(page.ids)), [name for name in page.ids if page.ids.count(name) > 1]
    assert not re.search(r"\b(invalid|failed|please|None|error occurred)\b", page.text)


@pytest.mark.parametrize("address", [*PAGES[:9], f"/jobs/{HEAD}/job", f"/jobs/{HEAD}/record"])
def test_every_link_of_a_sheet_leads_somewhere(client, address):
    links = {link.partition("#")[0] for link in Page(client.get(address).text).links}
    own = [link for link in links if link.startswith("/jobs") or link in {"/", "/new"}]
    assert own
    for link in sorted(own)[:: max(1, len(own) // 12)]:
        assert client.get(link).status_code == 200, link


def test_the_main_key_leads_to_the_next_station(client):
    page = client.get("/").text
    assert "14 readings left on the head" in page
    key = re.search(r'class="key main" href="([^"]+)"', page)[1]
    assert key == f"/jobs/{HEAD}/bench?characteristic=valve_lash&amp;place=exh-4f&amp;round=as+found"


def test_an_empty_store_says_how_to_begin(tmp_path):
    with bench(tmp_path, jobs=False) as (client, _):
        page = client.get("/").text
        assert "No job on the bench yet" in page and 'href="/new"' in page


def test_a_job_is_found_by_engine_or_number_and_one_that_is_not_there_is_told(client):
    assert "HL-0149" in client.get("/jobs?find=0149").text
    assert "HL-0147" in client.get("/jobs?find=tern").text
    assert "No job is called zzz" in client.get("/jobs?find=zzz").text


def test_the_picked_column_is_marked_once_and_its_words_can_be_shown(client):
    page = client.get(f"/jobs/{HEAD}/head?valve=exh-3f").text
    assert page.count('data-valve="exh-3f" aria-current="true"') == 1
    assert "Exh 3F: 4 out" in page
    assert "values=shown" in re.search(r'href="([^"]+)" data-valve="exh-3f" aria-current', page)[1]
    shown = client.get(f"/jobs/{HEAD}/head?valve=exh-3f&values=shown").text
    assert "values" not in re.search(r'href="([^"]+)" data-valve="exh-3f" aria-current', shown)[1]
    assert "0.71 is 0.09 under the least 0.8 you entered" in shown


def test_in_inch_the_head_shows_the_decimals_of_a_shop_micrometer(client):
    client.cookies.set("unit", "in")
    page = client.get(f"/jobs/{HEAD}/head").text
    client.cookies.clear()
    assert "least 0.2339 · 0.2333" in page


@pytest.mark.parametrize(("address", "words"), [
    ("/jobs/HL-0148", "Did you mean HL-014"),
    ("/jobs/HL-0148/head", "No job on this bench"),
    (f"/jobs/{HEAD}/head?round=last+week", "There are as found"),
    (f"/jobs/{HEAD}/head?valve=piston", "is no valve"),
    (f"/jobs/{HEAD}/record?sheet=two", "numbered from 1"),
    ("/jobs/%00", "No job"),
    ("/jobs/%F0%28", "No job"),
    ("/jobs/" + "9" * 3000, "No job"),
])  # fmt: skip
def test_a_wrong_address_is_told_with_what_to_do(client, address, words):
    answer = client.get(address)
    assert answer.status_code in (404, 414)
    assert words in answer.text
    assert "Traceback" not in answer.text


def test_a_job_without_an_engine_has_no_head_and_says_where_to_describe_it(tmp_path):
    with bench(tmp_path) as (client, store):
        store.create("HL-0200", created_at="2026-11-25T08:00:00+01:00")
        answer = client.get("/jobs/HL-0200/head")
        assert answer.status_code == 409 and "/jobs/HL-0200/job" in answer.text
        assert "Describe the engine" in client.get("/jobs/HL-0200").text
