"""Pages over a real server: a whole head opened, the start page of a bench with sixty jobs; and what a look costs."""

import tempfile
from dataclasses import replace
from http.client import HTTPConnection
from pathlib import Path
from statistics import median

from benchmarks import heads
from benchmarks.posts import free_port, running
from benchmarks.table import Paper
from benchmarks.timing import command, shown, timed
from witnessmark.record.event import Event
from witnessmark.record.replay import replay
from witnessmark.shell.demo import JOBS, demo_events
from witnessmark.shell.store.store import Store

READINGS = 390
MANY = 60


def run(paper: Paper, quick: bool) -> None:
    """Every table of pages."""
    paper.heading("Pages")
    runs = 3 if quick else 9
    head = of_readings(READINGS)
    replayed = timed(lambda: replay(event.stored(n, "") for n, event in enumerate(head, 1)), runs)
    with tempfile.TemporaryDirectory() as folder:
        fill(Path(folder), head)
        port = free_port()
        with running([command(), "serve", "--port", str(port), "--data", folder, "--no-browser"], port, "/jobs"):
            pages = {
                f"head of {READINGS} readings, {name}": timed(lambda at=at: fetched(port, f"/jobs/BENCH-00{at}"), runs)
                for name, at in (("start sheet", ""), ("bench", "/bench"), ("head", "/head"), ("decide", "/decide"))
            }
            start = timed(lambda: fetched(port, "/"), runs)
    paper.table(("work", "least / median / most"), [
        (f"replay of {READINGS} readings", shown(replayed)), *((what, shown(times)) for what, times in pages.items()),
        (f"start page with {MANY} jobs", shown(start)),
    ])  # fmt: skip
    slowest = max(map(median, pages.values()))
    for what, found, most in ((f"replay of {READINGS} readings", median(replayed), 0.05),
                              (f"pages of a head of {READINGS} readings, the slowest", slowest, 0.3),
                              (f"start page with {MANY} jobs", median(start), 0.2)):  # fmt: skip
        paper.goal(what, f"{1000 * found:.0f} ms", f"under {1000 * most:.0f} ms", found < most)
    looks(paper)


def of_readings(count: int) -> list[Event]:
    """The invented Tern with its first so many readings."""
    found: list[Event] = []
    for event in demo_events("tern"):
        if event.kind != "reading_taken":
            if event.kind in ("job_opened", "engine_described", "gauge_entered", "setting_made", "limits_entered"):
                found.append(event)
        elif count > 0:
            found.append(event)
            count -= 1
    if count:
        raise RuntimeError(f"the Tern lacks {count} readings, so the time would be that of a smaller head")
    return found


def fill(folder: Path, head: list[Event]) -> None:
    """A store with sixty jobs: the head that is timed, and the invented heads over and over."""
    store = Store.open(folder)
    for n in range(MANY):
        name = f"BENCH-{n:02}"
        events = head if n == 0 else demo_events(JOBS[n % len(JOBS)])
        mine = [replace(one, id=f"{n}-{one.id}") if one.kind == "job_opened" else one for one in events]
        store.create(name, created_at="2026-11-25T08:00:00Z", title=f"invented {n}", events=mine)
    store.close()


def fetched(port: int, address: str) -> bytes:
    """The body of a page; whatever is no page is told, since its time says nothing."""
    connection = HTTPConnection("127.0.0.1", port, timeout=30)
    connection.request("GET", address)
    answer = connection.getresponse()
    body = answer.read()
    connection.close()
    if answer.status != 200:
        raise RuntimeError(f"{address} answered {answer.status}")
    return body


def looks(paper: Paper) -> None:
    """Keys for one look that is told: its number, how much where that was said, and one Enter."""
    rows = []
    for name in JOBS:
        told = [event.body for event in demo_events(name) if event.kind == "reading_taken"]
        seen = [one["meaning"] for one in told if (one.get("meaning") or {}).get("kind") == "look"]
        keys = [2 + (1 + len(str(one["value"])) if one.get("value") else 0) for one in seen]
        read = [len(str(one["raw"])) + 1 for one in told if (one.get("meaning") or {}).get("kind") != "look"]
        rows.append((name, len(seen), f"{sum(keys) / max(len(keys), 1):.2f}", f"{sum(read) / max(len(read), 1):.2f}"))
    paper.table(("invented head", "looks", "keys for each look", "keys for each reading"), rows)
    few = len(heads.catalogue().characteristics)
    paper.say(f"{sum(row[1] for row in rows)} looks of the invented heads; the catalogue has {few} characteristics")
