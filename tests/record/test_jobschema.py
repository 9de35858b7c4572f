"""The published schema of a job file, held against the loader on good and bad files."""

import json

import jsonschema
import pytest

from record.test_jobfile import HEAD, READINGS
from witnessmark.record.jobfile import read_job
from witnessmark.record.jobschema import JobFile, allowed, json_schema
from witnessmark.text.fault import Faulty
from witnessmark.text.read import read

WHOLE = HEAD + READINGS + """\
taken_back: [r3, {event: r1, id: t1, by: A.}]
waived: [{characteristic: margin, place: inl-1f, scope: rest}]
limits: {format: witnessmark-limits-1, sheet: {name: TN-3}}
"""


def test_the_schema_is_a_schema_and_says_which():
    schema = json_schema()
    assert schema["$schema"].endswith("2020-12/schema")
    jsonschema.Draft202012Validator.check_schema(schema)
    json.dumps(schema)


def test_schema_and_loader_take_the_same_good_file():
    data = read(WHOLE, "x").data
    jsonschema.validate(data, json_schema())
    JobFile.model_validate(data)


def test_numbers_without_quotes_are_good_for_the_schema():
    jsonschema.validate({"format": "witnessmark-job-1", "job": {"id": 147, "invented": True},
                         "gauges": {"M": {"kind": "micrometer", "unit": "mm", "resolution": 0.001}},
                         "readings": [{"characteristic": "margin", "place": "inl-1", "gauge": "M", "raw": 1.02}]},
                        json_schema())


@pytest.mark.parametrize(("old", "new"), [
    ("format: witnessmark-job-1", "format: job"),
    ("id: HL-0147, ", ""),
    ("kind: micrometer, ", ""),
    ("gear:", "gear: x, 2: [}"),
    ("scope: rest", "scope: all"),
    ("reason: misread", "reasn: misread"),
    ("raw: 5.952}", "raw: [5]}"),
    ("question: inch_or_mm", "question: [a]"),
    ("question: inch_or_mm", "question: why"),
    ("taken_back: [r3,", "taken_back: [[r3],"),
    ("settings: [{", "settings: [{surplus: 1, "),
])
def test_schema_and_loader_refuse_the_same_bad_files(old, new):
    assert old in WHOLE
    bad = WHOLE.replace(old, new, 1)
    with pytest.raises(Faulty):
        read_job(bad, "x")
    try:
        data = read(bad, "x").data
    except Faulty:
        return  # no YAML at all
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(data, json_schema())


def test_the_keys_that_may_stand_at_a_place_are_known():
    assert "gauges" in allowed(())
    assert "resolution" in allowed(("gauges", "M-07"))
    assert "U" in allowed(("gauges", "M-07", "calibration"))
    assert "with" in allowed(("settings", 0))
    assert "raw" in allowed(("readings", 3))
    assert allowed(("gauges",)) == ()
    assert allowed(("engine", "valves")) == ()
    assert allowed(("nowhere", 0)) == ()
