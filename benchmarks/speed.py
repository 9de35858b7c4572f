"""Speed, each as a ratio against a baseline that is named and run beside it, or against a stated time."""

import gzip
import re
import subprocess
import sys
import tempfile
import tracemalloc
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from http.client import HTTPConnection
from importlib.resources import as_file, files
from statistics import median
from urllib.parse import urljoin

import numpy as np

from benchmarks import heads, large
from benchmarks.posts import free_port, posts, running
from benchmarks.table import Paper
from benchmarks.timing import command, process, shown, timed
from witnessmark.explain.why import why
from witnessmark.judge.cells import cells
from witnessmark.judge.judge import judge
from witnessmark.judge.marks import combined
from witnessmark.judge.result import Result
from witnessmark.judge.taken import taken
from witnessmark.metrology.conform import chances
from witnessmark.record.event import Event

FIRST_PAGE_MOST = 150_000


def run(paper: Paper, quick: bool) -> None:
    """Every table of speed."""
    paper.heading("Speed")
    judging(paper, 3 if quick else 9)
    memory(paper)
    opening(paper, 3 if quick else 9)
    posts(paper, quick)
    starting(paper, 3 if quick else 7)
    paper.say(
        "Keystrokes for one judged reading: its digits and one Enter; the browser test that walks the head prints them."
    )


def judging(paper: Paper, runs: int) -> None:
    """Some 2,000 readings and 700 derived values: the numbers alone, and the whole judgement with its sentences."""
    job = large.made()
    have = taken(job.job, heads.catalogue(), "as found", job.layout.head)
    known = list(cells(have, job.layout, heads.catalogue(), job.sheet).values())
    derived = sum(len(cell.terms) > 1 for cell in known)
    paper.say(
        f"{len(job.job.readings)} readings, {derived} derived values, {len(job.held)} gauges; baseline GTC, same run"
    )

    def numbers() -> object:
        made = combined(known, have.batch)
        assert made is not None
        return made.doubt.dof, chances(made.doubt, np.full(len(known), 1.0), np.full(len(known), np.nan))

    def judged(fresh: large.Large) -> Sequence[Result]:
        return judge(fresh.job, fresh.sheet, fresh.layout, heads.catalogue()).results

    gtc, bare = timed(lambda: large.with_gtc(job), runs), timed(numbers, runs)
    # another head each time, since what was worked out for equal figures is remembered
    others = [large.made(seed=100 + n) for n in range(2 * (runs + 1))]
    only = timed(lambda: judged(others.pop()), runs)
    all_ = timed(lambda: [why(result) for result in judged(others.pop())], runs)
    paper.table(("work", "least / median / most"), [
        ("GTC: u, degrees of freedom, chance", shown(gtc)), ("the same numbers here", shown(bare)),
        ("whole judgement", shown(only)), ("whole judgement with every sentence", shown(all_)),
    ])  # fmt: skip
    for name, here, least in (("the numbers", bare, 20), ("judgement with sentences", all_, 10)):
        ratio = median(gtc) / median(here)
        paper.goal(f"{name} against GTC", f"{ratio:.1f} times as quick", f"at least {least} times", ratio >= least)


def memory(paper: Paper) -> None:
    """Peak of a judgement, its job not counted, with 600 settings of the bore gauge."""
    peaks = {}
    for repeats in (1, 10):
        job = large.made(repeats, settings=600)
        tracemalloc.start()
        judge(job.job, job.sheet, job.layout, heads.catalogue())
        peaks[len(job.job.readings)] = tracemalloc.get_traced_memory()[1] / 1e6
        tracemalloc.stop()
    (few, low), (many, high) = peaks.items()
    paper.table(("readings judged, 600 settings", "peak MB"), [(n, f"{peak:.1f}") for n, peak in peaks.items()])
    paper.goal(
        f"growth of the peak from {few} to {many} readings", f"{high - low:.1f} MB", "at most 30 MB", high - low <= 30
    )


def opening(paper: Paper, runs: int) -> None:
    """A job file of a whole head: read and checked, replayed, judged."""
    from witnessmark.desk.state import state
    from witnessmark.record.replay import replay
    from witnessmark.shell.files import load_events

    with as_file(files("witnessmark.shell.demo")) as folder:
        path = folder / "tern.yaml"
        events = load_events(path)
        job = replay(events)
        steps = {
            "read and check the file": timed(lambda: load_events(path), runs),
            "replay": timed(lambda: replay(events), runs),
            "limits, layout, judgement": timed(lambda: state(job, heads.catalogue()).judgement, runs),
        }
    paper.table(
        (f"demo job, {len(job.readings)} readings", "least / median / most"), [(n, shown(t)) for n, t in steps.items()]
    )
    few, many = (timed(lambda size=size: replay(_long(size)), 3) for size in (2_000, 20_000))
    paper.table(("replay, 600 settings", "least / median / most"), [("2,000 readings", shown(few)),
                ("20,000 readings", shown(many))])  # fmt: skip
    grown = median(many) / median(few)
    paper.goal("replay of ten times as many readings", f"{grown:.1f} times", "at most 15 times", grown <= 15)


def _long(size: int) -> list[Event]:
    """A job of one place read over and over, with many settings and corrections."""
    opened = Event("o", "job_opened", {"job": {"id": "LONG"}})
    settings = [Event(f"s{n}", "setting_made", {"setting": f"s{n}", "gauge": "B-02", "set_to": "6.000", "unit": "mm"})
                for n in range(600)]  # fmt: skip
    readings = [
        Event(f"r{n}", "reading_taken", {
            "characteristic": "stem_diameter", "place": "inl-1f/middle/across", "raw": "5.952",
            "setting": f"s{n % 600}", "meaning": {"kind": "number", "value": "5.952", "unit": "mm"},
            **({"supersedes": f"r{n - 1}"} if n % 50 == 1 else {})})
        for n in range(size)
    ]  # fmt: skip
    return [event.stored(n, "") for n, event in enumerate((opened, *settings, *readings), 1)]


def starting(paper: Paper, runs: int) -> None:
    """Whole processes: help, and a server until its first page; then the bytes of that page."""
    help_ = process([command(), "--help"], runs)
    if not subprocess.run([command(), "--help"], capture_output=True, check=True).stdout:
        raise RuntimeError("--help printed nothing, so its time says nothing")
    empty = process([sys.executable, "-c", "pass"], runs)
    ups = [_served(None) for _ in range(3)]
    paper.table(("process", "least / median / most"), [("python that does nothing", shown(empty)),
                ("witnessmark --help", shown(help_)),
                ("serve until the first page, warm (the first of them cold)", shown(ups))])  # fmt: skip
    paper.goal("--help", f"{1000 * median(help_):.0f} ms", "under 200 ms", median(help_) < 0.2)
    paper.goal("server up, warm", f"{min(ups[1:]):.2f} s", "at most 2 s", min(ups[1:]) <= 2)
    found: list[Weighed] = []
    _served(lambda port: found.extend(weighed(port, path) for path in ("/", "/jobs/HL-0147/bench")))
    for page in found:
        kinds = ", ".join(f"{kind} {size / 1000:.0f}" for kind, size in sorted(page.kinds.items()))
        paper.goal(f"first page {page.path}, cold cache", f"{page.total / 1000:.0f} kB in {page.files} files ({kinds})",
                   "under 150 kB", page.total < FIRST_PAGE_MOST)  # fmt: skip


def _served(work: Callable[[int], object] | None) -> float:
    port = free_port()
    with tempfile.TemporaryDirectory() as folder:
        words = [command(), "serve", "--port", str(port), "--data", folder, "--demo", "--no-browser"]
        with running(words, port, "/") as seconds:
            if work:
                work(port)
            return seconds


@dataclass(frozen=True, slots=True)
class Weighed:
    """A page with everything that it links to."""

    path: str
    total: int
    files: int
    kinds: dict[str, int]


def weighed(port: int, path: str) -> Weighed:
    """Bytes of bodies and headers of a page and all that it, its sheets and its scripts name; fonts in full."""
    waiting, seen, kinds = [path], set(), dict[str, int]()
    total = 0
    while waiting:
        address = waiting.pop()
        if address in seen:
            continue
        seen.add(address)
        connection = HTTPConnection("127.0.0.1", port, timeout=20)
        connection.request("GET", address, headers={"Accept-Encoding": "gzip"})
        answer = connection.getresponse()
        body = answer.read()
        if answer.status != 200:
            raise RuntimeError(f"{address} answered {answer.status}; the page names what is not there")
        size = len(body) + sum(len(name) + len(value) + 4 for name, value in answer.getheaders()) + 17
        kind = (answer.getheader("Content-Type") or "").split(";")[0].split("/")[-1]
        kinds[kind] = kinds.get(kind, 0) + size
        total += size
        if kind in ("html", "css", "javascript"):
            text = gzip.decompress(body) if answer.getheader("Content-Encoding") == "gzip" else body
            waiting += [urljoin(address, link) for link in _links(text.decode(), kind)]
    return Weighed(path, total, len(seen), kinds)


def _links(text: str, kind: str) -> list[str]:
    if kind == "html":
        named = re.findall(r"<(?:link|script|img|use|source)\b[^>]*?(?:href|src)=\"([^\"#]+)", text)
        return [link for link in named if "/static/" in link]
    if kind == "css":
        return [link for link in re.findall(r"url\([\"']?([^\"')]+)", text) if not link.startswith("data:")]
    return re.findall(r"(?:from|import)\s*\(?[\"']([./][^\"']+)[\"']", text)
