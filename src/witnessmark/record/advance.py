"""The common case of replay: one more reading at the bench, or one more place left out, on a snapshot at hand.

Whatever points at another event, changes what others rest on, or may settle something that waits, is left to replay.
"""

from collections.abc import Iterable
from dataclasses import replace

from witnessmark.record.event import Event
from witnessmark.record.job import ASKED, Job
from witnessmark.record.readings import Corrected, Told, reading
from witnessmark.record.replay import waived
from witnessmark.record.shape import problems

_NOTHING_TOLD = Told({}, (), ())
_NOTHING_CORRECTED = Corrected({}, frozenset(), ())


def advance(job: Job, fresh: Iterable[Event]) -> Job | None:
    """The snapshot after `fresh`, which follow `job` in its log under new ids; None where only replay can tell."""
    if job.waiting:
        return None
    for event in fresh:
        if event.seq <= job.seq or problems(event) or not _alone(job, event):
            return None
        job = _with(job, event)
    return job


def _alone(job: Job, event: Event) -> bool:
    if event.kind == "waived":
        return True
    setting = event.body.get("setting")
    return (
        event.kind == "reading_taken"
        and not event.body.get("supersedes")
        and (setting is None or setting in job.settings)
    )


def _with(job: Job, event: Event) -> Job:
    if event.kind == "waived":
        return replace(job, waived=(*job.waived, waived(event)), seq=event.seq)
    revision = len(job.gauges.get(event.body.get("gauge") or "", ())) or None
    taken = reading(event, revision, _NOTHING_TOLD, _NOTHING_CORRECTED, frozenset())
    asked = (taken,) if taken.state == ASKED and taken.meaning is None else ()
    return replace(job, readings=(*job.readings, taken), questions=(*job.questions, *asked), seq=event.seq)
