"""Forms of the job sheet: what is taken is kept once; what cannot be taken is told and stays in its blanks."""

import pytest

from desk.sheets.tern import LIMITS
from shell.web.bench import HEAD, SINGLE, bench, form

BAD = """\
format: witnessmark-limits-1
sheet: {name: X, document: d}
limits:
  stem_diamter:
    - {service: {low: "6"}, unit: mm}
  margin:
    - {service: {low: "2", high: "1"}, unit: mm}
"""


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    with bench(tmp_path_factory.mktemp("store")) as both:
        yield both


def test_an_engine_is_described_anew(shop):
    client, store = shop
    answer = form(client, f"/jobs/{SINGLE}/job/engine", layout="inline", cylinders="2", inl="2", exh="1", gear="rocker")
    assert (answer.status_code, answer.headers["location"]) == (303, f"/jobs/{SINGLE}/job?kept=engine#engine")
    assert store.job(SINGLE).engine["valves"] == {"inl": ["f", "r"], "exh": "1"}
    assert "The engine is kept." in client.get(f"/jobs/{SINGLE}/job?kept=engine").text


def test_each_fault_of_an_engine_stands_at_its_blank_and_nothing_is_kept(shop):
    client, store = shop
    before = store.job(SINGLE).seq
    answer = form(
        client, f"/jobs/{SINGLE}/job/engine", layout="inline", cylinders="99", inl="2", exh="2", gear="bukkit"
    )
    assert answer.status_code == 422
    assert 'id="engine-cylinders-told"' in answer.text and 'id="engine-gear-told"' in answer.text
    assert 'value="99"' in answer.text and 'value="bukkit" selected' in answer.text
    assert store.job(SINGLE).seq == before


def test_all_faults_of_a_limit_sheet_are_told_with_line_and_column_and_the_text_stays(shop):
    client, store = shop
    before = store.job(SINGLE).limits
    answer = form(client, f"/jobs/{SINGLE}/job/limits", name="TN-4", text=BAD)
    assert answer.status_code == 422
    assert "line 4, column 3" in answer.text and "did you mean &#39;stem_diameter&#39;" in answer.text
    assert "line 7, column" in answer.text
    assert "stem_diamter:" in answer.text and 'value="TN-4"' in answer.text
    assert store.job(SINGLE).limits == before


def test_a_limit_sheet_comes_by_file_and_takes_its_name(shop):
    client, store = shop
    came = LIMITS.replace("\n", "\r\n")  # line ends stay as the file has them
    files = {"file": ("TN-9.yaml", b"\xef\xbb\xbf" + came.encode(), "text/yaml")}
    answer = client.post(f"/jobs/{SINGLE}/job/limits", files=files, data={"text": "", "name": ""},
                         headers={"Origin": "http://127.0.0.1:8620"})  # fmt: skip
    assert answer.status_code == 303
    assert (store.job(SINGLE).limits.name, store.job(SINGLE).limits.text) == ("TN-9.yaml", came)


@pytest.mark.parametrize(("content", "words"), [
    (b"\xff\xfe", "Byte 1 of x.yaml is no UTF-8"),
    (b"a: &x [1]\nb: *x\n", "line 1"),
    (b"[" * 5000, "line 1"),
    (b"\x00", "line 1"),
    (b"", "Nothing was pasted and no file was chosen"),
])  # fmt: skip
def test_a_file_that_is_no_limit_sheet_is_told(shop, content, words):
    client, store = shop
    before = store.job(SINGLE).seq
    answer = client.post(f"/jobs/{SINGLE}/job/limits", files={"file": ("x.yaml", content, "text/yaml")},
                         headers={"Origin": "http://127.0.0.1:8620"})  # fmt: skip
    assert answer.status_code == 422
    assert words in answer.text
    assert store.job(SINGLE).seq == before


def test_a_changed_gauge_is_a_new_revision_and_old_readings_keep_theirs(shop):
    client, store = shop
    answer = form(client, f"/jobs/{HEAD}/job/gauge", gauge="M-07", kind="micrometer", unit="mm", resolution="0.001",
                  U="0.001", k="2")  # fmt: skip
    assert answer.status_code == 303
    job = store.job(HEAD)
    assert [revision.fields["calibration"]["U"] for revision in job.gauges["M-07"]] == ["0.002", "0.001"]
    stem = next(reading for reading in job.readings if reading.gauge == "M-07")
    assert stem.gauge_revision == 1


@pytest.mark.parametrize(("fields", "words"), [
    ({"gauge": "", "kind": "micrometer"}, "needs a name"),
    ({"gauge": "M-9", "kind": "ruler", "unit": "mm", "resolution": "1"}, "is not known"),
    ({"gauge": "M-9", "kind": "micrometer", "unit": "mm"}, "no resolution"),
    ({"gauge": "M-9", "kind": "micrometer", "unit": "mm", "resolution": "abc"}, "is no number; write digits"),
    ({"gauge": "L-9", "kind": "leaves", "unit": "mm"}, "no set"),
])  # fmt: skip
def test_a_gauge_that_cannot_be_taken_says_why_and_stays_in_its_blanks(shop, fields, words):
    client, store = shop
    before = store.job(HEAD).seq
    answer = form(client, f"/jobs/{HEAD}/job/gauge", **fields)
    assert answer.status_code == 422 and words in answer.text
    assert f'name="gauge" value="{fields["gauge"]}"' in answer.text
    assert store.job(HEAD).seq == before


def test_a_bore_gauge_is_set_to_a_size_in_either_unit(shop):
    client, store = shop
    form(client, f"/jobs/{HEAD}/job/gauge", gauge="B-02", kind="dial_bore", unit="mm", resolution="0.002",
         permissible_error="0.004")  # fmt: skip
    for size, unit in (("6.000", "mm"), ("0.2362", "in")):
        answer = form(client, f"/jobs/{HEAD}/job/setting", gauge="B-02", set_to=size, unit=unit, **{"with": "M-07"})
        assert answer.status_code == 303
    made = [(setting.set_to, setting.unit, setting.with_) for setting in store.job(HEAD).settings.values()]
    assert made == [("6.000", "mm", "M-07"), ("0.2362", "in", "M-07")]
    wrong = form(client, f"/jobs/{HEAD}/job/setting", gauge="B-02", set_to="6..0", unit="mm")
    assert wrong.status_code == 422 and "Two points" in wrong.text and 'value="6..0"' in wrong.text


def test_a_job_begins_with_a_number_and_a_name_alone(shop):
    client, store = shop
    answer = form(client, "/new", id="HL-0200", engine="Wren 125")
    assert (answer.status_code, answer.headers["location"]) == (303, "/jobs/HL-0200")
    job = store.job("HL-0200")
    assert job.header["engine"] == "Wren 125" and not job.engine and job.limits is None


def test_a_job_begins_whole_in_one_go(shop):
    client, store = shop
    answer = form(client, "/new", id="HL-0201", engine="Tern 2.0", complaint="overheated", invented="yes",
                  layout="inline", cylinders="4", inl="2", exh="2", gear="bucket_shim", limits_name="TN-3",
                  limits_text=LIMITS, gauges="M-07")  # fmt: skip
    assert answer.status_code == 303
    job = store.job("HL-0201")
    assert job.header["invented"] is True and job.engine["cylinders"] == "4"
    assert job.limits.text == LIMITS and list(job.gauges) == ["M-07"]


@pytest.mark.parametrize(("fields", "words"), [
    ({"id": HEAD, "engine": "Tern 2.0"}, "already has a job"),
    ({"id": "../x", "engine": "Tern 2.0"}, "cannot be the id of a job"),
    ({"id": "", "engine": "Tern 2.0"}, "needs a number"),
    ({"id": "HL-0300", "engine": ""}, "needs a name"),
    ({"id": "HL-0300", "engine": "Tern 2.0", "cylinders": "4"}, "does not hold together"),
    ({"id": "HL-0300", "engine": "Tern 2.0", "limits_text": BAD}, "2 to mend"),
    ({"id": "HL-0300", "engine": "Tern \x00 2.0"}, "NUL"),
])  # fmt: skip
def test_a_job_that_cannot_begin_is_told_and_nothing_is_stored_half(shop, fields, words):
    client, store = shop
    before = [(row.id, store.job(row.id).seq) for row in store.jobs()]
    answer = form(client, "/new", **fields)
    assert answer.status_code == 422 and words in answer.text
    assert [(row.id, store.job(row.id).seq) for row in store.jobs()] == before


def test_what_is_no_form_is_refused(shop):
    client, _ = shop
    answer = client.post("/new", json={"id": "HL-1"}, headers={"Origin": "http://127.0.0.1:8620"})
    assert answer.status_code == 415 and "A form is wanted" in answer.text
    foreign = client.post("/new", data={"id": "HL-1"}, headers={"Origin": "http://elsewhere.example"})
    assert foreign.status_code == 403
    unknown = form(client, f"/jobs/{HEAD}/job/colour", paint="red")
    assert unknown.status_code == 404 and "engine, limits, gauge, setting" in unknown.text
