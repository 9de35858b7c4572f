"""What a round says of a location, its doubt parted into what gauges and readings share and what is its own."""

import numpy as np
import pytest

from witnessmark.engine.layout import layout
from witnessmark.judge.known import known
from witnessmark.limits.read import read_sheet
from witnessmark.record.jobfile import read_job
from witnessmark.record.replay import replay
from witnessmark.shell.resources import catalogue

LIMITS = """\
format: witnessmark-limits-1
sheet: {name: S-1, document: A book (invented), invented: yes}
limits:
  head_height: [{service: {low: 132.6}, unit: mm, stations: RULE}]
"""
JOB = """\
format: witnessmark-job-1
job: {id: J-1, engine: Tern 2.0, invented: true}
engine: {layout: inline, cylinders: 1, valves: {inl: 1, exh: 1}, gear: bucket_shim}
gauges:
  M: {kind: micrometer, unit: in, resolution: 0.0001, calibration: {U: 0.0002, k: 2, date: 2026-03-02}, repeatability: {s: 0.0001, n: 20}}
  H: {kind: height_gauge, unit: mm, resolution: 0.01, calibration: {U: 0.02, k: 2, date: 2026-03-02}, repeatability: {s: 0.006, n: 12}}
readings:
  - {characteristic: stem_diameter, place: inl-1/top/along, gauge: M, raw: 0.2350}
  - {characteristic: guide_bore, place: inl-1/top/along, gauge: M, raw: 0.2365}
  - {characteristic: head_height, place: head/height-1, gauge: H, raw: 132.80}
  - {characteristic: head_height, place: head/height-2, gauge: H, raw: 132.90}
"""
ASKED = [("stem_diameter", ("inl-1",), ""), ("guide_bore", ("inl-1",), ""), ("stem_guide_clearance", ("inl-1",), ""),
         ("head_height", ("head",), ""), ("margin", ("inl-1",), "")]  # fmt: skip


def found(rule="worst", asked=ASKED):
    job = replay([event.stored(n, "") for n, event in enumerate(read_job(JOB, "job.yaml"), 1)])
    sheet = read_sheet(LIMITS.replace("RULE", rule), "sheet.yaml", catalogue())
    return known(job, sheet, layout(job.engine), catalogue(), "as found", asked)


def doubt(one, *weights):
    """Standard uncertainty of a sum of rows."""
    row = np.array(weights)
    return float(np.sqrt(((row @ one.shared) ** 2).sum() + ((row * one.own) ** 2).sum()))


def test_values_come_inside_and_what_nobody_read_is_not_known():
    one = found()
    assert one.value[:3] == pytest.approx([5.969, 6.0071, 0.0381])
    assert np.isnan(one.value[4]) and not one.stated.any()


def test_the_rule_of_the_limit_says_which_height_counts():
    assert found("worst").value[3] == pytest.approx(132.80)
    assert found("mean").value[3] == pytest.approx(132.85)
    assert found("mean").own[3] == pytest.approx(found("worst").own[3] / np.sqrt(2))


def test_one_micrometer_over_stem_and_guide_loses_its_calibration_in_the_clearance():
    one = found()
    at = one.sources.index("calibration of M")
    assert one.shared[:2, at] == pytest.approx([0.00254, 0.00254])
    assert one.shared[2, at] == pytest.approx(0.0, abs=1e-12)


def test_a_clearance_and_the_stem_behind_it_share_the_reading_of_the_stem():
    """Clearance and stem together are the guide's bore again, with no more doubt than the bore itself has."""
    one = found()
    assert "reading of stem_diameter at inl-1/top/along" in one.sources
    assert doubt(one, 1, 0, 1, 0, 0) == pytest.approx(doubt(one, 0, 1, 0, 0, 0))
    assert doubt(one, 1, -1, 1, 0, 0) == pytest.approx(0.0, abs=1e-9)


def test_who_asks_for_an_end_gets_it_whatever_the_rule():
    """The play of a camshaft is the least of its journals, though wear makes the largest the one that is judged."""
    ends = found(asked=[("head_height", ("head",), end) for end in ("least", "most", "")]).value
    assert ends[0] < ends[1]
    assert ends[2] in (ends[0], ends[1])
