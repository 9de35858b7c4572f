"""The sections of an export that stand beside the readings, each entry with the id of its event."""

from bisect import bisect_left
from collections.abc import Iterable, Mapping
from typing import Any

from witnessmark.record.event import Event
from witnessmark.record.job import Job, Photo, ZeroCheck
from witnessmark.record.order import keys

Entries = list[tuple[str, dict[str, Any]]]


def beside(job: Job, events: Iterable[Event]) -> Mapping[str, Entries]:
    """Photos, checks, comparisons, decisions and answers, keys with nothing in them left out.

    Decisions stand with those that were replaced, the earliest first, so that answers to them find them.
    """
    seqs = [reading.seq for reading in job.readings]
    return {key: [(id, _without_nothing(entry)) for id, entry in entries] for key, entries in {
        "photos": [(one.event, _photo(one)) for one in job.photos],
        "zero_checks": [(one.event, _check(one, job, seqs)) for one in job.checks],
        "comparisons": [(one.event, {
            "first": one.first, "second": one.second, "on": one.on, "first_read": one.first_read,
            "second_read": one.second_read, "unit": one.unit}) for one in job.comparisons],
        "decisions": _decisions(job, events),
        "customer": _answers(job),
    }.items()}


def _photo(one: Photo) -> dict[str, Any]:
    return {
        "photo": one.photo, "type": None if one.type == "image/jpeg" else one.type, "bytes": one.bytes,
        "width": one.width, "height": one.height, "characteristic": one.characteristic, "place": one.place,
        "round": one.round, "note": one.note or None, "mark": one.mark}


def _check(one: ZeroCheck, job: Job, seqs: list[int]) -> dict[str, Any]:
    """A check, and the reading behind which it stands; a check before the series needs none where it is the first."""
    before = bisect_left(seqs, one.seq)
    behind = job.readings[before - 1].id if before else "" if one.when != "before" else None
    return {
        "gauge": one.gauge, "found": one.found, "unit": one.unit, "against": one.against, "when": one.when,
        "allowed": one.allowed, "passed": one.passed,
        "follows": behind}


def _decisions(job: Job, events: Iterable[Event]) -> Entries:
    rank = keys(event for event in events if event.kind in {"decided", "customer_answered"})
    return [(one.event, {
        "characteristic": one.characteristic, "place": one.place, "round": one.round, "decision": one.decision,
        "operation": one.operation, "why": one.why, "based_on": one.based_on})
        for one in sorted(job.earlier + job.decisions, key=lambda one: rank[one.event])]


def _answers(job: Job) -> Entries:
    """The answers, each with the decisions that it covers; one that covers none is left to the log."""
    told = {one.event for one in job.answers if one.covers}
    return [(one.event, {
        "about": list(one.covers), "answer": one.answer, "ceiling": one.ceiling, "currency": one.currency,
        "said_by": one.said_by, "note": one.note or None, "based_on": one.based_on if one.based_on in told else None})
        for one in job.answers if one.covers]


def _without_nothing(entry: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in entry.items() if value is not None}
