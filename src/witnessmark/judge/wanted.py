"""Which stations a job asks for: those of characteristics that have a limit or are on the job's list.

A derived characteristic asks for the stations of what it is worked out from, a form for those of what it is a form of.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from witnessmark.catalogue.entry import Catalogue, Characteristic
from witnessmark.engine.place import location
from witnessmark.engine.shape import Layout
from witnessmark.engine.walk import stations
from witnessmark.limits.sheet import TYPED_AT_BENCH, Limit, Sheet, limit_for
from witnessmark.record.job import Job

GIVEN = "given"  # the kind of a sheet's entry that states a value which nobody measures, such as a test height


@dataclass(frozen=True, slots=True)
class Plan:
    """What a sheet and a list ask of an engine, whatever was read so far; see Wanted."""

    asked: tuple[str, ...]
    measured: Mapping[str, tuple[str, ...]]
    walk: Mapping[str, tuple[str, ...]]
    together: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Wanted:
    """`asked`: ids with a limit or on the list, in bench order. `measured`: ids to be read, with their stations.

    `walk`: what a hand is led through. While nobody has said what is wanted (no limit sheet and no list, or a sheet
    that grows limit by limit at the bench) it is the core of the catalogue, and what has a limit already.
    `together`: what is asked of the engine when it is assembled, and cannot be read before.
    """

    asked: tuple[str, ...]
    measured: Mapping[str, tuple[str, ...]]
    waived: Mapping[tuple[str, str, str], str]  # characteristic, place, round -> why
    walk: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    together: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


def wanted(job: Job, sheet: Sheet | None, layout: Layout, catalogue: Catalogue) -> Wanted:
    """What this job asks for, and what of it was left out."""
    return of_plan(job, plan(also(job), sheet, layout, catalogue))


def of_plan(job: Job, asked: Plan) -> Wanted:
    """The same from a plan that is at hand."""
    return Wanted(asked.asked, asked.measured, _waived(job, {**asked.walk, **asked.together}), asked.walk,
                  asked.together)  # fmt: skip


def also(job: Job) -> tuple[str, ...]:
    """The job's own list, beside the limit sheet."""
    return tuple(job.header.get("also_measure") or ())


def plan(listed: tuple[str, ...], sheet: Sheet | None, layout: Layout, catalogue: Catalogue) -> Plan:
    """What a sheet and a list ask of an engine. Ids that the catalogue does not have are for the loaders to report."""
    named = {limit.characteristic for limit in sheet.limits if limit.kind != GIVEN} if sheet else set()
    named |= set(listed)
    asked = tuple(
        name for name, entry in catalogue.characteristics.items() if name in named and entry.kind != "reckoned"
    )
    read = set(bases(asked, catalogue))
    measured = {
        name: tuple(place for place in stations(layout, entry) if not given(sheet, name, place))
        for name, entry in catalogue.characteristics.items()
        if name in read and entry.measured
    }
    known = catalogue.characteristics
    together = {name: places for name, places in measured.items() if places and known[name].assembled}
    measured = {name: places for name, places in measured.items() if places and not known[name].assembled}
    settled = bool(listed) or (sheet is not None and sheet.document != TYPED_AT_BENCH)
    return Plan(asked, measured, measured if settled else _core(measured, sheet, layout, catalogue), together)


def _core(
    measured: Mapping[str, tuple[str, ...]], sheet: Sheet | None, layout: Layout, catalogue: Catalogue
) -> Mapping[str, tuple[str, ...]]:
    places = {
        name: tuple(place for place in stations(layout, entry) if not given(sheet, name, place))
        for name, entry in catalogue.characteristics.items()
        if entry.measured and (entry.core or name in measured)
    }
    return {name: each for name, each in places.items() if each}


def given(sheet: Sheet | None, characteristic: str, place: str) -> Limit | None:
    """The entry that states the value at this place, so that it need not be measured."""
    return limit_for(sheet, characteristic, place, GIVEN) if sheet and characteristic in sheet.index else None


def bases(names: Iterable[str], catalogue: Catalogue) -> Iterable[str]:
    """The characteristics that are read to know these, without end for end: a derived one may rest on a derived one."""
    for name in names:
        entry = catalogue.characteristics[name]
        behind = needs(entry)
        yield from bases(behind, catalogue) if behind else (name,)


def needs(entry: Characteristic) -> tuple[str, ...]:
    """Ids that a characteristic is worked out from; none for one that is read."""
    if entry.kind == "form":
        return (entry.of,)
    return entry.arguments if entry.kind == "derived" else ()


def _waived(job: Job, measured: Mapping[str, tuple[str, ...]]) -> Mapping[tuple[str, str, str], str]:
    counted = {(r.characteristic, r.place, r.round) for r in job.readings if r.state == "counted"}
    found: dict[tuple[str, str, str], str] = {}
    for waived in job.waived:
        places = [waived.place]
        if waived.scope == "rest":
            here = location(waived.place)
            places = [place for place in measured.get(waived.characteristic, ()) if location(place) == here]
        for place in places:
            key = (waived.characteristic, place, waived.round)
            if key not in counted:
                found[key] = waived.reason
    return found
