"""What can go wrong with a store, as one small tree of exceptions with sentences, and the table that leads there.

The database and the operating system each have their own exceptions; nothing of them passes this door.
"""

import errno
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError
from sqlalchemy.exc import TimeoutError as PoolTimeout


class StoreFault(Exception):
    """Something about the store; the message says what and what to do. Nothing was stored by the call."""


class StoreFull(StoreFault):
    """No space is left where the store lies."""


class StoreReadOnly(StoreFault):
    """The store may be read but not written."""


class StoreUnreachable(StoreFault):
    """The folder or file cannot be opened."""


class StoreLocked(StoreFault):
    """Another process holds the store for writing."""


class StoreDamaged(StoreFault):
    """The file is no sound store."""


class StoreNewer(StoreFault):
    """The file was written by a newer version of this program."""


class StoreStopped(StoreFault):
    """The disk gave an error while reading or writing."""


class StoreBusy(StoreFault):
    """Too much is waiting to be written or read at this moment."""


class StoreClosed(StoreFault):
    """The store was closed."""


class TooMany(StoreFault):
    """More events at once than the store takes."""


class NoSuchJob(StoreFault):
    """The store has no job with this id."""

    def __init__(self, job: str) -> None:
        super().__init__(f"the store has no job '{job[:80]}'; list the jobs, or create it first")
        self.job = job


class JobExists(StoreFault):
    """A job with this id is already there."""

    def __init__(self, job: str) -> None:
        super().__init__(f"the store already has a job '{job}'; take another id, or add to that job")
        self.job = job


class JobIdRefused(StoreFault):
    """This text cannot be the id of a job."""


class OtherBytes(StoreFault):
    """An event with this id is stored, and what came now under the same id differs."""

    def __init__(self, id: str) -> None:
        super().__init__(f"event '{id}' is stored already with other content; "
                         "nothing was changed: send the new content under an id of its own")
        self.id = id


SENTENCES: Mapping[type[StoreFault], str] = {
    StoreFull: "there is no space left for the store; nothing was stored: free some space and do it once more",
    StoreReadOnly: "the store may not be written here; nothing was stored: let this user write its folder",
    StoreUnreachable: "the store cannot be opened; check that the folder exists and that you may enter and write it",
    StoreLocked: "another process is writing to this store; close it there, or open the store for reading only",
    StoreDamaged: "the file is not a sound store; keep it as it is, and restore the last backup into another folder",
    StoreStopped: "the disk gave an error; nothing was stored: check the disk, then do it once more",
    StoreBusy: "too much is waiting for the store; nothing was stored: do it once more in a moment",
}

# primary result codes; source: sqlite.org, "Result and Error Codes". The store's own statements are fixed and its
# numbers come from one writer, so every other complaint (no such table, a number twice) means a damaged file.
DATABASE: Mapping[int, type[StoreFault]] = {
    sqlite3.SQLITE_FULL: StoreFull,
    sqlite3.SQLITE_READONLY: StoreReadOnly,
    sqlite3.SQLITE_PERM: StoreReadOnly,
    sqlite3.SQLITE_CANTOPEN: StoreUnreachable,
    sqlite3.SQLITE_BUSY: StoreLocked,
    sqlite3.SQLITE_LOCKED: StoreLocked,
    sqlite3.SQLITE_CORRUPT: StoreDamaged,
    sqlite3.SQLITE_NOTADB: StoreDamaged,
    sqlite3.SQLITE_SCHEMA: StoreDamaged,
    sqlite3.SQLITE_IOERR: StoreStopped,
    sqlite3.SQLITE_NOLFS: StoreFull,
    sqlite3.SQLITE_NOMEM: StoreBusy,
}

SYSTEM: Mapping[int, type[StoreFault]] = {
    errno.ENOSPC: StoreFull,
    errno.EDQUOT: StoreFull,
    errno.EFBIG: StoreFull,
    errno.EROFS: StoreReadOnly,
    errno.EACCES: StoreReadOnly,
    errno.EPERM: StoreReadOnly,
    errno.ENOENT: StoreUnreachable,
    errno.ENOTDIR: StoreUnreachable,
    errno.EISDIR: StoreUnreachable,
    errno.EEXIST: StoreUnreachable,
    errno.ENAMETOOLONG: StoreUnreachable,
    errno.EIO: StoreStopped,
}


def translated(bad: BaseException, where: str = "") -> StoreFault | None:
    """The store's own fault for an exception from outside; None for one that is a bug of ours and must show itself."""
    inner = bad.orig if isinstance(bad, DBAPIError) else bad
    if isinstance(inner, PoolTimeout):
        kind: type[StoreFault] = StoreBusy
    elif isinstance(inner, OSError):
        kind = SYSTEM.get(inner.errno or 0, StoreStopped)
    elif isinstance(inner, UnicodeDecodeError):  # the driver cannot even read what the database complains of
        kind = StoreDamaged
    elif isinstance(inner, sqlite3.DatabaseError) and not isinstance(inner, sqlite3.ProgrammingError):
        kind = DATABASE.get(getattr(inner, "sqlite_errorcode", 0) & 0xFF, StoreDamaged)  # low byte: the primary code
    else:
        return None
    return kind(f"{where}: {SENTENCES[kind]}" if where else SENTENCES[kind])


@contextmanager
def told(where: str = "") -> Iterator[None]:
    """Turn the outside's exceptions inside this block into the store's own."""
    try:
        yield
    except (OSError, DBAPIError, sqlite3.Error, PoolTimeout, UnicodeDecodeError) as bad:
        fault = translated(bad, where)
        if fault is None:
            raise
        raise fault from bad
