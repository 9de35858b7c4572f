"""`judge`: the keys that scripts rely on, the exit status, and the same bytes wherever and whenever it runs."""

import json
import re

import pytest

from shell.cli.command import JOB, LIMITS, SMALL, really, refused, run, write

WORDS = "characteristic location value unit u verdict p_within limit gauge settle_with why"
KEYS = frozenset(WORDS.split())
ONE = """\
format: witnessmark-job-1
job: {id: HL-2, engine: Wren 125, invented: true}
engine: {layout: inline, cylinders: 1, valves: {inl: 1, exh: 1}, gear: rocker}
gauges:
  C-03: {kind: caliper, unit: mm, resolution: 0.01, calibration: {U: 0.02, k: 2}, repeatability: {s: 0.01, n: 15}}
limits:
  format: witnessmark-limits-1
  sheet: {name: W-1, document: Wren book (invented)}
  limits: {margin: [{service: {low: 0.8}, unit: mm, page: 3}]}
readings:
  - {characteristic: margin, place: inl-1, gauge: C-03, raw: 1.30}
  - {characteristic: margin, place: exh-1, gauge: C-03, raw: 1.45}
"""


@pytest.fixture(scope="module")
def judged(tmp_path_factory):
    return json.loads(run("judge", write(tmp_path_factory.mktemp("demo"), JOB), "--json").out)


def test_the_demo_shows_what_a_first_look_should_show(judged):
    summary = judged["summary"]
    assert all(summary[word] for word in ("within", "out", "too close to call", "so far", "missing", "questions"))
    assert any(row["interval"] for row in judged["results"]) and judged["questions"][0]["raw"] == "0.2351"


def test_every_row_has_the_keys_that_scripts_rely_on(judged):
    assert {"results", "missing", "summary"} <= set(judged)
    for row in judged["results"]:
        assert set(row) >= KEYS
        assert row["verdict"] in {"within", "out", "too close to call", None}
        assert row["limit"] is None or set(row["limit"]) >= {"low", "high", "kind", "source"}
        assert row["limit"] is None or set(row["limit"]["source"]) == {"document", "page"}
        assert isinstance(row["gauge"], list) and isinstance(row["settle_with"], list) and row["why"].endswith(".")
        assert row["says"] or (row["value"] is None) == (row["interval"] is not None)  # a look may have no amount
        assert row["p_within"] is None or 0 <= row["p_within"] <= 1


def test_what_is_missing_is_named_by_characteristic_and_place(judged):
    assert all(set(one) == {"characteristic", "place", "round", "waived"} for one in judged["missing"])
    assert judged["summary"]["missing"] == sum(not one["waived"] for one in judged["missing"])


def test_no_line_is_said_to_be_safe(judged):
    assert "safe" not in json.dumps(judged).casefold()


def test_strict_counts_all_that_is_not_within_and_finished(tmp_path):
    whole = write(tmp_path, ONE)
    assert run("judge", whole).status == run("judge", whole, "--strict").status == 0
    for what, instead in (
        ("raw: 1.30", "raw: 0.60"),  # out
        ("raw: 1.30", "raw: 0.81"),  # too close to call
        ("  - {characteristic: margin, place: inl-1, gauge: C-03, raw: 1.30}\n", ""),  # missing
        ("raw: 1.30", "raw: 0.051, question: inch_or_mm"),  # asked back
        ("low: 0.8}", "low: 8.0}"),  # outside the usual range
    ):
        assert what in ONE
        path = write(tmp_path, ONE.replace(what, instead))
        assert (run("judge", path).status, run("judge", path, "--strict").status) == (0, 1), instead


def test_the_table_is_for_people(tmp_path):
    path = write(tmp_path, ONE.replace("raw: 1.45", "raw: 0.60"))
    words = run("judge", path).out
    assert re.search(r"margin +Inl 1 +1\.30 +mm +least 0\.8 +● within", words)
    assert re.search(r"margin +Exh 1 +0\.60 +mm +least 0\.8 +✕ out, by 0\.20", words)
    assert "1 within · 1 out" in words and "invented" in words and "practice govern" in words
    assert re.search(r"margin +Inl 1 +0\.0512 +in +least 0\.0315", run("judge", path, "--unit", "in").out)


def test_a_row_stands_in_the_unit_of_its_limit_whatever_its_gauge_reads(tmp_path):
    inch = ONE.replace("service: {low: 0.8}, unit: mm", "service: {low: 0.0315}, unit: in")
    row = json.loads(run("judge", write(tmp_path, inch), "--json").out)["results"][0]
    assert row["unit"] == "in" and row["limit"]["low"] == 0.0315
    assert row["value"] == pytest.approx(1.30 / 25.4, rel=1e-12)


def test_a_job_without_an_engine_says_what_to_do(tmp_path):
    bare = "format: witnessmark-job-1\njob: {id: HL-3}\n"
    assert "describe the engine first" in refused(run("judge", write(tmp_path, bare)))


@pytest.mark.slow
def test_the_same_bytes_under_another_hash_seed_time_zone_locale_and_folder(tmp_path):
    here, there = tmp_path / "here", tmp_path / "a folder of another name"
    for folder in (here, there):
        folder.mkdir()
        write(folder, JOB, LIMITS)
    one = really("judge", "job.yaml", "--json", cwd=here, PYTHONHASHSEED="1", TZ="UTC", LC_ALL="C", PYTHONUTF8="0")
    other = really("judge", there / "job.yaml", "--json", cwd=tmp_path, PYTHONHASHSEED="2", TZ="Pacific/Auckland",
                   LC_ALL="de_DE.UTF-8", COLUMNS="40", NO_COLOR="1")  # fmt: skip
    assert one.returncode == other.returncode == 0, one.stderr + other.stderr
    assert one.stdout == other.stdout and len(one.stdout) > 100_000


@pytest.mark.slow
def test_a_table_can_be_printed_where_the_terminal_knows_no_letters_but_ascii(tmp_path):
    done = really("judge", write(tmp_path, SMALL), cwd=tmp_path, LC_ALL="C", PYTHONUTF8="0", PYTHONCOERCECLOCALE="0",
                  PYTHONIOENCODING="ascii")  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert b"stem diameter" in done.stdout
