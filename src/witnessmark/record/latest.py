"""Things of which the last entry holds: header, engine, limits, a gauge, a part. A stale entry is a question.

Each entry names what it was `based_on`: the id or the number of the entry that its writer saw, or nothing for the
first. An entry based on anything but the one that held is stale: it is kept, a conflict opens, and nothing is
overwritten. The conflict closes when the stale entry is taken back or when a later entry is accepted.
"""

from collections.abc import Callable, Sequence

from witnessmark.record.event import Event
from witnessmark.record.job import Conflict

CURRENT, EARLIER, STALE, GONE = "current", "earlier", "stale", "taken back"


def states(entries: Sequence[Event], gone: frozenset[str] | set[str]) -> tuple[str, ...]:
    """One state for each entry, in their order: current, earlier, stale or taken back."""
    accepted: list[Event] = []
    state: list[str] = []
    for entry in entries:
        standing = [one for one in accepted if one.id not in gone]
        seen_last = accepted[-1] if accepted else None
        if _based_on(entry, standing[-1] if standing else None) or _based_on(entry, seen_last):
            accepted.append(entry)
            state.append(GONE if entry.id in gone else EARLIER)
        else:
            state.append(GONE if entry.id in gone else STALE)
    for position in range(len(entries) - 1, -1, -1):
        if state[position] == EARLIER:
            state[position] = CURRENT
            break
    return tuple(state)


def current(entries: Sequence[Event], state: Sequence[str]) -> Event | None:
    """The entry that holds, or None."""
    return next((entry for entry, word in zip(entries, state, strict=True) if word == CURRENT), None)


def stale(about: str, entries: Sequence[Event], state: Sequence[str], shown: Callable[[Event], str]) -> list[Conflict]:
    """The conflicts that are open about one thing."""
    last = max((position for position, word in enumerate(state) if word in {CURRENT, EARLIER}), default=-1)
    held = current(entries, state)
    return [
        Conflict("stale", about, (held.id if held else "", entry.id),
                 f"{shown(entry)} was entered without sight of the entry that holds; "
                 "both are kept: enter it again on top of what holds, or take it back")
        for position, entry in enumerate(entries)
        if state[position] == STALE and position > last
    ]


def _based_on(entry: Event, held: Event | None) -> bool:
    basis = entry.body.get("based_on")
    if held is None:
        return basis is None
    return basis == held.id or (isinstance(basis, int) and basis == held.seq > 0)
