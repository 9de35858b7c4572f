"""Torque-angle traces: how far snug and yield are found from where they were put, and in what time.

Synthetic traces of five kinds of joint with noise. The slope runs up over an alignment and down over a knee, so that it
passes 0.4 of the elastic slope at `snug` and half of it at `yielded`: truth by construction.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from benchmarks.table import Paper
from benchmarks.timing import shown, timed
from witnessmark.assemble.trace import WINDOW, cleaned, key_points, slopes

Floats = NDArray[np.float64]
SNUG, YIELD = 0.4, 0.5  # of the elastic slope: what is meant by the two words, whatever the tool takes them for
PLASTIC = 0.05  # of the elastic slope, behind yield


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of joint: slope in N·mm for a degree, alignment and knee in degrees, prevailing torque in N·mm."""

    slope: float
    alignment: float
    knee: float
    prevailing: float = 2000.0
    tooth: float = 0.0  # N·mm of a stick-slip tooth, two degrees long


KINDS = {
    "hard": Kind(2000, 3, 4),
    "soft gasket": Kind(700, 25, 6),
    "prevailing torque": Kind(1200, 5, 6, 12_000),
    "wide knee": Kind(1000, 5, 14),
    "stick-slip": Kind(1000, 5, 6, tooth=3000),
}


@dataclass(frozen=True, slots=True)
class Made:
    """A trace with its truth."""

    angle: Floats
    torque: Floats
    snug: float
    yielded: float
    origin: float
    slope: float


def made(kind: Kind, seed: int, points: int = 5000, noise: float = 400.0, until: float = 20.0) -> Made:
    """One trace; `until` degrees behind yield, below 0 for a bolt that is not tightened so far. Noise in N·mm."""
    rng = np.random.default_rng(seed)
    snug = float(rng.uniform(30, 50))
    begin = snug - SNUG * kind.alignment
    yielded = begin + kind.alignment + kind.knee + float(rng.uniform(40, 60))
    x = np.linspace(0, yielded + until, points)
    knee = yielded - kind.knee * (1 - YIELD) / (1 - PLASTIC)
    rises = np.clip((x - begin) / kind.alignment, 0, 1)
    share = rises * (1 - (1 - PLASTIC) * np.clip((x - knee) / kind.knee, 0, 1))
    steps = (share[1:] + share[:-1]) / 2 * np.diff(x)
    torque = kind.prevailing + kind.slope * np.concatenate(([0.0], np.cumsum(steps)))
    teeth = np.where((x > begin + kind.alignment) & (x < knee), ((x - begin) / 2 % 1 - 0.5) * kind.tooth, 0.0)
    origin = begin + kind.alignment / 2
    return Made(x, torque + teeth + rng.normal(0, noise, points), snug, yielded, origin, kind.slope)


def errors(kind: Kind, seeds: range, **how: float) -> tuple[Floats, int]:
    """Errors of (snug, yield, origin) in degrees of every trace on which all are found, and on how many they are not.

    `how` goes to `made`; `step` and `torque_step` are those of the wrench's display, 0 for none.
    """
    step, torque_step = how.pop("step", 0.0), how.pop("torque_step", 0.0)
    found, lost = [], 0
    for seed in seeds:
        one = made(kind, seed, **how)  # type: ignore[arg-type]
        points = key_points(_rounded(one.angle, step), _rounded(one.torque, torque_step))
        told = (points.snug.angle, points.yielded.angle, points.origin.angle)
        if any(angle is None for angle in told):
            lost += 1
        else:
            truth = (one.snug, one.yielded, one.origin)
            found.append([float(angle or 0) - true for angle, true in zip(told, truth, strict=True)])
    return np.array(found).reshape(-1, 3), lost


def _rounded(values: Floats, step: float) -> Floats:
    return np.round(values / step) * step if step else values


def run(paper: Paper, quick: bool) -> None:
    """Errors by kind of joint and display, then the time."""
    paper.heading("Torque-angle traces")
    seeds = range(40 if quick else 400)
    rows, worst, lost = [], {"snug": 0.0, "yield": 0.0, "origin": 0.0}, 0
    for name, kind in KINDS.items():
        for display, how in _DISPLAYS.items():
            found, none = errors(kind, seeds, **how)
            lost += none
            rows.append((name, display, *_told(found), none))
            for n, point in enumerate(worst):
                worst[point] = max(worst[point], float(np.quantile(np.abs(found[:, n]), 0.95)))
    points = ("snug", "yield", "origin")
    heads = tuple(f"{point}: mean, 95 %" for point in points)
    paper.table(("joint", "display", *heads, "not found"), rows)
    paper.say("Degrees: mean of the error with its sign, and the 95th percentile of its size.")
    paper.goal("snug and yield not found", str(lost), "0", lost == 0)
    for point, most in worst.items():
        asked = 0.5 if point == "origin" else 2.5
        paper.goal(f"{point}, worst 95th percentile", f"{most:.2f}°", f"at most {asked}°", most <= asked)
    _speed(paper, 3 if quick else 9)


_DISPLAYS = {"fine": {}, "1°, 0.1 N·m": {"step": 1.0, "torque_step": 100.0}, "noise 1.5 N·m": {"noise": 1500.0}}


def _told(found: Floats) -> Iterator[str]:
    for error in found.T:
        yield f"{error.mean():+.2f}, {np.quantile(np.abs(error), 0.95):.2f}"


def by_polyfit(angle: Floats, torque: Floats, window: float = WINDOW) -> Floats:
    """Slopes of the same windows by numpy's polyfit in a loop: the baseline."""
    found = np.full(len(angle), np.nan)
    for at, middle in enumerate(angle):
        near = slice(*np.searchsorted(angle, (middle - window / 2 - 1e-9, middle + window / 2 + 1e-9)))
        if near.stop - near.start >= 4:
            found[at] = np.polyfit(angle[near], torque[near], 1)[0]
    return found


def _speed(paper: Paper, runs: int) -> None:
    one = made(KINDS["hard"], 1)
    x, y = cleaned(one.angle, one.torque)
    here, there = slopes(x, y), by_polyfit(x, y)
    known = np.isfinite(here)
    apart = float(np.max(np.abs(here[known] / there[known] - 1)))
    loop, bare = timed(lambda: by_polyfit(x, y), 3), timed(lambda: slopes(x, y), runs)
    whole = timed(lambda: key_points(one.angle, one.torque), runs)
    paper.table(("5,000 points", "least / median / most"), [
        ("numpy polyfit in a loop, slopes only", shown(loop)), ("slopes here", shown(bare)),
        ("all key points here", shown(whole)),
    ])  # fmt: skip
    paper.say(f"largest difference between the two kinds of slopes: {apart:.1e} of the slope")
    ratio = float(np.median(loop) / np.median(whole))
    paper.goal("all key points against slopes by polyfit", f"{ratio:.0f} times as quick", "at least 20 times",
               ratio >= 20)  # fmt: skip
