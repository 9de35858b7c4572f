"""`check`: whatever stands in a file, it is told with file, line, column and what to do, and never with a traceback."""

import json
import re
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from shell.cli.command import BANNED, JOB, LIMITS, SMALL, refused, run, write
from witnessmark.record.export import write_job
from witnessmark.shell.files import load_events

PLACED = re.compile(r"^[\w./-]+:\d+:\d+: ", re.MULTILINE)


def test_the_demo_files_have_nothing_to_mend_and_one_copied_limit_to_look_at(tmp_path):
    for path, more in ((write(tmp_path, JOB), 1), (tmp_path / "tern-limits.yaml", 0)):
        said = run("check", path)
        assert said.status == 0 and said.out.endswith(f"{path}: nothing to mend, {1 + more} to look at\n")
        assert said.out.count("(a warning)") == 1 + more and "is copied and not checked" in said.out
        assert ("gauge T-01 was due on" in said.out) == bool(more)


def test_dates_that_are_none_are_looked_at_and_stop_nothing(tmp_path):
    odd = JOB.replace("date: 2026-03-02", "date: last spring", 1)
    assert odd != JOB
    timed = SMALL.replace("raw: 5.952", "raw: 5.952, at: this morning", 1)
    said = run("check", write(tmp_path, odd))
    assert said.status == 0 and "calibrated on 'last spring' is no date" in said.out
    later = run("check", write(tmp_path, timed))
    assert later.status == 0 and "'this morning', which is no time" in later.out
    assert run("check", write(tmp_path, timed), "--strict").status == 1


@pytest.mark.parametrize(("what", "instead", "told"), [
    ("cylinders: 2", "cylinders: two", r"job\.yaml:3:37: engine\.cylinders: 'two'.*from 1 to 16"),
    ("gear: bucket_shim", "gear: bucket", r":3:72: engine\.gear: 'bucket'.*'bucket_shim'"),
    ("unit: mm, resolution: 0.001", "unit: furlong, resolution: 0.001",
     r":5:34: gauges\.M-07\.unit: no unit .*'furlong'"),
    ("resolution: 0.001", "resolution: fine", r":5:50: .*'fine' is no number; write digits"),
    ("kind: micrometer", "kind: mikrometer", r":5:16: .*did you mean 'micrometer'"),
    ("set: [0.03", "set: [1/64", r":7:40: .*decimals"),
    ("with: M-07", "with: B-02", r":9:55: .*cannot be its own master"),
    ("limits: limits.yaml", "limits: ../limits.yaml", r":10:9: .*leads out of the folder"),
    ("limits: limits.yaml", "limits: /limits.yaml", r":10:9: .*leads out of the folder"),
    ("limits: limits.yaml", "limits: no-such.yaml", r":10:9: .*there is no such file"),
    ("limits: limits.yaml", "limits: .", r":10:9: .*is a folder"),
    ("limits: limits.yaml", 'limits: "a\\0b"', r":10:9: .*zero byte"),
    ("stem_diameter, place: inl-1/middle", "stem_diametre, place: inl-1/middle", r":12:30: .*'stem_diameter'"),
    ("inl-1/middle/across, part", "inl-1/middle/sideways, part", r":12:52: .*inl-1/middle/across"),
    ("inl-1/middle/across, part", "inl-9/middle/across, part", r":12:52: .*is not read at 'inl-9/middle/across'"),
    ("gauge: M-07, raw: 5.952", "gauge: M-77, raw: 5.952", r":12:\d+: .*no gauge 'M-77'.*'M-07'"),
    ("raw: 5.952", "raw: five", r":12:\d+: .*'five' cannot be taken"),
    ("raw: 5.952", "raw: 5.9.52", r":12:\d+: readings\[0\]\.raw"),
    ("raw: 5.952", "raw: 5.952 lbf", r":12:\d+: .*lbf measures force"),
    ("raw: 5.952", "raw: nan", r":12:\d+: readings\[0\]\.raw"),
    ("supersedes: r1", "supersedes: r9", r":13:\d+: .*no reading 'r9'"),
    ("id: q1", "id: r1", r":14:\d+: .*'r1'.*second time"),
    ("waived: [{characteristic: stem_diameter", "waived: [{characteristic: stem_diametre",
     r":17:27: .*'stem_diameter'"),
    ("place: inl-1/top/along", "place: inl-1/roof", r":17:49: .*'inl-1/roof'"),
    ("answer: 1", "answer: 7", r":18:33: .*answers 0 to 2"),
    ("event: q1", "event: nobody", r":20:14: .*no entry 'nobody'"),
    ("id: HL-1,", "id: HL-1, also_measure: [stem_hight],", r":2:32: .*did you mean 'stem_height'"),
    ("id: HL-1,", "", r":2:6: .*'id' is missing"),
    ("notes:", "remarks:", r":19:1: "),
    ("  M-07:", "\tM-07:", r":5:1: a tab stands where spaces must be"),
    ("notes: [", "notes: [[", r":\d+:\d+: "),
    ("Tern 2.0", "Tern\0 2.0", r":2:29: NUL"),
])  # fmt: skip
def test_a_fault_is_told_with_its_place_and_its_cure(tmp_path, what, instead, told):
    assert what in SMALL
    words = refused(run("check", write(tmp_path, SMALL.replace(what, instead, 1))))
    assert re.search(told, words), words
    assert refused(run("judge", tmp_path / "job.yaml")) == words


@pytest.mark.parametrize(("what", "instead", "told"), [
    ("stem_diameter:", "stem_diametre:", r"limits\.yaml:\d+:3: .*'stem_diameter'"),
    ("low: 5.940", "low: five", r"limits\.yaml:\d+:33: .*'five' cannot be read"),
    ("low: 5.940", "low: 5.940, high: 5.0", r"low 5\.940 is above high 5\.0"),
    ("unit: mm", "unit: furlong", r"limits\.yaml:\d+:\d+: .*'furlong'"),
    ("stations: worst", "stations: badly", r"'badly' is none of"),
    ("must be proven good", "nobody", r"'nobody' is none of"),
    ("limits:\n", "limits: 5\n", r"limits\.yaml:\d+:\d+: "),
])  # fmt: skip
def test_a_fault_of_the_limit_sheet_is_told_from_either_file(tmp_path, what, instead, told):
    assert what in LIMITS
    job = write(tmp_path, SMALL, LIMITS.replace(what, instead, 1))
    for path in (job, tmp_path / "limits.yaml"):
        words = refused(run("check", path))
        assert re.search(told, words) and PLACED.search(words), words


@pytest.mark.parametrize(("name", "content", "told"), [
    ("empty", b"", "a file begins with `format:"),
    ("a word", b"hello\n", "a file begins with `format:"),
    ("a list", b"- a\n- b\n", "a file begins with `format:"),
    ("a format that is a list", b"format: [witnessmark-job-1]\n", "a file begins with `format:"),
    ("a picture", bytes(range(256)) * 40, "no UTF-8"),
    ("utf-16", SMALL.encode("utf-16"), "save the file as UTF-8"),
    ("latin", SMALL.replace("carbon", "carbon \xe9").encode("latin-1"), "save the file as UTF-8"),
    ("too long", b"# a long file\n" * 400_000, "at most 5,000,000 are read"),
    ("deep", b"format: witnessmark-job-1\njob: " + b"[" * 5000, "nested too deep"),
    ("deep in braces", b"a: " + b"{a: " * 100 + b"1" + b"}" * 100, "nested deeper than"),
    ("an alias bomb", b"a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n", "for repeating, which is not read"),
])  # fmt: skip
def test_a_file_that_is_no_job_is_refused_at_once(tmp_path, name, content, told):
    words = refused(run("check", write(tmp_path, content)))
    assert told in words and words.startswith("job.yaml"), name
    assert refused(run("judge", tmp_path / "job.yaml")).startswith("job.yaml")


def test_a_folder_and_a_file_that_is_not_there_are_told(tmp_path):
    assert "is a folder; name a file in it" in refused(run("check", tmp_path))
    assert "there is no such file" in refused(run("check", tmp_path / "none.yaml"))
    assert "cannot be read" in refused(run("check", tmp_path / ("x" * 300)))


def test_a_byte_order_mark_and_line_ends_of_windows_change_nothing(tmp_path):
    plain = run("judge", write(tmp_path), "--json").out
    for bytes_ in (b"\xef\xbb\xbf" + SMALL.encode(), SMALL.replace("\n", "\r\n").encode()):
        assert run("judge", write(tmp_path, bytes_), "--json").out == plain


def test_every_fault_is_told_at_once_and_as_data(tmp_path):
    two = SMALL.replace("raw: 5.952", "raw: five").replace("answer: 1", "answer: 7")
    said = run("check", write(tmp_path, two), "--json")
    told = json.loads(said.out)
    assert said.status == 2 and [fault["line"] for fault in told["faults"]] == [12, 18] and not told["warnings"]
    assert set(told["faults"][0]) == {"kind", "file", "line", "column", "path", "message"}


def test_a_limit_out_of_the_ordinary_is_a_warning_in_the_sheet_and_in_the_job_that_names_it(tmp_path):
    odd = LIMITS.replace("{service: {low: 0.8}, unit: mm", "{service: {low: 8.0}, unit: mm")
    assert odd != LIMITS
    for path in (write(tmp_path, SMALL, odd), tmp_path / "limits.yaml"):
        said = run("check", path)
        assert said.status == 0 and "(a warning)" in said.out and "2 to look at" in said.out
        assert run("check", path, "--strict").status == 1
        assert json.loads(run("check", path, "--json").out)["warnings"][0]["line"]


def test_another_format_is_told_with_the_two_that_are_known(tmp_path):
    words = refused(run("check", write(tmp_path, SMALL.replace("job-1", "job-9"))))
    assert words.startswith("job.yaml:1:9: format: 'witnessmark-job-9' is no format")
    assert "witnessmark-limits-1" in words


def logged(folder, **changes):
    """An export of the small job whose last event has these parts instead."""
    *events, last = load_events(write(folder))
    path = folder / "log.yaml"
    path.write_text(write_job([*events, replace(last, **changes)]), "utf-8")
    return path


def test_an_event_of_a_newer_version_is_kept_and_told(tmp_path):
    said = run("check", logged(tmp_path, kind="sung"))
    assert said.status == 0 and "no event 'sung'; a newer version may have written it" in said.out


@pytest.mark.parametrize(("kind", "body", "told"), [
    ("gauge_entered", {"gauge": "M-1"}, "'fields' is missing; it must be a mapping"),
    ("gauge_entered", {"gauge": "M-1", "fields": {"kind": ["x"]}}, "no kind of gauge is called"),
    ("gauge_entered", {"gauge": "M-1", "fields": {"kind": "leaves", "unit": "mm", "set": 5}}, "list the thicknesses"),
    ("limits_entered", {"name": 1}, "'name' must be text"),
    ("job_opened", {"job": []}, "'job' must be a mapping"),
    ("setting_made", {"with": "B-02"}, "'gauge' is missing"),
    ("reading_taken", {"place": "inl-1"}, "'characteristic' is missing"),
    ("waived", {"place": "inl-1"}, "'characteristic' is missing"),
    ("engine_described", {"engine": {"layout": "inline", "cylinders": "0"}}, "engine.cylinders: '0'"),
])  # fmt: skip
def test_an_event_of_a_log_that_says_nothing_is_told_with_its_place(tmp_path, kind, body, told):
    words = refused(run("check", logged(tmp_path, kind=kind, body=body)))
    assert told in words and re.match(r"log\.yaml:\d+:5: log\[\d+\]: ", words), words


WORDS = [
    "nan",
    "-1",
    "0",
    "1e9",
    "null",
    "~",
    "[]",
    "{}",
    '""',
    '"',
    "'",
    "yes",
    "in",
    "mm",
    "*",
    "&a",
    "!",
    "%",
    "1/0",
]
WORDS += ["999999999999", "…", "\\x00", "as found", "inl-1", "L-04", "B-02", "thou", "lobe_lift", "stem_height", "\t"]


@st.composite
def mended(draw, text):
    """A text with up to three lines or words of it lost, doubled, moved or exchanged."""
    lines = text.splitlines()
    for _ in range(draw(st.integers(1, 3))):
        n = draw(st.integers(0, len(lines) - 1))
        how = draw(st.sampled_from(["drop", "double", "cut", "type", "word", "word"]))
        at = draw(st.integers(0, max(len(lines[n]) - 1, 0)))
        if how == "drop" and len(lines) > 1:
            del lines[n]
        elif how == "double":
            lines.insert(n, lines[draw(st.integers(0, len(lines) - 1))])
        elif how == "cut":
            lines[n] = lines[n][:at] + lines[n][at + 1 :]
        elif how == "type":
            lines[n] = lines[n][:at] + draw(st.sampled_from("0123456789.,:;-{}[]\"' axz#|>")) + lines[n][at:]
        else:
            words = re.findall(r"[\w./-]+|[^\w./-]+", lines[n]) or [""]
            words[draw(st.integers(0, len(words) - 1))] = draw(st.sampled_from(WORDS))
            lines[n] = "".join(words)
    return "\n".join(lines) + "\n"


QUICK = settings(max_examples=150, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))


def spoken(said):
    assert said.status in (0, 2), said.all
    assert said.all.strip()
    assert not [word for word in BANNED if word in said.err], said.err


@QUICK
@given(text=mended(SMALL))
def test_a_job_file_hit_anywhere_is_judged_or_told(tmp_path_factory, text):
    path = write(tmp_path_factory.getbasetemp(), text)
    spoken(run("check", path))
    spoken(run("judge", path, "--json"))


@QUICK
@given(text=mended(LIMITS))
def test_a_limit_sheet_hit_anywhere_is_used_or_told(tmp_path_factory, text):
    path = write(tmp_path_factory.getbasetemp(), SMALL, text)
    spoken(run("check", path.with_name("limits.yaml")))
    spoken(run("judge", path))


@pytest.mark.parametrize("name", ["job", "limits"])
def test_a_schema_is_published(name):
    schema = json.loads(run("schema", name).out)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(schema)


def test_no_other_schema_is_known():
    said = run("schema", "engine")
    assert said.status == 2 and "job" in said.err and "limits" in said.err
