"""The inspection report of one round of a job, as words, marks and drawings ready to be set on paper.

Sheet 1 says what a customer needs: what is out, what is too close to call, how many are within, how many are not
finished. Then follow the gauges and limits behind it, every value, every reading as it came, and what is missing.
The words for a limit are those of the page: "outside the limit you entered", never more.

Same in, same out: the date comes from the record, not from a clock.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from witnessmark.desk.sheets import report_facts as facts
from witnessmark.desk.sheets.paper_block import Facts, eights, engine_words, invented, lead, report_block
from witnessmark.desk.sheets.phrase import location, plural
from witnessmark.desk.sheets.report_after import BeforeAfter, before_and_after, still_open
from witnessmark.desk.sheets.report_decided import Decided, decided_lines, earlier_lines, loose_answers
from witnessmark.desk.sheets.report_faces import Face, gasket_faces
from witnessmark.desk.sheets.report_photos import PhotoCell, photo_cells
from witnessmark.desk.sheets.report_rows import Section, Value, rows_of, sections_of, urgent
from witnessmark.desk.sheets.report_trust import Trust, trust_of
from witnessmark.desk.sheets.setup import LimitTable, limit_table
from witnessmark.desk.state import State
from witnessmark.desk.wanted import FACTS
from witnessmark.draw.logo import logo
from witnessmark.draw.mark import word
from witnessmark.draw.shape import Drawing
from witnessmark.judge.result import CLOSE, OUT, WITHIN, Judgement, Missing
from witnessmark.limits.limit import limit_for
from witnessmark.record.event import Event
from witnessmark.record.job import Job

CLOSED = "The job was closed"
GOVERNS = "Service information and licensed practice govern."
LEGEND = (
    "The bar is the doubt that decides: clear of the hatched wall, 95 in 100 hold; in it, 95 in 100 do not; across it, "
    "the number is the chance of holding. A value in brackets was worked out from others; a boxed one was "
    "entered{from_}; a leaf reading runs from the leaf that enters to the one that does not. A dashed mark is a series "
    "that is not finished. “Out” means outside the limit you entered, and nothing else."
)


@dataclass(frozen=True, slots=True)
class Count:
    """How many values have one verdict, with the mark that stands before the word."""

    number: int
    words: str
    mark: Drawing


@dataclass(frozen=True, slots=True)
class ReportView:
    """All that the report says, in the order in which it is printed. `date` is "" where the record has none."""

    title: str
    lead: str
    logo: Drawing
    date: str  # ISO date of the last event
    job: str
    round: str
    display: str
    block: Facts  # title block: label and fact, without the number of the sheet
    counts: tuple[Count, ...]
    unfinished: str
    notices: tuple[str, ...]  # what keeps the report from saying more
    faces: tuple[Face, ...]
    urgent: tuple[Value, ...]
    calm: str  # what stands in place of an empty table
    legend: str
    readers: str
    about: tuple[tuple[str, str], ...]
    checksum: str  # 64 digits in groups of eight
    gauges: tuple[facts.GaugeRow, ...]
    settings: tuple[str, ...]
    limits: LimitTable | None
    no_limits: str  # why there is no table
    limits_hash: str  # likewise, "" without a sheet
    people: tuple[str, ...]
    assumed: tuple[str, ...]
    parts: tuple[str, ...]
    sections: tuple[Section, ...]
    gaps: tuple[facts.Gap, ...]
    raws: tuple[facts.Readings, ...]
    questions: tuple[str, ...]
    notes: tuple[str, ...]
    cautions: tuple[tuple[str, str], ...]
    governs: str
    trust: Trust
    decided: tuple[Decided, ...]
    answers: tuple[str, ...]  # of the customer, that no decision leans on
    replaced: tuple[str, ...]  # decisions that a later one replaced
    after: tuple[BeforeAfter, ...]
    after_left: int  # places that have no row there, for want of room
    photos: tuple[PhotoCell, ...]


def report(state: State, *, checksum: str, date: str, display: str = "mm") -> ReportView:
    """The report of the state's round. `checksum` is `record.event.digest` of the whole log, `date` is `last_day`
    of it, `display` is mm or in."""
    judgement = of_round(state)
    values = rows_of(state, judgement, display)
    layout, job = state.layout, state.job
    told, left = urgent(values), facts.gaps(judgement, state.catalogue)
    after = before_and_after(state, display)
    return ReportView(
        title=f"Inspection report: cylinder head{'s' if layout and len(layout.banks) > 1 else ''}",
        lead=lead(state, date),
        logo=logo(),
        date=date,
        job=job.id,
        round=state.round,
        display=display,
        block=report_block(state, checksum),
        counts=_counts(judgement),
        unfinished=_unfinished(state, judgement),
        notices=_notices(state),
        faces=gasket_faces(layout, judgement, display) if layout else (),
        urgent=told,
        calm="" if told else _calm(state, judgement),
        legend=LEGEND.format(from_=f" from sheet {state.sheet.name}" if state.sheet else ""),
        readers=", ".join(dict.fromkeys(one.by for one in job.readings if one.round == state.round and one.by)),
        about=_about(state, date),
        checksum=eights(checksum),
        gauges=facts.gauge_rows(state),
        settings=facts.setting_lines(job),
        limits=limit_table(state.sheet, state.catalogue) if state.sheet else None,
        no_limits="" if state.sheet else _no_limits(state),
        limits_hash=eights(state.sheet.hash) if state.sheet else "",
        people=facts.people(job, state.round),
        assumed=facts.assumptions(state, judgement),
        parts=facts.part_lines(job),
        sections=sections_of(state, judgement, values, left, display),
        gaps=left,
        raws=facts.raw_lines(job, state.round, state.catalogue),
        questions=facts.question_lines(job, state.round),
        notes=facts.note_lines(job),
        cautions=facts.cautions(judgement, state.catalogue),
        governs=GOVERNS,
        trust=trust_of(state, judgement),
        decided=decided_lines(state, values),
        answers=loose_answers(job),
        replaced=earlier_lines(job, state.round, state.catalogue),
        after=after,
        after_left=still_open(state, after),
        photos=photo_cells(state),
    )


def last_day(events: Iterable[Event]) -> str:
    """ISO date of the last event that has one, at the clock of the place where it was typed; "" where none has."""
    for event in reversed(tuple(events)):
        moment = facts.moment_of(event.at) or facts.moment_of(event.received_at)
        if moment is not None:
            return moment.date().isoformat()
    return ""


def of_round(state: State) -> Judgement:
    """The judgement of the state's round alone."""
    whole = state.judgement
    return Judgement(
        tuple(result for result in whole.results if result.round == state.round),
        tuple(gap for gap in whole.missing if gap.round == state.round),
    )


def _no_limits(state: State) -> str:
    if state.job.limits is None:
        return "No limit sheet was entered, so no value is judged."
    return f"The limit sheet {state.job.limits.name} cannot be read, so no value is judged; sheet 1 says why."


def _counts(judgement: Judgement) -> tuple[Count, ...]:
    summary = judgement.summary
    return tuple(Count(summary[verdict], verdict, word(verdict)) for verdict in (OUT, CLOSE, WITHIN))


def _unfinished(state: State, judgement: Judgement) -> str:
    """`8 of 134 not finished`: values whose series goes on, and places at which nothing was read."""
    summary = judgement.summary
    read = {(result.characteristic, result.location) for result in judgement.results}
    left = {_value_at(state, gap) for gap in judgement.missing if not gap.waived} - read
    waived = {_value_at(state, gap) for gap in judgement.missing if gap.waived} - read - left
    total = len(judgement.results) + len(left) + len(waived)
    said = [f"{summary['so far'] + len(left)} of {total} not finished"] if total else ["nothing is asked for yet"]
    said += [f"{len(waived)} left out"] if waived else []
    said += [f"{summary['no limit']} without a limit"] if summary["no limit"] else []
    asked = sum(question.round == state.round for question in state.job.questions)
    said += [plural(asked, "open question")] if asked else []
    return ", ".join(said)


def _value_at(state: State, gap: Missing) -> tuple[str, str]:
    """Which value a missing reading belongs to: that of its station where each is judged, else that of its place."""
    entry = state.catalogue.characteristics[gap.characteristic]
    limit = limit_for(state.sheet, gap.characteristic, gap.place, "service") if state.sheet else None
    each = (limit.rule if limit else entry.rule) == "each"
    return gap.characteristic, gap.place if each else location(gap.place)


def _notices(state: State) -> tuple[str, ...]:
    other = dict.fromkeys(one.round for one in state.job.readings if one.round != state.round)
    rounds = [f"Readings of the round “{name}” are on a report of their own." for name in other]
    trouble = state.judged[1]
    told = [trouble] if trouble and state.layout else []
    none = [] if state.sheet or state.job.limits else ["No limit sheet was entered, so nothing is judged."]
    return (*_closed(state.job), *state.problems, *told, *none, *rounds)


def _closed(job: Job) -> tuple[str, ...]:
    """That the job was closed, by whom, and how much came after."""
    if not job.closings:
        return ()
    last = job.closings[-1]
    later = max(0, job.seq - last.events - 1)
    after = f"; {later} later {'entry' if later == 1 else 'entries'}" if later else ""
    return (f"{CLOSED} {', by '.join(filter(None, (facts.when(last.at), last.by)))}{after}.",)


def _calm(state: State, judgement: Judgement) -> str:
    """What stands in place of the table where no value is out or too close."""
    if judgement.results:
        return "No value that was read is outside a limit you entered or too close to one to call."
    if not any(reading.round == state.round for reading in state.job.readings):
        return "Nothing has been read in this round yet."
    if state.judged[1] or state.problems:
        return "Nothing is judged until this is put right."
    return "Nothing that was read in this round counts yet."


_SAID_BEFORE = ("works", "customer", "complaint")


def _about(state: State, date: str) -> tuple[tuple[str, str], ...]:
    header, layout = state.job.header, state.layout
    day = facts.moment_of(date)
    said = (
        ("works", str(header.get("works") or "")),
        ("job", state.job.id),
        ("customer", str(header.get("customer") or "")),
        ("engine", ", ".join(filter(None, (str(header.get("engine") or ""), engine_words(layout) if layout else "")))),
        ("complaint", str(header.get("complaint") or "")),
        *((label, str(header.get(key) or "")) for key, label in FACTS.items() if key not in _SAID_BEFORE),
        ("round", state.round),
        ("last entry", facts.day_words(day) if day else "undated"),
        ("temperature", facts.part_temperature(state.job, state.round)),
        ("data", "invented" if invented(state.job) else ""),
    )
    return tuple((label, text) for label, text in said if text)
