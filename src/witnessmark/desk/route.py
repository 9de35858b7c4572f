"""The way of a hand over a head: every station that is asked for, in one of four orders.

by part         characteristic by characteristic; at each part through all of its stations
by station      characteristic by characteristic; one height or line on all parts, then the next
by gauge        everything that this gauge reads, then the next gauge, as far as the order of measuring allows
valve by valve  everything at one valve before the next; faces, camshafts and bolts stay where they stand

Whatever the order, no characteristic comes before those that must be measured before it.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from witnessmark.catalogue.entry import Characteristic
from witnessmark.engine.place import location, parse, station

BY_PART, BY_STATION, BY_GAUGE, BY_VALVE = "by part", "by station", "by gauge", "valve by valve"
ORDERS = (BY_PART, BY_STATION, BY_GAUGE, BY_VALVE)

Walk = Mapping[str, tuple[str, ...]]
Known = Mapping[str, Characteristic]


@dataclass(frozen=True, slots=True)
class Stop:
    """One station: the n-th of its series at this location."""

    characteristic: str
    place: str
    n: int
    of: int

    @property
    def location(self) -> str:
        """Where it is, without the station."""
        return location(self.place)


def route_of(walk: Walk, order: str = BY_PART, known: Known | None = None) -> tuple[Stop, ...]:
    """Every station of a walk, in an order of `ORDERS`; `known` are the entries of the catalogue.

    An order that is not known is by part. Orders other than by part need `known`.
    """
    arrange = _ARRANGED.get(order) if known else None
    stops = {name: _series(name, places) for name, places in walk.items()}
    return tuple(arrange(stops, known)) if arrange and known else tuple(_joined(stops.values()))


def read_at_once(name: str, known: Known) -> tuple[str, ...]:
    """What is read at one moment with a characteristic: both gauges of a leak-down set."""
    both = (one.arguments for one in known.values() if name in one.arguments)
    return next((names for names in both if all(known[each].assembled for each in names)), (name,))


def at_once(route: Iterable[Stop], known: Known) -> tuple[Stop, ...]:
    """The same stops, those that are read at one moment together, place by place."""
    waiting = {(stop.characteristic, stop.place): stop for stop in route}
    found: list[Stop] = []
    for characteristic, place in tuple(waiting):
        pairs = [(name, place) for name in read_at_once(characteristic, known)]
        found += [waiting.pop(pair) for pair in pairs if pair in waiting]
    return tuple(found)


def position(route: Sequence[Stop], characteristic: str, place: str) -> int | None:
    """Where a station stands on the route; None where it is not on it."""
    return next((n for n, s in enumerate(route) if (s.characteristic, s.place) == (characteristic, place)), None)


Series = Mapping[str, tuple[Stop, ...]]


def _series(characteristic: str, places: Iterable[str]) -> tuple[Stop, ...]:
    """The stations of one characteristic, part by part, each numbered within its part."""
    by_location: dict[str, list[str]] = {}
    for place in places:
        by_location.setdefault(location(place), []).append(place)
    return tuple(
        Stop(characteristic, place, n, len(there))
        for there in by_location.values()
        for n, place in enumerate(there, 1)
    )


def _joined(groups: Iterable[Iterable[Stop]]) -> Iterable[Stop]:
    return (stop for group in groups for stop in group)


def _by_station(stops: Series, _: Known) -> Iterable[Stop]:
    return _joined(_grouped(series, lambda stop: station(stop.place)) for series in stops.values())


def _grouped(series: Iterable[Stop], key: Callable[[Stop], str]) -> Iterable[Stop]:
    """Stops of one key together, keys in the order in which they are first met."""
    groups: dict[str, list[Stop]] = {}
    for stop in series:
        groups.setdefault(key(stop), []).append(stop)
    return _joined(groups.values())


def _by_gauge(stops: Series, known: Known) -> Iterable[Stop]:
    """The first characteristic that is left, then all others of its gauge whose time has come."""
    left = list(stops)
    while left:
        gauge = _hand(known[next(name for name in left if _ripe(name, left, known))])
        again = True
        while again:
            ready = [name for name in left if _hand(known[name]) == gauge and _ripe(name, left, known)]
            for name in ready:
                left.remove(name)
                yield from stops[name]
            again = bool(ready)


def _hand(entry: Characteristic) -> str:
    """What the hand holds: a gauge, or the method of what is looked at."""
    return entry.usual_gauge or next(iter(entry.methods), "")


def _ripe(name: str, left: Sequence[str], known: Known) -> bool:
    """Whether nothing that must be measured before it is still left. What is worked out passes its own bases on."""
    return not any(before in left for before in _before(name, known))


def _before(name: str, known: Known) -> set[str]:
    """All that must be measured before a characteristic, through those that are worked out."""
    found: set[str] = set()
    waiting = list(known[name].after)
    while waiting:
        one = waiting.pop()
        if one not in found and one in known:
            found.add(one)
            entry = known[one]
            waiting += [*entry.after, *entry.arguments, *([entry.of] if entry.of else [])]
    return found - {name}


def _by_valve(stops: Series, _: Known) -> Iterable[Stop]:
    """Whatever stands at a valve is walked valve by valve, where the first of it would have come."""
    valves: dict[str, list[Stop]] = {}
    for stop in _joined(stops.values()):
        if _at_valve(stop):
            valves.setdefault(stop.location, []).append(stop)
    walked = False
    for stop in _joined(stops.values()):
        if not _at_valve(stop):
            yield stop
        elif not walked:
            walked = True
            yield from _joined(valves.values())


def _at_valve(stop: Stop) -> bool:
    return parse(stop.place).where.startswith(("inl-", "exh-"))


_ARRANGED: Mapping[str, Callable[[Series, Known], Iterable[Stop]]] = {
    BY_STATION: _by_station, BY_GAUGE: _by_gauge, BY_VALVE: _by_valve,
}  # fmt: skip
