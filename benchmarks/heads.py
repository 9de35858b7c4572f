"""Simulated cylinder heads with known truth: gauges drawn afresh, readings off a display, a job as the judge takes it.

What a gauge truly does is written here a second time, from its statement alone, and shares no line with the product:

    display = rounded(true size + calibration + permissible error + setting + size x expansion x warmth + scatter)

Units   mm (N); a tool's own figures are in its own unit and `scale` turns them. Everything invented.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import count
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from witnessmark.catalogue.entry import Catalogue
from witnessmark.engine.layout import Layout, layout, stations
from witnessmark.limits.limit import Limit, Selector, Sheet, indexed
from witnessmark.record.job import GaugeRevision, Job, Reading, Setting

Floats = NDArray[np.float64]
ENGINE: Mapping[str, object] = {
    "layout": "inline", "cylinders": "4", "valves": {"inl": ["f", "r"], "exh": ["f", "r"]}, "gear": "bucket_shim",
    "cams": "2", "head": "aluminium", "block": "iron",
}  # fmt: skip
WARMTH = 2.0  # K, how far part and gauge may differ
ALUMINIUM, STEEL = 23e-6, 11.5e-6  # 1/K; values from memory
INCH = 25.4
_NUMBER = count(1)  # each reading needs a name of its own


@lru_cache(maxsize=1)
def catalogue() -> Catalogue:
    """The catalogue of this release."""
    from witnessmark.shell.resources import catalogue as shipped

    return shipped()


@lru_cache(maxsize=1)
def engine() -> Layout:
    """Tern 2.0 (invented): sixteen valves, bucket and shim."""
    return layout(ENGINE)


@dataclass(frozen=True, slots=True)
class Tool:
    """A gauge: how it truly scatters, and how its owner came to know that.

    `n` None: s is stated as it is. A number: s was found from so many displayed repeats of one part, the rounding taken
    off. 0: nothing is stated, and the judge takes it from the repeats in the job.
    """

    kind: str
    step: float
    s: float
    U: float = 0.0
    permissible: float = 0.0
    unit: str = "mm"
    n: int | None = None
    leaves: tuple[float, ...] = ()
    leaf_error: float = 0.0
    assumed: bool = False  # no gauge is named, so the judge takes the catalogue's usual one of this kind

    @property
    def scale(self) -> float:
        """Its unit in mm."""
        return INCH if self.unit == "in" else 1.0

    @property
    def u(self) -> float:
        """Standard uncertainty of one reading in mm, warmth apart."""
        parts = (self.U / 2, self.permissible / sqrt(3), self.s, self.step / sqrt(12))
        return self.scale * sqrt(sum(part * part for part in parts))

    def fields(self, rng: np.random.Generator) -> dict[str, object]:
        """What stands in the register."""
        told: dict[str, object] = {"kind": self.kind, "unit": self.unit, "resolution": repr(self.step)}
        if self.U:
            told["calibration"] = {"U": repr(self.U), "k": "2"}
        if self.permissible:
            told["permissible_error"] = repr(self.permissible)
        if self.leaves:
            told |= {"set": [repr(leaf) for leaf in self.leaves], "leaf_error": repr(self.leaf_error)}
        elif self.n is None:
            told["repeatability"] = {"s": repr(self.s)}
        elif self.n:
            told["repeatability"] = {"s": repr(self._seen(rng)), "n": str(self.n)}
        return told

    def _seen(self, rng: np.random.Generator) -> float:
        """Scatter before rounding, from displayed repeats of one part that lies anywhere between two graduations."""
        shown = rounded(rng.uniform(0, self.step) + rng.normal(0, self.s, self.n or 2), self.step)
        return sqrt(max(float(np.var(shown, ddof=1)) - self.step**2 / 12, 0.0))


@dataclass(frozen=True, slots=True)
class Held:
    """One tool in hand for one head: its errors, in mm, which nobody knows."""

    tool: Tool
    name: str
    fields: Mapping[str, object]
    shared: float
    warmth: float
    leaves: tuple[float, ...] = ()  # true thicknesses
    set_to: float | None = None  # mm
    master: str | None = None

    def shows(self, true: Floats, expansion: float, rng: np.random.Generator) -> Floats:
        """What its display shows for these sizes, in its own unit; a set gauge shows deviations."""
        tool = self.tool
        with_error = true + self.shared + true * expansion * self.warmth - (self.set_to or 0.0)
        return rounded(with_error / tool.scale + rng.normal(0, tool.s, true.shape), tool.step)


def taken_up(tool: Tool, name: str, rng: np.random.Generator, fixed: float | None = None) -> Held:
    """A tool drawn afresh from its statement. `fixed`: its shared errors at so many standard uncertainties instead."""
    draw = rng.normal() if fixed is None else fixed
    bound = rng.uniform(-1, 1) if fixed is None else min(max(fixed / sqrt(3), -1.0), 1.0)
    shared = tool.scale * (tool.U / 2 * draw + tool.permissible * bound)
    leaves = tuple(leaf + rng.uniform(-1, 1) * tool.leaf_error for leaf in tool.leaves)
    return Held(tool, name, tool.fields(rng), shared, rng.uniform(-WARMTH, WARMTH), leaves)


def set_with(held: Held, master: Held, set_to: float, rng: np.random.Generator) -> Held:
    """A comparing gauge set to a size with another gauge: it inherits that one's error, and the act adds its own."""
    act = sum(
        one.tool.scale * (rng.normal(0, one.tool.s) + rng.uniform(-0.5, 0.5) * one.tool.step) for one in (held, master)
    )
    return replace(held, shared=held.shared + master.shared + act, set_to=set_to, master=master.name)


def rounded(values: Floats, step: float) -> Floats:
    """Values on the graduations of a display."""
    found: Floats = np.rint(values / step) * step
    return found


def expansion(characteristic: str) -> float:
    """Expansion of the part that is measured [1/K]."""
    return ALUMINIUM if catalogue().characteristics[characteristic].group == "head" else STEEL


@lru_cache(maxsize=64)
def places(characteristic: str) -> tuple[str, ...]:
    """Every station of a characteristic on this head, in the order that a hand walks."""
    return stations(engine(), catalogue().characteristics[characteristic])


def decimals(step: float) -> int:
    """Digits that a display of this step has."""
    return len(f"{step:.8f}".rstrip("0").partition(".")[2])


def numbers(
    held: Held, characteristic: str, where: Sequence[str], true: Floats, rng: np.random.Generator
) -> list[Reading]:
    """Readings of sizes (stations,) with a gauge that shows a number."""
    tool, digits = held.tool, decimals(held.tool.step)
    form = f"{{:+.{digits}f}}" if held.set_to is not None else f"{{:.{digits}f}}"
    kind = "number" if held.set_to is None else "deviation"
    step = repr(tool.step)
    texts = [form.format(value) for value in held.shows(true, expansion(characteristic), rng)]
    return [
        reading(held, characteristic, place, text, {"kind": kind, "value": text, "unit": tool.unit, "step": step})
        for place, text in zip(where, texts, strict=True)
    ]


def gaps(held: Held, characteristic: str, where: Sequence[str], true: Floats) -> list[Reading]:
    """Readings of gaps (stations,) with feeler leaves: the thickest that enters, and the next, which does not."""
    found = []
    for place, gap in zip(where, true, strict=True):
        entering = sum(leaf <= gap for leaf in held.leaves)
        marks = ["0", *map(repr, held.tool.leaves)]
        stops = marks[entering + 1] if entering + 1 < len(marks) else None
        meaning = {"kind": "interval", "low": marks[entering], "high": stops, "unit": "mm"}
        found.append(reading(held, characteristic, place, f"{marks[entering]} {stops or ''}".strip(), meaning))
    return found


def reading(held: Held, characteristic: str, place: str, raw: str, meaning: Mapping[str, object]) -> Reading:
    """A counted reading."""
    named = not held.tool.assumed
    return Reading(
        id=f"r{next(_NUMBER)}", seq=0, characteristic=characteristic, place=place, part=None, round="as found",
        gauge=held.name if named else None, gauge_revision=1 if named else None,
        setting=f"set {held.name}" if held.set_to is not None else None, raw=raw, meaning=meaning, assumed=(), note="",
        at="", by="", device="", supersedes=None, superseded_by=None, reason=None, temperature=None, question=None,
        state="counted",
    )  # fmt: skip


def limit(characteristic: str, low: float | None, high: float | None, rule: str) -> Limit:
    """A service limit for every place of a characteristic, wherever it lies between two graduations."""
    texts = tuple("" if end is None else f"{end:.6f}" for end in (low, high))
    return Limit(characteristic, "service", low, high, *texts, "mm", rule, Selector(), "invented", "1", "even", 1)


def sheet(limits: Sequence[Limit]) -> Sheet:
    """A limit sheet of these limits."""
    every = tuple(limits)
    return Sheet("invented", "invented", True, "even", every, {}, (), "", "", indexed(every))


def job(held: Sequence[Held], readings: Sequence[Reading]) -> Job:
    """The snapshot of a job that holds these gauges and readings."""
    gauges = {one.name: (GaugeRevision(one.name, 1, one.fields, one.name),) for one in held if not one.tool.assumed}
    settings = {
        f"set {one.name}": Setting(f"set {one.name}", one.name, repr(one.set_to / one.tool.scale), one.tool.unit,
                                   one.master, None, f"set {one.name}")
        for one in held if one.set_to is not None
    }  # fmt: skip
    return Job(
        "SIM",
        {"id": "SIM"},
        ENGINE,
        gauges,
        {},
        settings,
        None,
        tuple(readings),
        (),
        (),
        (),
        (),
        (),
        (),
        (),
        len(readings),
    )
