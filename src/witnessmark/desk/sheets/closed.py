"""What the record sheet shows of closing: what is open, whether a key closes the job, each closing, what came after."""

from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.desk.bench import Refused
from witnessmark.desk.close import draft_closing
from witnessmark.desk.commands import Stamp
from witnessmark.desk.left import left_open
from witnessmark.desk.sheets.chrome import stage_href
from witnessmark.desk.sheets.full_report import fours, later_line
from witnessmark.desk.sheets.record import entries
from witnessmark.desk.sheets.report_facts import when
from witnessmark.desk.state import State
from witnessmark.record.event import Event
from witnessmark.record.proof import CLOSED, Closed, proof

MOST_LATER = 20


@dataclass(frozen=True, slots=True)
class Open:
    """One kind of thing that is open, with the sheet on which it is settled."""

    words: str
    stage: str
    href: str


@dataclass(frozen=True, slots=True)
class Line:
    """One closing. `hash` in groups of four; `broken` says what is not as it was closed; `papers` are names."""

    number: int
    at: str
    by: str
    hash: str
    events: int
    note: str
    papers: tuple[str, ...]
    broken: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ClosedSheet:
    """All of it. `may` is whether a key closes the job now; `cannot` says why not; `seen` is the last entry shown."""

    job: str
    seen: str
    open: tuple[Open, ...]
    may: bool
    cannot: str
    closings: tuple[Line, ...]
    later: tuple[str, ...]
    later_left: int
    said: str


def closed_sheet(state: State, events: Sequence[Event], at: str) -> ClosedSheet:
    """The closing of a job as the record sheet shows it; `at` is the time of now, as the shell's clock says it."""
    log = tuple(events)
    proved = proof(log)
    after = {event.id for event in proved.later}
    later = [later_line(one) for one in entries(state.job, log, state.catalogue) if one.id in after] if after else []
    done = bool(log) and log[-1].kind == CLOSED
    left = () if done else left_open(state)
    cannot = "" if done else _cannot(state, log, at)
    return ClosedSheet(
        job=state.job.id,
        seen=str(max((one.seq for one in log), default=0)),
        open=tuple(Open(one.words, one.stage, stage_href(state.job.id, one.stage)) for one in left),
        may=not done and not cannot,
        cannot=f"{cannot[:1].upper()}{cannot[1:]}." if cannot else "",
        closings=tuple(_line(number, one) for number, one in enumerate(proved.closings, 1)),
        later=tuple(later[:MOST_LATER]),
        later_left=max(0, len(later) - MOST_LATER),
        said=_said(proved.closings, len(later)),
    )


def _said(closings: Sequence[Closed], later: int) -> str:
    if not closings:
        return ""
    event = closings[-1].event
    after = f"{later} later {'entry' if later == 1 else 'entries'}" if later else ""
    by = f"by {event.by}" if event.by else ""
    return "closed " + ", ".join(filter(None, (when(event.at), by, after)))


def _line(number: int, one: Closed) -> Line:
    note = str(one.event.body.get("note") or "")
    return Line(number, when(one.event.at), one.event.by, fours(one.hash), one.events, note,
                tuple(sorted(one.papers)), tuple(place.text for place in one.places))  # fmt: skip


def _cannot(state: State, log: Sequence[Event], at: str) -> str:
    """Why the job cannot be closed by anybody, whatever the note says; "" when it can."""
    try:
        draft_closing(state, log, Stamp("x", at, "somebody"), note="a reason")
    except Refused as refused:
        return str(refused)
    return ""
