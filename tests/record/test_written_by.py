"""Job files that earlier versions wrote: they open for ever, say what they said, and go out again byte for byte."""

from pathlib import Path

import pytest

from record.histories import check, decision, look, opened, photo, reading, says, take_back
from witnessmark.record.advance import advance
from witnessmark.record.export import write_job
from witnessmark.record.jobfile import read_job
from witnessmark.record.replay import replay

FIRST = Path(__file__).with_name("written_by") / "first.yaml"


@pytest.mark.pinned("an export of the first version, its own bytes")
def test_an_export_of_the_first_version_opens_and_goes_out_as_it_was():
    text = FIRST.read_text("utf-8")
    events = read_job(text, "first.yaml")
    assert write_job(events) == text.partition("\n")[2]
    job = replay(events)
    assert [one.state for one in job.readings] == ["counted", "taken back", *["counted"] * 6]
    assert (job.photos, job.checks, job.decisions, job.answers, job.extent, job.extent_event) == ((), (), (), (), "full", None)
    assert {(one.method, one.photos, one.mark) for one in job.readings} == {(None, (), None)}


@pytest.mark.pinned("an export of the first version, its own bytes")
def test_an_event_that_no_version_here_knows_is_kept_in_its_place():
    events = read_job(FIRST.read_text("utf-8"), "first.yaml")
    assert [(one.event, one.kind) for one in replay(events).kept] == [("x1", "cam_timed")]
    assert (events[-1].id, events[-1].body) == ("x1", {"of": "cam-inl"})


def test_a_head_of_390_readings_with_all_that_stands_beside_them_replays_in_50_ms():
    import time

    readings = [reading(f"r{n}", **({"supersedes": f"r{n - 1}"} if n % 50 == 1 else {})) for n in range(300)]
    looks = [look(f"k{n}") for n in range(90)]
    rest = [*(photo(f"p{n}") for n in range(60)), *(check(f"z{n}") for n in range(40)),
            *(decision(f"d{n}", place=f"place-{n % 40}", based_on=f"d{n - 40}") for n in range(80)),
            *(says(f"a{n}", about=[f"d{n}"] if n else []) for n in range(10)), take_back("t", "d3")]
    log = [event.stored(n, "") for n, event in enumerate([opened(), *readings, *looks, *rest], 1)]
    took = []
    for _ in range(5):
        begun = time.perf_counter()
        job = replay(log)
        took.append(time.perf_counter() - begun)
    assert (len(job.readings), len(job.photos), len(job.decisions), len(job.earlier)) == (390, 60, 40, 39)
    assert min(took) < 0.05
    begun = time.perf_counter()
    assert advance(job, [reading("last").stored(len(log) + 1, "")]) is not None
    assert time.perf_counter() - begun < 0.005
