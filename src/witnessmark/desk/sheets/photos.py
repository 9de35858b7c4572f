"""The sheet of photos: every photo of a round by the place that it shows, its mark on the drawing of that place."""

from dataclasses import dataclass

from witnessmark.desk.sheets.phrase import location, shown
from witnessmark.desk.sheets.report_facts import term, when
from witnessmark.desk.state import State
from witnessmark.draw import where as drawings
from witnessmark.draw.marked import mark_on
from witnessmark.draw.shape import Drawing
from witnessmark.engine import place as places
from witnessmark.record.job import Photo


@dataclass(frozen=True, slots=True)
class PhotoRow:
    """One photo: its picture, what it shows, and the drawing with its mark."""

    event: str
    photo: str
    number: int
    title: str
    alt: str
    note: str
    by: str
    width: int
    height: int
    drawing: Drawing | None
    left: str  # percent from the left, "" where no mark was made
    top: str


@dataclass(frozen=True, slots=True)
class PhotosSheet:
    """The photos of one round of a job, and what a new one would show."""

    job: str
    round: str
    title: str
    rows: tuple[PhotoRow, ...]
    characteristic: str
    place: str
    about: str


def photos_sheet(state: State, characteristic: str = "", place: str = "") -> PhotosSheet:
    """The sheet; a new photo is of `characteristic` at `place` where these are known, else of the whole job."""
    known = characteristic if characteristic in state.catalogue.characteristics else ""
    here = [one for one in state.job.photos if one.round in (None, "", state.round)]
    ranked = sorted(here, key=lambda one: (location(one.place or ""), one.characteristic or "", one.seq))
    about = ", ".join(filter(None, (term(known, state.catalogue) if known else "", shown(place) if place else "")))
    return PhotosSheet(state.job.id, state.round, "Photos" if state.round == "as found" else f"Photos, {state.round}",
                       tuple(_row(state, one, n) for n, one in enumerate(ranked, 1)), known, place,
                       about or "the whole job")  # fmt: skip


def _row(state: State, one: Photo, number: int) -> PhotoRow:
    what = term(one.characteristic, state.catalogue) if one.characteristic else ""
    title = ", ".join(filter(None, (shown(one.place) if one.place else "", what))) or "of the whole job"
    mark = (float(str(one.mark["x"])), float(str(one.mark["y"]))) if one.mark else None
    return PhotoRow(
        event=one.event, photo=one.photo, number=number, title=title,
        alt=f"photo {number}, {title}{f': {one.note}' if one.note else ''}", note=one.note,
        by=", ".join(filter(None, (one.by, when(one.at)))), width=one.width, height=one.height,
        drawing=_drawing(state, one, mark, number),
        left=f"{100 * mark[0]:.0f}" if mark else "", top=f"{100 * mark[1]:.0f}" if mark else "",
    )  # fmt: skip


def _drawing(state: State, one: Photo, mark: tuple[float, float] | None, number: int) -> Drawing | None:
    entry = state.catalogue.characteristics.get(one.characteristic or "")
    if entry is None or not entry.drawing:
        return None
    gear = state.layout.gear if state.layout else "bucket_shim"
    drawn = drawings.where(entry.drawing, _station(one.place), characteristic=entry.id, gear=gear)
    return mark_on(drawn, *mark, number) if mark else drawn


def _station(place: str | None) -> str:
    try:
        return places.station(place) if place else ""
    except places.PlaceError:
        return ""
