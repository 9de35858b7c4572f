"""A real server over a real store, and a real Chromium, for the tests that need them."""

import os
import secrets
import socket
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from hypothesis import settings

# Two shared cores: how long one example takes says nothing. On CI the same examples come every time, so that what is
# red there is red everywhere; at the desk they come afresh, and what they find becomes a test of its own.
settings.register_profile("house", deadline=None, derandomize=bool(os.environ.get("CI")))
settings.load_profile("house")

@dataclass
class Served:
    """A running server: its address, its store, and a way to stop it."""

    address: str
    store: object
    stop: object


def serve(folder: Path, port: int = 0) -> Served:
    """Serve a store from this process, on a port of its own."""
    import uvicorn

    from witnessmark.shell.cli.serving import now
    from witnessmark.shell.resources import catalogue
    from witnessmark.shell.store.store import Store
    from witnessmark.shell.web.app import create_app

    store = Store.open(folder)
    # The protocol is named, so that answers leave at once (TCP_NODELAY) as they do behind `witnessmark serve`.
    door = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    door.bind(("127.0.0.1", port))
    app = create_app(store, catalogue(), now, lambda: secrets.token_hex(12))
    server = uvicorn.Server(uvicorn.Config(app, log_level="warning", timeout_graceful_shutdown=1))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [door]}, daemon=True)
    thread.start()
    for _ in range(200):
        if server.started:
            break
        time.sleep(0.02)
    assert server.started, "the server did not come up within 4 s"

    def stop() -> None:
        server.should_exit = True
        thread.join(10)
        store.close()
        door.close()

    return Served(f"http://127.0.0.1:{door.getsockname()[1]}", store, stop)


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    """An empty store, served."""
    running = serve(tmp_path / "data")
    yield running
    running.stop()


@pytest.fixture(scope="module")
def browser() -> Iterator[object]:
    """Chromium for one module: an open one holds the thread's event loop, which others need for themselves."""
    from shell.web.browser import browsing

    with browsing() as chromium:
        yield chromium


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Files with a browser come first: they take long, and where two files run at once none of them must come last."""
    slow = {item.path for item in items if item.get_closest_marker("slow") or item.get_closest_marker("browser")}
    items.sort(key=lambda item: item.path not in slow)
