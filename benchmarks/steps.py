"""A step of a cut, from the press to the moved drawing: kept on the disk, reckoned anew, drawn, and sent back.

Baseline: the same fields of the same sheet without a step, in the same run.
"""

import re
import tempfile
from http.client import HTTPConnection
from pathlib import Path
from time import perf_counter
from urllib.parse import urlencode

import numpy as np

from benchmarks.pages import fetched
from benchmarks.posts import free_port, running
from benchmarks.table import Paper
from benchmarks.timing import command, shown, timed
from witnessmark.shell.demo import demo_events
from witnessmark.shell.store.store import Store

JOB = "HL-0147"
AT = f"/jobs/{JOB}/intended"
SENT = {"valve": "inl-2f", "view": "valve", "scope": "this valve", "operation": "seat_cut", "place": "inl-2f",
        "unit": "mm", "valve_axis": "yes"}  # fmt: skip
MOST = 0.050  # seconds, at the 95th percentile


def run(paper: Paper, quick: bool) -> None:
    """Steps of a seat cut on the Tern, up and down."""
    paper.heading("A step of a cut")
    count = 40 if quick else 200
    with tempfile.TemporaryDirectory() as folder:
        store = Store.open(Path(folder))
        store.create(JOB, created_at="2026-11-25T08:00:00Z", title="Tern", events=demo_events("tern"))
        store.close()
        port = free_port()
        with running([command(), "serve", "--port", str(port), "--data", folder, "--no-browser"], port, "/jobs"):
            still = timed(lambda: fetched(port, f"{AT}?valve=inl-2f"), count)
            steps = list(_stepped(port, count))
    slow = float(np.quantile(steps, 0.95))
    paper.table(("work", "least / median / most"), [
        ("the sheet as it is, baseline", shown(still)), ("a step, to the moved drawing", shown(steps)),
    ])  # fmt: skip
    ratio = float(np.median(steps) / np.median(still))
    paper.say(f"A step takes {ratio:.1f} times the sheet as it is.")
    paper.goal("a step of a cut to the moved drawing, 95th percentile", f"{1000 * slow:.0f} ms",
               f"under {1000 * MOST:.0f} ms", slow < MOST)  # fmt: skip


def _stepped(port: int, count: int) -> list[float]:
    """Seconds of each press, over one connection as a browser keeps it."""
    connection = HTTPConnection("127.0.0.1", port)
    connection.request("GET", f"{AT}?valve=inl-2f")
    page = connection.getresponse().read().decode()
    found = []
    for n in range(count):
        saw = re.search(r'name="saw" value="([^"]*)"', page)
        if saw is None:
            raise RuntimeError("the sheet has no token of its work")
        fields = {**SENT, "to": f"{0.05 + 0.05 * (n % 6):.2f}", "saw": saw.group(1)}
        headers = {"content-type": "application/x-www-form-urlencoded", "origin": f"http://127.0.0.1:{port}",
                   "x-part": "yes"}  # fmt: skip
        begun = perf_counter()
        connection.request("POST", f"{AT}/step", urlencode(fields), headers)
        answer = connection.getresponse()
        page = answer.read().decode()
        found.append(perf_counter() - begun)
        if answer.status != 200:
            raise RuntimeError(f"a step was answered with {answer.status}")
    connection.close()
    return found
