"""What stands beside the readings of a job: doubt thrown on them by a zero check, gauges past their date, photos."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from witnessmark.engine.place import PlaceError, location
from witnessmark.judge.zero import suspects
from witnessmark.record.job import Job, Reading, gauge_then

About = tuple[str, str, str]  # characteristic, location, round


@dataclass(frozen=True, slots=True)
class Trust:
    """By id of the reading: whether it is suspect, the gauge that was past its date, its photos; and photos by row."""

    suspect: frozenset[str]
    overdue: Mapping[str, str]
    photos: Mapping[str, tuple[str, ...]]
    about: Mapping[About, tuple[str, ...]]

    def of(self, readings: Iterable[Reading], characteristic: str, place: str, round_: str) -> dict[str, Any]:
        """`suspect`, `overdue` and `photos` of a result that rests on these readings."""
        names = [reading.id for reading in readings] if self.suspect or self.overdue or self.photos else []
        shown = [photo for name in names for photo in self.photos.get(name, ())] if self.photos else []
        if self.about:
            shown += self.about.get((characteristic, _there(place), round_), ())
        return {
            "suspect": tuple(name for name in dict.fromkeys(names) if name in self.suspect),
            "overdue": tuple(dict.fromkeys(self.overdue[name] for name in names if name in self.overdue)),
            "photos": tuple(dict.fromkeys(shown)),
        }


def trust(job: Job) -> Trust:
    """All of it for one job."""
    return Trust(suspects(job), overdue(job), {one.id: one.photos for one in job.readings if one.photos}, _about(job))


def overdue(job: Job) -> Mapping[str, str]:
    """Id of a reading -> its gauge, where the calibration was due before the day of the reading."""
    dated = {name for name, revisions in job.gauges.items() if any(due(each.fields) for each in revisions)}
    found = {}
    for reading in job.readings if dated else ():
        revision = gauge_then(job, reading) if reading.gauge in dated else None
        day = due(revision.fields) if revision else ""
        if day and reading.at[:10] > day:
            found[reading.id] = str(reading.gauge)
    return found


def due(fields: Mapping[str, Any]) -> str:
    """The day on which a gauge's calibration is due, as year-month-day; "" where none is stated."""
    calibration = fields.get("calibration")
    return str(calibration.get("due") or "")[:10] if isinstance(calibration, Mapping) else ""


def _about(job: Job) -> Mapping[About, tuple[str, ...]]:
    found: dict[About, list[str]] = {}
    for photo in job.photos:
        if photo.characteristic and photo.place:
            found.setdefault((photo.characteristic, _there(photo.place), photo.round or "as found"), []).append(
                photo.photo
            )
    return {key: tuple(photos) for key, photos in found.items()}


def _there(place: str) -> str:
    try:
        return location(place)
    except PlaceError:
        return place
