"""Closing a job in the store: its papers are made and kept first, then the closing that names them by their hashes."""

from collections.abc import Sequence
from typing import Any

from witnessmark.desk.close import Draft, close, draft_closing
from witnessmark.desk.commands import Stamp
from witnessmark.desk.state import State
from witnessmark.record.event import Event
from witnessmark.record.proof import Closed, proof


def close_job(store: Any, now: State, stamp: Stamp, received_at: str, *, note: str = "", seen: str = "",
              display: str = "mm", paper: str = "a4") -> Any:  # fmt: skip
    """Close a job; what the store says when it is on the disk. Raises Refused, TypesetFault, StoreFault.

    `now` is the state of the job and `now.job.id` its number in the store. Papers that were made and then not named,
    since somebody else closed the job meanwhile, stay in the store and harm nothing.
    """
    from witnessmark.desk.sheets.full_report import Closing
    from witnessmark.shell.papers.full import closing_papers
    from witnessmark.shell.papers.photos import stored

    job = now.job.id
    events: tuple[Event, ...] = store.events(job)
    draft = draft_closing(now, events, stamp, note, seen)
    told = Closing(draft.number, draft.hash, len(draft.events), stamp.at, stamp.by, draft.note, _words(draft))
    made = closing_papers(now, events, told, display, paper, stored(store.photos))
    papers = {name: store.papers.put(pdf) for name, pdf in made.items()}
    return store.append(job, close(draft, papers), received_at)


def closings(events: Sequence[Event]) -> tuple[Closed, ...]:
    """Every closing of a log, held against it."""
    return proof(events).closings


def _words(draft: Draft) -> tuple[str, ...]:
    return tuple(one.words for one in draft.left)
