"""Photos of a job as a report prints them: which picture, what it shows, who took it."""

from dataclasses import dataclass

from witnessmark.desk.sheets.phrase import shown
from witnessmark.desk.sheets.report_facts import cut, term, when
from witnessmark.desk.state import State
from witnessmark.record.job import Photo


@dataclass(frozen=True, slots=True)
class PhotoCell:
    """One photo. `photo` is the SHA-256 of its bytes, by which whoever prints it finds them."""

    photo: str
    title: str  # what and where: `seat width, Exh 3F`
    note: str
    by: str
    width: int
    height: int


def photo_cells(state: State) -> tuple[PhotoCell, ...]:
    """Photos of the round, and those of no round, in the order of the record."""
    return tuple(_cell(state, one) for one in state.job.photos if one.round in (None, "", state.round))


def _cell(state: State, one: Photo) -> PhotoCell:
    what = term(one.characteristic, state.catalogue) if one.characteristic else ""
    title = ", ".join(filter(None, (what, shown(one.place) if one.place else "")))
    return PhotoCell(
        photo=one.photo,
        title=title or "of the whole job",
        note=cut(one.note),
        by=", ".join(filter(None, (one.by, when(one.at)))),
        width=one.width,
        height=one.height,
    )
