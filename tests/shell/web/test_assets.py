"""Static files: kept for a year under names that change with their content; nothing from elsewhere, nothing inline."""

import re

import pytest
from starlette.testclient import TestClient

from shell.web.shop import JOB, Shop
from witnessmark.shell.web.assets import FOLDER, Assets


@pytest.fixture(scope="module")
def client(tmp_path_factory):
    shop = Shop(tmp_path_factory.mktemp("assets"))
    shop.open_job()
    shop.measure()
    yield TestClient(shop.app(hosts=["testserver"]))
    shop.store.close()


def test_a_file_under_its_name_may_be_kept_and_under_an_old_name_not(client):
    known = Assets().address("style.css")
    assert "immutable" in client.get(known).headers["cache-control"]
    assert client.get("/static/000000000000/style.css").headers["cache-control"] == "no-store"


@pytest.mark.parametrize("name", ["nothing.css", "../app.py", "%2e%2e/app.py", "fonts/", ""])
def test_what_is_no_static_file_is_not_served(client, name):
    assert client.get(f"/static/000000000000/{name}").status_code == 404


def test_the_digest_changes_with_any_file(tmp_path):
    (tmp_path / "a.css").write_text("a{}")
    first = Assets(tmp_path).digest
    (tmp_path / "a.css").write_text("b{}")
    assert Assets(tmp_path).digest != first


def test_the_first_page_weighs_under_150_kilobytes_with_all_that_it_asks_for(client):
    page = client.get(f"/jobs/{JOB}/bench")
    wanted = set(re.findall(r'(?:href|src)="(/static/[^"]+)"', page.text))
    folder = "/".join(next(iter(wanted)).split("/")[:3])
    css = [client.get(url).text for url in wanted if url.endswith(".css")]
    fonts = {url for text in css for url in re.findall(r"url\((fonts/[^)]+)\)", text)}
    # B612 is fetched only for its three signs; all scripts count, since modules ask for each other.
    wanted |= {f"{folder}/{name}" for name in fonts if "b612" not in name}
    wanted |= {f"{folder}/{path.name}" for path in FOLDER.glob("*.js")}
    total = page.num_bytes_downloaded + sum(client.get(url).num_bytes_downloaded for url in wanted)
    assert 60_000 < total < 150_000, f"{total} bytes"


def test_no_page_has_inline_script_or_style_or_asks_another_host(client):
    page = client.get(f"/jobs/{JOB}/bench").text
    assert not re.search(r"<script(?![^>]*\bsrc=)|<style|\sstyle=|\son[a-z]+=", page)
    assert not re.search(r"(?:src|href)=\"(?:https?:)?//", page)


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.js")), ids=lambda path: path.name)
def test_scripts_are_short_and_stay_at_home(path):
    text = path.read_text("utf-8")
    assert len(text.splitlines()) <= 300, "part it by subject"
    assert not re.search(r"https?://|innerHTML|eval\(|document\.write", text)


def test_every_font_has_its_licence_beside_it():
    fonts = {path.name.split("-latin")[0] for path in (FOLDER / "fonts").glob("*.woff2")}
    assert fonts == {path.name.removesuffix(".LICENSE.txt") for path in (FOLDER / "fonts").glob("*.LICENSE.txt")}
