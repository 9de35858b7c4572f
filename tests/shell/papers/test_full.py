"""The full report, read back: everything of the job stands in it, and the same record gives the same bytes."""

from functools import cache

import pytest

from desk.verifying import read_together
from desk.worked import Desk
from shell.closed import bolts
from shell.papers import heads
from shell.papers.paper import opened, pages
from witnessmark.desk.conditions import enter_conditions
from witnessmark.desk.order import order_plan
from witnessmark.desk.planning import plan_of_job
from witnessmark.desk.sheets.full_report import PROVE, Closing, closing_of, fours
from witnessmark.desk.sheets.full_verified import verified_tables
from witnessmark.desk.state import state
from witnessmark.record.event import digest
from witnessmark.record.replay import replay
from witnessmark.shell.papers.full import closing_papers, full_pdf, makers
from witnessmark.shell.papers.report import report_pdf
from witnessmark.shell.resources import catalogue

UNITS = {"tern": "mm", "egret": "in"}


@cache
def job(name):
    """A demo head with its plan ordered, a run at its bolts, a step signed; not closed."""
    desk = Desk(name)
    planned = plan_of_job(desk.now)
    if planned.plans:
        desk.do(order_plan, planned, planned.plans[0].name)
    desk.log += bolts()
    events = tuple(event.stored(number, "") for number, event in enumerate(desk.log, 1))
    return desk.now, events


@cache
def closing(name):
    _, events = job(name)
    return Closing(1, digest(events), len(events), "2026-11-26T10:00:00+01:00", "R. P.", "it is sold as it is",
                   ("2 values outside the limit entered",))


@cache
def pdf(name):
    now, events = job(name)
    return full_pdf(now, events, closing(name), UNITS[name])


@cache
def said(name):
    return " ".join(" ".join(pages(pdf(name))).split())


@pytest.mark.parametrize("name", UNITS)
def test_every_part_of_the_job_stands_in_it(name):
    text = said(name)
    for part in ("Full report: cylinder head", "Gauges, limits and people", "Every value", "Readings as they came",
                 "Plan and order", "Shop order", "Parts order", "Before and after", "What the work moves",
                 "Put together", "Steps of assembly", "head: tightened", "Conditions of the tests",
                 "Closing and proof", "Open when the job was closed"):  # fmt: skip
        assert part in text, part
    assert f"SHA-256 {' '.join(fours(closing(name).hash).split())[:39]}" in text.replace("\u2002", " ")
    assert "it is sold as it is" in text and "in doubt: lost count" in text and "torque 25 N·m" in text
    assert " ".join(PROVE.split())[:60] in text


@pytest.mark.parametrize("name", UNITS)
def test_the_hash_is_on_the_first_sheet_and_whole_at_the_end(name):
    first, *_, before, last = pages(pdf(name))
    assert fours(closing(name).hash[:16]) in first and "Closed 26 Nov 2026, 10:00, by R. P." in first
    digits = "".join(f"{before}{last}".replace("\u2002", "").split())
    assert closing(name).hash.upper() in digits


def test_the_same_record_gives_the_same_bytes():
    now, events = job("tern")
    assert full_pdf(now, events, closing("tern"), "mm") == pdf("tern")


def test_it_is_tagged_and_carries_the_date_of_the_record_and_no_clock():
    document = opened(pdf("tern"))
    assert document.Root.MarkInfo.Marked and str(document.docinfo["/CreationDate"]).startswith("D:20261126")


def test_a_job_that_is_open_says_so_on_the_first_sheet():
    now, events = job("egret")
    text = pages(full_pdf(now, events, None, "in"))
    assert "This job is not closed." in text[0] and "not closed" in text[-1]


def test_later_rounds_stand_with_their_values_and_photos():
    """The head of heads.py comes back from machining and is read again; its photos lie beside."""
    events = heads.worked()
    now = state(replay(events), catalogue())
    text = " ".join(" ".join(pages(full_pdf(now, events, None, "mm", "letter", heads.jpegs().get))).split())
    assert "Back from machining" in text and "not on this machine" not in text
    assert "No plan was ordered." in text and "nothing was tightened" in text


def test_the_tests_of_the_assembled_engine_stand_beside_what_was_predicted():
    desk = Desk("tern")
    desk.do(enter_conditions, {"air_pressure": "101.3 kPa", "orifice": "0.040 in", "inlet_closes": "44", "engine": "warm"})
    read_together(desk, cranking_compression="900 kPa", cranking_wet="1150 kPa", leak_down_cylinder="60 psi")
    titles = {one.title: one.rows for one in verified_tables(desk.now, "mm")}
    assert [title.split(",")[0] for title in titles][:2] == ["Cranking compression", "Leakage"]
    assert len(titles["Leakage"]) == 4 and titles["Leakage"][0][0] == "Cylinder 1"
    events = tuple(event.stored(number, "") for number, event in enumerate(desk.log, 1))
    text = " ".join(" ".join(pages(full_pdf(desk.now, events, None, "mm"))).split())
    assert "Cranking compression, " in text and "Leakage" in text and "As assembled" in text
    assert verified_tables(Desk("tern").now, "mm") == ()


def test_what_came_after_the_closing_is_listed(tmp_path):
    from shell import closed
    from witnessmark.desk.commands import note

    store = closed.closed(tmp_path)
    now = closed.now(store)
    store.append(closed.JOB, note(now, closed.stamp("late"), "inl-1", "carbon on the stem"), closed.NOW)
    events = closed.events_of(store)
    text = " ".join(" ".join(pages(full_pdf(closed.now(store), events, closing_of(events)))).split())
    store.close()
    short = " ".join(" ".join(pages(report_pdf(events, catalogue()))).split())
    assert "The job was closed 26 Nov 2026, 10:00, by R. P.; 1 later entry." in short
    assert "1 later entry came after" in text and "Later changes" in text and "carbon on the stem" in text


def test_the_papers_of_a_closing_are_those_of_what_was_done():
    now, events = job("tern")
    made = closing_papers(now, events, closing("tern"), "mm", "a4", lambda _: None)
    assert list(made) == list(makers(now)) == ["full-report", "assembly-sheet", "tightening-head"]
    assert all(paper.startswith(b"%PDF-") for paper in made.values())
