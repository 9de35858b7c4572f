"""The job file: the hand's text into events, every fault told at once with its place, and the log as authority."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from witnessmark.record.export import write_job
from witnessmark.record.jobfile import NoSheet, read_job
from witnessmark.record.replay import replay
from witnessmark.text.fault import Faulty

HEAD = """\
format: witnessmark-job-1
job: {id: HL-0147, engine: Tern 2.0, invented: true, also_measure: [chamber_volume]}
engine: {layout: inline, cylinders: 4, valves: {inl: [f, r], exh: [f, r]}, gear: bucket_shim, head: aluminium}
gauges:
  M-07: {kind: micrometer, unit: mm, resolution: 0.001, calibration: {U: 0.002, k: 2, date: 2026-03-02},
         repeatability: {s: 0.0012, n: 20}}
  M-11: {kind: micrometer, unit: in, resolution: 0.0001}
  B-02: {kind: dial_bore, unit: mm, resolution: 0.002, permissible_error: 0.004}
  L-04: {kind: leaves, unit: mm, set: [0.03, 0.04, 0.05, 0.06, 0.07, 0.08], leaf_error: 0.001}
  F-01: {kind: spring_tester, unit: N, resolution: 1}
parts: {v-3f: {kind: valve, at: inl-3f}, spare-1: {kind: valve, new: true}}
settings: [{id: s1, gauge: B-02, set_to: 6.000, with: M-07}]
"""
READINGS = """\
readings:
  - {id: r1, characteristic: stem_diameter, place: inl-3f/middle/across, part: v-3f, gauge: M-07, raw: 5.952}
  - {id: r3, supersedes: r1, reason: misread, raw: 5.950}
  - {characteristic: head_flatness, place: gasket-face/diagonal-1, gauge: L-04, raw: "0.04 0.05"}
  - {id: r5, characteristic: stem_diameter, place: inl-2r/middle/across, gauge: M-07, raw: 0.2351, question: inch_or_mm}
  - {characteristic: stem_diameter, place: inl-1f/middle/across, gauge: M-11, raw: .2345}
  - {characteristic: guide_bore, place: inl-2r/middle/across, gauge: B-02, setting: s1, raw: "-0.012"}
  - {characteristic: guide_bore, place: inl-2r/top/across, gauge: B-02, setting: s1, raw: 6.012}
  - {characteristic: spring_load, place: inl-2r, gauge: F-01, raw: 312}
"""


def job(text, sheets=None):
    return replay(read_job(text, "job.yaml", sheets))


def faults(text, sheets=None):
    with pytest.raises(Faulty) as told:
        read_job(text, "job.yaml", sheets)
    return [str(fault) for fault in told.value.faults]


def meaning(line, more=""):
    """The meaning of one reading of a job file."""
    return job(f"{HEAD}readings:\n  - {{characteristic: x, place: inl-1f, {line}}}\n{more}").readings[0].meaning


def test_a_job_file_holds_the_whole_job():
    found = job(HEAD + READINGS)
    assert found.header == {"id": "HL-0147", "engine": "Tern 2.0", "invented": True, "also_measure": ["chamber_volume"]}
    assert found.engine["valves"] == {"inl": ["f", "r"], "exh": ["f", "r"]}
    assert found.gauges["M-07"][0].fields["resolution"] == "0.001"
    assert found.parts["spare-1"].new and not found.parts["v-3f"].new
    setting = found.settings["s1"]
    assert (setting.set_to, setting.unit, setting.with_) == ("6.000", "mm", "M-07")
    assert [one.state for one in found.readings] == ["superseded", "counted", "counted", "asked", *["counted"] * 4]
    assert (found.conflicts, found.waiting, found.kept) == ((), (), ())


def test_a_number_keeps_the_zero_that_was_written():
    assert meaning("gauge: M-07, raw: 5.950") == {"kind": "number", "value": "5.950", "unit": "mm", "step": "0.001"}


def test_an_inch_gauge_gives_inches():
    assert meaning("gauge: M-11, raw: .2345") == {"kind": "number", "value": "0.2345", "unit": "in", "step": "0.0001"}
    assert meaning("gauge: M-11, raw: 5.952 mm")["unit"] == "mm"
    assert meaning("gauge: M-07, raw: 2.5 thou")["unit"] == "thou"


def test_leaves_give_an_interval():
    assert meaning('gauge: L-04, raw: "0.04 0.05"') == {"kind": "interval", "low": "0.04", "high": "0.05", "unit": "mm"}
    assert meaning("gauge: L-04, raw: 0.05")["high"] == "0.06"
    assert meaning("gauge: L-04, raw: 0.08")["high"] is None
    assert meaning("gauge: L-04, raw: 0*") == {"kind": "interval", "low": "0", "high": "0.03", "unit": "mm"}


def test_a_bore_gauge_reads_a_deviation_from_its_setting_or_the_size_itself():
    assert meaning("gauge: B-02, setting: s1, raw: -0.012") == {
        "kind": "deviation", "value": "-0.012", "unit": "mm", "step": "0.001"}
    assert meaning("gauge: B-02, setting: s1, raw: 0.012")["kind"] == "deviation"
    assert meaning("gauge: B-02, setting: s1, raw: 6.012")["kind"] == "number"
    assert meaning("gauge: B-02, raw: 6.012")["kind"] == "number"
    assert meaning("gauge: B-02, setting: s1, raw: +0.0005 in") == {
        "kind": "deviation", "value": "0.0005", "unit": "in", "step": "0.0001"}


def test_without_a_gauge_the_unit_is_written():
    assert meaning("raw: 5.952 mm")["unit"] == "mm"
    assert meaning("raw: 312 N")["unit"] == "N"
    assert meaning('raw: 0.2345"')["unit"] == "in"
    assert "write the unit after the number" in faults(
        HEAD + "readings: [{characteristic: x, place: inl-1f, raw: 5.952}]\n")[0]


def test_a_fraction_without_an_exact_decimal_or_a_bare_one_is_inch_and_says_so():
    found = job(HEAD + "readings: [{characteristic: x, place: inl-1f, gauge: M-07, raw: 1 5/8}]\n").readings[0]
    assert (found.meaning["value"], found.meaning["unit"], found.meaning["step"]) == ("1.625", "in", "0.125")
    assert "inch" in found.assumed[0]


def test_a_correction_takes_what_it_leaves_out_from_the_reading_that_it_supersedes():
    first, second = job(HEAD + READINGS).readings[:2]
    assert (second.characteristic, second.place, second.part, second.gauge) == (
        first.characteristic, first.place, first.part, first.gauge)


def test_a_question_in_the_file_is_an_open_question_with_its_answers():
    found = job(HEAD + READINGS).questions[0]
    assert found.id == "r5"
    assert [answer["label"] for answer in found.question["answers"]] == ["0.2351 in", "0.2351 mm", "measure again"]
    answered = job(HEAD + READINGS + "answers: [{reading: r5, answer: 0}]\n")
    assert answered.questions == ()
    assert answered.readings[3].meaning["unit"] == "in"


def test_an_unreadable_text_may_stand_with_a_question():
    found = job(HEAD + "readings: [{characteristic: x, place: inl-1f, gauge: M-07, raw: 5..9, question: unread}]\n")
    assert found.questions[0].raw == "5..9"
    assert [answer["do"] for answer in found.questions[0].question["answers"]] == ["measure again"]


def test_entries_written_by_hand_have_ids_from_what_they_are_about_and_not_from_their_place():
    one = "  - {characteristic: margin, place: inl-1f, gauge: M-07, raw: 1.0}\n"
    other = "  - {characteristic: margin, place: inl-1r, gauge: M-07, raw: 1.1}\n"
    ids = {event.id for event in read_job(HEAD + "readings:\n" + one + other, "a")}
    assert ids == {event.id for event in read_job(HEAD + "readings:\n" + other + one, "a")}
    assert "margin:inl-1f:as found:1" in ids
    repeat = read_job(HEAD + "readings:\n" + one + one, "a")
    assert [event.id for event in repeat][-2:] == ["margin:inl-1f:as found:1", "margin:inl-1f:as found:2"]


def test_waived_notes_and_taken_back_are_read():
    found = job(HEAD + READINGS + """\
waived:
  - {characteristic: margin, place: inl-1f, scope: rest, reason: cannot be measured, by: A.}
taken_back: [r3, {event: "taken_back:r3:1", id: t2}]
notes: [{about: inl-3f, text: pitted}]
""")
    assert (found.waived[0].scope, found.waived[0].reason, found.waived[0].by) == ("rest", "cannot be measured", "A.")
    assert found.notes[0].text == "pitted"


def test_a_take_back_and_its_redo():
    back = job(HEAD + READINGS + "taken_back: [{event: r3, id: t1}]\n")
    assert [one.state for one in back.readings[:2]] == ["counted", "taken back"]
    redo = job(HEAD + READINGS + "taken_back: [{event: r3, id: t1}, t1]\n")
    assert [one.state for one in redo.readings[:2]] == ["superseded", "counted"]


def test_limits_are_a_path_a_text_or_the_sheet_itself():
    sheet = "format: witnessmark-limits-1\nsheet: {name: TN-3}\n"
    by_path = job(HEAD + "limits: limits.yaml\n", lambda path: sheet if path == "limits.yaml" else "").limits
    assert (by_path.name, by_path.text) == ("limits.yaml", sheet)
    as_text = job(HEAD + "limits: |\n  format: witnessmark-limits-1\n  sheet: {name: TN-3}\n").limits
    assert as_text.text == sheet
    assert as_text.hash == by_path.hash
    inline = job(HEAD + "limits: {format: witnessmark-limits-1, sheet: {name: TN-3}}\n").limits
    assert inline.name == "TN-3"
    assert "witnessmark-limits-1" in inline.text


def test_a_sheet_that_cannot_be_fetched_is_a_fault_where_it_is_named():
    def refuse(path):
        raise NoSheet(f"'{path}' leaves the folder; copy the sheet beside the job file")
    assert faults(HEAD + "limits: ../limits.yaml\n", refuse) == [
        "job.yaml:13:9: limits: '../limits.yaml' leaves the folder; copy the sheet beside the job file"]
    assert "write the sheet itself here" in faults(HEAD + "limits: limits.yaml\n")[0]


@pytest.mark.parametrize(("line", "says"), [
    ("gauge: M-70, raw: 5.952", "no gauge 'M-70' stands in this file; did you mean 'M-07'?"),
    ("gauge: M-07, part: v-3r, raw: 5.952", "no part 'v-3r' stands in this file; did you mean 'v-3f'?"),
    ("gauge: B-02, setting: s2, raw: 6.01", "no setting 's2' stands in this file"),
    ("gauge: M-07, setting: s1, raw: 6.01", "setting 's1' was made on gauge 'B-02', and this reading names 'M-07'"),
    ("gauge: M-07, supersedes: r9, raw: 6.01", "no reading 'r9' stands in this file"),
    ("gauge: M-07, raw: 5..952", "'5..952' cannot be taken: "),
    ('gauge: L-04, raw: "0.045"', "no leaf 0.045"),
    ("gauge: M-07, raw: 5 N", "'5 N' cannot be taken: "),
    ("gauge: M-07, raw: ''", "'' cannot be taken: "),
    ("gauge: B-02, raw: -0.012", "no setting is named"),
    ("gauge: B-02, setting: s1, raw: 60.12", "neither a deviation nor a size within 1 mm"),
    ("guage: M-07, raw: 5.952", "no key 'guage' is known here; did you mean 'gauge'?"),
    ("gauge: M-07, raw: 5.952, round: as fund", "'as fund' is none of as found, trial part"),
    ("gauge: M-07, raw: 5.952, question: why", "'why' is none of inch_or_mm"),
    ("gauge: M-07, raw: [5, 952]", "a text belongs here, but a list of 2 stands here"),
    ("gauge: M-07, raw: 5.952, temperature: {part: warm, gauge: 20}", "'warm' is no number"),
])
def test_a_fault_of_a_reading_says_what_and_what_to_do(line, says):
    found = faults(f"{HEAD}readings:\n  - {{characteristic: x, place: inl-1f, {line}}}\n")
    assert len(found) == 1
    assert says in found[0]
    assert re.match(r"job\.yaml:14:\d+: readings\[0\]", found[0])


@pytest.mark.parametrize(("more", "says"), [
    ("taken_back: [r9]\n", "no entry 'r9' stands in this file"),
    ("answers: [{reading: r1, answer: 0}]\n", "no reading 'r1' has a question"),
    ("answers: [{reading: r5, answer: 3}]\n", "the question has answers 0 to 2"),
    ("answers: [{reading: r5, answer: one}]\n", "'one' is no whole number"),
    ("waived: [{characteristic: margin, place: inl-1f, scope: all}]\n", "'all' is none of place, rest"),
    ("notes: [{about: inl-1f}]\n", "the key 'text' is missing here; add it"),
    ("remarks: []\n", "no key 'remarks' is known here"),
    ("limits: [a]\n", "belongs here"),
])
def test_a_fault_of_a_section_says_what_and_what_to_do(more, says):
    found = faults(HEAD + READINGS + more)
    assert len(found) == 1
    assert says in found[0]


@pytest.mark.parametrize(("old", "new", "says"), [
    ("format: witnessmark-job-1", "format: job", "'job' is none of 'witnessmark-job-1'"),
    ("resolution: 0.001,", "resolution: fine,", "'fine' is no number"),
    ("resolution: 0.001,", "resolution: 0,", "'0' must be more than zero"),
    ("unit: in,", "unit: inhc,", "no unit is called 'inhc'"),
    ("set: [0.03, 0.04, 0.05, 0.06, 0.07, 0.08], ", "", "a set of leaves needs its thicknesses"),
    ("with: M-07", "with: M-70", "no gauge 'M-70' stands in this file"),
    ("new: true", "new: maybe", "'maybe' is neither yes nor no"),
    ("job: {id: HL-0147,", "job: {", "the key 'id' is missing here"),
    ("k: 2", "kk: 2", "no key 'kk' is known here"),
])
def test_a_fault_of_the_head_says_what_and_what_to_do(old, new, says):
    assert old in HEAD
    found = faults(HEAD.replace(old, new, 1))
    assert len(found) == 1
    assert says in found[0]


def test_all_faults_are_told_at_once_in_the_order_of_the_file():
    found = faults(HEAD + """\
readings:
  - {id: r1, characteristic: x, place: inl-1f, gauge: M-70, raw: 5.952 mm}
  - {id: r1, characteristic: x, place: inl-1f, gauge: M-07, raw: 5.9.2}
  - {raw: 5.9, gauge: M-07}
""")
    assert [re.match(r"job\.yaml:(\d+):", one)[1] for one in found] == ["14", "15", "15", "16", "16"]
    assert "stands here for the second time" in " ".join(found)


def test_readings_that_supersede_each_other_are_a_fault():
    found = faults(HEAD + """\
readings:
  - {id: r1, supersedes: r2, raw: 5.9}
  - {id: r2, supersedes: r1, raw: 5.9}
""")
    assert "in a circle" in found[0]


def test_a_file_that_is_no_mapping_or_no_text_is_refused():
    assert "begins with `format: witnessmark-job-1`" in faults("- a\n")[0]
    assert "no UTF-8" in faults(b"\xff\xfe")[0]
    assert "NUL" in faults("format: \0\n")[0]
    assert faults("")


def test_a_changed_export_is_refused_at_the_place_of_the_change():
    text = write_job(read_job(HEAD + READINGS, "job.yaml"))
    changed = text.replace("raw: 5.952\n", "raw: 5.951\n", 1)
    assert changed != text
    line = changed[:changed.index("raw: 5.951")].count("\n") + 1
    found = faults(changed)
    assert found[0].startswith(f"job.yaml:{line}:")
    assert "the log says '5.952' here, so the file was changed after its export" in found[0]
    assert "remove `log:` to read this as written by hand" in found[0]


@pytest.mark.parametrize(("old", "new", "says"), [
    ("notes:\n", "remarks:\n", "the log says `notes`, and it is missing here"),
    ("format: ", "more: x\nformat: ", "the log says nothing of 'more'"),
    ("log:\n", "log:\n  - hello\n", "not JSON"),
    ("log:\n", "log:\n  - [hello]\n", "not JSON"),
])
def test_a_log_that_does_not_agree_is_told(old, new, says):
    text = write_job(read_job(HEAD + READINGS + "notes: [{about: inl-3f, text: pitted}]\n", "job.yaml"))
    assert says in faults(text.replace(old, new, 1))[0]


def test_a_log_that_lost_a_reading_is_told():
    text = write_job(read_job(HEAD + READINGS, "job.yaml"))
    lines = text.splitlines(keepends=True)
    assert "the log has 7 entries for `readings`, and 8 stand here" in faults("".join(lines[:-1]))[0]
    assert "stands in the log twice" in faults(text + lines[-1])[0]
    assert "a list of events belongs here" in faults(HEAD + "log: x\n")[0]


@given(st.text(max_size=80))
@settings(max_examples=60)
def test_any_raw_text_gives_events_or_faults(raw):
    from witnessmark.text.write import write
    data = {"format": "witnessmark-job-1", "job": {"id": "x"}, "gauges": {"M": {"kind": "micrometer", "unit": "mm"}},
            "readings": [{"characteristic": "x", "place": "inl-1", "gauge": "M", "raw": raw}]}
    try:
        events = read_job(write(data), "job.yaml")
    except Faulty as told:
        assert told.faults
    else:
        assert events[-1].body["raw"] == raw


@given(st.text(max_size=200))
@settings(max_examples=60)
def test_any_text_gives_events_or_faults(text):
    with pytest.raises(Faulty):
        read_job(text, "job.yaml")
    try:
        events = read_job(f"{HEAD}readings: [{text}", "job.yaml")
    except Faulty as told:
        assert told.faults
    else:  # the text closed the list
        assert events[0].kind == "job_opened"
