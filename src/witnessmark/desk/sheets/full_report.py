"""The full report of a job: the inspection as found, every later round, the order, what was put together, the closing.

It is made of the parts that the inspection report and the papers of an order are made of; nothing is judged here anew.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from witnessmark.desk.bench import ROUNDS, Refused
from witnessmark.desk.planning import plan_of_job
from witnessmark.desk.sheets.full_together import conditions_table, run_tables, step_table, trace_table
from witnessmark.desk.sheets.full_verified import verified_tables
from witnessmark.desk.sheets.order import NAMES, Paper, Table, paper
from witnessmark.desk.sheets.record import Entry, entries
from witnessmark.desk.sheets.report import CLOSED, ReportView, last_day, report
from witnessmark.desk.sheets.report_facts import cut, when
from witnessmark.desk.state import State, state
from witnessmark.plan.milp import Quiet
from witnessmark.record.event import Event, digest
from witnessmark.record.job import Job
from witnessmark.record.proof import proof

MOST_LATER = 60
ELSEWHERE = ("Readings of the round", CLOSED)  # what the full report says in its own place


@dataclass(frozen=True, slots=True)
class Closing:
    """A closing as it is printed. `hash` are all its digits, `left` says what stayed open."""

    number: int
    hash: str
    events: int
    at: str
    by: str
    note: str
    left: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FullView:
    """All that the full report says. `first` is the round as found with everything that is of no round."""

    first: ReportView
    rounds: tuple[ReportView, ...]
    order: tuple[Paper, ...]
    no_order: str
    together: tuple[Table, ...]  # steps signed, runs at the bolts, traces, tests
    closing: tuple[tuple[str, str], ...]  # label and fact; () while the job is open
    hash: str  # in groups of four
    left: tuple[str, ...]
    later: tuple[str, ...]
    later_left: int
    prove: str


PROVE = (
    "To hold this paper against the record: export the job as evidence, and run “witnessmark verify FILE --hash” with "
    "the hash above, or with its first 16 digits. The hash fits this record and no other. It covers every entry up to "
    "the closing; what came after is listed as later changes."
)
OPEN = "This job is not closed. The checksum is that of the record as it stood when this paper was made."


def full_report(now: State, events: Sequence[Event], closing: Closing | None, display: str, quiet: Quiet) -> FullView:
    """The full report of a job. `closing` is the one being made, or the last that was; None while the job is open."""
    log = tuple(events)
    checksum, date = digest(log), last_day(log)

    def of_round(name: str) -> ReportView:
        there = state(now.job, now.catalogue, name, now.memory)
        return report(there, checksum=checksum, date=date, display=display)

    first = of_round(ROUNDS[0])
    later_rounds = [one for one in dict.fromkeys(reading.round for reading in now.job.readings) if one != ROUNDS[0]]
    rank = {name: n for n, name in enumerate(ROUNDS)}
    ranked = sorted(later_rounds, key=lambda name: rank.get(name, len(rank)))
    rounds = tuple(_own_photos(now.job, of_round(name)) for name in ranked)
    order, no_order = _order(now, display, date, quiet)
    later = _later(now, log)
    notice = (_notice(closing, len(later)),) if closing else ("This job is not closed.",)
    mine = tuple(one for one in first.notices if not one.startswith(ELSEWHERE))
    title = first.title.replace("Inspection report", "Full report")
    return FullView(
        first=replace(first, title=title, notices=(*notice, *mine)),
        rounds=rounds,
        order=order,
        no_order=no_order,
        together=_together(now, display),
        closing=_closing(closing, len(later)) if closing else (),
        hash=fours(closing.hash) if closing else "",
        left=closing.left if closing else (),
        later=later[:MOST_LATER],
        later_left=max(0, len(later) - MOST_LATER),
        prove=PROVE if closing else OPEN,
    )


def _own_photos(job: Job, view: ReportView) -> ReportView:
    """A later round without the photos of no round, which stand in the first."""
    own = {one.photo for one in job.photos if one.round == view.round}
    mine = tuple(one for one in view.notices if not one.startswith(ELSEWHERE))
    return replace(view, photos=tuple(one for one in view.photos if one.photo in own), notices=mine)


def closing_of(events: Sequence[Event]) -> Closing | None:
    """The last closing of a record as it is printed, or None for a job that is open."""
    found = proof(events).closings
    if not found:
        return None
    last = found[-1]
    note = str(last.event.body.get("note") or "")
    return Closing(len(found), last.hash, last.events, last.event.at, last.event.by, note)


def fours(digits: str) -> str:
    """All digits of a hash in groups of four, in capitals."""
    return " ".join(digits[at : at + 4] for at in range(0, len(digits), 4)).upper()


def _notice(one: Closing, later: int) -> str:
    by = f", by {one.by}" if one.by else ""
    after = f"; {_entries(later, 'later ')} came after, listed at the end" if later else ""
    return f"Closed {when(one.at)}{by}: hash {fours(one.hash[:16])}, in full under “Closing and proof”{after}."


def _closing(one: Closing, later: int) -> tuple[tuple[str, str], ...]:
    said = (
        ("closed", ", ".join(filter(None, (when(one.at), one.by)))),
        ("covers", f"{_entries(one.events)} of the record"),
        ("closing", f"number {one.number}"),
        ("note", one.note),
        ("later changes", _entries(later) if later else "none when this paper was made"),
    )
    return tuple((label, text) for label, text in said if text)


def _entries(number: int, more: str = "") -> str:
    return f"{number} {more}{'entry' if number == 1 else 'entries'}"


def _order(now: State, display: str, date: str, quiet: Quiet) -> tuple[tuple[Paper, ...], str]:
    if now.job.order is None:
        return (), "No plan was ordered."
    try:
        planned = plan_of_job(now, quiet)
        return tuple(paper(now, planned, name, display, date) for name in NAMES), ""
    except Refused as refused:
        return (), f"The order cannot be shown: {refused}."


def _together(now: State, display: str) -> tuple[Table, ...]:
    tables = (step_table(now.job), *run_tables(now.job), trace_table(now.job), conditions_table(now.job))
    return (*(one for one in tables if one is not None), *verified_tables(now, display))


def _later(now: State, log: Sequence[Event]) -> tuple[str, ...]:
    """What came after the last closing, in the words of the record."""
    after = {event.id for event in proof(log).later}
    return tuple(later_line(one) for one in entries(now.job, log, now.catalogue) if one.id in after) if after else ()


def later_line(one: Entry) -> str:
    """`no. 412, 26 Nov 2026, 10:20, J. M.: stem diameter, Inl 3F, 5.952 (5.952 mm, by M-07)`."""
    who = ", ".join(filter(None, (f"no. {one.seq}", when(one.at), one.by)))
    what = ", ".join(filter(None, (one.what, one.where, one.raw)))
    return cut(f"{who}: {what}" + (f" ({one.meaning})" if one.meaning else ""))
