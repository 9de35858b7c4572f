"""`export` by the ending of its file: tables, JSON, a bundle; and `schema record`, `papers --whole`."""

import csv
import json
import sys
import zipfile

import pandas
import pytest
from jsonschema import Draft202012Validator

from shell import closed
from shell.cli.command import refused, run, write


@pytest.fixture(scope="module")
def data(tmp_path_factory):
    folder = tmp_path_factory.mktemp("closed")
    closed.closed(folder).close()
    return folder / "store"


def export(data, out, *words):
    return run("export", closed.JOB, "--data", data, "--out", out, *words)


@pytest.mark.parametrize(("table", "count"), [("readings", 5), ("events", 23), ("bolts", 3)])
def test_a_table_as_csv_and_as_parquet_says_the_same(data, tmp_path, table, count):
    for ending in ("csv", "parquet"):
        out = tmp_path / f"x.{ending}"
        assert export(data, out, "--table", table).out == f"{out}, {count} {table}\n"
    with (tmp_path / "x.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    frame = pandas.read_parquet(tmp_path / "x.parquet")
    assert list(frame.columns) == list(rows[0]) and len(frame) == len(rows) == count
    assert [str(one) for one in frame.iloc[:, 0]] == [row["number"] for row in rows]


def test_a_note_that_begins_as_a_formula_is_kept_from_the_spreadsheet(data, tmp_path):
    export(data, tmp_path / "x.csv", "--table", "bolts")
    assert ",'=cmd|' /C calc'!A0," in (tmp_path / "x.csv").read_text("utf-8")


def test_the_record_as_json_fits_its_published_schema_and_is_a_job_for_every_command(data, tmp_path):
    out = tmp_path / "x.json"
    assert export(data, out).out == f"{out}\n"
    schema = json.loads(run("schema", "record").out)
    assert not list(Draft202012Validator(schema).iter_errors(json.loads(out.read_text("utf-8"))))
    assert run("judge", out).out == run("judge", closed.JOB, "--data", data).out
    assert run("import", out, "--data", tmp_path / "s").status == 0


def test_a_bundle_of_an_open_job_has_its_report_of_today_and_says_that_it_is_open(tmp_path):
    out = tmp_path / "x.zip"
    assert run("export", write(tmp_path), "--out", out).status == 0
    with zipfile.ZipFile(out) as file:
        names = file.namelist()
        assert "papers/now/full-report.pdf" in names and "This job is not closed." in file.read("README.txt").decode()
        assert "(invented job)" in file.read("README.txt").decode()
    assert run("verify", out).status == 0


def test_a_bundle_of_a_file_whose_papers_do_not_lie_beside_it_says_what_is_missing(data, tmp_path):
    yaml = tmp_path / "x.yaml"
    export(data, yaml)
    for paper in (tmp_path / "x-papers").iterdir():
        paper.unlink()
    said = run("export", yaml, "--out", tmp_path / "x.zip")
    assert said.status == 0 and "papers/closed-1/full-report.pdf: the paper is not in the store" in said.err
    assert "the closing names this paper, and it is missing here" in refused(run("verify", tmp_path / "x.zip"))


@pytest.mark.parametrize(("name", "words", "told"), [
    ("x.txt", (), "take one of .yaml, .yml, .json, .csv, .parquet, .zip"),
    ("x", (), "take one of"),
    ("x.csv", ("--table", "valves"), "there are readings, events, bolts"),
    ("x.yaml", ("--table", "bolts"), "goes into a file that ends in .csv or .parquet"),
    ("none/x.csv", (), "name a file in a folder that is there"),
])
def test_what_cannot_be_written_is_told_with_the_cure(data, tmp_path, name, words, told):
    assert told in refused(export(data, tmp_path / name, *words))


def test_without_pyarrow_the_command_that_installs_it_is_told(data, tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "pyarrow", None)
    assert "pip install 'witnessmark[parquet]'" in refused(export(data, tmp_path / "x.parquet"))
    assert not (tmp_path / "x.parquet").exists()


def test_the_full_report_is_a_paper_of_the_command_line(data, tmp_path):
    said = run("papers", closed.JOB, "--data", data, "--whole", "--out", tmp_path)
    assert said.out == f"{tmp_path / 'HL-1-full-report.pdf'}\n", said.all
    assert (tmp_path / "HL-1-full-report.pdf").read_bytes().startswith(b"%PDF-")
