"""A job file held against the catalogue and its own register: looks, checks, decisions and photos, each with its place."""

import pytest

from witnessmark.desk.check import job_faults
from witnessmark.desk.state import state
from witnessmark.record.jobfile import read_job
from witnessmark.record.replay import replay
from witnessmark.shell.resources import catalogue

HASH = "a" * 64
JOB = f"""format: witnessmark-job-1
job: {{id: HL-1, engine: Tern 2.0, invented: yes}}
engine: {{layout: inline, cylinders: 2, valves: {{inl: 1, exh: 1}}, gear: bucket_shim}}
gauges:
  M-07: {{kind: micrometer, unit: mm, resolution: 0.001}}
  M-08: {{kind: micrometer, unit: mm, resolution: 0.001}}
readings:
  - {{characteristic: head_cracks, place: chamber-1/deck, says: crack, how_much: 12, unit: mm, method: penetrant}}
  - {{characteristic: valve_neck, place: inl-1, says: straight, method: lens}}
  - {{characteristic: margin, place: inl-1, raw: 1.2 mm}}
photos:
  - {{photo: {HASH}, bytes: 9, width: 4, height: 3, characteristic: head_cracks, place: chamber-1/deck}}
zero_checks:
  - {{gauge: M-07, found: 0.001, unit: mm, allowed: 0.002, when: after}}
  - {{gauge: M-08, found: 0.000, unit: mm, allowed: 0.002, when: before}}
comparisons: [{{first: M-07, second: M-08, on: a ring, first_read: 25.000, second_read: 25.001, unit: mm}}]
decisions:
  - {{characteristic: head_cracks, place: chamber-1, decision: machined, operation: skim, why: pressure test holds}}
  - {{characteristic: installed_height, place: all, decision: used again, why: within}}
"""


def told(what="", instead=""):
    assert what in JOB
    text = JOB.replace(what, instead, 1) if what else JOB
    events = read_job(text, "job.yaml", lambda _: "")
    return [
        f"{fault.line}: {fault.path}: {fault.message}" for fault in job_faults(text, "job.yaml", events, catalogue())
    ]


def test_a_job_with_looks_photos_checks_and_decisions_has_nothing_to_mend():
    assert told() == []


@pytest.mark.parametrize(
    ("what", "instead", "fault"),
    [
        ("says: crack,", "says: crak,", "8: readings[0].says: cracks in the head has no answer 'crak'"),
        ("method: penetrant", "method: penetrent", "8: readings[0].method: no method is called 'penetrent'"),
        ("unit: mm, method", "unit: N, method", "8: readings[0].unit: no unit for a length is called 'N'"),
        ("says: straight,", "says: straight, how_much: 2, unit: mm,", "9: readings[1].how_much: "),
        ("says: straight, method: lens", "raw: 5 mm", "9: readings[1].raw: valve neck is looked at; write `says`"),
        ("raw: 1.2 mm", "says: good", "10: readings[2].says: valve margin is measured; write the number in `raw`"),
        ("place: chamber-1/deck}", "place: chamber-9/deck}", "12: photos[0].place: "),
        ("operation: skim", "operation: skimm", "18: decisions[0].operation: no operation is called 'skimm'"),
        ("place: chamber-1, decision", "place: inl-1, decision", "18: decisions[0].place: "),
        ("characteristic: installed_height, place: all", "characteristic: instaled_height, place: all",
         "19: decisions[1].characteristic: no characteristic is called 'instaled_height'; did you mean"),
    ],
)  # fmt: skip
def test_what_does_not_fit_the_catalogue_or_the_register_is_told_with_its_place(what, instead, fault):
    found = told(what, instead)
    assert len(found) == 1 and found[0].startswith(fault.partition(": ")[0]), found
    assert fault in found[0]


def test_a_characteristic_to_measure_that_nobody_knows_is_told_with_its_near_word():
    text = JOB.replace("invented: yes}", "invented: yes, also_measure: [stem_hight]}")
    now = state(replay(read_job(text, "job.yaml")), catalogue())
    told = "also to be measured: no characteristic is called 'stem_hight'; did you mean 'stem_height'?"
    assert told.rstrip("?") in now.problems[0] and now.judgement.results
