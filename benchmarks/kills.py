"""The tightening sheet killed between any two keys, and in the middle of one: what was acknowledged is there again.

A real server on a real store; a hand presses bolt after bolt as fast as answers come; the server gets SIGKILL at a
random moment and is begun anew on the same folder. Afterwards every bolt that was acknowledged is turned, at most the
one key that was under way is turned besides, no bolt twice, and the page points at the one that follows.
"""

import random
import re
import signal
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.parse
import urllib.request
from dataclasses import dataclass, field
from pathlib import Path
from threading import Thread

from benchmarks.server import JOB
from benchmarks.table import Paper

RUNS, QUICK = 200, 20
HEAD = f"/jobs/{JOB}/tighten/head"
LONGEST = 0.25  # seconds of pressing before the kill, at most


class _Stay(urllib.request.HTTPRedirectHandler):
    """A redirect is the acknowledgement; it is not followed."""

    def redirect_request(self, *_: object) -> None:  # type: ignore[override]
        return None


_OPEN = urllib.request.build_opener(_Stay)


@dataclass
class Server:
    """One server process over a folder."""

    folder: Path
    port: int = 0
    process: "subprocess.Popen[bytes] | None" = None

    def begin(self) -> None:
        """Start it and wait until it answers."""
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        words = [sys.executable, "-m", "benchmarks.server", "real", str(self.folder), str(self.port)]
        self.process = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
                                        cwd=Path(__file__).parents[1])  # fmt: skip
        until = time.monotonic() + 60
        while time.monotonic() < until:
            if self.process.poll() is not None:
                assert self.process.stderr is not None
                raise RuntimeError(f"the server ended: {self.process.stderr.read().decode()[-2000:]}")
            try:
                with socket.create_connection(("127.0.0.1", self.port), 0.2):
                    return
            except OSError:
                time.sleep(0.02)
        raise RuntimeError("the server did not answer within a minute")

    def kill(self) -> None:
        """End it as a power cut would."""
        assert self.process is not None
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()
        assert self.process.stderr is not None
        self.process.stderr.close()

    def send(self, form: str, **fields: str) -> int:
        """Send a form of the sheet; the status of the answer, 0 where none came."""
        address = f"http://127.0.0.1:{self.port}"
        asked = urllib.request.Request(f"{address}{HEAD}/{form}", urllib.parse.urlencode(fields).encode(),
                                       {"Origin": address})  # fmt: skip
        try:
            with _OPEN.open(asked, timeout=10) as answer:
                return int(answer.status)
        except urllib.error.HTTPError as told:
            with told:
                return told.code
        except OSError:
            return 0

    def page(self) -> str:
        """The sheet as it stands."""
        with urllib.request.urlopen(f"http://127.0.0.1:{self.port}{HEAD}", timeout=20) as answer:
            return str(answer.read().decode())


@dataclass
class Kills:
    """Counts over all runs. `lost` are acknowledged keys that were gone, `twice` bolts turned twice."""

    runs: int = 0
    acknowledged: int = 0
    under_way: int = 0
    lost: int = 0
    twice: int = 0
    astray: int = 0
    told: list[str] = field(default_factory=list)


def turned(folder: Path) -> list[tuple[str, str, str]]:
    """(run, stage, bolt) of every key in the store, in the order of its log."""
    from witnessmark.shell.store.store import Store

    store = Store.open(folder, only_read=True)
    try:
        return [(one.body["run"], one.body["stage"], one.body["bolt"]) for one in store.events(JOB)
                if one.kind == "bolt_turned"]  # fmt: skip
    finally:
        store.close()


def killed(runs: int, folder: Path, seed: int = 20261126) -> Kills:
    """Press and kill, so many times, on one store."""
    chance, found, server = random.Random(seed), Kills(), Server(folder)
    server.begin()
    keys: list[tuple[str, str, str]] = []  # acknowledged, of all runs over the head
    run = 0
    try:
        for _ in range(runs):
            wanted = re.search(r'name="saw" value="(\d+)\.(\w+)"', server.page())
            if wanted is None:  # not begun, or every bolt is turned: begin anew
                run += 1
                assert server.send("begin", way="tighten", threads="oiled", note="again") == 303
            acknowledged = _press(server, f"tighten:head:{run}", chance.uniform(0.0, LONGEST))
            keys += acknowledged
            found.runs += 1
            found.acknowledged += len(acknowledged)
            there = turned(folder)
            found.lost += len(set(keys) - set(there))
            found.twice += len(there) - len(set(there))
            found.under_way += len(set(there) - set(keys))
            keys = there
            server.begin()
            _astray(server, there, f"tighten:head:{run}", found)
    finally:
        server.kill()
    return found


def _press(server: Server, run: str, after: float) -> list[tuple[str, str, str]]:
    """Press until the server dies; the keys that were acknowledged."""
    acknowledged: list[tuple[str, str, str]] = []
    saw = re.search(r'name="saw" value="([^"]*)"', server.page())
    stage, bolt = (int(part) for part in saw[1].split(".")) if saw else (1, 1)

    def hand() -> None:
        nonlocal stage, bolt
        while server.send("press", run=run, saw=f"{stage}.{bolt}", line="") == 303:
            acknowledged.append((run, str(stage), str(bolt)))
            stage, bolt = (stage, bolt + 1) if bolt < 10 else (stage + 1, 1)

    pressing = Thread(target=hand)
    pressing.start()
    time.sleep(after)
    server.kill()
    pressing.join()
    return acknowledged


def _astray(server: Server, there: list[tuple[str, str, str]], run: str, found: Kills) -> None:
    """Hold what the page says is next against the log."""
    count = sum(one[0] == run for one in there)
    wanted = f"{count // 10 + 1}.{count % 10 + 1}" if count < 30 else ""
    shown = re.search(r'name="saw" value="([^"]*)"', server.page())
    if (shown[1] if shown else "") != wanted:
        found.astray += 1
        found.told.append(f"after {count} keys the page shows {shown[1] if shown else 'nothing'}, not {wanted}")


def run(paper: Paper, quick: bool) -> None:
    """Print the table and the goal."""
    paper.heading("The tightening sheet, killed between any two keys")
    with tempfile.TemporaryDirectory() as folder:
        found = killed(QUICK if quick else RUNS, Path(folder))
    paper.table(
        ("kills", "keys acknowledged", "under way and kept", "lost", "twice", "page astray"),
        [tuple(map(str, (found.runs, found.acknowledged, found.under_way, found.lost, found.twice, found.astray)))])
    bad = found.lost + found.twice + found.astray
    paper.goal("acknowledged keys lost, doubled or astray", str(bad), "0", bad == 0)
    for said in found.told:
        paper.say(said)
