"""The command as somebody runs it, and the invented job files that it is run on."""

import os
import subprocess
import sys
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

from click.testing import CliRunner

from witnessmark.shell.cli import main

COMMAND = Path(sys.executable).with_name("witnessmark")
BANNED = ("invalid", "error occurred", "failed", "please", "Traceback")


@dataclass(frozen=True)
class Said:
    """What came of a command: exit status, what it printed, what it said on the error stream."""

    status: int
    out: str
    err: str

    @property
    def all(self) -> str:
        return self.out + self.err


def run(*words: object) -> Said:
    """Run a command in this process. An exception that it lets out is a defect, so it is let out here too."""
    done = CliRunner().invoke(main, [str(word) for word in words])
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        raise done.exception
    return Said(done.exit_code, done.stdout, done.stderr)


def really(*words: object, cwd: Path | None = None, **environment: str) -> subprocess.CompletedProcess[bytes]:
    """Run the installed command as a process of its own."""
    around = {**os.environ, **environment}
    return subprocess.run([COMMAND, *map(str, words)], cwd=cwd, env=around, capture_output=True, check=False)


def refused(said: Said) -> str:
    """The words of a refusal: status 2, nothing on standard output, every line a sentence of ours."""
    assert said.status == 2, said.all
    assert said.err.strip() and not said.out, said.all
    assert not [word for word in BANNED if word.casefold() in said.err.casefold()], said.err
    return said.err


def demo(name: str) -> str:
    return files("witnessmark.shell.demo").joinpath(name).read_text("utf-8")


JOB, LIMITS, PRICES = demo("tern.yaml"), demo("tern-limits.yaml"), demo("tern-prices.yaml")
SMALL = """\
format: witnessmark-job-1
job: {id: HL-1, engine: Tern 2.0, invented: true}
engine: {layout: inline, cylinders: 2, valves: {inl: 1, exh: 1}, gear: bucket_shim}
gauges:
  M-07: {kind: micrometer, unit: mm, resolution: 0.001, calibration: {U: 0.002, k: 2, date: 2026-03-02}}
  B-02: {kind: dial_bore, unit: mm, resolution: 0.002, permissible_error: 0.004}
  L-04: {kind: leaves, unit: mm, set: [0.03, 0.04, 0.05], leaf_error: 0.001}
parts: {v-1: {kind: valve, at: inl-1}}
settings: [{id: s1, gauge: B-02, set_to: 6.000, with: M-07}]
limits: limits.yaml
readings:
  - {id: r1, characteristic: stem_diameter, place: inl-1/middle/across, part: v-1, gauge: M-07, raw: 5.952}
  - {id: r2, supersedes: r1, reason: misread, raw: 5.951}
  - {id: q1, characteristic: stem_diameter, place: inl-2/middle/across, gauge: M-07, raw: 0.2351, question: inch_or_mm}
  - {characteristic: guide_bore, place: inl-1/middle/across, gauge: B-02, setting: s1, raw: 0.012}
  - {characteristic: head_flatness, place: gasket-face/diagonal-1, gauge: L-04, raw: "0.03 0.04"}
waived: [{characteristic: stem_diameter, place: inl-1/top/along, reason: not measured}]
answers: [{reading: q1, answer: 1}]
notes: [{about: inl-1, text: carbon}]
taken_back: [{event: q1}]
"""


def write(folder: Path, job: str | bytes = SMALL, limits: str | bytes = LIMITS) -> Path:
    """A job file with its limit sheet and the price list beside it; the path of the job file."""
    for name, text in (("limits.yaml", limits), ("tern-limits.yaml", limits),
                       ("tern-prices.yaml", PRICES), ("job.yaml", job)):
        (folder / name).write_bytes(text.encode("utf-8") if isinstance(text, str) else text)
    return folder / "job.yaml"
