"""The common case of replay: one more reading, photo or check of a gauge, or one more place left out, on a snapshot.

Whatever points at another event, changes what others rest on, or may settle something that waits, is left to replay.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from witnessmark.record.beside import comparison, photo, zero_check
from witnessmark.record.event import Event
from witnessmark.record.job import ASKED, Job
from witnessmark.record.readings import Corrected, Told, reading
from witnessmark.record.replay import waived
from witnessmark.record.shape import problems
from witnessmark.record.together import ADDS

_NOTHING_TOLD = Told({}, (), ())
_NOTHING_CORRECTED = Corrected({}, frozenset(), ())
_ADDS: Mapping[str, tuple[str, Callable[[Event], Any]]] = {  # what touches nothing else: where it goes, how it is made
    "waived": ("waived", waived), "photo_added": ("photos", photo), "zero_checked": ("checks", zero_check),
    "gauges_compared": ("comparisons", comparison), **ADDS}


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
    if event.kind in _ADDS:
        run = event.body.get("run")
        return run is None or any(one.event == run for one in job.assembly)
    setting = event.body.get("setting")
    return (
        event.kind == "reading_taken"
        and not event.body.get("supersedes")
        and (setting is None or setting in job.settings)
    )


def _with(job: Job, event: Event) -> Job:
    if event.kind in _ADDS:
        where, make = _ADDS[event.kind]
        more: dict[str, Any] = {where: (*getattr(job, where), make(event)), "seq": event.seq}
        return replace(job, **more)
    revision = len(job.gauges.get(event.body.get("gauge") or "", ())) or None
    taken = reading(event, revision, _NOTHING_TOLD, _NOTHING_CORRECTED, frozenset())
    asked = (taken,) if taken.state == ASKED and taken.meaning is None else ()
    return replace(job, readings=(*job.readings, taken), questions=(*job.questions, *asked), seq=event.seq)
