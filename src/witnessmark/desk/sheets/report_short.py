"""The report on one page: what is out and what is too close to call, counts, decisions, and lines to sign on.

It says no more than the report in full and leaves out what does not fit, telling how much: the page is for a desk, the
report in full for the file.
"""

from dataclasses import dataclass, replace

from witnessmark.desk.sheets.phrase import plural
from witnessmark.desk.sheets.report import Count, ReportView
from witnessmark.desk.sheets.report_decided import Decided
from witnessmark.desk.sheets.report_rows import Value
from witnessmark.draw.shape import Drawing

MOST_ROWS, MOST_DECIDED, MOST_LINES = 14, 6, 3  # what one page of Letter holds with the rest
BRIEF = 60  # letters of a reason or an answer
LEGEND = "“Out” means outside the limit you entered, and nothing else. "


@dataclass(frozen=True, slots=True)
class ShortView:
    """All that the page says, in its order."""

    title: str
    lead: str
    logo: Drawing
    date: str
    job: str
    display: str
    block: tuple[tuple[str, str], ...]
    counts: tuple[Count, ...]
    unfinished: str
    route: str
    notices: tuple[str, ...]
    urgent: tuple[Value, ...]
    more: str  # how many rows stand in the report in full only
    calm: str
    decided: tuple[Decided, ...]
    more_decided: str
    declined: str  # how many decisions the customer declined
    doubts: tuple[str, ...]  # zero checks that were not passed, gauges past their date, limits to be checked
    readers: str
    legend: str
    governs: str


def short_report(view: ReportView) -> ShortView:
    """The page of a report."""
    declined = [one for one in view.decided if one.answer == "no"]
    return ShortView(
        title=view.title.replace("Inspection report", "Inspection in short"),
        lead=view.lead,
        logo=view.logo,
        date=view.date,
        job=view.job,
        display=view.display,
        block=view.block,
        counts=view.counts,
        unfinished=view.unfinished,
        route=view.trust.route,
        notices=view.notices[:MOST_LINES],
        urgent=view.urgent[:MOST_ROWS],
        more=_more(len(view.urgent) - MOST_ROWS, "value that is out or too close", "values that are out or too close"),
        calm=view.calm,
        decided=tuple(_brief(one) for one in view.decided[:MOST_DECIDED]),
        more_decided=_more(len(view.decided) - MOST_DECIDED, "decision", "decisions"),
        declined=f"{plural(len(declined), 'decision')} declined by the customer" if declined else "",
        doubts=_doubts(view),
        readers=view.readers,
        legend=LEGEND,
        governs=view.governs,
    )


def _more(number: int, thing: str, things: str) -> str:
    return f"{number} more {thing if number == 1 else things}; all of them stand in the report in full" * (number > 0)


def _doubts(view: ReportView) -> tuple[str, ...]:
    trust = view.trust
    said = [
        trust.doubted,
        f"past their calibration date when read: {'; '.join(trust.overdue)}" if trust.overdue else "",
        f"limits copied and still to be checked against the document: {', '.join(trust.to_check)}"
        if trust.to_check
        else "",
    ]
    return tuple(f"{text[:1].upper()}{_cut(text[1:])}." for text in said if text)


def _brief(one: Decided) -> Decided:
    """A decision in three lines at most."""
    return replace(one, why=_cut(one.why, BRIEF), by="", customer=_cut(one.customer, BRIEF))


def _cut(text: str, most: int = 200) -> str:
    return text if len(text) <= most else f"{text[:most].rstrip()} …"
