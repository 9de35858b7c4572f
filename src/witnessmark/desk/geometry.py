"""The state of the engine from a job: every quantity of its geometry with its doubt and where it comes from.

For each quantity at each place the first that is there, in this order:

    read                 readings of the round, or what follows from them (judge.known)
    entered              the job's geometry, the most particular entry; one that tells what the engine was found as
                         does not speak of a later round
    new part             of what a new part would bring: the cheapest part of the price list that brings it
    limit sheet          a value that the sheet states; of a new part the middle of its new limit, uniform over the
                         width (JCGM 100:2008, 4.3.7); the lash to set is the middle of the lash limit
    taken for granted    what is usual, and said to be so
    not known            and then whatever rests on it is not known either
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from witnessmark.catalogue.place import PlaceError
from witnessmark.desk.bench import Refused
from witnessmark.desk.cuts import model_of
from witnessmark.desk.geometry_entries import Entered, entries, usual_unit
from witnessmark.desk.prices import prices_of
from witnessmark.desk.state import State
from witnessmark.engine import state as engine
from witnessmark.engine.model import Model
from witnessmark.engine.quantity import FOUND, NEW, WORK, Quantity
from witnessmark.engine.shape import Layout
from witnessmark.engine.walk import locations, related
from witnessmark.judge.gauges import GaugeFault
from witnessmark.judge.known import Asked, Known, known
from witnessmark.judge.rows import AS_FOUND
from witnessmark.limits.sheet import limit_for
from witnessmark.record.shape import BACK

__all__ = ["Geometry", "after_of", "geometry_faults", "geometry_of", "state_of", "usual_unit", "why_unknown"]

TARGET, LASH = "target_lash", "valve_lash"
AT = {"bank": "head", "cam": "cam", "chamber": "chamber", "valve": "valve"}
SPRINGS = ("spring_free_length", "spring_rate", "spring_solid_height")  # of two springs in one none speaks for both
BETWEEN = 2 * 3**0.5  # width of a limit over the standard uncertainty of a value that lies anywhere in it


@dataclass(frozen=True, slots=True, eq=False)
class Geometry:
    """The state with what was amiss: `faults` of entries, and why a place is not known by (quantity, element)."""

    state: engine.State
    faults: tuple[str, ...]
    why: Mapping[tuple[str, int], str]


def state_of(state: State, round_: str = AS_FOUND) -> engine.State:
    """The engine as a round found it. Raises Refused while it is not described, or where a gauge cannot be read."""
    return geometry_of(state, round_).state


def after_of(state: State) -> engine.State:
    """The engine as it was read after machining; what was found before and not read again is not known."""
    return state_of(state, BACK)


def geometry_faults(state: State) -> tuple[str, ...]:
    """What is wrong with the geometry as entered: which entry, what, and what to write."""
    return geometry_of(state).faults if state.layout is not None else ()


def why_unknown(state: State, round_: str = AS_FOUND) -> tuple[tuple[str, tuple[str, ...], str], ...]:
    """Every quantity that is not known somewhere: its id, the places, and what to measure or enter."""
    found = geometry_of(state, round_)
    model = model_of(state)
    missing = []
    for name, one in model.quantities.items():
        lacking = np.flatnonzero(np.isnan(found.state.values[name]))
        if len(lacking):
            places = tuple(model.axes.locations[one.axis][at] for at in lacking)
            why = next((found.why[name, int(at)] for at in lacking if (name, int(at)) in found.why), "")
            missing.append((name, places, why or _cure(state, one)))
    return tuple(missing)


def _cure(state: State, one: Quantity) -> str:
    entry = state.catalogue.characteristics.get(one.id)
    if one.kind == NEW:
        return f"write the {one.term} under `brings` of a part in the price list, or enter it under `geometry`"
    if entry is not None and entry.measured:
        return f"measure the {entry.term}, or enter it under `geometry`"
    return f"enter the {one.term} under `geometry`"


def geometry_of(state: State, round_: str = AS_FOUND) -> Geometry:
    """State, faults and reasons, worked out once for each job as it stands."""
    model = model_of(state)
    key = ("geometry", round_, *state.evidence)
    return state.memory.once(key, lambda: _geometry(state, model, round_))


def _geometry(state: State, model: Model, round_: str) -> Geometry:
    plain = engine.blank(model.axes, tuple(model.quantities.values()))
    fill = _Fill(plain)
    found, why = _read(state, model, round_, fill)
    entered, faults = entries(state, model)
    for one in model.quantities.values():
        if one.kind != WORK:
            _enter(fill, one, entered.get(one.id, ()), round_)
            _bring(state, model, fill, one)
            _state(state, model, fill, one)
    full = replace(
        plain, values=fill.values, origin={name: tuple(words) for name, words in fill.origin.items()},
        sources=found.sources, shared={name: row for name, row in fill.shared.items() if np.any(row)},
        own={name: row for name, row in fill.own.items() if np.any(row)},
    )  # fmt: skip
    return Geometry(full, faults, why)


class _Fill:
    """Arrays under way; lives no longer than the call. A place that has a value from a better hand is left alone."""

    def __init__(self, plain: engine.State) -> None:
        self.values = {name: row.copy() for name, row in plain.values.items()}
        self.origin = {name: list(words) for name, words in plain.origin.items()}
        self.shared: dict[str, engine.Floats] = {}
        self.own = {name: np.zeros(len(row)) for name, row in plain.values.items()}

    def free(self, name: str, at: int) -> bool:
        """Whether nobody better has spoken of this place yet."""
        return self.origin[name][at] in (engine.UNKNOWN, engine.USUAL)

    def put(self, name: str, at: int, value: float, u: float, origin: str) -> None:
        """A value at one place."""
        self.values[name][at], self.own[name][at], self.origin[name][at] = value, u, origin


def _read(state: State, model: Model, round_: str, fill: _Fill) -> tuple[Known, dict[tuple[str, int], str]]:
    """Fills in what was read; gives it, and why some of it cannot be used."""
    asked, why = _asked(state, model)
    try:
        found = known(state.job, state.sheet, model.layout, state.catalogue, round_, [places for _, places in asked])
    except GaugeFault as fault:
        raise Refused(str(fault)) from None
    for n, ((name, at), _) in enumerate(asked):
        if n in found.why:
            why[name, at] = found.why[n]
        if np.isnan(found.value[n]) or found.stated[n]:
            continue
        fill.put(name, at, float(found.value[n]), float(found.own[n]), engine.READ)
        row = fill.shared.setdefault(name, np.zeros((len(fill.values[name]), len(found.sources))))
        row[at] = found.shared[n]
    return found, why


Spot = tuple[str, int]


def _asked(state: State, model: Model) -> tuple[list[tuple[Spot, Asked]], dict[Spot, str]]:
    """Which quantity at which element is asked of which characteristic at which locations; and what is not asked."""
    asked, why = [], {}
    for one in model.quantities.values():
        name, end = one.reads or (one.id, "")
        entry = state.catalogue.characteristics.get(name)
        if one.kind in (WORK, NEW) or entry is None:
            continue
        for at, places in enumerate(_places(state, model, one, entry.at)):
            if one.id in SPRINGS and model.layout.springs > 1:
                why[one.id, at] = "two springs stand on a valve: enter what both do together under `geometry`"
            elif places:
                asked.append(((one.id, at), (name, places, end)))
    return asked, why


def _places(state: State, model: Model, one: Quantity, at: str) -> tuple[tuple[str, ...], ...]:
    """For each element of a quantity's axis the catalogue's locations that speak of it."""
    layout, axis = model.layout, one.axis
    return state.memory.once(
        ("located", layout, axis, at), lambda: _located(layout, model.axes.locations[axis], axis, at)
    )


def _located(layout: Layout, elements: tuple[str, ...], axis: str, at: str) -> tuple[tuple[str, ...], ...]:
    if axis not in AT:
        return ((),) * len(elements)
    try:
        return tuple((related(place, at, layout),) for place in elements)
    except PlaceError:  # several of the catalogue's places in one element, such as the bolts of a head
        within: dict[str, list[str]] = {}
        for place in locations(layout, at):
            within.setdefault(_related(place, AT[axis], layout), []).append(place)
        return tuple(tuple(within.get(place, ())) for place in elements)


def _related(place: str, at: str, layout: Layout) -> str:
    try:
        return related(place, at, layout)
    except PlaceError:
        return place


def _enter(fill: _Fill, one: Quantity, entered: Iterable[Entered], round_: str) -> None:
    if one.kind == FOUND and round_ != AS_FOUND:
        return
    for entry in entered:  # the most particular first
        for at in entry.elements:
            if fill.free(one.id, at):
                fill.put(one.id, at, entry.value, entry.u, engine.ENTERED)


def _bring(state: State, model: Model, fill: _Fill, one: Quantity) -> None:
    prices = prices_of(state) if one.kind == NEW else None
    if prices is None:
        return
    name = one.id.removeprefix("new_")
    parts = sorted((part for part in prices.parts if name in part.brings), key=lambda part: part.cost)
    for at, place in enumerate(model.axes.locations[one.axis]):
        fits = next((part for part in parts if part.covers(place)), None)
        if fits is not None and fill.free(one.id, at):
            fill.put(one.id, at, *fits.brings[name], engine.NEW_PART)


def _state(state: State, model: Model, fill: _Fill, one: Quantity) -> None:
    """What the sheet states of the engine, the middle of what it wants of a new part, the middle of the lash."""
    name = LASH if one.id == TARGET else one.id.removeprefix("new_") if one.kind == NEW else one.id
    if state.sheet is None or name not in state.sheet.index:
        return
    kinds = ("new", "service") if one.id == TARGET else ("new",) if one.kind == NEW else ("given",)
    at_catalogue = state.catalogue.characteristics[name].at
    for at, place in enumerate(model.axes.locations[one.axis]):
        there = _related(place, at_catalogue, model.layout)
        ends = next((found for kind in kinds if (found := _ends(state, name, there, kind))), None)
        if ends is not None and fill.free(one.id, at):
            u = (ends[1] - ends[0]) / BETWEEN if one.kind == NEW else 0.0
            fill.put(one.id, at, (ends[0] + ends[1]) / 2, u, engine.STATED)


def _ends(state: State, name: str, place: str, kind: str) -> tuple[float, float] | None:
    assert state.sheet is not None
    limit = limit_for(state.sheet, name, place, kind)
    if limit is None or limit.of_spread or limit.low is None:
        return None
    if limit.high is None:
        return (limit.low, limit.low) if kind == "given" else None
    return limit.low, limit.high
