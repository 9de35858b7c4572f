"""Stations of one characteristic, on the route or beside it: whoever wants to measure more than was asked for may."""

from witnessmark.catalogue.entry import Characteristic
from witnessmark.desk.route import Stop, at_once, read_at_once
from witnessmark.desk.state import State
from witnessmark.engine.place import location
from witnessmark.engine.walk import stations


def stops_of(state: State, entry: Characteristic) -> tuple[Stop, ...]:
    """Its stations in the order a hand walks; those of the engine where the job does not ask for it."""
    asked = tuple(stop for stop in state.route if stop.characteristic == entry.id)
    if asked or state.layout is None or not entry.measured:
        return asked
    there: dict[str, list[str]] = {}
    for place in stations(state.layout, entry):
        there.setdefault(location(place), []).append(place)
    return tuple(Stop(entry.id, place, n, len(all_)) for all_ in there.values() for n, place in enumerate(all_, 1))


def next_beside(state: State, characteristic: str, place: str) -> Stop | None:
    """The next station of a characteristic that the route does not hold; None where the route goes on by itself."""
    known = state.catalogue.characteristics
    names = read_at_once(characteristic, known) if characteristic in known else ()
    stops = at_once((stop for name in names for stop in stops_of(state, known[name])), known)
    at = next((n for n, stop in enumerate(stops) if (stop.characteristic, stop.place) == (characteristic, place)), None)
    if at is None or stops[at] in state.route:
        return None
    return next((stop for stop in stops[at + 1 :] if not state.done(stop)), None)
