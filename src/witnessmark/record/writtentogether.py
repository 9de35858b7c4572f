"""The section of a job file about putting together: read into events, and written out of a job."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from witnessmark.record.event import Event
from witnessmark.record.job import Job
from witnessmark.record.shape import problems
from witnessmark.record.writtenbeside import Taker
from witnessmark.text.fault import Path

if TYPE_CHECKING:
    from witnessmark.record.jobschema import JobFile
    from witnessmark.record.jobtogether import TogetherEntry

ABOUT = {"begun": "joint", "turned": "bolt", "in doubt": "bolt", "settled": "bolt", "signed": "step", "trace": "bolt",
         "closed": "hash"}  # the key that says what an entry is about, for an id where none stands


def take(taker: Taker, job: "JobFile") -> None:
    """Conditions of the tests, and every entry of `assembly` in its order."""
    if job.conditions is not None:
        taker.event("conditions", "conditions_entered", {"entries": dict(job.conditions), "based_on": None},
                    ("conditions",))
    entries = job.assembly or ()
    ids = [taker.id_of(entry.id, f"{entry.was}:{getattr(entry, ABOUT[entry.was]) or '?'}") for entry in entries]
    runs = [id for id, entry in zip(ids, entries, strict=True) if entry.was == "begun"]
    for position, (id, entry) in enumerate(zip(ids, entries, strict=True)):
        _entry(taker, entry, id, runs, ("assembly", position))


def _entry(taker: Taker, entry: "TogetherEntry", id: str, runs: list[str], path: Path) -> None:
    from witnessmark.record.jobtogether import KINDS, body_of, keys_of

    body, kind = body_of(entry), KINDS[entry.was]
    for key in sorted(set(body) - set(keys_of(entry.was))):
        taker.fault("value", f"'{key}' does not belong to what was '{entry.was}'; take it out", (*path, key))
    for said in problems(Event(id, kind, body)):
        taker.fault("missing", said, path)
    taker.known("run", entry.run, runs, (*path, "run"))
    taker.event(id, kind, body, path, entry.model_dump())


def written(job: Job, events: Iterable[Event]) -> list[tuple[str, dict[str, Any]]]:
    """The entries of `assembly`, in the order of the log, each with the id of its event."""
    from witnessmark.record.jobtogether import WORDS, keys_of

    by_id = {event.id: event for event in events}
    runs = {one.event for one in job.assembly}
    several: list[Any] = sorted((*job.assembly, *job.signed, *job.traces, *job.closings), key=lambda one: one.seq)
    found = []
    for one in several:
        event = by_id[one.event]
        word = WORDS[event.kind]
        body = event.body if event.body.get("run") in runs else {**event.body, "run": None}
        found.append((event.id, {"was": word, **_known(body, keys_of(word))}))
    return found


def _known(body: Mapping[str, Any], keys: Iterable[str]) -> dict[str, Any]:
    return {key: body[key] for key in keys if body.get(key) is not None}
