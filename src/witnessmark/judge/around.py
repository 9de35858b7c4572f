"""What a fresh reading is held against before it counts: its neighbours, its limit, its usual range."""

from collections.abc import Iterable, Mapping
from typing import Any

from witnessmark.catalogue.entry import Catalogue
from witnessmark.engine.place import valve_kind
from witnessmark.judge import gauges
from witnessmark.judge.slip import Around
from witnessmark.judge.taken import figure
from witnessmark.limits.sheet import Sheet, limit_for
from witnessmark.record.job import COUNTED, Job, Reading

FINE = 0.5  # share by which the values a place may have reach beyond limit and usual range; judgement


def around(job: Job, sheet: Sheet | None, catalogue: Catalogue, characteristic: str, place: str, round_: str) -> Around:
    """Neighbours of the same kind of valve in the same round, the service limit, and the usual range."""
    side = valve_kind(place)
    entry = catalogue.characteristics[characteristic]
    limit = limit_for(sheet, characteristic, place, "service") if sheet else None
    values = tuple(
        value
        for reading in job.readings
        if reading.characteristic == characteristic and reading.round == round_ and reading.state == COUNTED
        if valve_kind(reading.place) == side and (value := value_of(job, reading)) is not None
    )
    low, high = (limit.low, limit.high) if limit else (None, None)
    return Around(values, low, high, entry.usual_at(side))


def value_of(job: Job, reading: Reading) -> float | None:
    """The value of a counted number [inside unit]; None for an interval or a look."""
    return None if reading.meaning is None else meant_value(job, reading.meaning, reading.setting, reading.gauge or "")


def meant_value(job: Job, meaning: Mapping[str, Any], setting: str | None, gauge: str) -> float | None:
    """The value that a meaning stands for, with the set size of a deviation added; None for an interval or a look."""
    if meaning["kind"] in ("interval", "look"):
        return None
    value = figure(meaning["value"]) * gauges.factor(gauge, meaning["unit"])
    made = job.settings.get(setting or "") if meaning["kind"] == "deviation" else None
    return value + (figure(made.set_to) * gauges.factor(made.gauge, made.unit) if made else 0.0)


def band(known: Around) -> tuple[float, float] | None:
    """Values that this place may believably have [inside unit]; None where nothing is known."""
    ends = [*(known.usual or ()), *_given(known.low, known.high), *known.neighbours]
    if not ends:
        return None
    low, high = min(ends), max(ends)
    reach = FINE * max(abs(low), abs(high)) if len(ends) == 1 or low == high else FINE * (high - low)
    return low - reach if low < 0 else max(low - reach, 0.0), high + reach


def _given(*ends: float | None) -> Iterable[float]:
    return (end for end in ends if end is not None)
