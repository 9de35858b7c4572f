"""Looking into the store: one consistent view whose complaints are sentences, and a sound copy while it is in use."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine

from witnessmark.record.event import EventFault
from witnessmark.shell.store.fault import StoreDamaged, StoreUnreachable, told
from witnessmark.shell.store.folder import synced


@contextmanager
def view(engine: Engine, where: str) -> Iterator[Connection]:
    """A connection that sees one state of the store. What the database complains of leaves as a StoreFault."""
    with told(where):
        try:
            with engine.begin() as connection:
                yield connection
        except (EventFault, UnicodeDecodeError) as bad:
            raise StoreDamaged(f"{where}: a stored event cannot be read ({bad}); "
                               "check the store, and restore the last backup into another folder") from bad


def copy(connection: Connection, path: Path) -> None:
    """A sound copy of the database in a new file: written beside it, checked, brought to the disk, then named."""
    if path.exists():
        raise StoreUnreachable(f"{path}: there is a file already; name a new one for the backup")
    draft = path.with_name(path.name + ".draft")
    source: Any = connection.connection.driver_connection
    with told(str(path)):
        draft.unlink(missing_ok=True)
        try:
            with closing(sqlite3.connect(draft)) as target:
                source.backup(target)
                target.execute("pragma journal_mode=DELETE").close()
                found = target.execute("pragma integrity_check").fetchone()[0]
            if found != "ok":
                raise StoreDamaged(f"{path}: the copy is not sound ({found}); check the store itself")
            synced(draft)
            draft.replace(path)
            synced(path.parent)
        finally:
            draft.unlink(missing_ok=True)
