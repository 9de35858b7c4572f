"""Three invented jobs in a store and the application over them, for tests of the sheets beside the bench."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from itertools import count
from pathlib import Path

from starlette.testclient import TestClient

from desk.sheets import tern
from witnessmark.shell.store.store import Store
from witnessmark.shell.web.app import create_app

HEAD, SINGLE, EIGHT = "HL-0147", "HL-0149", "HL-0151"
NOW = "2026-11-24T10:42:18+01:00"


@contextmanager
def bench(folder: Path, jobs: bool = True) -> Iterator[tuple[TestClient, Store]]:
    """A client and its store: a half measured Tern 2.0, an unread single, an unread V8."""
    store = Store.open(folder)
    for day, (name, engine) in enumerate(
        ((HEAD, tern.ENGINE), (SINGLE, tern.SINGLE), (EIGHT, tern.EIGHT)) if jobs else ()
    ):
        store.create(name, created_at=f"2026-11-2{4 - day}T08:00:00+01:00")
        events = tern.events(engine, with_readings=name == HEAD)
        store.append(name, [replace(event, seq=0, received_at="") for event in events], NOW)
    numbers = count(1)
    app = create_app(store, tern.catalogue(), lambda: NOW, lambda: f"n{next(numbers):09d}")
    try:
        yield TestClient(app, base_url="http://127.0.0.1:8620", follow_redirects=False), store
    finally:
        store.close()


def form(client: TestClient, address: str, **fields: str):
    """Send a form as the sheet itself would."""
    return client.post(address, data=fields, headers={"Origin": "http://127.0.0.1:8620"})
