"""Traces into the record and out again as a set; what is refused, and what the sheet shows."""

import pytest
from benchmarks.traces import Kind, made

from desk.worked import Desk
from witnessmark.desk import tighten
from witnessmark.desk.bench import Refused
from witnessmark.desk.sheets.trace import traces_sheet
from witnessmark.desk.traces import enter_trace, run_of_traces, traces_of
from witnessmark.record.job import TraceText

RUN = "tighten:head:1"


def csv(n=1, *, slope=700.0, until=-12.0, factor=1000.0, unit="N·m", points=400):
    one = made(Kind(slope, 5, 6), n, points=points, noise=100, until=until)
    return f"angle (deg),torque ({unit})\n" + "".join(
        f"{a:.3f},{t / factor:.3f}\n" for a, t in zip(one.angle - one.snug + 40, one.torque, strict=True)
        if a - one.snug < 35 + (until > 0) * 40)  # fmt: skip


@pytest.fixture
def desk():
    one = Desk("tern")
    one.do(tighten.begin, "head")
    return one


def test_a_trace_is_kept_with_its_lines_and_read_again(desk):
    text = csv()
    (event,) = desk.do(enter_trace, text, "bolt-3.csv", "", joint="head")
    assert event.kind == "trace_entered"
    assert event.body["text"] == text
    assert event.body["run"] == RUN
    assert event.body["bolt"] == "3"
    (kept,) = desk.now.job.traces
    assert isinstance(kept, TraceText)
    found = traces_of(desk.now, "head")
    assert [one.bolt for one in found.set.bolts] == ["3"]
    assert found.set.bolts[0].points.snug.angle == pytest.approx(40, abs=1)
    assert traces_of(desk.now, "head") is found  # read once
    assert not traces_of(desk.now, "inlet_cam").set.bolts


def test_a_set_tells_the_unlike_bolt_and_the_sheet_shows_it_first(desk):
    for n in range(1, 9):
        desk.do(enter_trace, csv(n, slope=700 + 4 * n + 500 * (n == 4)), f"{n}.csv", str(n), RUN)
    found = traces_of(desk.now, "head")
    assert {one.bolt for one in found.signatures} == {"4"}
    sheet = traces_sheet(desk.now, "head")
    assert sheet.bolt == "4"
    assert sheet.findings[0].bolt == "4"
    assert "N·m" in sheet.findings[0].said
    assert sheet.missing == "no trace of bolt 9, 10"
    assert [row.bolt for row in sheet.rows if any(cell.apart for cell in row.cells)] == ["4"]
    other = traces_sheet(desk.now, "head", "2", "lbf·ft")
    assert other.bolt == "2"
    assert other.heads[1] == "slope, lbf·ft/°"
    metric = traces_sheet(desk.now, "head", "2").rows[1].cells[-1].text
    assert float(other.rows[1].cells[-1].text) == pytest.approx(float(metric) / 1.35582, abs=0.11)
    assert traces_sheet(desk.now, "none") is None


def test_the_last_trace_of_a_bolt_counts_and_a_new_run_begins_empty(desk):
    desk.do(enter_trace, csv(1), "1.csv", "1", RUN)
    desk.do(enter_trace, csv(2, slope=900), "1.csv", "1", RUN)
    assert traces_of(desk.now, "head").set.bolts[0].points.slope == pytest.approx(900, rel=0.05)
    desk.do(tighten.begin, "head", note="bolts renewed")
    assert run_of_traces(desk.now, "head").id == "tighten:head:2"
    assert traces_of(desk.now, "head").set.bolts == ()


def test_a_file_with_a_column_for_the_bolt_gives_each_its_own_lines(desk):
    head, *rows = csv(1, factor=1355.8179483, unit="lbf·ft").splitlines()
    text = "\n".join([f"{head},bolt", *(f"{row},{name}" for name in ("1", "2") for row in rows)])
    events = desk.do(enter_trace, text, "all.csv", "", RUN)
    assert [one.body["bolt"] for one in events] == ["1", "2"]
    assert len({one.id for one in events}) == 2
    assert events[0].body["text"].count("\n") == len(rows) + 1
    first, second = traces_of(desk.now, "head").set.bolts
    assert first.points.slope == pytest.approx(700, rel=0.05)
    assert second.points.slope == first.points.slope


def test_two_runs_in_a_file_are_chosen(desk):
    text = csv(1) + csv(2, slope=900).split("\n", 1)[1]
    with pytest.raises(Refused) as told:
        enter_trace(desk.now, desk.stamp(), text, "1.csv", "1", RUN)
    assert "run 1 to 2" in told.value.faults[0].message
    desk.do(enter_trace, text, "1.csv", "1", RUN, part=2)
    assert traces_of(desk.now, "head").set.bolts[0].points.slope == pytest.approx(900, rel=0.05)


@pytest.mark.parametrize(("words", "says"), [
    ((csv(), "curve.csv", "", RUN), "which bolt is curve.csv?"),
    ((csv(), "x.csv", "44", RUN), "has no bolt 44"),
    ((csv(), "x.csv", "1", "tighten:head:9"), "no run is called 'tighten:head:9'"),
    ((csv(), "x.csv", "1", "", "heads"), "no joint is called 'heads'"),
    ((csv(), "x.csv", "1"), "a trace needs its joint"),
    ((csv(), "x.csv", "1", "", "inlet_cam"), "no joint is called"),
    (("angle,torque\n", "x.csv", "1", RUN), "not taken: x.csv, 2 faults"),
])  # fmt: skip
def test_what_is_refused(desk, words, says):
    with pytest.raises(Refused, match="(?s)" + says.replace("?", r"\?")):
        enter_trace(desk.now, desk.stamp(), *words)


def test_the_same_trace_is_not_kept_twice(desk):
    desk.do(enter_trace, csv(), "1.csv", "1", RUN)
    with pytest.raises(Refused, match=r"in the record already, as 1\.csv"):
        enter_trace(desk.now, desk.stamp(), csv(), "again.csv", "1", RUN)


def test_one_joint_needs_no_run():
    desk = Desk("wren")
    desk.do(enter_trace, csv(), "1.csv", "1")
    assert [one.bolt for one in traces_of(desk.now, "head").set.bolts] == ["1"]
    assert traces_sheet(desk.now, "head").title == "Head nuts: traces"


def test_a_record_from_elsewhere_that_cannot_be_read_is_told(desk):
    event = desk.stamp().event("trace_entered", {"bolt": "2", "run": RUN, "name": "x", "text": "no", "hash": "0" * 64})
    desk.add(event)
    found = traces_of(desk.now, "head")
    assert found.set.bolts == ()
    assert "bolt 2: x:1" in found.unread[0]
    assert traces_sheet(desk.now, "head").unread == found.unread
