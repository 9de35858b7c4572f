"""The geometry as a plan sees it: for each limit at each place the room that is left, as a function of the amounts.

A row is one end of one limit. Its value is the room to that end of the limit that is then in force: of what the work
makes new, the new limit's. So nothing above this module need know that a limit changes with the work, and a row holds
where its value is at least nothing.

What is set after re-measuring is not a row of its own: a lash that a shim can still set becomes the two rows of the
shim that it needs, which must be one that exists.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from witnessmark.catalogue.entry import Catalogue
from witnessmark.engine.model import Model, evaluate
from witnessmark.engine.predict import cut, engines, predict
from witnessmark.engine.state import Floats, State
from witnessmark.engine.work import worked
from witnessmark.judge.result import Against
from witnessmark.limits.sheet import Sheet
from witnessmark.plan.held import Spot, held_against, spots

LOW, HIGH = "low", "high"
FAR = 1e3  # mm, N: room where a limit is open on this side until the work makes the part new
NOTHING = 1e-9
PHYSICAL = 1.0  # mm: width by which a row without a second end is scaled


@dataclass(frozen=True, slots=True)
class Offer:
    """One operation at one place that a plan may choose: by how much, for what money, in how many minutes.

    `least` and `most` in the unit inside; equal for a size and for a part (1). `step` is what the machine can set.
    """

    id: str
    operation: str
    location: str
    element: int
    least: float
    most: float
    step: float | None
    cost: float
    minutes: float
    kind: str  # metal | part | gasket | shim | adjust | repair
    tolerance: float  # standard uncertainty of the amount
    wait: float = 0.0
    cost_each: float = 0.0  # for each unit of the amount


@dataclass(frozen=True, slots=True)
class Edge:
    """One end of one limit at one place. `limit` and `fresh` are the ends for what was and for what is made new."""

    id: str  # characteristic@location low
    spot: Spot
    side: str
    limit: float
    fresh: float
    scale: float
    physical: bool


@dataclass(frozen=True, eq=False)
class Margins:
    """Room at every edge for amounts (batch, offers); see `values`."""

    model: Model
    state: State
    offers: tuple[Offer, ...]
    edges: tuple[Edge, ...]
    shift: Floats  # (edges,) what a limit that bears part of its doubt itself gives away
    always: tuple[Offer, ...] = ()  # switches that are put in whatever is chosen, such as another casting

    def work(self, amounts: Floats) -> dict[str, Floats]:
        """Amounts (batch, offers) as work along the axes (batch, n)."""
        found: dict[str, Floats] = {}
        for n, offer in enumerate(self.offers):
            row = found.get(offer.operation)
            if row is None:
                size = self.model.axes.size(self.model.operations[offer.operation].axis)
                row = found[offer.operation] = np.zeros((len(amounts), size))
            row[:, offer.element] += amounts[:, n]
        for offer in self.always:
            size = self.model.axes.size(self.model.operations[offer.operation].axis)
            found.setdefault(offer.operation, np.zeros((len(amounts), size)))[:, offer.element] = 1.0
        return found

    def values(self, amounts: Floats) -> Floats:
        """Room (batch, edges) for amounts (batch, offers); NaN where it is not known or no law describes the case."""
        if not len(amounts):
            return np.zeros((0, len(self.edges)))
        work = self.work(amounts)
        plain = {name: row[None, :] for name, row in self.state.values.items()}
        room = self._room(evaluate(self.model, worked(self.model, plain, work)), work)
        if not np.any(self.shift):
            return room
        still = np.abs(room - self._rest) <= NOTHING  # doubt that a limit bears itself, while no work touches its row
        return room + np.where(still, self.shift, 0.0)

    @cached_property
    def _rest(self) -> Floats:
        work = self.work(np.zeros((1, len(self.offers))))
        plain = {name: row[None, :] for name, row in self.state.values.items()}
        return self._room(evaluate(self.model, worked(self.model, plain, work)), work)

    def u(self, amounts: Floats) -> Floats:
        """Standard uncertainty (edges,) of the room for amounts (offers,)."""
        work = {name: row[0] for name, row in self.work(amounts[None, :]).items()}
        asked = {name for name, _, _ in self._columns}
        found = predict(self.model, self.state, work, self._slack(amounts), asked)
        return np.array([found.u[one.spot.characteristic][one.spot.element] for one in self.edges])

    def sample(self, amounts: Floats, count: int, seed: int) -> Floats:
        """True room (count, edges) in engines and cuts drawn from their doubt."""
        work = {name: row[0] for name, row in self.work(amounts[None, :]).items()}
        if (count, seed) not in self._engines:
            self._engines[count, seed] = engines(self.model, self.state, count, seed)
        values, done = self._engines[count, seed], cut(work, self._slack(amounts), count, seed)
        return self._room(evaluate(self.model, worked(self.model, values, done)), done)

    @cached_property
    def _engines(self) -> dict[tuple[int, int], dict[str, Floats]]:
        """Engines that were drawn: every plan is tried on the same ones."""
        return {}

    def variances(self) -> tuple[Floats, Floats]:
        """Variance of the room before any work (edges,), and what each offer adds when done (edges, offers).

        Offers at a valve act on that valve and its chamber, so one operation is tried at all its places at once; what
        it adds to a chamber is shared out among the valves of it.
        """
        nothing = np.zeros(len(self.offers))
        before = self.u(nothing) ** 2
        added = np.zeros((len(self.edges), len(self.offers)))
        for operation in dict.fromkeys(offer.operation for offer in self.offers):
            mine = [n for n, offer in enumerate(self.offers) if offer.operation == operation]
            amounts = nothing.copy()
            seen: set[int] = set()
            for n in mine:  # one offer for each place: of several sizes the first stands for all
                if self.offers[n].element not in seen:
                    amounts[n] = self.offers[n].most
                    seen.add(self.offers[n].element)
            more = self.u(amounts) ** 2 - before
            axis = self.model.operations[operation].axis
            for n in mine:
                touched = self._touched(axis, self.offers[n].element)
                added[:, n] = np.where(touched, more / self._sharing(axis), 0.0)
        return before, added

    def _touched(self, axis: str, element: int) -> np.ndarray:
        return np.array([self._is_touched(edge, axis, element) for edge in self.edges])

    def _is_touched(self, edge: Edge, axis: str, element: int) -> bool:
        own = self.model.laws[edge.spot.characteristic].axis
        upon = self.model.axes.upon
        if own == axis:
            return edge.spot.element == element
        if (own, axis) in upon:
            return int(upon[own, axis][edge.spot.element]) == element
        return (axis, own) in upon and int(upon[axis, own][element]) == edge.spot.element

    def _sharing(self, axis: str) -> Floats:
        """How many places of an axis act on each edge: one, or all valves of its chamber."""
        upon = self.model.axes.upon
        found = np.ones(len(self.edges))
        for n, edge in enumerate(self.edges):
            own = self.model.laws[edge.spot.characteristic].axis
            if own != axis and (axis, own) in upon and (own, axis) not in upon:
                found[n] = max(int((upon[axis, own] == edge.spot.element).sum()), 1)
        return found

    def _slack(self, amounts: Floats) -> dict[str, Floats]:
        slack: dict[str, Floats] = {}
        for amount, offer in zip(amounts, self.offers, strict=True):
            if amount and offer.tolerance:
                size = self.model.axes.size(self.model.operations[offer.operation].axis)
                slack.setdefault(offer.operation, np.zeros(size))[offer.element] = offer.tolerance
        return slack

    @cached_property
    def _columns(self) -> tuple[tuple[str, np.ndarray, np.ndarray], ...]:
        """Edges by characteristic: which edges, and which elements they look at."""
        found: dict[str, list[int]] = {}
        for n, edge in enumerate(self.edges):
            found.setdefault(edge.spot.characteristic, []).append(n)
        return tuple(
            (name, np.array(rows), np.array([self.edges[n].spot.element for n in rows])) for name, rows in found.items()
        )

    @cached_property
    def _ends(self) -> tuple[Floats, Floats, Floats]:
        """Ends for what was and for what is made new (edges,), and the side as a sign: +1 low, -1 high."""
        was = np.array([edge.limit for edge in self.edges])
        then = np.array([edge.fresh for edge in self.edges])
        return was, then, np.array([1.0 if edge.side == LOW else -1.0 for edge in self.edges])

    @cached_property
    def _renews(self) -> tuple[tuple[str, np.ndarray, np.ndarray], ...]:
        """(operation, edges whose limit changes with it, the places of the operation that they look at)."""
        found = []
        for name in dict.fromkeys(offer.operation for offer in (*self.offers, *self.always)):
            working = self.model.operations[name]
            pairs = [
                (n, at)
                for n, edge in enumerate(self.edges)
                if edge.fresh != edge.limit and edge.spot.characteristic in working.renews
                and (at := self._place_of(edge, working.axis)) is not None
            ]  # fmt: skip
            if pairs:
                rows, places = zip(*pairs, strict=True)
                found.append((name, np.array(rows), np.array(places)))
        return tuple(found)

    def _room(self, results: Mapping[str, Floats], work: Mapping[str, Floats]) -> Floats:
        batch = max((len(np.atleast_2d(row)) for row in (*results.values(), *work.values())), default=1)
        value = np.empty((batch, len(self.edges)))
        for name, rows, at in self._columns:
            value[:, rows] = results[name][..., at]
        was, then, sign = self._ends
        new = np.zeros(value.shape, bool)
        for name, rows, places in self._renews:
            if name in work:
                new[:, rows] |= work[name][:, places] != 0
        with np.errstate(invalid="ignore"):
            return np.minimum(sign * (value - np.where(new, then, was)), FAR)

    def _place_of(self, edge: Edge, axis: str) -> int | None:
        own = self.model.laws[edge.spot.characteristic].axis
        if own == axis:
            return edge.spot.element
        index = self.model.axes.upon.get((own, axis))
        return None if index is None else int(index[edge.spot.element])


def edges(
    model: Model, sheet: Sheet | None, catalogue: Catalogue, set_later: Mapping[str, tuple[str, float, float]]
) -> tuple[Edge, ...]:
    """Every end of every limit that the geometry can tell.

    `set_later` names what is set after re-measuring: characteristic -> (the result that says what it needs, and the
    least and most of that which exist); both ends are physical, no limit sheet can give way there.
    """
    found: list[Edge] = []
    for spot in spots(model, catalogue):
        if spot.characteristic in set_later:
            what, least, most = set_later[spot.characteristic]
            inner = Spot(what, spot.element, spot.location)
            found += _ends(inner, least, most, least, most, physical=True)
            continue
        was, then = (held_against(sheet, spot, new=new) for new in (False, True))
        if was is None and then is None:
            continue
        found += _ends(spot, *_pair(was), *_pair(then), physical=False)
    return tuple(found)


def _pair(held: Against | None) -> tuple[float, float]:
    if held is None:
        return -np.inf, np.inf
    return (-np.inf if held.low is None else held.low), (np.inf if held.high is None else held.high)


def _ends(spot: Spot, low: float, high: float, new_low: float, new_high: float, *, physical: bool) -> Sequence[Edge]:
    width = min((b - a for a, b in ((low, high), (new_low, new_high)) if np.isfinite(b - a)), default=PHYSICAL)
    name = f"{spot.characteristic}@{spot.location}"
    found = []
    for side, was, then in ((LOW, low, new_low), (HIGH, high, new_high)):
        if np.isfinite(was) or np.isfinite(then):
            found.append(Edge(f"{name} {side}", spot, side, was, then, width or PHYSICAL, physical))
    return found
