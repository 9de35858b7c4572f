"""`papers`: what is printed of a job, each as one PDF in a folder."""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from witnessmark.desk.bench import Refused
from witnessmark.desk.route import BY_PART
from witnessmark.desk.sheets.blank_sheet import NoSheet
from witnessmark.desk.sheets.card import NoCard
from witnessmark.desk.sheets.full_report import closing_of
from witnessmark.desk.sheets.labels import NoLabels
from witnessmark.desk.sheets.report import last_day
from witnessmark.desk.state import State, state
from witnessmark.desk.tighten import joints
from witnessmark.explain.dialect import catalogue_said
from witnessmark.record.event import Event, digest
from witnessmark.record.replay import replay
from witnessmark.shell.cli.opening import events_of
from witnessmark.shell.papers import TypesetFault, inspection_report, short_pdf
from witnessmark.shell.papers.blank import blank_pdf
from witnessmark.shell.papers.cards import card_pdf, cards_pdf
from witnessmark.shell.papers.full import full_pdf
from witnessmark.shell.papers.labels import labels_pdf
from witnessmark.shell.papers.orders import NAMES, assembly_pdf, order_pdf, tighten_pdf
from witnessmark.shell.papers.photos import photos_of
from witnessmark.shell.papers.report import Fetch
from witnessmark.shell.resources import catalogue

TIGHTEN, EMPTY, ASSEMBLY = "tightening", "blank-tightening", "assembly"
FULL, WHOLE, SHORT = "inspection", "full-report", "report-short"
BLANK, LABELS, CARDS = "blank-sheets", "labels", "cards"


@dataclass(frozen=True, slots=True)
class Order:
    """What is to be printed and how: `which` of the papers, on which `paper`, with lengths in `unit`."""

    which: tuple[str, ...] = (FULL,)
    paper: str = "a4"
    unit: str = "mm"
    round: str = "as found"
    route: str = BY_PART
    base: str = ""
    only: tuple[str, ...] = ()
    words: str = ""  # of which side of the Atlantic; "" as they are written


def papers(job: str, data: Path, out: Path, order: Order) -> Iterable[Path]:
    """Write the papers into a folder; their paths, each as it is written."""
    events = events_of(job, data)
    opened = state(replay(events), catalogue_said(catalogue(), order.words), order.round, order=order.route)
    name = re.sub(r"[^\w.-]", "-", opened.job.id)[:80]  # the number on a tag may hold a slash, a file's name may not
    make = _makers(opened, events, order, photos_of(job, data))
    for one in _named(opened, order.which):
        path = out / f"{name}-{one}.pdf"
        _write(path, one, make[one])
        yield path


def _named(opened: State, which: Sequence[str]) -> Iterable[str]:
    """The papers by their names; of the tightening sheets one for each joint. Raises Refused where there is none."""
    for one in which:
        if one not in (TIGHTEN, EMPTY):
            yield one
            continue
        if not joints(opened):
            raise Refused("the limit sheet says of no joint how it is tightened; enter `tightening:` on it")
        yield from (f"{one}-{joint}" for joint in joints(opened))


def card(name: str, path: Path, paper: str, words: str = "") -> Path:
    """Write the bench card of one characteristic into a file; its path."""
    _write(path, "card", lambda: card_pdf(catalogue_said(catalogue(), words), name, paper=paper))
    return path


def _makers(opened: State, events: Sequence[Event], order: Order, photos: Fetch) -> Mapping[str, Callable[[], bytes]]:
    day, paper, unit = last_day(events), order.paper, order.unit
    return {
        FULL: lambda: inspection_report(opened, events, display=unit, paper=paper, photos=photos),
        WHOLE: lambda: full_pdf(opened, events, closing_of(events), unit, paper, photos),
        SHORT: lambda: short_pdf(opened, events, display=unit, paper=paper),
        BLANK: lambda: blank_pdf(opened, date=day, only=order.only, display=unit, paper=paper),
        LABELS: lambda: labels_pdf(opened, date=day, base=order.base, paper=paper),
        CARDS: lambda: cards_pdf(opened, date=day, only=order.only, paper=paper),
        ASSEMBLY: partial(assembly_pdf, opened, date=day, checksum=digest(events), display=unit, size=paper),
        **{f"{kind}-{joint}": partial(tighten_pdf, opened, joint, date=day, checksum=digest(events), size=paper,
                                      blank=kind == EMPTY) for kind in (TIGHTEN, EMPTY) for joint in joints(opened)},
        **{name: partial(order_pdf, opened, name, date=day, checksum=digest(events), display=unit, size=paper)
           for name in NAMES},
    }


def _write(path: Path, what: str, make: Callable[[], bytes]) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(make())
    except TypesetFault as fault:
        raise Refused(f"the {what} could not be set: {fault}") from None
    except (NoSheet, NoCard, NoLabels) as none:
        raise Refused(str(none)) from None
    except OSError as error:
        raise Refused(f"{path}: cannot be written: {error.strerror}; name a folder that you may write to") from None
