"""Connections to the store's file: one engine that writes, one that only reads."""

from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlalchemy.pool import QueuePool, StaticPool

BUSY_MS = 5000
READERS = 16


def writing(path: Path) -> Engine:
    """The engine of the one writer: WAL, every commit on the disk before it returns."""
    engine = create_engine(_address(path), poolclass=StaticPool, connect_args={"check_same_thread": False})
    _prepare(engine, "journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", f"busy_timeout={BUSY_MS}")

    @event.listens_for(engine, "begin")
    def on_begin(connection: Connection) -> None:
        connection.exec_driver_sql("BEGIN IMMEDIATE")

    return engine


def reading(path: Path) -> Engine:
    """The engine of readers, a connection for each thread that asks. They write nothing and checkpoint nothing."""
    engine = create_engine(_address(path), poolclass=QueuePool, pool_size=READERS, max_overflow=0, pool_timeout=10,
                           connect_args={"check_same_thread": False})
    _prepare(engine, f"busy_timeout={BUSY_MS}", "query_only=ON", "wal_autocheckpoint=0")

    @event.listens_for(engine, "begin")
    def on_begin(connection: Connection) -> None:
        connection.exec_driver_sql("BEGIN")

    return engine


def _address(path: Path) -> URL:
    return URL.create("sqlite", database=str(path))


def _prepare(engine: Engine, *pragmas: str) -> None:
    @event.listens_for(engine, "connect")
    def on_connect(raw: Any, _record: Any) -> None:
        raw.isolation_level = None  # else the driver begins by itself, too late for an immediate transaction
        for pragma in pragmas:
            raw.execute(f"pragma {pragma}").close()
