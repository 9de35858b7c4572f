"""The full report as a PDF, and the papers that are made when a job is closed."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from witnessmark.desk.sheets.full_report import Closing, FullView, full_report
from witnessmark.desk.state import State
from witnessmark.record.event import Event
from witnessmark.shell.papers.letters import CODE
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


PAPERS: Mapping[str, Maker] = {NAME: full_pdf}
"""Every paper that a closing names, by its name. One that has nothing to say raises `Nothing`."""


class Nothing(Exception):
    """A job has nothing for this paper."""


def closing_papers(
    opened: State, events: Sequence[Event], closing: Closing, display: str, paper: str, photos: Fetch
) -> Mapping[str, bytes]:
    """All papers of a closing, each by its name, as bytes. Raises TypesetFault."""
    made = {}
    for name, make in PAPERS.items():
        try:
            made[name] = make(opened, events, closing, display, paper, photos)
        except Nothing:
            made.pop(name, None)
    return made
