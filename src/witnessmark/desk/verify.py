"""What a job knows of its engine once it is together: readings, what was predicted, and what each cylinder should give.

Predicted is what the ordered work makes of the engine, or the intended work where none was ordered. The value after is
that of the round `as assembled`, else the one read back from machining.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from witnessmark.assemble.verify import Cylinder, Expecting, Leak, closing_after, expected_cranking, leak
from witnessmark.desk.conditions import Air, air_of, condition
from witnessmark.desk.cuts import cuts, model_of
from witnessmark.desk.geometry import state_of
from witnessmark.desk.ledger import tolerances
from witnessmark.desk.state import State
from witnessmark.engine.model import Model
from witnessmark.engine.place import PlaceError, parse
from witnessmark.engine.walk import locations, related
from witnessmark.engine.work import Cut
from witnessmark.judge.judge import judge
from witnessmark.judge.result import Result
from witnessmark.judge.rows import AS_ASSEMBLED, AS_FOUND
from witnessmark.mechanics.law import OutsideLaw
from witnessmark.mechanics.spread import Spread
from witnessmark.plan.ledger import After, ledger
from witnessmark.plan.result import Ledger, LedgerRow
from witnessmark.record.shape import BACK

DRY, FIRST, WET = "cranking_compression", "cranking_first", "cranking_wet"
SUPPLY, BEHIND, LOSS = "leak_down_supply", "leak_down_cylinder", "leak_down"
TIMING = ("lobe_centreline", "duration")
OIL = "oil_pressure"
CLOSES, RATIO, CAM = "lobe_closes", "compression_ratio", "cam_timing"
LATER = (AS_ASSEMBLED, BACK)

Spot = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Tried:
    """One cylinder: what was read and is expected; `why` says what is missing where nothing is expected.

    `before` is the dry reading as found. `leak` is None while a gauge or the orifice is missing; `leak_why` says so.
    """

    cylinder: Cylinder
    before: float | None
    why: str
    leak: Leak | None
    leak_why: str


@dataclass(frozen=True, slots=True)
class Verified:
    """All of it. `by` are the results by round, then by characteristic and location."""

    tried: tuple[Tried, ...]
    air: Air
    ledger: Ledger
    by: Mapping[str, Mapping[Spot, Result]]
    lobes: tuple[str, ...]  # of which timing was read


def verified(state: State) -> Verified:
    """What is known of the assembled engine. Raises Refused while the engine is not described."""
    by: dict[str, dict[Spot, Result]] = {}
    for one in _results(state):
        by.setdefault(one.round, {})[one.characteristic, one.location] = one
    model = model_of(state)
    found = ledger(model, state_of(state), work_of(state), state.sheet, state.catalogue, tolerances(state), _after(by))
    air = air_of(state)
    rows = {(row.characteristic, row.location): row for row in found.rows}
    tried = tuple(_tried(_Ground(state, model, rows, by, air), place) for place in model.axes.locations["chamber"])
    return Verified(tried, air, found, by, _lobes(state, by))


def _results(state: State) -> tuple[Result, ...]:
    """The results of the job, with leakage and timing worked out wherever they were read, limit or none."""
    read = {reading.characteristic for reading in state.job.readings}
    known = state.catalogue.characteristics
    more = tuple(name for name in (LOSS, *TIMING)
                 if name not in state.full.asked and set(known[name].arguments) <= read)  # fmt: skip
    if not more or state.judged[1] or state.layout is None:
        return state.judgement.results
    asked = replace(state.full, asked=(*state.full.asked, *more))
    return judge(state.job, state.sheet, state.layout, state.catalogue, asked).results


def work_of(state: State) -> tuple[Cut, ...]:
    """The ordered work as far as the geometry knows it, else the intended."""
    known = model_of(state).operations
    asked: Iterable[Mapping[str, Any]] = (state.job.order or {}).get("work") or state.job.work
    return cuts(state, [dict(one) for one in asked if one["operation"] in known])


def after_of(by: Mapping[str, Mapping[Spot, Result]], spot: Spot) -> Result | None:
    """The last result of a place: of the assembled engine, else back from machining."""
    return next((by[name][spot] for name in LATER if spot in by.get(name, {})), None)


def before_of(by: Mapping[str, Mapping[Spot, Result]], spot: Spot) -> Result | None:
    """The result as found."""
    return by.get(AS_FOUND, {}).get(spot)


def cam_moved(rows: Mapping[Spot, LedgerRow], cam: str) -> float | None:
    """How much later than found a camshaft runs after the work [crank rad]; None where that is not known."""
    row = rows.get((CAM, cam))
    if row is None or row.predicted is None:
        return None
    return row.predicted - (row.before or 0.0)


def _after(by: Mapping[str, Mapping[Spot, Result]]) -> After:
    found: dict[Spot, tuple[float, float]] = {}
    for name in reversed(LATER):
        found |= {spot: read for spot, one in by.get(name, {}).items() if (read := _value(one)) is not None}
    return found


def _value(one: Result) -> tuple[float, float] | None:
    """Value and standard uncertainty; of a gap between leaves its middle, uniform over it."""
    if one.value is not None:
        return one.value, one.u or 0.0
    low, high = one.interval or (0.0, None)
    if high is None:
        return None
    return (low + high) / 2, (high - low) / 12**0.5


@dataclass(frozen=True, slots=True)
class _Ground:
    state: State
    model: Model
    rows: Mapping[Spot, LedgerRow]
    by: Mapping[str, Mapping[Spot, Result]]
    air: Air

    def read(self, name: str, place: str) -> Result | None:
        """What counts of the engine together: tests of a running engine are not read back from machining."""
        return self.by.get(AS_ASSEMBLED, {}).get((name, place))

    def value(self, name: str, place: str) -> float | None:
        found = self.read(name, place)
        return found.value if found else None


def _tried(of: _Ground, place: str) -> Tried:
    expected, why = _expected(of, place)
    dry, wet = of.read(DRY, place), of.read(WET, place)
    size, leak_why = _leak(of, place)
    before = before_of(of.by, (DRY, place))
    layout = of.state.layout
    assert layout is not None
    made = Cylinder(
        place, dry.value if dry else None, (dry.u or 0.0) if dry else 0.0, of.value(FIRST, place),
        wet.value if wet else None, (wet.u or 0.0) if wet else 0.0, of.value(LOSS, place), expected,
        layout.bank_of(parse(place).cylinder or 0),
    )  # fmt: skip
    return Tried(made, before.value if before else None, why, size, leak_why)


def _expected(of: _Ground, place: str) -> tuple[Spread | None, str]:
    row = of.rows.get((RATIO, place))
    if row is None or row.predicted is None:
        return None, "the compression ratio is not known" + (f": {row.unknown}" if row and row.unknown else "")
    at = of.model.axes.index("chamber", place)
    known = state_of(of.state).values
    stroke, rod = float(known["stroke"][at]), float(known["rod_length"][at])
    if np.isnan(stroke) or np.isnan(rod):
        lacking = " and ".join(name for name, one in (("stroke", stroke), ("rod length", rod)) if np.isnan(one))
        return None, f"enter the {lacking}, on the sheet of intended work"
    closes = closing_of(of.state, of.by, of.rows, place)
    if closes is None:
        return None, "enter when the inlet closes, or read the closing angle at an inlet lobe"
    try:
        return expected_cranking(Expecting(row.predicted, row.u or 0.0, closes, stroke, rod, of.air.pressure)), ""
    except OutsideLaw as outside:
        return None, str(outside)


def closing_of(
    state: State, by: Mapping[str, Mapping[Spot, Result]], rows: Mapping[Spot, LedgerRow], place: str
) -> float | None:
    """When the inlet of a chamber closes after bottom dead centre [crank rad].

    As read on the engine together; else as the book sets it, later by as much as the camshaft then runs late; else as
    found, later by what the work moves it. A chamber whose lobes nobody read is taken as those that were.
    """
    for name in LATER:
        if (read := _closing_read(state, by.get(name, {}), place, {})) is not None:
            return read
    book = condition(state, "inlet_closes")
    if book is not None:
        return closing_after(book, _late(state, rows, place))
    return _closing_read(state, by.get(AS_FOUND, {}), place, rows)


def _late(state: State, rows: Mapping[Spot, LedgerRow], place: str) -> float:
    """How late the inlet camshaft of a chamber runs against the book after the work; nothing where nobody knows."""
    layout = state.layout
    assert layout is not None
    valve = next(one for one in locations(layout, "valve")
                 if parse(one).side == "inl" and related(one, "chamber", layout) == place)  # fmt: skip
    row = rows.get((CAM, related(valve, "cam", layout)))
    return row.predicted if row is not None and row.predicted is not None else 0.0


def _closing_read(
    state: State, results: Mapping[Spot, Result], place: str, rows: Mapping[Spot, LedgerRow]
) -> float | None:
    """The mean of the inlet lobes of this chamber, else of all inlet lobes that were read."""
    layout = state.layout
    assert layout is not None
    here: list[float] = []
    other: list[float] = []
    for valve in locations(layout, "valve"):
        lobe = related(valve, "lobe", layout)
        found = results.get((CLOSES, lobe))
        if parse(valve).side != "inl" or found is None or found.value is None:
            continue
        moved = cam_moved(rows, related(valve, "cam", layout)) or 0.0
        mine = related(valve, "chamber", layout) == place
        (here if mine else other).append(closing_after(found.value, moved))
    read = here or other
    return sum(read) / len(read) if read else None


def _leak(of: _Ground, place: str) -> tuple[Leak | None, str]:
    supply, behind = of.read(SUPPLY, place), of.read(BEHIND, place)
    if supply is None or behind is None or supply.value is None or behind.value is None:
        return None, "" if supply is None and behind is None else "read both gauges of the set"
    orifice = condition(of.state, "orifice")
    if orifice is None:
        return None, "enter the orifice of the set"
    loss = of.read(LOSS, place)
    u = (loss.u or 0.0) * supply.value if loss else 0.0  # what both gauges share is out of it
    try:
        return leak(supply.value, min(behind.value, supply.value), orifice, of.air.pressure, u), ""
    except OutsideLaw as outside:
        return None, str(outside)


def _lobes(state: State, by: Mapping[str, Mapping[Spot, Result]]) -> tuple[str, ...]:
    """Lobes of which timing was read in any round, in walking order."""
    layout = state.layout
    assert layout is not None
    read = {place for results in by.values() for name, place in results if name in TIMING}
    return tuple(place for place in locations(layout, "lobe") if place in read)


def cam_of(state: State, lobe: str) -> str:
    """The camshaft of a lobe; "" where the place is no lobe of this engine."""
    assert state.layout is not None
    try:
        return related(lobe, "cam", state.layout)
    except PlaceError:
        return ""
