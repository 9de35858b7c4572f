"""The inspection report as a PDF."""

from collections.abc import Mapping, Sequence
from dataclasses import fields, is_dataclass
from typing import Any

from witnessmark.catalogue.entry import Catalogue
from witnessmark.desk.sheets.report import ReportView, last_day, report
from witnessmark.desk.state import State, state
from witnessmark.draw.shape import Drawing
from witnessmark.draw.svg import svg
from witnessmark.record.event import Event, digest
from witnessmark.record.replay import replay
from witnessmark.shell.papers.letters import CODE, breakable, drawable
from witnessmark.shell.papers.typeset import UNDATED, typeset


def report_pdf(
    events: Sequence[Event], catalogue: Catalogue, *, display: str = "mm", round_: str = "as found"
) -> bytes:
    """The report of one round of a job from its whole log, with numbers in mm or in. Raises TypesetFault."""
    return inspection_report(state(replay(events), catalogue, round_), events, display=display)


def inspection_report(opened: State, events: Sequence[Event], *, display: str = "mm") -> bytes:
    """The report of the round of a state that is open already; `events` is the whole log. Raises TypesetFault."""
    return pdf(report(opened, checksum=digest(events), date=last_day(events), display=display))


def pdf(view: ReportView) -> bytes:
    """The report set on A4. Raises TypesetFault."""
    data: Mapping[str, Any] = plain(view)
    return typeset("report.typ", {**data, "date": view.date or UNDATED, "coded": CODE in repr(data)})


def plain(value: Any) -> Any:
    """A view as plain data: drawings as SVG in black, texts with letters that the fonts have."""
    if isinstance(value, Drawing):
        return {"svg": svg(value, printed=True), "width": value.width, "height": value.height, "name": value.name}
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): plain(one) for key, one in value.items()}
    if isinstance(value, tuple | list):
        return [plain(one) for one in value]
    return breakable(drawable(value)) if isinstance(value, str) else value
