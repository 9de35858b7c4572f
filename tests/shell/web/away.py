"""A store that goes away and comes back: a real server process to be killed, and doors that lose or refuse answers."""

import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

START = "import sys; from witnessmark.shell.cli import main; sys.exit(main())"


def free_port():
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP) as one:
        one.bind(("127.0.0.1", 0))
        return one.getsockname()[1]


class Serving:
    """`witnessmark serve` as a process of its own on one port, killed without warning and begun again."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.port, self.process = folder, free_port(), None
        self.address = f"http://127.0.0.1:{self.port}"

    def begin(self) -> None:
        command = [
            sys.executable,
            "-c",
            START,
            "serve",
            "--data",
            str(self.folder),
            "--port",
            str(self.port),
            "--no-browser",
        ]
        self.process = subprocess.Popen(
            command,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
        )
        end = time.monotonic() + 20
        while time.monotonic() < end:
            try:
                urllib.request.urlopen(f"{self.address}/api/jobs", timeout=1).close()
                return
            except (urllib.error.URLError, OSError):
                assert self.process.poll() is None, "the server ended by itself"
                time.sleep(0.05)
        raise AssertionError("the server did not come up within 20 s")

    def kill(self) -> None:
        """As a pulled plug: no shutting down, no goodbye."""
        if self.process and self.process.poll() is None:
            self.process.send_signal(signal.SIGKILL)
            self.process.wait(10)


class Gate:
    """Round an application: each POST of a line meets the next of `tricks`, a function of (app, scope, receive, send)."""

    def __init__(self, app, tricks=()):
        self.app, self.tricks, self.came, self.streams = app, list(tricks), [], []

    async def __call__(self, scope, receive, send):
        if scope["type"] == "http" and scope["path"].endswith("/stream"):
            self.streams.append(dict(scope["headers"]).get(b"last-event-id", b"").decode())
        if scope["type"] == "http" and scope["method"] == "POST" and scope["path"].endswith("/line"):
            self.came.append(scope["path"])
            if self.tricks:
                await self.tricks.pop(0)(self.app, scope, receive, send)
                return
        await self.app(scope, receive, send)


async def lose(app, scope, receive, send):
    """The line is stored; its answer breaks off in the middle."""

    async def swallow(message):
        del message

    await app(scope, receive, swallow)
    await send(
        {
            "type": "http.response.start",
            "status": 200,
            "headers": [(b"content-length", b"400"), (b"content-type", b"application/json")],
        }
    )
    await send({"type": "http.response.body", "body": b'{"status": "ke', "more_body": True})
    raise ConnectionAbortedError("the answer is lost on purpose")


def say(status, what="The store is being moved.", do="Wait."):
    """Answers without asking the application."""

    async def said(app, scope, receive, send):
        body = json.dumps({"what": what, "where": "", "do": do, "faults": []}).encode()
        await send(
            {"type": "http.response.start", "status": status, "headers": [(b"content-type", b"application/json")]}
        )
        await send({"type": "http.response.body", "body": body})

    return said
