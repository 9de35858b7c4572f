"""The way of a hand over a head: characteristic by characteristic, and at each location through its stations."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from witnessmark.engine.place import location


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


def route_of(walk: Mapping[str, tuple[str, ...]]) -> tuple[Stop, ...]:
    """Every station that is asked for, in the order of the catalogue and of the walk."""
    stops: list[Stop] = []
    for characteristic, places in walk.items():
        by_location: dict[str, list[str]] = {}
        for place in places:
            by_location.setdefault(location(place), []).append(place)
        for there in by_location.values():
            stops += [Stop(characteristic, place, n, len(there)) for n, place in enumerate(there, 1)]
    return tuple(stops)


def position(route: Sequence[Stop], characteristic: str, place: str) -> int | None:
    """Where a station stands on the route; None where it is not on it."""
    return next((n for n, s in enumerate(route) if (s.characteristic, s.place) == (characteristic, place)), None)
