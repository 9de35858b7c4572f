"""The sheet of this device: what it keeps, what it refuses, and where its way back may lead."""

import pytest

from shell.web.bench import HEAD, bench, form


@pytest.fixture(scope="module")
def client(tmp_path_factory):
    with bench(tmp_path_factory.mktemp("store")) as (client, _):
        yield client


@pytest.fixture(autouse=True)
def fresh(client):
    client.cookies.clear()


def test_a_setting_is_kept_for_a_year_and_the_next_page_has_it(client):
    told = form(client, "/settings", name="letters", value="larger", back=f"/jobs/{HEAD}/head")
    assert told.status_code == 303 and told.headers["location"].endswith("#set-letters")
    assert "max-age=31536000" in told.headers["set-cookie"].lower() and "samesite=strict" in told.headers["set-cookie"].lower()
    assert 'data-letters="larger"' in client.get(f"/jobs/{HEAD}/head").text
    assert 'aria-pressed="true"><span>larger' in client.get("/settings").text


def test_the_usual_value_is_no_cookie_again(client):
    form(client, "/settings", name="hand", value="left")
    assert 'data-hand="left"' in client.get("/jobs").text
    form(client, "/settings", name="hand", value="")
    assert "data-hand" not in client.get("/jobs").text


def test_who_reads_is_kept_as_it_was_written(client):
    form(client, "/settings", name="by", value="  Zoë M., Ångström ")
    assert 'value="Zoë M., Ångström"' in client.get("/settings").text


@pytest.mark.parametrize(("name", "value"), [("colour", "red"), ("letters", "huge"), ("light", "noon")])
def test_what_no_device_has_is_refused_with_what_there_is(client, name, value):
    told = form(client, "/settings", name=name, value=value)
    assert told.status_code == 422 and not told.headers.get("set-cookie")
    assert ("no setting called" in told.text) or ("It may be" in told.text)


@pytest.mark.parametrize("back", ["//elsewhere.example/", "https://elsewhere.example/", "/\\elsewhere.example", "jobs", "/a\nb"])
def test_the_way_back_never_leaves_the_bench(client, back):
    assert '<a class="key small" href="/">back' in client.get("/settings", params={"back": back}).text


def test_the_way_back_is_the_sheet_that_the_hand_came_from(client):
    page = client.get("/settings", headers={"Referer": f"http://127.0.0.1:8620/jobs/{HEAD}/head?valve=inl-1f"})
    assert f'href="/jobs/{HEAD}/head?valve=inl-1f">back' in page.text
    page = client.get("/settings", headers={"Referer": "http://elsewhere.example/jobs"})
    assert 'href="/">back' in page.text


def test_a_cookie_that_says_nothing_known_changes_nothing(client):
    client.cookies.set("letters", '"><script>')
    assert "data-letters" not in client.get("/jobs").text


def test_the_unit_is_that_of_the_job_until_the_device_says_otherwise(client):
    assert 'name="value" value="" aria-pressed="true"><span>as the job' in client.get("/settings").text
    form(client, "/settings", name="unit", value="in")
    assert 'data-unit="in"' in client.get(f"/jobs/{HEAD}").text
    form(client, "/settings", name="unit", value="")
    assert 'data-unit="mm"' in client.get(f"/jobs/{HEAD}").text
