"""Dates of a job that are none, and gauges that were past theirs: to be looked at, never in the way of a reading."""

from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import datetime

from witnessmark.desk.sheets.due import day_of
from witnessmark.judge.trust import due, overdue
from witnessmark.record.job import GaugeRevision, Job
from witnessmark.text.fault import Fault


def date_warnings(job: Job, name: str) -> tuple[Fault, ...]:
    """Warnings about the dates of a job that came from the file `name`."""
    return (*_calibrations(job, name), *_times(job, name), *_past_due(job, name))


def _calibrations(job: Job, name: str) -> Iterator[Fault]:
    for revisions in job.gauges.values():
        for revision in revisions:
            for word, text in _dates(revision):
                if day_of(text) is None:
                    said = f"gauge {revision.gauge}: {word} '{text[:40]}' is no date; write it like 2026-03-02"
                    yield Fault("no_date", said, name, path=f"gauges.{revision.gauge}.calibration")


def _dates(revision: GaugeRevision) -> Iterator[tuple[str, str]]:
    calibration = revision.fields.get("calibration")
    for key, word in (("date", "calibrated on"), ("due", "due on")):
        text = str(calibration.get(key) or "") if isinstance(calibration, Mapping) else ""
        if text:
            yield (word, text)


def _times(job: Job, name: str) -> Iterator[Fault]:
    odd = [reading for reading in job.readings if reading.at and not _is_time(reading.at)]
    if odd:
        more = f", and {len(odd) - 1} more like it" if len(odd) > 1 else ""
        said = f"reading {odd[0].id} was taken at '{odd[0].at[:40]}', which is no time{more}; write 2026-11-24T10:42"
        yield Fault("no_time", said, name, path="readings")


def _is_time(text: str) -> bool:
    try:
        datetime.fromisoformat(text)
    except ValueError:
        return False
    return True


def _past_due(job: Job, name: str) -> Iterator[Fault]:
    for gauge, number in Counter(overdue(job).values()).items():
        dates = sorted({due(revision.fields) for revision in job.gauges[gauge]} - {""})
        said = f"gauge {gauge} was due on {dates[0]}, before {number} of its readings; every value with it says so"
        yield Fault("overdue", said, name, path=f"gauges.{gauge}")
