"""The published schemas and the loaders say the same of one table of good and bad files."""

import pytest
from jsonschema import Draft202012Validator

from shell.cli.command import JOB, LIMITS, SMALL, run, write
from witnessmark.limits.schema import json_schema as limits_schema
from witnessmark.record.jobschema import json_schema as job_schema
from witnessmark.shell.resources import catalogue
from witnessmark.text.read import read

SCHEMAS = {"job": job_schema(), "limits": limits_schema(catalogue())}
SHEET = """\
format: witnessmark-limits-1
sheet: {name: W-1, document: Wren book (invented)}
limits:
  margin: [{for: inl, service: {low: 0.8}, new: {low: 1.2}, unit: mm, page: 3, stations: each}]
operations: {skim: {allowed: up to, most: 0.20, unit: mm, page: 40}, tip_grind: {allowed: no, page: 42}}
"""
SHAPES = [  # kind, what, instead, whether the shape is good
    ("job", "", "", True),
    ("job", "raw: 5.952", 'raw: "5.952"', True),
    ("job", "invented: true", "invented: yes", True),
    ("job", "raw: 5.952", "raw: [5.952]", False),
    ("job", "raw: 5.952", "row: 5.952", False),
    ("job", "format: witnessmark-job-1", "format: witnessmark-job-2", False),
    ("job", "id: HL-1, ", "", False),
    ("job", "kind: micrometer, ", "", False),
    ("job", "parts: {", "bits: {", False),
    ("job", "set_to: 6.000, ", "", False),
    ("job", "set: [0.03, 0.04, 0.05]", "set: 0.03", False),
    ("job", "reason: not measured", "reason: because", False),
    ("job", "about: inl-1, ", "", False),
    ("job", "event: q1", "event: [q1]", False),
    ("job", "calibration: {U: 0.002", "calibration: {V: 0.002", False),
    ("limits", "", "", True),
    ("limits", "page: 3, stations: each", "page: 3", True),
    ("limits", "format: witnessmark-limits-1", "format: witnessmark-limits-2", False),
    ("limits", "document: Wren book (invented)", "book: Wren book (invented)", False),
    ("limits", "stations: each", "stations: badly", False),
    ("limits", "for: inl", "for: inlet", False),
    ("limits", "  margin:", "  margins:", False),
    ("limits", "service: {low: 0.8}", "service: {lowest: 0.8}", False),
    ("limits", "service: {low: 0.8}", "service: [0.8]", False),
    ("limits", "allowed: up to", "allowed: perhaps", False),
    ("limits", "skim:", "skimming:", False),
]


@pytest.mark.parametrize(("kind", "what", "instead", "good"), SHAPES)
def test_schema_and_loader_agree(tmp_path, kind, what, instead, good):
    whole = {"job": SMALL, "limits": SHEET}[kind]
    assert what in whole
    text = whole.replace(what, instead, 1) if what else whole
    found = list(Draft202012Validator(SCHEMAS[kind]).iter_errors(read(text, "x.yaml").data))
    assert (not found) == good, found
    path = write(tmp_path, text) if kind == "job" else write(tmp_path, SMALL, text).with_name("limits.yaml")
    assert (run("check", path).status == 0) == good


@pytest.mark.parametrize(("kind", "text"), [("job", JOB), ("limits", LIMITS), ("job", SMALL)])
def test_the_files_of_the_demo_fit_the_published_schemas(kind, text):
    Draft202012Validator(SCHEMAS[kind]).validate(read(text, "x.yaml").data)


def test_an_export_fits_the_published_schema(tmp_path):
    out = tmp_path / "x.yaml"
    run("export", write(tmp_path), "--out", out)
    Draft202012Validator(SCHEMAS["job"]).validate(read(out.read_bytes(), "x.yaml").data)
