"""What was measured, as arrays: one item for each group of repeats at a station, and the intervals beside them.

Repeats of one place with one gauge, one setting and one temperature are one item, their mean, so that the scatter
shrinks with their number and the display step and the calibration do not.

Units   inside (mm, N). Errors  GaugeFault from the gauges.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Any

import numpy as np

from witnessmark.catalogue.entry import Catalogue, Characteristic
from witnessmark.judge import gauges as gauge_models
from witnessmark.metrology.batch import Batch, Setting, budget, readings, set_with, size_groups
from witnessmark.metrology.gauge import Gauge
from witnessmark.metrology.repeats import repeatability
from witnessmark.metrology.source import Floats, Indices, Source, bounded
from witnessmark.record.job import COUNTED, Job, Reading, gauge_then

STEEL = 11.5e-6  # 1/K; JCGM 100:2008, H.1 (end gauges)
EXPANSION = {"aluminium": 23e-6, "iron": 10.8e-6, "steel": STEEL}  # 1/K; values from memory, engineering tables
TEMPERATURE_BOUND = (
    2.0  # K, how far part and gauge may differ when nobody has measured it; judgement, shown as a default
)
ENOUGH = 5  # degrees of freedom from which repeats tell a gauge's scatter; judgement
REFERENCE = 20.0  # °C; ISO 1

Key = tuple[str, str]  # characteristic, place with its station


@dataclass(slots=True)
class Group:
    """Repeats that make one item."""

    readings: list[Reading] = field(default_factory=list)
    values: list[float] = field(default_factory=list)
    gauge: int = 0
    setting: int = -1
    temperature: int = -1


@dataclass(frozen=True, slots=True)
class Interval:
    """A gap between two leaves. `stops` is None where the thickest leaf entered."""

    reading: Reading
    enters: float
    stops: float | None
    leaf_error: float


@dataclass(frozen=True, slots=True)
class Taken:
    """Items by characteristic and place, their budget, and the intervals. `items[key]` are places in the batch."""

    items: Mapping[Key, tuple[int, ...]]
    groups: tuple[Group, ...]
    batch: Batch | None
    gauges: tuple[Gauge, ...]
    intervals: Mapping[Key, tuple[Interval, ...]]
    asked: Mapping[Key, tuple[Reading, ...]]
    looks: Mapping[Key, tuple[Reading, ...]] = field(default_factory=dict)  # the earliest first; the last stands


def taken(job: Job, catalogue: Catalogue, round_: str, head: str) -> Taken:
    """Everything counted in one round of a job. `head` is the material of the head, for its expansion."""
    return _Collector(job, catalogue, round_, EXPANSION.get(head, STEEL)).collect()


class _Collector:
    """Walks the readings once; what it gathers lives no longer than the call."""

    def __init__(self, job: Job, catalogue: Catalogue, round_: str, head_expansion: float) -> None:
        self.job, self.catalogue, self.round, self.head_expansion = job, catalogue, round_, head_expansion
        self.gauges: list[Gauge] = []
        self.gauge_at: dict[tuple[str, int], int] = {}
        self.temperatures: list[Source] = []
        self.temperature_at: dict[int, int] = {}
        self.groups: dict[tuple[Any, ...], Group] = {}
        self.intervals: dict[Key, list[Interval]] = {}
        self.asked: dict[Key, list[Reading]] = {}
        self.looks: dict[Key, list[Reading]] = {}
        self.settings = list(job.settings.values())
        self.setting_at = {setting.setting: n for n, setting in enumerate(self.settings)}

    def collect(self) -> Taken:
        for reading in self.job.readings:
            if reading.round == self.round:
                self._take(reading)
        groups = tuple(self.groups.values())
        items: dict[Key, list[int]] = {}
        for n, group in enumerate(groups):
            first = group.readings[0]
            items.setdefault((first.characteristic, first.place), []).append(n)
        return Taken(
            {key: tuple(places) for key, places in items.items()},
            groups,
            self._budget(groups) if groups else None,
            tuple(self.gauges),
            {key: tuple(found) for key, found in self.intervals.items()},
            {key: tuple(found) for key, found in self.asked.items()},
            {key: tuple(found) for key, found in self.looks.items()},
        )

    def _take(self, reading: Reading) -> None:
        key = (reading.characteristic, reading.place)
        characteristic = self.catalogue.characteristics.get(reading.characteristic)
        if characteristic is None:
            return  # an id of a newer catalogue: the record keeps it, there is nothing to hold it against
        if reading.state != COUNTED or reading.meaning is None:
            if reading.question is not None and reading.state == "asked":
                self.asked.setdefault(key, []).append(reading)
            return
        meaning = reading.meaning
        if meaning["kind"] == "look" or characteristic.kind == "look":
            if meaning["kind"] == characteristic.kind:  # desk.check tells what does not belong together
                self.looks.setdefault(key, []).append(reading)
            return
        if meaning["kind"] == "interval":
            self._interval(key, reading, characteristic)
            return
        value = self._value(reading)
        gauge = self._gauge(reading, characteristic, value)
        value, temperature = self._temperature(reading, characteristic, gauge, value)
        setting = self.setting_at.get(reading.setting or "", -1)
        group = self.groups.setdefault(
            (*key, gauge, setting), Group(gauge=gauge, setting=setting, temperature=temperature)
        )
        group.readings.append(reading)
        group.values.append(value)

    def _interval(self, key: Key, reading: Reading, characteristic: Characteristic) -> None:
        meaning = reading.meaning or {}
        scale = gauge_models.factor(reading.gauge or "", meaning["unit"])
        high = meaning.get("high")
        error = self.gauges[self._gauge(reading, characteristic, 0.0)].leaf_error
        gap = Interval(reading, figure(meaning["low"]) * scale, None if high is None else figure(high) * scale, error)
        self.intervals.setdefault(key, []).append(gap)

    def _value(self, reading: Reading) -> float:
        meaning = reading.meaning or {}
        value = figure(meaning["value"]) * gauge_models.factor(reading.gauge or "", meaning["unit"])
        if meaning["kind"] != "deviation":
            return value
        setting = self.settings[self.setting_at[reading.setting or ""]]
        return value + figure(setting.set_to) * gauge_models.factor(setting.gauge, setting.unit)

    def _gauge(self, reading: Reading, characteristic: Characteristic, size: float) -> int:
        revision = gauge_then(self.job, reading)
        key = (reading.gauge or characteristic.usual_gauge, revision.revision if revision else 0)
        place = self.gauge_at.get(key)
        if place is None:
            kind = self.catalogue.gauge_kinds[characteristic.usual_gauge]
            self.gauges.append(gauge_models.model(revision) if revision else gauge_models.assumed(kind, size))
            place = self.gauge_at[key] = len(self.gauges) - 1
        return place

    def _temperature(
        self, reading: Reading, characteristic: Characteristic, gauge: int, value: float
    ) -> tuple[float, int]:
        """The value at the reference temperature where temperatures were entered, and its source of doubt."""
        if characteristic.quantity != "length":
            return value, -1
        place = self.temperature_at.get(gauge)
        if place is None:
            key = self.gauges[gauge].key
            self.temperatures.append(bounded("temperature difference", key, TEMPERATURE_BOUND))
            place = self.temperature_at[gauge] = len(self.temperatures) - 1
        return at_reference(value, reading.temperature, self._expansion(characteristic), self.gauges[gauge]), place

    def _expansion(self, characteristic: Characteristic) -> float:
        return self.head_expansion if characteristic.group == "head" else STEEL

    def _budget(self, groups: Sequence[Group]) -> Batch:
        value = np.array([sum(group.values) / len(group.values) for group in groups])
        expansion = [self._expansion(self.catalogue.characteristics[g.readings[0].characteristic]) for g in groups]
        self.gauges = with_repeats(self.gauges, groups)
        items = readings(
            value,
            [group.gauge for group in groups],
            size_group=_groups_of_size(value, [group.readings[0].characteristic for group in groups]),
            setting=[group.setting for group in groups],
            temperature=[group.temperature for group in groups],
            nominal=np.abs(value),
            expansion=expansion,
            repeats=[len(group.values) for group in groups],
        )
        return budget(items, self.gauges, [self._setting(n) for n in range(len(self.settings))], self.temperatures)

    def _setting(self, place: int) -> Setting:
        """One setting event with the errors it hands to every reading made under it."""
        made = self.settings[place]
        gauge = self._by_name(made.gauge)
        master = self._by_name(made.with_) if made.with_ else None
        if gauge is None:
            return Setting(made.setting, ())
        if master is not None and master.key == gauge.key:
            master = None  # the desk refuses this; an old file may still hold it
        return set_with(made.setting, gauge, master)

    def _by_name(self, name: str) -> Gauge | None:
        known = next((gauge for gauge in self.gauges if gauge.id == name), None)
        revisions = self.job.gauges.get(name, ())
        return known or (gauge_models.model(revisions[-1]) if revisions else None)


def _groups_of_size(value: Floats, characteristics: Sequence[str]) -> Indices:
    """Groups of near sizes, each within one characteristic: a permissible error is one error no further than that."""
    found = np.zeros(len(value), np.int64)
    number = 0
    names = np.array(characteristics)
    for name in dict.fromkeys(characteristics):
        at = names == name
        found[at] = size_groups(value[at]) + number
        number = int(found[at].max()) + 1
    return found


def figure(text: str) -> float:
    """A kept figure: a decimal, or a fraction where no decimal is exact."""
    return float(Fraction(text)) if "/" in text else float(text)


def at_reference(value: float, temperature: Mapping[str, Any] | None, expansion: float, gauge: Gauge) -> float:
    """The length at 20 °C from one read with part and gauge at entered temperatures [mm].

    Only what was entered is corrected; a gauge without a temperature of its own has that of the part, and then
    materials that expand alike need nothing. Source: ISO 1 for the reference; the formula is derived.
    """
    if not temperature or temperature.get("part") in (None, ""):
        return value
    part = float(temperature["part"]) - REFERENCE
    own = temperature.get("gauge")
    of_gauge = part if own in (None, "") else float(str(own)) - REFERENCE
    return value * (1 + gauge.expansion * of_gauge - expansion * part)


def with_repeats(gauges: Sequence[Gauge], groups: Sequence[Group]) -> list[Gauge]:
    """Gauges that state no repeatability take it from their own repeats, pooled over places; others stay as stated.

    Fewer than `ENOUGH` degrees of freedom are not used: a scatter from one pair says less than it seems to
    (JCGM 100:2008, Table E.1: 76 % in doubt), and would punish whoever measured twice.
    """
    found = list(gauges)
    for n, gauge in enumerate(gauges):
        repeated = [group for group in groups if group.gauge == n and len(group.values) > 1]
        if gauge.repeatability is not None or not repeated:
            continue
        values = [value for group in repeated for value in group.values]
        which = [place for place, group in enumerate(repeated) for _ in group.values]
        if len(values) - len(repeated) >= ENOUGH:
            found[n] = replace(gauge, repeatability=repeatability(values, gauge.resolution, which))
    return found
