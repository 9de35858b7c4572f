"""What a sheet or a command starts from: one job with its layout, limit sheet, judgement and route, worked out once.

Texts of limit sheets and mappings of layouts are read once each and remembered, since every reading asks for them.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property, partial
from typing import Any, TypeVar

from witnessmark.catalogue.entry import Catalogue
from witnessmark.desk.route import BY_PART, Stop, at_once, route_of
from witnessmark.engine.layout import Layout, LayoutError, layout
from witnessmark.engine.place import location
from witnessmark.judge.gauges import GaugeFault
from witnessmark.judge.judge import judge
from witnessmark.judge.quick import QUICK, narrowed
from witnessmark.judge.result import Judgement
from witnessmark.judge.rows import AS_ASSEMBLED
from witnessmark.judge.wanted import Plan, Wanted, also, of_plan, plan
from witnessmark.limits.read import read_sheet
from witnessmark.limits.sheet import Sheet
from witnessmark.record.job import Job, Reading
from witnessmark.record.shape import BACK
from witnessmark.text.fault import Faulty
from witnessmark.text.near import did_you_mean

T = TypeVar("T")
REMEMBERED = 200


class Memory:
    """What was read before, by its text: at most `REMEMBERED` things, then it begins anew.

    Several threads may share one: each step on the mapping is whole, and at worst a thing is made twice.
    """

    def __init__(self) -> None:
        self._kept: dict[Any, Any] = {}

    def once(self, key: Any, make: Callable[[], T]) -> T:
        """The value for `key`, made at the first call."""
        kept = self._kept
        if key not in kept:
            if len(kept) >= REMEMBERED:
                kept = self._kept = {}
            kept[key] = make()
        return kept[key]  # type: ignore[no-any-return]


@dataclass(frozen=True)
class State:
    """One job at one moment, in one round. `layout` and `sheet` are None where nothing was entered yet."""

    job: Job
    layout: Layout | None
    sheet: Sheet | None
    catalogue: Catalogue
    round: str
    memory: Memory = field(default_factory=Memory, compare=False, repr=False)
    problems: tuple[str, ...] = ()  # why layout, sheet or a gauge could not be read
    order: str = BY_PART  # in which the route is walked
    only: tuple[Stop, ...] = ()  # the stations of one paper sheet that is typed back; () is the whole route

    @cached_property
    def full(self) -> Wanted:
        """What the job asks for on the full route; nothing without a layout."""
        if self.layout is None:
            return Wanted((), {}, {})
        return of_plan(self.job, self._plan)

    @cached_property
    def wanted(self) -> Wanted:
        """What the job asks for: on the quick route the worst places, and the full set where a value came near."""
        if self.layout is None or self.job.extent != QUICK:
            return self.full
        return narrowed(self.job, self.full, self.judgement.results, self.round, self.layout, self.catalogue)

    @cached_property
    def route(self) -> tuple[Stop, ...]:
        """Every station of the round in the order a hand walks."""
        if self.only:
            return self.only
        known = self.catalogue.characteristics
        if self.round == AS_ASSEMBLED and self.wanted.together:  # nothing else can be reached any more
            return at_once(route_of(self.wanted.together, self.order, known), known)
        make = partial(route_of, self.wanted.walk, self.order, known)
        if self.round == BACK and self.job.order is not None:
            key = ("again", self.order, self.job.order_event, self.job.extent, *self._asking)
            return self.memory.once(key, lambda: _again(self, make()))
        if self.job.extent == QUICK:
            return make()  # it grows with what is read
        return self.memory.once(("route", self.order, *self._asking), make)

    @cached_property
    def evidence(self) -> tuple[Any, ...]:
        """All that values of the engine rest on: equal where readings, gauges, limits, geometry and prices are.

        Intended work, decisions, notes and photos are not among it, so that what was worked out outlives them.
        """
        job = self.job
        standing = sum((one.state == "counted") + 2 * (one.answered is not None) for one in job.readings)
        last = job.readings[-1].seq if job.readings else 0
        gauges = tuple((name, each[-1].event) for name, each in job.gauges.items() if each)
        texts = tuple(text.hash for text in (job.limits, job.prices) if text)
        return (job.id, len(job.readings), standing, last, len(job.taken_back), gauges, tuple(job.settings), texts,
                job.geometry_event, repr(job.engine), len(job.waived), len(job.checks), job.extent)  # fmt: skip

    @property
    def _plan(self) -> Plan:
        layout = self.layout
        assert layout is not None
        make = partial(plan, also(self.job), self.sheet, layout, self.catalogue)
        return self.memory.once(("plan", *self._asking), make)

    @property
    def _asking(self) -> tuple[Any, ...]:
        """All that the plan and the route rest on."""
        return self.job.limits.hash if self.job.limits else "", also(self.job), self.layout

    @cached_property
    def judged(self) -> tuple[Judgement, str]:
        """The judgement, and why there is none where a gauge cannot be read."""
        if self.layout is None:
            return Judgement((), ()), "describe the engine first: its layout tells which places there are"
        try:
            return judge(self.job, self.sheet, self.layout, self.catalogue, self.full), ""
        except GaugeFault as fault:
            return Judgement((), ()), str(fault)

    @property
    def judgement(self) -> Judgement:
        """All results of the job."""
        return self.judged[0]

    @cached_property
    def by_place(self) -> Mapping[tuple[str, str], tuple[Reading, ...]]:
        """Readings of this round by characteristic and place, oldest first."""
        found: dict[tuple[str, str], list[Reading]] = {}
        for reading in self.job.readings:
            if reading.round == self.round:
                found.setdefault((reading.characteristic, reading.place), []).append(reading)
        return {key: tuple(readings) for key, readings in found.items()}

    def readings_at(self, characteristic: str, place: str) -> tuple[Reading, ...]:
        """Readings of one station in this round, oldest first, whatever became of them."""
        return self.by_place.get((characteristic, place), ())

    def reading(self, name: str) -> Reading | None:
        """A reading by its id."""
        return next((reading for reading in self.job.readings if reading.id == name), None)

    def done(self, stop: Stop) -> bool:
        """Whether a station has a counted reading or was waived."""
        counted = any(reading.state == "counted" for reading in self.readings_at(stop.characteristic, stop.place))
        return counted or (stop.characteristic, stop.place, self.round) in self.wanted.waived

    @property
    def progress(self) -> tuple[int, int]:
        """Stations done, of all on the route. What is asked back is not done."""
        return sum(self.done(stop) for stop in self.route), len(self.route)

    def series(self, characteristic: str, place: str) -> tuple[Stop, ...]:
        """The stations of a characteristic at one location."""
        here = location(place)
        return tuple(s for s in self.route if s.characteristic == characteristic and location(s.place) == here)


def _again(now: State, route: tuple[Stop, ...]) -> tuple[Stop, ...]:
    from witnessmark.desk.again import again  # it reckons with the geometry: only once a head is back

    return again(now, route)


def state(
    job: Job, catalogue: Catalogue, round_: str = "as found", memory: Memory | None = None, order: str = BY_PART
) -> State:
    """The state of a job. What cannot be read is told in `problems`; the rest works on."""
    memory = memory or Memory()
    problems: list[str] = []
    read_layout = memory.once(("engine", repr(job.engine)), lambda: _layout(job))
    read_limits = memory.once(("limits", job.limits.hash if job.limits else ""), lambda: _sheet(job, catalogue))
    for _, why in (read_layout, read_limits):
        problems += why
    problems += _not_known(job, catalogue)
    return State(job, read_layout[0], read_limits[0], catalogue, round_, memory, tuple(problems), order)


def _not_known(job: Job, catalogue: Catalogue) -> list[str]:
    """What the job asks to measure besides and this catalogue does not have."""
    names = [str(name) for name in job.header.get("also_measure") or () if name not in catalogue.characteristics]
    return [f"also to be measured: no characteristic is called '{name}'{did_you_mean(name, catalogue.characteristics)}"
            for name in names]  # fmt: skip


def _layout(job: Job) -> tuple[Layout | None, list[str]]:
    if not job.engine:
        return None, ["the engine is not described yet"]
    try:
        return layout(job.engine), []
    except LayoutError as error:
        return None, [str(error)]


def _sheet(job: Job, catalogue: Catalogue) -> tuple[Sheet | None, list[str]]:
    if job.limits is None:
        return None, []
    try:
        return read_sheet(job.limits.text, job.limits.name, catalogue), []
    except Faulty as faulty:
        return None, [str(fault) for fault in faulty.faults]
