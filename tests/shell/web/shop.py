"""An invented job on the bench of Harbour Lane Engine Works, for tests of pages: a Tern 2.0, half measured."""

from dataclasses import dataclass, field
from importlib.resources import files
from itertools import count
from pathlib import Path
from typing import Any

from fastapi import FastAPI

from witnessmark.catalogue.entry import Catalogue
from witnessmark.catalogue.load import load
from witnessmark.desk import commands
from witnessmark.desk.bench import Bench
from witnessmark.desk.enter import enter
from witnessmark.desk.state import Memory, state
from witnessmark.shell.store.store import Store
from witnessmark.shell.web.app import create_app

JOB = "HL-0147"
LIMITS = """\
format: witnessmark-limits-1
sheet: {name: TN-3, document: invented, invented: yes, doubt: must be proven good}
limits:
  stem_diameter:
    - {for: inl, service: {low: 5.940}, new: {low: 5.965, high: 5.980}, unit: mm, stations: worst, page: "41"}
    - {for: exh, service: {low: 5.925}, new: {low: 5.950, high: 5.965}, unit: mm, stations: worst, page: "41"}
  head_flatness:
    - {service: {high: 0.05}, unit: mm, page: "40"}
"""
TERN = {"layout": "inline", "cylinders": "4", "valves": {"inl": ["f", "r"], "exh": ["f", "r"]}, "gear": "bucket_shim",
        "head": "aluminium"}  # fmt: skip
GAUGES: dict[str, dict[str, Any]] = {
    "M-07": {"kind": "micrometer", "unit": "mm", "resolution": "0.001",
             "calibration": {"U": "0.002", "k": "2", "date": "2026-03-02"},
             "repeatability": {"s": "0.0012", "n": "20"}},
    "B-02": {"kind": "dial_bore", "unit": "mm", "resolution": "0.002", "permissible_error": "0.004"},
    "M-11": {"kind": "micrometer", "unit": "in", "resolution": "0.0001"},
    "L-04": {"kind": "leaves", "unit": "mm", "leaf_error": "0.001",
             "set": ["0.03", "0.04", "0.05", "0.06", "0.07", "0.08"]},
}  # fmt: skip
STEMS = {
    "inl-1f": (5.964, 5.963, 5.961, 5.962, 5.963, 5.963),
    "inl-1r": (5.939, 5.938, 5.931, 5.934, 5.937, 5.936),
    "inl-2f": (5.951, 5.950, 5.941, 5.943, 5.951, 5.950),
    "inl-2r": (5.957, 5.957, 5.955, 5.956, 5.958, 0.2351),
    "inl-3f": (5.959, 5.958, 5.952),
}
NAMES = ("top/along", "top/across", "middle/along", "middle/across", "bottom/along", "bottom/across")


def catalogue() -> Catalogue:
    """The catalogue that ships with the tool."""
    data = files("witnessmark.catalogue") / "data"
    return load({one.name: one.read_text("utf-8") for one in data.iterdir() if one.name.endswith(".yaml")})


@dataclass
class Shop:
    """One store with one job, and the application over it. `numbers` gives unused names."""

    folder: Path
    store: Store = field(init=False)
    catalogue: Catalogue = field(init=False)
    memory: Memory = field(default_factory=Memory)
    numbers: Any = field(default_factory=lambda: count(1))

    def __post_init__(self) -> None:
        self.catalogue = catalogue()
        self.store = Store.open(self.folder)

    def stamp(self) -> commands.Stamp:
        return commands.Stamp(f"e{next(self.numbers)}", "2026-11-24T10:42:18+00:00", "J. M.", "d-setup")

    def keep(self, events: Any) -> None:
        self.store.append(JOB, events, "2026-11-24T10:42:18+00:00")

    def state(self) -> Any:
        return state(self.store.job(JOB), self.catalogue, memory=self.memory)

    def open_job(self, limits: str = LIMITS) -> None:
        header = {"id": JOB, "engine": "Tern 2.0", "invented": True, "complaint": "overheated"}
        self.store.create(JOB, created_at="2026-11-24T09:00:00+00:00", title="Tern 2.0")
        self.keep(commands.start_job(self.stamp(), header, TERN))
        for name, fields in GAUGES.items():
            self.keep(commands.enter_gauge(self.state(), self.stamp(), name, fields))
        if limits:
            self.keep(commands.enter_limit_sheet(self.state(), self.stamp(), limits, "limits.yaml"))

    def measure(self) -> None:
        for place, values in STEMS.items():
            for name, value in zip(NAMES, values, strict=False):
                self.line(f"{value:.4f}" if value < 1 else f"{value:.3f}", f"{place}/{name}")

    def line(self, text: str, place: str, characteristic: str = "stem_diameter", gauge: str = "M-07") -> Any:
        bench = Bench(f"r{next(self.numbers)}", characteristic, place, gauge=gauge, by="J. M.", device="d-setup",
                      at="2026-11-24T10:42:18+00:00")  # fmt: skip
        outcome = enter(self.state(), bench, text)
        if outcome.events:
            self.keep(outcome.events)
        return outcome

    def app(self, **more: Any) -> FastAPI:
        names = count(1)
        now = "2026-11-24T10:42:18+00:00"
        return create_app(self.store, self.catalogue, lambda: now, lambda: f"n{next(names)}", **more)
