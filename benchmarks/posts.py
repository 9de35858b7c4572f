"""Durable posts over loopback: the real application beside a server that stores the same row and answers nothing."""

import json
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection, HTTPException
from pathlib import Path
from statistics import median

from benchmarks.server import JOB
from benchmarks.table import Paper
from benchmarks.timing import shown
from witnessmark.record.event import Event
from witnessmark.shell.store.store import Store

STATIONS = [f"inl-4f/{height}/{way}" for height in ("top", "middle", "bottom") for way in ("along", "across")]


def free_port() -> int:
    """A port that nobody has."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def running(words: list[str], port: int, path: str) -> Iterator[float]:
    """A server in a child process; gives the seconds until it first answered, and ends that process at the close."""
    begun = time.perf_counter()
    child = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
    try:
        yield _up(child, port, path, begun)
    finally:
        child.terminate()
        child.wait(timeout=15)


def _up(child: subprocess.Popen[bytes], port: int, path: str, begun: float) -> float:
    while time.perf_counter() - begun < 60:
        if child.poll() is not None:
            raise RuntimeError(f"the server ended before it answered: {child.stderr.read().decode()[-600:]}")  # type: ignore[union-attr]
        try:
            connection = HTTPConnection("127.0.0.1", port, timeout=20)
            connection.request("GET", path)
            connection.getresponse().read()
            return time.perf_counter() - begun
        except (OSError, HTTPException):
            time.sleep(0.01)
    raise RuntimeError("the server did not answer within a minute")


def sent(connection: HTTPConnection, path: str, body: object, expected: int) -> float:
    """Seconds of one post."""
    packed = json.dumps(body)
    begun = time.perf_counter()
    connection.request("POST", path, packed, {"Content-Type": "application/json"})
    answer = connection.getresponse()
    answer.read()
    if answer.status != expected:
        raise RuntimeError(f"{path} answered {answer.status}, not {expected}")
    return time.perf_counter() - begun


def posts(paper: Paper, quick: bool) -> None:
    """Turn by turn, so that both meet the same load of the machine and a job of the same length."""
    number = 40 if quick else 200
    real_port, bare_port = free_port(), free_port()
    with tempfile.TemporaryDirectory() as folder, \
            running(_server("real", folder, real_port), real_port, "/"), \
            running(_server("bare", folder, bare_port), bare_port, "/"):  # fmt: skip
        real, bare = HTTPConnection("127.0.0.1", real_port), HTTPConnection("127.0.0.1", bare_port)
        times: dict[str, list[float]] = {"real": [], "bare": [], "commit": []}
        store = Store.open(Path(folder) / "commit")
        store.create(JOB, created_at="2026-11-25T08:00:00Z")
        for n in range(number + 5):
            place = STATIONS[n % len(STATIONS)]
            line = {"id": f"r{n}", "device": "bench", "device_seq": n, "at": "2026-11-25T08:00:00Z", "by": "J. M.",
                    "line": "5.957", "characteristic": "stem_diameter", "place": place, "gauge": "M-07"}  # fmt: skip
            found = {
                "real": sent(real, f"/api/jobs/{JOB}/line", line, 200),
                "bare": sent(bare, "/line", {"id": f"r{n}", "device_seq": n, "row": line}, 204),
                "commit": _committed(store, Event(f"r{n}", "reading_taken", line)),
            }
            if n >= 5:
                for name, seconds in found.items():
                    times[name].append(seconds)
        store.close()
    _print(paper, times)


def _server(kind: str, folder: str, port: int) -> list[str]:
    return [sys.executable, "-m", "benchmarks.server", kind, f"{folder}/{kind}", str(port)]


def _committed(store: Store, event: Event) -> float:
    begun = time.perf_counter()
    store.append(JOB, (event,), "2026-11-25T08:00:00Z")
    return time.perf_counter() - begun


def _print(paper: Paper, times: dict[str, list[float]]) -> None:
    names = {"real": "the application, with its answer", "bare": "stores the same row, answers nothing",
             "commit": "bare commit, no network"}  # fmt: skip
    paper.table(
        ("durable post of one reading", "least / median / most"), [(names[n], shown(t)) for n, t in times.items()]
    )
    real, bare, commit = (median(times[name]) for name in ("real", "bare", "commit"))
    paper.goal(
        "durable post against the same row with no answer",
        f"{real / bare:.2f} times",
        "at most 2 times",
        real <= 2 * bare,
    )
    paper.goal(
        "durable post against a bare commit",
        f"{1000 * (real - commit):+.1f} ms",
        "at most +10 ms",
        real <= commit + 0.010,
    )
