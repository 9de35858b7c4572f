"""What is measured again once the head is back: what the ordered work moves, and what its operations ask to check."""

from collections.abc import Iterable, Iterator

from witnessmark.desk.bench import Refused
from witnessmark.desk.cuts import cuts, model_of
from witnessmark.desk.ledger import ledger_of_job
from witnessmark.desk.route import Stop
from witnessmark.desk.state import State
from witnessmark.engine.place import PlaceError
from witnessmark.engine.walk import related
from witnessmark.judge.wanted import bases

Spot = tuple[str, str]  # characteristic, location


def again(state: State, route: tuple[Stop, ...]) -> tuple[Stop, ...]:
    """The stops of a route that the order touches; all of it where that cannot be told."""
    if state.job.order is None or state.layout is None:
        return route
    try:
        touched = {*_moved(state), *_checked(state)}
    except Refused:
        return route
    return tuple(stop for stop in route if (stop.characteristic, stop.location) in touched) or route


def _work(state: State) -> Iterable[dict[str, str]]:
    return (dict(one) for one in (state.job.order or {}).get("work", ()))


def _moved(state: State) -> Iterator[Spot]:
    known = model_of(state).operations
    done = cuts(state, [one for one in _work(state) if one["operation"] in known])
    for row in ledger_of_job(state, done).rows:
        if row.moved and state.catalogue.characteristics[row.characteristic].measured:
            yield row.characteristic, row.location


def _checked(state: State) -> Iterator[Spot]:
    """What an operation asks to check, at the place where the catalogue measures it."""
    assert state.layout is not None
    for one in _work(state):
        operation = state.catalogue.operations.get(one["operation"])
        for name in bases(operation.check, state.catalogue) if operation else ():
            entry = state.catalogue.characteristics[name]
            try:
                yield name, related(one["place"], entry.at, state.layout)
            except PlaceError:
                yield name, one["place"]
