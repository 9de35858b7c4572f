"""The state of a job's engine, filled from what was read, then entered, then stated; and where each value comes from.

read          by a gauge, in the round that is asked for
entered       by hand, with its document: what no reading of a head shows
limit sheet   stated there, or the middle of what it allows a new part
new part      what the price list says that a part brings
taken for granted, not known
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any

import numpy as np

from witnessmark.desk.bench import Refused
from witnessmark.desk.cuts import model_of
from witnessmark.desk.prices import prices_of
from witnessmark.desk.state import State
from witnessmark.engine.axes import Axes
from witnessmark.engine.model import Model
from witnessmark.engine.place import PlaceError
from witnessmark.engine.quantity import NEW, Quantity
from witnessmark.engine.state import ENTERED, NEW_PART, STATED, UNKNOWN, USUAL, Floats, blank
from witnessmark.engine.state import State as Engine
from witnessmark.engine.walk import related
from witnessmark.judge.gauges import GaugeFault
from witnessmark.judge.known import Known, Value, known
from witnessmark.limits.limit import Selector
from witnessmark.limits.sheet import limit_for
from witnessmark.metrology.source import UNIFORM
from witnessmark.quantity.amount import Amount
from witnessmark.quantity.read import read
from witnessmark.quantity.unit import unit

AS_FOUND = "as found"
KIND = {"bank": "head", "cam": "cam", "chamber": "chamber", "valve": "valve"}
TARGETS = {"target_lash": "valve_lash"}  # what is set to the middle of a limit


def state_of(state: State, round_: str = AS_FOUND) -> Engine:
    """The engine of a job as a round found it. Raises Refused while the engine is not described, or a gauge is amiss."""
    key = ("geometry", round_, state.job.id, state.job.seq, state.job.geometry_event, state.job.prices_event)
    return state.memory.once(key, lambda: _made(state, round_))


def _made(state: State, round_: str) -> Engine:
    model = model_of(state)
    assert state.layout is not None
    try:
        found = known(state.job, state.sheet, state.layout, state.catalogue, round_)
    except GaugeFault as fault:
        raise Refused(str(fault)) from None
    filling = _Filling(model, blank(model.axes, tuple(model.quantities.values())), found)
    filling.take_readings(state)
    filling.take_entries(state)
    filling.take_new_parts(state)
    filling.take_targets(state)
    return filling.engine()


class _Filling:
    """An engine's state while it is filled; lives no longer than the call."""

    def __init__(self, model: Model, state: Engine, found: Known) -> None:
        self.model, self.axes, self.found = model, model.axes, found
        self.values = {name: row.copy() for name, row in state.values.items()}
        self.origin = {name: list(words) for name, words in state.origin.items()}
        self.state = state
        self.shared: dict[str, Floats] = {}
        self.own: dict[str, Floats] = {}

    def engine(self) -> Engine:
        origin = {name: tuple(words) for name, words in self.origin.items()}
        return replace(self.state, values=self.values, origin=origin, sources=self.found.sources, shared=self.shared,
                       own=self.own)  # fmt: skip

    def take_readings(self, state: State) -> None:
        """What was read, or is stated in place of a reading, on the axis of its quantity."""
        several: dict[tuple[str, int], list[Value]] = {}
        for (name, place), value in self.found.values.items():
            quantity = self.model.quantities.get(name)
            if quantity is not None:
                for element in elements(self.axes, quantity.axis, place, state):
                    several.setdefault((name, element), []).append(value)
        for (name, element), values in several.items():
            extreme = state.catalogue.characteristics[name].extreme
            pick = min if extreme == "least" else max
            self._put(name, element, pick(values, key=lambda one: one.value))

    def take_entries(self, state: State) -> None:
        """What was entered by hand, where nobody read it."""
        for name, entries in state.job.geometry.items():
            quantity = self.model.quantities.get(name)
            if quantity is None:
                continue  # of another gear or drive, or of a newer version: kept, and told by `geometry_faults`
            for selector, value in sorted(_entries(quantity, entries), key=lambda one: one[0].rank):
                for element, place in enumerate(self.axes.locations[quantity.axis]):
                    if selector.covers(place) and self.origin[name][element] in (UNKNOWN, USUAL, ENTERED):
                        self._put(name, element, value)

    def take_new_parts(self, state: State) -> None:
        """What new parts bring: by the price list, else the middle of what the limit sheet allows them."""
        prices = prices_of(state)
        for name, quantity in self.model.quantities.items():
            if quantity.kind != NEW:
                continue
            plain = name.removeprefix("new_")
            for element, place in enumerate(self.axes.locations[quantity.axis]):
                if self.origin[name][element] == ENTERED:
                    continue
                parts = [one for one in prices.parts if plain in one.brings and one.covers(place)] if prices else []
                if parts:
                    value, u = min(parts, key=lambda one: one.cost).brings[plain]
                    self._put(name, element, Value(value, np.zeros(0), u, NEW_PART))
                elif (middle := _middle(state, plain, place, "new")) is not None:
                    self._put(name, element, middle)

    def take_targets(self, state: State) -> None:
        """What is set goes to the middle of its limit."""
        for name, characteristic in TARGETS.items():
            if name not in self.model.quantities:
                continue
            for element, place in enumerate(self.axes.locations["valve"]):
                if self.origin[name][element] == ENTERED:
                    continue
                middle = _middle(state, characteristic, place, "new") or _middle(
                    state, characteristic, place, "service"
                )
                if middle is not None:
                    self._put(name, element, replace_doubt(middle))

    def _put(self, name: str, element: int, value: Value) -> None:
        size = len(self.values[name])
        self.values[name][element] = value.value
        self.origin[name][element] = value.origin
        if value.own:
            self.own.setdefault(name, np.zeros(size))[element] = value.own
        elif name in self.own:
            self.own[name][element] = 0.0
        if len(value.shared) and np.any(value.shared):
            self.shared.setdefault(name, np.zeros((size, len(self.found.sources))))[element] = value.shared


def elements(axes: Axes, axis: str, place: str, state: State) -> tuple[int, ...]:
    """Where a place stands on an axis: a drive turns every camshaft of its head."""
    assert state.layout is not None
    if axis == "engine":
        return (0,)
    try:
        return (axes.locations[axis].index(related(place, KIND[axis], state.layout)),)
    except (PlaceError, ValueError):
        bank = place.rpartition("/")[0] if place.startswith(("left/", "right/")) else ""
        return (
            tuple(n for n, one in enumerate(axes.locations[axis]) if one.startswith(bank))
            if (place.endswith("drive") or axis == "bank")
            else ()
        )


def _entries(quantity: Quantity, entries: Iterable[Mapping[str, Any]]) -> Iterator[tuple[Selector, Value]]:
    """Entries of one quantity that can be read, with the places that they are for."""
    for entry in entries:
        value = entry_value(quantity, entry)
        if value is not None:
            yield Selector(entry.get("for") or "", "", entry.get("place") or ""), value


def entry_value(quantity: Quantity, entry: Mapping[str, Any]) -> Value | None:
    """The value of an entry in the unit inside; None where it cannot be read, which `geometry_faults` tells."""
    name = entry.get("unit") or usual_unit(quantity)
    value, u = (_inside(entry.get(key), name, quantity.dimension) for key in ("value", "u"))
    return None if value is None else Value(value, np.zeros(0), u or 0.0, ENTERED)


def usual_unit(quantity: Quantity) -> str:
    """The unit in which a quantity is entered where none is named."""
    return {"length": "mm", "volume": "mL", "area": "mm²", "ratio": "1", "angle_plane": "deg", "angle_crank": "deg crank",
            "rate": "N/mm", "force": "N"}[quantity.dimension]  # fmt: skip


def _inside(text: Any, name: str, dimension: str) -> float | None:
    if not isinstance(text, str):
        return None
    if dimension == "area":  # no gauge reads one, so the room of quantities has none
        root = {"mm²": 1.0, "in²": 25.4**2}.get(name)
        try:
            return None if root is None else float(text) * root
        except ValueError:
            return None
    try:
        found = read(text, name, dimension=dimension)
    except ValueError:
        return None
    return float(found.value * unit(found.unit, dimension).factor) if isinstance(found, Amount) else None


def geometry_faults(state: State) -> tuple[str, ...]:
    """Entries of the geometry that nothing is made of, and why."""
    if state.layout is None:
        return ()
    model, told = model_of(state), []
    for name, entries in state.job.geometry.items():
        quantity = model.quantities.get(name)
        if quantity is None:
            told.append(f"geometry: '{name}' is no quantity of an engine with {state.layout.gear} and a "
                        f"{state.layout.drive}; it is kept and not used")  # fmt: skip
            continue
        told += [f"geometry: {quantity.term} '{one.get('value')} {one.get('unit') or ''}' cannot be read; write digits "
                 f"with a unit such as {usual_unit(quantity)}"
                 for one in entries if entry_value(quantity, one) is None]  # fmt: skip
    return tuple(told)


def _middle(state: State, characteristic: str, place: str, kind: str) -> Value | None:
    limit = limit_for(state.sheet, characteristic, place, kind) if state.sheet else None
    if limit is None or limit.low is None or limit.high is None:
        return None
    return Value((limit.low + limit.high) / 2, np.zeros(0), (limit.high - limit.low) / 2 / UNIFORM, STATED)


def replace_doubt(value: Value) -> Value:
    """A target: where to set it is not doubtful."""
    return Value(value.value, value.shared, 0.0, value.origin)
