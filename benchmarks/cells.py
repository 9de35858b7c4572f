"""The cells of the claim: gauge, rule, place of the limit, and the truth that makes a false verdict likeliest.

`within` and `out` are tempted by different parts. A worst of six is passed most easily when one station alone lies at
the limit, and condemned most easily when all six do; a form is passed most easily with one station at each end and the
others midway, and condemned most easily with half of the stations at each end. Such cells are simulated twice.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from benchmarks import heads
from benchmarks.heads import Floats, Held, Tool
from witnessmark.engine.place import location
from witnessmark.limits.limit import Limit
from witnessmark.record.job import Reading

BOTH, WITHIN, OUT = "both", "within", "out"


@dataclass(frozen=True, slots=True)
class Cell:
    """One kind of verdict, simulated at its limit.

    side     "high", "low", or a width in u: a two-sided limit so many standard uncertainties wide
    where    of the limit between two graduations: "any", "on" one, "half" way
    tempts   which false verdict this truth tempts to
    spread   truth evenly within so many u of the limit instead of at it
    fixed    every shared error of every gauge at so many of its standard uncertainties
    """

    name: str
    reads: str
    size: float
    tool: Tool
    rule: str = "each"
    side: str | float = "high"
    where: str = "any"
    judged: str = ""  # the characteristic that has the limit, where it is not the one that is read
    repeats: int = 1
    tempts: str = BOTH
    partner: tuple[str, float, Tool] | None = None  # the second characteristic of a derived one, its size and gauge
    shares: bool = True  # the partner is measured with, or set by, the same gauge
    spread: float = 0.0
    wear: str = ""
    fixed: float | None = None
    form: float = 0.0  # size of the part whose form is judged
    promised: bool = True

    @property
    def limited(self) -> str:
        """The characteristic whose limit it is."""
        return self.judged or self.reads

    @property
    def claims(self) -> tuple[str, ...]:
        """Every characteristic that this cell needs for itself in a head."""
        return tuple({self.reads, self.limited, *([self.partner[0]] if self.partner else [])})

    @property
    def u(self) -> float:
        """Standard uncertainty of what is judged, nearly; for widths and spreads only."""
        return (
            self.tool.u if self.partner is None or not self.shares else float(np.hypot(self.tool.u, self.partner[2].u))
        )


@dataclass(frozen=True, slots=True)
class Made:
    """One cell made up for one head: gauges, readings, its limit, and which judged places truly lie within it."""

    held: tuple[Held, ...]
    readings: tuple[Reading, ...]
    limit: Limit
    truth: Mapping[str, bool] | None  # by location, where truths are spread


def made(cell: Cell, name: str, rng: np.random.Generator) -> Made:
    """Draw gauges, limit and truth of one head and measure it."""
    low, high, at = _limits(cell, rng)
    if cell.tool.leaves:
        return _with_leaves(cell, name, low, high, rng)
    where = heads.places(cell.reads)
    away = _away(cell, where, rng)
    held = _held(cell, name, rng)
    truth = None
    if cell.partner is not None:
        readings = _pair(cell, held, where, at, away, rng)
    else:
        true = at + away if not cell.form else cell.form + rng.uniform(0, cell.tool.step) + at * _shape(cell, where)
        readings = _all(cell, held[0], cell.reads, where, true, rng)
        if cell.spread or cell.wear:
            truth = {place: _holds(value, low, high) for place, value in zip(where, true, strict=True)}
    return Made(held, tuple(readings), heads.limit(cell.limited, low, high, cell.rule), truth)


def _limits(cell: Cell, rng: np.random.Generator) -> tuple[float | None, float | None, float]:
    """Low and high limit, and the one of them at which the truth lies."""
    step = cell.tool.step * cell.tool.scale
    base = cell.size
    if cell.tool.leaves:
        thin, thick = _leaves_about(cell)
        step, base = thick - thin, thin
    start = heads.rounded(np.array(base), step) if cell.where != "any" and not cell.tool.leaves else np.array(base)
    at = float(start) + {"any": float(rng.uniform(0, 1)), "on": 0.0, "half": 0.5}[cell.where] * step
    if isinstance(cell.side, str):
        return (at, None, at) if cell.side == "low" else (None, at, at)
    width = cell.side * cell.u
    return (at, at + width, at) if rng.uniform() < 0.5 else (at - width, at, at)


def _leaves_about(cell: Cell) -> tuple[float, float]:
    marks = cell.tool.leaves
    n = max(n for n, leaf in enumerate(marks) if leaf <= cell.size + 1e-9)
    return marks[n], marks[n + 1]


def _away(cell: Cell, where: Sequence[str], rng: np.random.Generator) -> Floats:
    """How far each station's truth lies from the limit; positive is larger."""
    zero = np.zeros(len(where))
    inward = -1.0 if cell.side == "high" else 1.0
    if cell.wear:
        return inward * WEAR[cell.wear](rng, len(where)) * cell.u
    if cell.spread:
        return rng.uniform(-cell.spread, cell.spread, len(where)) * cell.u
    if cell.rule == "worst" and cell.tempts == WITHIN:
        return np.where(_first_of_each(where), 0.0, inward * 12 * cell.u)
    if cell.rule == "mean":
        jitter = rng.normal(0, 3 * cell.u, len(where))
        groups = np.array([location(place) for place in where])
        for group in np.unique(groups):
            jitter[groups == group] -= jitter[groups == group].mean()
        return jitter
    return zero


def _shape(cell: Cell, where: Sequence[str]) -> Floats:
    """Places of the stations between the low end 0 and the high end 1 of a form that lies at its limit."""
    if cell.judged == "stem_taper":  # two sets of three, along and across
        tempting = {"top": (0.0, 0.5), "middle": (0.5, 0.5), "bottom": (1.0, 0.5)}
        condemning = {"top": (0.0, 0.0), "middle": (1.0, 1.0), "bottom": (1.0, 1.0)}
        shapes = tempting if cell.tempts == WITHIN else condemning
        return np.array([shapes[place.split("/")[1]][place.endswith("across")] for place in where])
    ends = (0.0, 1.0, 0.5, 0.5) if cell.tempts == WITHIN else (0.0, 1.0, 0.0, 1.0)
    return np.array([ends[n % 4] for n in range(len(where))])


def _first_of_each(where: Sequence[str]) -> Floats:
    names = [location(place) for place in where]
    return np.array([n == 0 or names[n] != names[n - 1] for n in range(len(names))])


# Wear, as how many standard uncertainties of the reading the part lies inside its limit. Invented shapes.
WEAR = {
    "fresh": lambda rng, n: rng.normal(12, 3, n),
    "long in service": lambda rng, n: 10 - rng.exponential(4, n),
    "neglected": lambda rng, n: rng.normal(0, 4, n),
}


def _holds(value: float, low: float | None, high: float | None) -> bool:
    return (low is None or value >= low) and (high is None or value <= high)


def _held(cell: Cell, name: str, rng: np.random.Generator) -> tuple[Held, ...]:
    """The gauges of one head. The second, if any, set the first or reads the partner."""
    first = heads.taken_up(cell.tool, name, rng, cell.fixed)
    if cell.tool.kind == "dial_bore":
        master_tool = cell.partner[2] if cell.partner else Tool("micrometer", 0.001, 0.0012, U=0.002)
        if cell.tool.unit == "in":
            master_tool = Tool("micrometer", 0.00005, 0.00005, U=0.0001, unit="in")
        master = heads.taken_up(master_tool, f"{name}-set", rng, cell.fixed)
        about = cell.size + (cell.partner[1] if cell.partner else 0.0)
        size = float(heads.rounded(np.array(about / cell.tool.scale), 10 * cell.tool.step)) * cell.tool.scale
        return heads.set_with(first, master, size, rng), master
    if cell.partner is not None and not cell.shares:
        return first, heads.taken_up(cell.partner[2], f"{name}-other", rng, cell.fixed)
    return (first,)


def _all(
    cell: Cell, held: Held, characteristic: str, where: Sequence[str], true: Floats, rng: np.random.Generator
) -> list[Reading]:
    return [one for _ in range(cell.repeats) for one in heads.numbers(held, characteristic, where, true, rng)]


def _pair(
    cell: Cell, held: Sequence[Held], where: Sequence[str], at: float, away: Floats, rng: np.random.Generator
) -> list[Reading]:
    """A difference at its limit: the first less the second is `at`, whatever the second is."""
    assert cell.partner is not None
    other, size, _ = cell.partner
    second = heads.places(other)
    true = size + rng.uniform(-0.01, 0.01, len(second))
    by_place = dict(zip(second, true, strict=True))
    behind = np.array([by_place[place if place in by_place else location(place)] for place in where])
    return [
        *_all(cell, held[-1], other, second, true, rng),
        *_all(cell, held[0], cell.reads, where, behind + at + away, rng),
    ]


def _with_leaves(cell: Cell, name: str, low: float | None, high: float | None, rng: np.random.Generator) -> Made:
    at = high if high is not None else low
    assert at is not None
    held = heads.taken_up(cell.tool, name, rng)
    where = heads.places(cell.reads)
    true = at + _away(cell, where, rng)
    readings = heads.gaps(held, cell.reads, where, true)
    return Made((held,), tuple(readings), heads.limit(cell.limited, low, high, cell.rule), None)
