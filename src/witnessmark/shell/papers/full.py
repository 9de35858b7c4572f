"""The full report as a PDF, and the papers that are made when a job is closed."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from witnessmark.desk.sheets.full_report import Closing, FullView, full_report
from witnessmark.desk.sheets.report import last_day
from witnessmark.desk.state import State
from witnessmark.desk.tighten import joints
from witnessmark.record.event import Event, digest
from witnessmark.shell.papers.letters import CODE
from witnessmark.shell.papers.orders import assembly_pdf, tighten_pdf
from witnessmark.shell.papers.plain import plain
from witnessmark.shell.papers.report import Fetch, none_here, picture
from witnessmark.shell.papers.typeset import typeset
from witnessmark.shell.quiet import quiet

NAME = "full-report"

Maker = Callable[[State, Sequence[Event], Closing | None, str, str, Fetch], bytes]
"""Makes a paper of a state, its log, its closing, the unit of display, the paper's size, and the photos."""


def full_pdf(
    opened: State, events: Sequence[Event], closing: Closing | None = None, display: str = "mm", paper: str = "a4",
    photos: Fetch = none_here,
) -> bytes:  # fmt: skip
    """The full report of a job; `closing` is the one it was or is being closed with. Raises TypesetFault."""
    view = full_report(opened, events, closing, display, quiet)
    data = {**_plain(view), "paper": paper, "kind": "full report"}
    pictures = [picture(photos(one.photo)) for one in view.first.photos]
    later = [[picture(photos(one.photo)) for one in round_.photos] for round_ in view.rounds]
    return typeset("full.typ", {**data, "pictures": pictures, "later_pictures": later, "coded": CODE in repr(data)})


def _plain(view: FullView) -> Mapping[str, Any]:
    """The first round on the level where the inspection report looks for it, and the rest beside it."""
    whole: dict[str, Any] = plain(view)
    first: dict[str, Any] = whole.pop("first")
    return {**first, **whole}


def _assembly(
    opened: State, events: Sequence[Event], closing: Closing | None, display: str, paper: str, photos: Fetch
) -> bytes:  # fmt: skip
    del closing, photos
    return assembly_pdf(opened, date=last_day(events), checksum=digest(events), display=display, size=paper)


def _tightening(joint: str) -> Maker:
    def make(
        opened: State, events: Sequence[Event], closing: Closing | None, display: str, paper: str, photos: Fetch
    ) -> bytes:  # fmt: skip
        del closing, display, photos
        return tighten_pdf(opened, joint, date=last_day(events), checksum=digest(events), size=paper)
    return make


def makers(opened: State) -> Mapping[str, Maker]:
    """Every paper that a closing of this job names: the full report, and the sheets of what was put together."""
    job = opened.job
    found: dict[str, Maker] = {NAME: full_pdf}
    if job.signed:
        found["assembly-sheet"] = _assembly
    begun = dict.fromkeys(str(one.body["joint"]) for one in job.assembly if one.kind == "tightening_begun")
    known = joints(opened)
    return found | {f"tightening-{joint}": _tightening(joint) for joint in begun if joint in known}


def closing_papers(
    opened: State, events: Sequence[Event], closing: Closing, display: str, paper: str, photos: Fetch
) -> Mapping[str, bytes]:
    """All papers of a closing, each by its name, as bytes. Raises TypesetFault."""
    return {name: make(opened, events, closing, display, paper, photos) for name, make in makers(opened).items()}
