"""The inspection report as a PDF: in full, and on one page."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from witnessmark.catalogue.entry import Catalogue
from witnessmark.desk.sheets.report import ReportView, last_day, report
from witnessmark.desk.sheets.report_short import short_report
from witnessmark.desk.state import State, state
from witnessmark.record.event import Event, digest
from witnessmark.record.replay import replay
from witnessmark.shell.papers.letters import CODE
from witnessmark.shell.papers.plain import plain
from witnessmark.shell.papers.typeset import typeset

Fetch = Callable[[str], bytes | None]
"""Gives the bytes of a photo by its hash; None for one that is not on this machine."""


def none_here(_photo: str) -> None:
    """No photo is on this machine: the report says so in the place of each."""


def report_pdf(
    events: Sequence[Event], catalogue: Catalogue, *, display: str = "mm", round_: str = "as found", paper: str = "a4",
    photos: Fetch = none_here,
) -> bytes:  # fmt: skip
    """The report of one round of a job from its whole log, with numbers in mm or in. Raises TypesetFault."""
    opened = state(replay(events), catalogue, round_)
    return inspection_report(opened, events, display=display, paper=paper, photos=photos)


def inspection_report(
    opened: State, events: Sequence[Event], *, display: str = "mm", paper: str = "a4", photos: Fetch = none_here
) -> bytes:
    """The report of the round of a state that is open already; `events` is the whole log. Raises TypesetFault."""
    return pdf(_view(opened, events, display), paper, photos)


def short_pdf(opened: State, events: Sequence[Event], *, display: str = "mm", paper: str = "a4") -> bytes:
    """The report of the round on one page. Raises TypesetFault."""
    view = _view(opened, events, display)
    return typeset("short.typ", {**plain(short_report(view)), "paper": paper})


def pdf(view: ReportView, paper: str = "a4", photos: Fetch = none_here) -> bytes:
    """The report set on a paper of `typeset.PAPERS_KNOWN`. Raises TypesetFault."""
    data: Mapping[str, Any] = plain(view)
    pictures = [picture(photos(one.photo)) for one in view.photos]
    return typeset("report.typ", {**data, "pictures": pictures, "paper": paper, "coded": CODE in repr(data)})


def _view(opened: State, events: Sequence[Event], display: str) -> ReportView:
    return report(opened, checksum=digest(events), date=last_day(events), display=display)


def picture(jpeg: bytes | None) -> list[int] | None:
    """The bytes of a photo as the typesetter takes them; None for one that is not here."""
    return list(jpeg) if jpeg else None
