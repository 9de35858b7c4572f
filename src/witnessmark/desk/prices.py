"""The shop's price list of a job, read once and remembered."""

from witnessmark.desk.state import State
from witnessmark.plan.prices import Prices, read_prices
from witnessmark.text.fault import Faulty


def prices_of(state: State) -> Prices | None:
    """The price list, or None where none was entered or it cannot be read; `price_faults` says why."""
    return _read(state)[0]


def price_faults(state: State) -> tuple[str, ...]:
    """What is wrong with the price list, each fault with its place."""
    return _read(state)[1]


def _read(state: State) -> tuple[Prices | None, tuple[str, ...]]:
    entered = state.job.prices
    if entered is None:
        return None, ()
    return state.memory.once(("prices", entered.hash), lambda: _once(state, entered.text, entered.name))


def _once(state: State, text: str, name: str) -> tuple[Prices | None, tuple[str, ...]]:
    try:
        return read_prices(text, name, state.catalogue), ()
    except Faulty as faulty:
        return None, tuple(str(fault) for fault in faulty.faults)
