"""The search for damage: the database's own check, every event held against its row, every photo against its name."""

from collections.abc import Iterator
from typing import Any

from sqlalchemy import Connection, Row, select, text

from witnessmark.record.beside import photos_named
from witnessmark.record.event import EventFault
from witnessmark.shell.store import rows
from witnessmark.shell.store.photos import Photos
from witnessmark.shell.store.tables import EVENT

MOST_TOLD = 100


def faults(connection: Connection, photos: Photos) -> list[str]:
    """Everything that is wrong, as sentences, at most 100 of them."""
    found: list[str] = []
    for sentence in _all(connection, photos):
        found.append(sentence)
        if len(found) == MOST_TOLD:
            return [*found, "and more; only the first 100 are told"]
    return found


def _all(connection: Connection, photos: Photos) -> Iterator[str]:
    for (line,) in connection.execute(text("pragma integrity_check")):
        if line != "ok":
            yield f"the database says: {line}"
    for table, _row, parent, _key in connection.execute(text("pragma foreign_key_check")):
        yield f"a row of {table} points at a row of {parent} that is not there"
    named: dict[str, str] = {}
    yield from _rows(connection, named)
    for photo, where in named.items():
        fault = photos.fault(photo)
        if fault:
            yield f"{where} names a photo: {fault}"


def _rows(connection: Connection, named: dict[str, str]) -> Iterator[str]:
    """What is wrong with the events; the photos that they name are put into `named`, each with the first place."""
    before: tuple[str, int] = ("", 0)
    for one in connection.execution_options(yield_per=500).execute(
            select(EVENT).order_by(EVENT.c.job, EVENT.c.seq)):
        expected = before[1] + 1 if one.job == before[0] else 1
        if one.seq != expected:
            yield f"job {one.job}: event number {expected} is missing before number {one.seq}"
        before = (one.job, one.seq if isinstance(one.seq, int) else 0)
        yield from _row(one, named)


def _row(one: Row[Any], named: dict[str, str]) -> Iterator[str]:
    where = f"job {one.job}, event number {one.seq}"
    try:
        event = rows.proved(one.accepted, one.received)
    except (EventFault, UnicodeDecodeError) as bad:
        yield f"{where}: cannot be read: {bad}"
        return
    for photo in photos_named([event]):
        named.setdefault(photo, where)
    held = {"id": event.id, "kind": event.kind, "device": event.device, "device_seq": event.device_seq,
            "typed_at": event.at, "by": event.by}
    for column, value in held.items():
        if getattr(one, column) != value:
            yield f"{where}: the column '{column}' is not what the event itself says; something wrote past the program"
