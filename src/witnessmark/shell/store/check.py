"""The search for damage: the database's own check, then every event read back and held against its row."""

from collections.abc import Iterator
from typing import Any

from sqlalchemy import Connection, Row, select, text

from witnessmark.record.event import EventFault
from witnessmark.shell.store import rows
from witnessmark.shell.store.tables import EVENT

MOST_TOLD = 100


def faults(connection: Connection) -> list[str]:
    """Everything that is wrong, as sentences, at most 100 of them."""
    found: list[str] = []
    for sentence in _all(connection):
        found.append(sentence)
        if len(found) == MOST_TOLD:
            return [*found, "and more; only the first 100 are told"]
    return found


def _all(connection: Connection) -> Iterator[str]:
    for (line,) in connection.execute(text("pragma integrity_check")):
        if line != "ok":
            yield f"the database says: {line}"
    for table, _row, parent, _key in connection.execute(text("pragma foreign_key_check")):
        yield f"a row of {table} points at a row of {parent} that is not there"
    yield from _rows(connection)


def _rows(connection: Connection) -> Iterator[str]:
    before: tuple[str, int] = ("", 0)
    for one in connection.execution_options(yield_per=500).execute(
            select(EVENT).order_by(EVENT.c.job, EVENT.c.seq)):
        expected = before[1] + 1 if one.job == before[0] else 1
        if one.seq != expected:
            yield f"job {one.job}: event number {expected} is missing before number {one.seq}"
        before = (one.job, one.seq if isinstance(one.seq, int) else 0)
        yield from _row(one)


def _row(one: Row[Any]) -> Iterator[str]:
    where = f"job {one.job}, event number {one.seq}"
    try:
        event = rows.proved(one.accepted, one.received)
    except (EventFault, UnicodeDecodeError) as bad:
        yield f"{where}: cannot be read: {bad}"
        return
    held = {"id": event.id, "kind": event.kind, "device": event.device, "device_seq": event.device_seq,
            "typed_at": event.at, "by": event.by}
    for column, value in held.items():
        if getattr(one, column) != value:
            yield f"{where}: the column '{column}' is not what the event itself says; something wrote past the program"
