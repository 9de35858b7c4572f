"""Times as medians of several runs, and whole processes from the outside."""

import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from statistics import median
from time import perf_counter


def timed(work: Callable[[], object], runs: int) -> list[float]:
    """Seconds of each run, after one that is not counted."""
    work()
    found = []
    for _ in range(runs):
        begun = perf_counter()
        work()
        found.append(perf_counter() - begun)
    return found


def shown(seconds: Sequence[float]) -> str:
    """Least, median and most in milliseconds."""
    return " / ".join(f"{1000 * value:.2f}" for value in (min(seconds), median(seconds), max(seconds))) + " ms"


def process(words: Sequence[str], runs: int) -> list[float]:
    """Seconds of whole processes."""
    return timed(lambda: subprocess.run(words, check=True, capture_output=True), runs)


def command() -> str:
    """The installed command, beside this Python."""
    return str(Path(sys.executable).with_name("witnessmark"))
