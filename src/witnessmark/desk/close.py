"""Closing a job: what must be settled before, what may stay open with a reason, and the entry that proves the rest.

    draft = draft_closing(now, events, stamp, note, seen)   # refused, or all that the papers print of the closing
    event = close(draft, papers)                            # with the hashes of the papers that were made

The id follows from how often the job was closed, so that of two people who close it at once one is told. After a
closing every entry is accepted as before, and shown as a later change. The job may be closed again then.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.left import Left, left_open
from witnessmark.desk.sheets.phrase import shown
from witnessmark.desk.state import State
from witnessmark.record.event import Event, digest
from witnessmark.record.proof import CLOSED, closing_id, links, proof, sealed

LONGEST_NOTE = 2000


@dataclass(frozen=True, slots=True)
class Draft:
    """A closing that may be made: its number, the hash over the record so far, what it leaves open and why."""

    number: int
    hash: str
    events: tuple[Event, ...]
    left: tuple[Left, ...]
    note: str
    stamp: Stamp


def draft_closing(state: State, events: Sequence[Event], stamp: Stamp, note: str = "", seen: str = "") -> Draft:
    """Check that a job may be closed. `events` is its whole log; `seen` the number of the last entry that was shown.

    Raises Refused, with the cure in its words.
    """
    log = tuple(events)
    _by_somebody(stamp)
    _as_shown(log, seen)
    _not_closed_yet(log)
    _settled(state)
    _unbroken(log)
    left, why = left_open(state), note.strip()
    if len(why) > LONGEST_NOTE:
        raise Refused(f"the note has {len(why)} letters, and {LONGEST_NOTE} are kept; shorten it")
    if left and not why:
        told = "; ".join(one.words for one in left)
        raise Refused(f"this stays open: {told}. Settle it, or say in the note why the job is closed with it")
    number = 1 + sum(one.kind == CLOSED for one in log)
    return Draft(number, digest(log), log, left, why, replace(stamp, id=closing_id(number)))


def close(draft: Draft, papers: Mapping[str, str]) -> tuple[Event, ...]:
    """The closing. `papers` are the SHA-256 hashes of the papers that were made, by name."""
    body = {"hash": draft.hash, "events": str(len(draft.events)), "papers": dict(papers),
            "links": links(draft.events), "note": draft.note or None}  # fmt: skip
    return (sealed(draft.stamp.event(CLOSED, body)),)


def _by_somebody(stamp: Stamp) -> None:
    if not stamp.by.strip():
        raise Refused("a job is closed by somebody: say first who you are, in the cell `by` at the foot of the sheet")


def _as_shown(log: Sequence[Event], seen: str) -> None:
    last = max((one.seq for one in log), default=0)
    if not log:
        raise Refused("there is nothing to close: the job has no entry yet")
    if seen and seen != str(last):
        raise Refused("the record has gone on since this sheet was shown; look at what came, and close it then")


def _not_closed_yet(log: Sequence[Event]) -> None:
    last = log[-1]
    if last.kind == CLOSED:
        who = f", by {last.by}" if last.by else ""
        raise Refused(f"the job was closed already, {last.at or 'at a time that was not kept'}{who}, "
                      "and nothing has come since")


def _settled(state: State) -> None:
    job = state.job
    if job.questions:
        first = job.questions[0]
        entry = state.catalogue.characteristics.get(first.characteristic)
        where = f"{entry.term if entry else first.characteristic} at {shown(first.place)}, read as {first.raw}"
        more = f", and {len(job.questions) - 1} more" if len(job.questions) > 1 else ""
        raise Refused(f"a question is open: {where}{more}; answer it at the bench, or take the reading back")
    if job.conflicts:
        raise Refused(f"two entries contend: {job.conflicts[0].text}; settle it first")
    if job.waiting:
        raise Refused(f"an entry waits for '{job.waiting[0].needs}', which has not come yet: a device may still hold "
                      "it, so open its bench, or take the entry back")


def _unbroken(log: Sequence[Event]) -> None:
    broken = proof(log).places
    if broken:
        raise Refused(f"the record is not what was closed before: {broken[0].text}; verify the store, and fetch the "
                      "job from a backup")
