"""The tables of the store and the numbered steps that lead an older file to them."""

from collections.abc import Callable, Sequence

from sqlalchemy import (
    Column,
    Connection,
    ForeignKey,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
    UniqueConstraint,
    inspect,
    select,
    text,
)

from witnessmark.shell.store.fault import StoreDamaged, StoreNewer

META = MetaData()

JOB = Table(
    "job", META,
    Column("id", Text, primary_key=True),
    Column("created_at", Text, nullable=False),
    Column("title", Text, nullable=False),
)

EVENT = Table(
    "event", META,
    Column("job", Text, ForeignKey("job.id"), nullable=False),
    Column("seq", Integer, nullable=False),
    Column("id", Text, nullable=False),
    Column("device", Text, nullable=False),
    Column("device_seq", Integer, nullable=False),
    Column("kind", Text, nullable=False),
    Column("received", LargeBinary, nullable=False),  # the bytes as they came
    Column("accepted", Text, nullable=False),         # canonical form, without the bytes as they came
    Column("typed_at", Text, nullable=False),
    Column("received_at", Text, nullable=False),
    Column("by", Text, nullable=False),
    UniqueConstraint("job", "seq"),
    UniqueConstraint("job", "id"),
)

VERSION = Table("store_version", MetaData(), Column("version", Integer, nullable=False))


def _first(connection: Connection) -> None:
    """Jobs and events. Written out, since a step must go on doing what it did when the tables above move on."""
    connection.execute(text("CREATE TABLE job (id TEXT NOT NULL PRIMARY KEY, created_at TEXT NOT NULL, "
                            "title TEXT NOT NULL)"))
    connection.execute(text(
        "CREATE TABLE event (job TEXT NOT NULL REFERENCES job (id), seq INTEGER NOT NULL, id TEXT NOT NULL, "
        "device TEXT NOT NULL, device_seq INTEGER NOT NULL, kind TEXT NOT NULL, received BLOB NOT NULL, "
        "accepted TEXT NOT NULL, typed_at TEXT NOT NULL, received_at TEXT NOT NULL, \"by\" TEXT NOT NULL, "
        "UNIQUE (job, seq), UNIQUE (job, id))"))


STEPS: Sequence[Callable[[Connection], None]] = (_first,)  # step n leads to version n; steps are only ever added


def migrate(connection: Connection, steps: Sequence[Callable[[Connection], None]] = STEPS) -> int:
    """Lead the file to the newest version inside the caller's transaction and return that version.

    Raises StoreNewer for a file of a newer program, StoreDamaged for a database that is no store.
    """
    version = version_of(connection)
    if version > len(steps):
        raise StoreNewer(f"this store has version {version}, and this program knows versions up to {len(steps)}; "
                         "open it with the newer program that wrote it")
    if version == 0:
        connection.execute(text("CREATE TABLE store_version (version INTEGER NOT NULL)"))
        connection.execute(VERSION.insert().values(version=0))
    for step in steps[version:]:
        step(connection)
    if version < len(steps):
        connection.execute(VERSION.update().values(version=len(steps)))
    return len(steps)


def version_of(connection: Connection) -> int:
    """The version of the file; 0 for an empty one."""
    names = inspect(connection).get_table_names()
    if not names:
        return 0
    if "store_version" not in names:
        raise StoreDamaged("this database is no store of this program; name a folder of its own for the store")
    found = connection.execute(select(VERSION.c.version)).scalar_one_or_none()
    if found is None or found < 1:
        raise StoreDamaged("the store does not say which version it has; restore the last backup into another folder")
    return int(found)
