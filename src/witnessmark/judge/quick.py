"""The quick route: the worst places first, and the full stations only where a value comes near its limit.

Near: not within; or nearer to the limit than three times its doubt; or nearer than a quarter of the way from the
service limit to the limit for new work, where both are entered. Our judgement.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from witnessmark.catalogue.entry import Catalogue, Characteristic
from witnessmark.engine.place import PlaceError, location, station
from witnessmark.engine.shape import Layout
from witnessmark.engine.walk import related
from witnessmark.judge.result import WITHIN, Result
from witnessmark.judge.wanted import Wanted, bases
from witnessmark.limits.sheet import Limit
from witnessmark.record.job import Job

QUICK, FULL = "quick", "full"
DOUBTS, SHARE = 3.0, 0.25
SAME = 1e-9  # of the unit inside: a value on the bound is not near, in inch as in millimetre
OVER_PLACES = ("all", "inl", "exh")  # where a spread over places stands
Pair = tuple[str, str]  # characteristic, location

_related = lru_cache(maxsize=4096)(related)


def is_near(verdict: str, ends: tuple[float, float], u: float, limit: Limit | None, target: Limit | None) -> bool:
    """Whether a value, or an interval between `ends`, comes near its limit. Without a limit nothing is near."""
    if limit is None or not verdict:
        return False
    if verdict != WITHIN:
        return True
    sides = (
        (ends[0], limit.low, target.low if target else None),
        (-ends[1], limit.high, target.high if target else None),
    )
    return any(_too_near(end, u, wall, new, up=n == 0) for n, (end, wall, new) in enumerate(sides) if wall is not None)


def _too_near(end: float, u: float, wall: float, new: float | None, *, up: bool) -> bool:
    room = end - wall if up else wall + end
    bound = max(DOUBTS * u, SHARE * abs(new - wall) if new is not None else 0.0)
    return room < bound - SAME


def quick_words(entry: Characteristic, catalogue: Catalogue) -> tuple[str, ...]:
    """The stations that the quick route asks for; of a derived characteristic those at which it can be worked out."""
    if entry.kind == "form":
        return quick_words(catalogue.characteristics[entry.of], catalogue)
    if entry.kind != "derived":
        return entry.quick_stations
    behind = [catalogue.characteristics[name] for name in entry.arguments]
    known = [(one.stations, quick_words(one, catalogue)) for one in behind]
    words = tuple(word for word in entry.stations if all(word in quick or word not in all_ for all_, quick in known))
    return words or entry.stations


def is_quick(place: str, words: tuple[str, ...]) -> bool:
    """Whether a place is one of the quick stations; of two springs each has its own."""
    word = station(place)
    return not words or any(word == one or word.endswith(f"/{one}") for one in words)


def narrowed(
    job: Job, asked: Wanted, results: Iterable[Result], round_: str, layout: Layout, catalogue: Catalogue
) -> Wanted:
    """What is asked for in a round: on the quick route only the worst places, and all of them where one is near."""
    if job.extent != QUICK:
        return asked
    mine = [result for result in results if result.round == round_]
    read = {(r.characteristic, location(r.place)) for r in job.readings if r.round == round_ and r.state == "counted"}
    sought = _Sought(asked, _near(mine, layout, catalogue), _clear(mine), read, layout, catalogue)
    return replace(asked, measured=sought.some(asked.measured), walk=sought.some(asked.walk))


@dataclass(frozen=True, slots=True)
class _Sought:
    """What decides whether the quick route asks for a station; pairs are characteristic and location."""

    asked: Wanted
    near: set[Pair]
    clear: set[Pair]
    read: set[Pair]
    layout: Layout
    catalogue: Catalogue

    def some(self, places: Mapping[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
        """The stations among these that are asked for."""
        found = {name: tuple(place for place in each if self._is_asked(name, place)) for name, each in places.items()}
        return {name: each for name, each in found.items() if each}

    def _is_asked(self, name: str, place: str) -> bool:
        entry, there = self.catalogue.characteristics[name], location(place)
        if (name, there) in self.near:
            return True
        return is_quick(place, entry.quick_stations) and self._is_open(entry, there)

    def _is_open(self, entry: Characteristic, there: str) -> bool:
        """Whether nothing spares a station: no first test is asked, or it was read there and is not clearly within."""
        gate = entry.only_if
        if not gate or gate not in self.asked.walk:
            return True
        place = _there(there, entry, self.catalogue.characteristics[gate], self.layout)
        first = (gate, place)
        return not place or (entry.id, there) in self.read or (first in self.read and first not in self.clear)


def _near(results: Iterable[Result], layout: Layout, catalogue: Catalogue) -> set[Pair]:
    """Characteristic and location of all that is read for a result that came near its limit."""
    known = catalogue.characteristics
    return {
        (name, there)
        for result in results
        if result.near
        for name in bases((result.characteristic,), catalogue)
        if (there := _there(_location(result.location), known[result.characteristic], known[name], layout))
    }


def _there(place: str, entry: Characteristic, other: Characteristic, layout: Layout) -> str:
    """Where another characteristic is read for this place; "" where it has none, as a spread over places has not."""
    if place in OVER_PLACES or entry.at == other.at:
        return "" if place in OVER_PLACES else place
    try:
        return _related(place, other.at, layout)
    except PlaceError:
        return ""


def _clear(results: Iterable[Result]) -> set[Pair]:
    """Where a characteristic is clearly within: within and not near, at every station that was read."""
    mine = [(one, (one.characteristic, _location(one.location))) for one in results]
    doubtful = {pair for one, pair in mine if one.verdict != WITHIN or one.near}
    return {pair for one, pair in mine if one.complete} - doubtful


def _location(place: str) -> str:
    return place if place in OVER_PLACES else location(place)
