"""`serve`: open the store, create the demo job on first use, answer on this machine, open a browser where one is."""

import os
import secrets
import socket
import sys
import threading
import webbrowser
from datetime import UTC, datetime
from pathlib import Path

import click

from witnessmark.desk.bench import Refused
from witnessmark.record.replay import replay
from witnessmark.shell.demo import JOBS, demo_events
from witnessmark.shell.resources import catalogue
from witnessmark.shell.store.fault import StoreFault
from witnessmark.shell.store.store import Store
from witnessmark.shell.web.app import create_app
from witnessmark.shell.web.app import serve as answer


def serve(data: Path, port: int, *, with_demo: bool, browser: bool) -> int:
    """Serve until told to stop. The exit status."""
    _port_is_free(port)
    try:
        store = Store.open(data)
    except StoreFault as fault:
        raise Refused(str(fault)) from None
    try:
        if with_demo and not store.jobs():
            take_demo(store)
        for warning in store.warnings:
            click.echo(warning, err=True)
        address = f"http://127.0.0.1:{port}/"
        click.echo(f"Witnessmark is at {address}  (stop with Ctrl-C; the jobs lie in {data})")
        if browser and _display():
            threading.Timer(1.0, webbrowser.open, (address,)).start()
        answer(create_app(store, catalogue(), now, lambda: secrets.token_hex(12)), port)
    finally:
        store.close()
    return 0


def now() -> str:
    """The time of this machine, in UTC."""
    return datetime.now(UTC).isoformat(timespec="milliseconds")


def take_demo(store: Store) -> None:
    """Take the invented demo jobs into a fresh store; the first one last, so that it lies on the bench."""
    for name in reversed(JOBS):
        events = demo_events(name)
        job = replay(event.stored(n, "") for n, event in enumerate(events, 1))
        store.create(job.id, created_at=now(), title=str(job.header.get("engine") or ""), events=events)


def _display() -> bool:
    return sys.platform in ("win32", "darwin") or bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def _port_is_free(port: int) -> None:
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except OSError:
            raise Refused(
                f"port {port} is taken on this machine; name another, such as PORT={port + 1} make run"
            ) from None
