"""Events as rows of the table and back. The bytes as they came are kept once, beside the canonical form."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from sys import intern
from typing import Any

from sqlalchemy import Connection, literal, select

from witnessmark.record.event import Event, EventFault, canonical, from_canonical, reader
from witnessmark.shell.store.tables import EVENT

_READ = reader(intern)
MANY = 500  # ids asked for in one statement; SQLite takes at least 999 values in one


def row(job: str, event: Event) -> dict[str, Any]:
    """The row of a stored event. Raises EventFault for an event that has no canonical form."""
    return {
        "job": job, "seq": event.seq, "id": event.id, "device": event.device, "device_seq": event.device_seq,
        "kind": event.kind, "received": event.received.encode("utf-8"),
        "accepted": canonical(replace(event, received="")).decode("utf-8"), "typed_at": event.at,
        "received_at": event.received_at, "by": event.by,
    }


def event_of(accepted: str, received: bytes, seq: int, received_at: str) -> Event:
    """The event of a row, which was canonical when it was written. Raises EventFault where the row was damaged."""
    _typed(accepted, received)
    event = _READ(accepted.encode("utf-8"))
    return replace(event, received=received.decode("utf-8"), seq=seq, received_at=intern(received_at))


def proved(accepted: str, received: bytes) -> Event:
    """The event of a row, proved to be canonical still. Raises EventFault."""
    _typed(accepted, received)
    return replace(from_canonical(accepted.encode("utf-8")), received=received.decode("utf-8"))


def _typed(accepted: object, received: object) -> None:
    """SQLite keeps whatever it finds in a column, so damage may leave a number where text belongs."""
    if not isinstance(accepted, str) or not isinstance(received, bytes):
        raise EventFault("a column holds another kind of value than was stored")


def events_after(connection: Connection, job: str, after: int, *, bare: bool = False) -> tuple[Event, ...]:
    """The events of a job with a number above `after`, in order; `bare` leaves out the bytes as they came."""
    received = literal(b"") if bare else EVENT.c.received
    asked = select(EVENT.c.accepted, received, EVENT.c.seq, EVENT.c.received_at).where(
        EVENT.c.job == job, EVENT.c.seq > after).order_by(EVENT.c.seq)
    return tuple(event_of(*found) for found in connection.execute(asked))


def known(connection: Connection, job: str, ids: Sequence[str]) -> Mapping[str, Event]:
    """Those of the ids that the job has already, with their events."""
    found: dict[str, Event] = {}
    for some in _in_portions(ids):
        asked = select(EVENT.c.accepted, EVENT.c.received, EVENT.c.seq, EVENT.c.received_at).where(
            EVENT.c.job == job, EVENT.c.id.in_(some))
        for values in connection.execute(asked):
            event = event_of(*values)
            found[event.id] = event
    return found


def same(stored: Event, come: Event) -> bool:
    """Whether what came is what is stored: by the bytes as they came, or by canonical form where there were none."""
    if stored.received or come.received:
        return stored.received == come.received
    return canonical(stored) == canonical(come)


def _in_portions(ids: Sequence[str]) -> Iterator[Sequence[str]]:
    for start in range(0, len(ids), MANY):
        yield ids[start:start + MANY]
