"""Mutants that the tests must catch: each is written into a copy of the source, the named tests run, the red kept.

A claim that is tested only where it is easy passes any arithmetic. So the arithmetic is spoiled on purpose, one place
at a time, and whoever stays green is told as a mutant that lives.
"""

import os
import re
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from benchmarks.table import Paper

ROOT = Path(__file__).parents[1]
COPIED = ("src", "tests", "benchmarks", "pyproject.toml")
TEST = "tests/judge/test_claim.py"
RED = re.compile(r"^FAILED (?:\S*::)?(.+)$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Mutant:
    """One spoiled place: in `file`, `sound` becomes `spoiled`."""

    name: str
    file: str
    sound: str
    spoiled: str


MUTANTS = (
    Mutant("u halved", "metrology/propagate.py",
           "known_doubt = Doubt(found, np.sqrt(variance), _dof(variance, known),",
           "known_doubt = Doubt(found, np.sqrt(variance) / 2, _dof(variance, known),"),
    Mutant("covariance dropped", "metrology/propagate.py",
           "    shared = _sum(which, coefficient[at] * batch.contribution[item[at], place], len(pairs))\n",
           "    shared = np.sqrt(_sum(which, (coefficient[at] * batch.contribution[item[at], place]) ** 2,"
           " len(pairs)))\n"),
    Mutant("≤ swapped at a limit", "metrology/leaves.py",
           "np.where(_meet(limit, stops), 1.0, np.where(_meet(limit, enters), 0.0, chance))",
           "np.where(_meet(limit, stops), 0.0, np.where(_meet(limit, enters), 1.0, chance))"),
    Mutant("product of p for the worst of m", "judge/marks.py",
           "    codes, p = judged.verdict, judged.p_within\n",
           "    p = np.array([np.prod([part.p_within for part in parts]) for parts in parted])\n"
           "    codes = verdicts(p, 1 - p)\n"),
)  # fmt: skip


def copy_of_the_source(place: Path) -> None:
    """Source, tests and benchmarks, without what was compiled."""
    for name in COPIED:
        there = ROOT / name
        if there.is_dir():
            shutil.copytree(there, place / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(there, place / name)


def tried(mutant: Mutant | None) -> tuple[int, str]:
    """Exit status and output of the named tests with one place spoiled, or with none."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        copy_of_the_source(place)
        if mutant is not None:
            spoil(place / "src" / "witnessmark" / mutant.file, mutant)
        path = f"{place / 'src'}{os.pathsep}{place}"
        environment = {**os.environ, "PYTHONPATH": path, "PYTHONDONTWRITEBYTECODE": "1"}
        command = [sys.executable, "-m", "pytest", "-q", "--tb=line", "-rf", TEST]
        done = subprocess.run(
            command, cwd=place, env=environment, capture_output=True, text=True, timeout=300, check=False
        )
    return done.returncode, done.stdout + done.stderr


def spoil(path: Path, mutant: Mutant) -> None:
    """Write the mutant in; a place that is no longer there is a fault of this table, not a mutant that lives."""
    text = path.read_text("utf-8")
    if text.count(mutant.sound) != 1:
        times = text.count(mutant.sound)
        raise ValueError(f"{mutant.file} holds the place of '{mutant.name}' {times} times; mend MUTANTS")
    path.write_text(text.replace(mutant.sound, mutant.spoiled), "utf-8")


def run(paper: Paper, quick: bool) -> None:
    """Every mutant, after the sound source has been seen green in the same way."""
    paper.heading(f"Mutants of the arithmetic, each against {TEST}")
    status, output = tried(None)
    paper.goal("the sound source passes its own test", "green" if status == 0 else output[-600:], "green", status == 0)
    caught = []
    for mutant in MUTANTS[:2] if quick else MUTANTS:
        status, output = tried(mutant)
        red = RED.findall(output)
        caught.append(status == 1 and bool(red))
        paper.say(f"\n{mutant.name} ({mutant.file}): {len(red)} red")
        for line in red[:8]:
            paper.say(f"  {line[:150]}")
        if not caught[-1]:
            paper.say(output[-600:])
    paper.goal("mutants caught", f"{sum(caught)} of {len(caught)}", "all", all(caught))
