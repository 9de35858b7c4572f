"""Whole simulated heads as a hand meets them: every station in walking order, what the part truly is, what is typed.

Two invented shops: Harbour Lane reads a Tern 2.0 (four cylinders, sixteen valves) in millimetres; the other reads an
Egret 5.0 (pushrod V8) in inches. Wear differs from head to head, from part to part and from station to station, and
two parts in a hundred are badly worn: far off, and still no slip.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from importlib.resources import files
from typing import Any

import numpy as np

from benchmarks import heads
from witnessmark.desk.bench import Bench, Outcome
from witnessmark.desk.commands import Stamp, enter_gauge, enter_limit_sheet, make_setting, start_job
from witnessmark.desk.enter import enter
from witnessmark.desk.state import State, state
from witnessmark.engine.place import location
from witnessmark.record.event import Event
from witnessmark.record.job import Job, Reading
from witnessmark.record.replay import replay

BADLY = 0.02  # share of parts that are badly worn; invented
ZEROS_DROPPED = 0.3  # how often a hand leaves out a last nought


@dataclass(frozen=True, slots=True)
class Wear:
    """A kind of part, in the shop's unit: nominal by side, scatter between heads, parts and stations, and wear.

    `worn` is a mean; the sign says whether wear makes it less or more.
    """

    gauge: str
    inl: float
    exh: float
    head: float
    part: float
    station: float
    worn: float = 0.0
    least: float | None = None  # nothing below this is possible, such as a negative runout


@dataclass(frozen=True, slots=True)
class Shop:
    """Its engine, its gauges, its limit sheet and its parts."""

    name: str
    unit: str
    engine: Mapping[str, object]
    gauges: Mapping[str, Mapping[str, object]]
    set_to: Mapping[str, str]
    limits: str
    parts: Mapping[str, Wear]


def fresh(shop: Shop) -> State:
    """A job with engine, gauges, settings and limits entered, and nothing read."""
    stamp = Stamp("e1", "2026-11-25T08:00:00Z")
    header = {"id": "SIM", "also_measure": [*shop.parts]}
    events: list[Event] = [*start_job(stamp, header, shop.engine)]
    for n, (name, fields) in enumerate(shop.gauges.items()):
        events += enter_gauge(None, replace(stamp, id=f"g{n}"), name, fields)
    bare = state(_replayed(events), heads.catalogue())
    for n, (name, size) in enumerate(shop.set_to.items()):
        events += make_setting(bare, replace(stamp, id=f"s{n}"), name, size, None)
    events += enter_limit_sheet(bare, replace(stamp, id="limits"), shop.limits, "sheet.yaml")
    return state(_replayed(events), heads.catalogue())


def _replayed(events: list[Event]) -> Job:
    return replay(event.stored(n, "") for n, event in enumerate(events, 1))


class Walk:
    """One head being measured. The route is worked out once, since no line here waives or adds a station."""

    def __init__(self, shop: Shop, rng: np.random.Generator) -> None:
        self.shop, self.rng = shop, rng
        self.now = fresh(shop)
        self._kept = {"wanted": self.now.wanted, "route": self.now.route}
        self.readings: list[Reading] = []
        self._part: dict[tuple[str, str], float] = {}
        self._head = {name: rng.normal(0, wear.head) for name, wear in shop.parts.items()}

    def true(self, characteristic: str, place: str) -> float:
        """What a part is at a station, in the shop's unit."""
        wear, key = self.shop.parts[characteristic], (characteristic, location(place))
        if key not in self._part:
            bad = self.rng.uniform(3, 6) if self.rng.uniform() < BADLY else 1.0
            worn = np.copysign(self.rng.exponential(abs(wear.worn)) * bad, wear.worn) if wear.worn else 0.0
            self._part[key] = self._head[characteristic] + self.rng.normal(0, wear.part) + worn
        nominal = wear.exh if "exh" in place else wear.inl
        value = nominal + self._part[key] + self.rng.normal(0, wear.station)
        return value if wear.least is None else max(value, wear.least)

    def typed(self, characteristic: str, place: str) -> str:
        """What a gauge shows there and a hand types."""
        wear = self.shop.parts[characteristic]
        fields = self.shop.gauges[wear.gauge]
        value = self.true(characteristic, place)
        if fields["kind"] == "leaves":
            return _gap(value, [str(leaf) for leaf in fields["set"]])  # type: ignore[attr-defined]
        step = float(str(fields["resolution"]))
        away = value - float(self.shop.set_to.get(wear.gauge, "0"))
        sign = "+" if wear.gauge in self.shop.set_to else ""
        text = f"{float(heads.rounded(np.array(away), step)):{sign}.{heads.decimals(step)}f}"
        return text.rstrip("0").rstrip(".") if "." in text and self.rng.uniform() < ZEROS_DROPPED else text

    def enter(self, characteristic: str, place: str, line: str) -> Outcome:
        """What the desk makes of a line at a station, with nothing kept."""
        gauge = self.shop.parts[characteristic].gauge
        return enter(self.now, Bench(f"r{len(self.readings)}", characteristic, place, gauge=gauge), line)

    def keep(self, outcome: Outcome) -> None:
        """Keep a reading as it came: whoever was asked back said that it is what the gauge shows."""
        body: Mapping[str, Any] = outcome.events[0].body
        if body["meaning"] is None:
            return
        self.readings.append(Reading(
            id=outcome.events[0].id, seq=len(self.readings) + 1, characteristic=body["characteristic"],
            place=body["place"], part=None, round=body["round"], gauge=body["gauge"],
            gauge_revision=body["gauge_revision"], setting=body["setting"], raw=body["raw"], meaning=body["meaning"],
            assumed=(), note="", at="", by="", device="", supersedes=None, superseded_by=None, reason=None,
            temperature=None, question=None, state="counted",
        ))  # fmt: skip
        job = replace(self.now.job, readings=tuple(self.readings))
        self.now = replace(self.now, job=job)
        self.now.__dict__.update(self._kept)


def _gap(value: float, marks: list[str]) -> str:
    """The thickest leaf that enters and the next one."""
    entering = [leaf for leaf in marks if float(leaf) <= value]
    if not entering:
        return "0*"
    if len(entering) == len(marks):
        return marks[-1]
    return f"{entering[-1]} {marks[len(entering)]}"


def _gauge(kind: str, unit: str, step: str) -> dict[str, object]:
    return {"kind": kind, "unit": unit, "resolution": step, "repeatability": {"s": step}}


def _leaves(unit: str, marks: str) -> dict[str, object]:
    return {"kind": "leaves", "unit": unit, "set": marks.split()}


HARBOUR_LANE = Shop(
    "millimetre shop", "mm", heads.ENGINE,
    {
        "M-07": _gauge("micrometer", "mm", "0.001"), "B-02": _gauge("dial_bore", "mm", "0.002"),
        "R-01": _gauge("indicator", "mm", "0.001"), "C-03": _gauge("caliper", "mm", "0.01"),
        "D-01": _gauge("depth_gauge", "mm", "0.01"), "G-01": _gauge("graticule", "mm", "0.1"),
        "F-01": _gauge("spring_tester", "N", "1"),
        "L-04": _leaves("mm", "0.02 0.03 0.04 0.05 0.06 0.07 0.08 0.09 0.10 0.12 0.15 0.20"),
        "L-05": _leaves("mm", "0.10 0.12 0.14 0.16 0.18 0.20 0.22 0.24 0.26 0.28 0.30 0.32 0.34 0.36"),
    },
    {"B-02": "6.000"},
    (files("witnessmark.shell.demo") / "tern-limits.yaml").read_text("utf-8"),
    {
        "head_flatness": Wear("L-04", 0.02, 0.02, 0.01, 0.005, 0.01, 0.02, 0.0),
        "manifold_face_flatness": Wear("L-04", 0.03, 0.03, 0.01, 0.01, 0.01, 0.03, 0.0),
        "head_height": Wear("D-01", 132.9, 132.9, 0.05, 0.0, 0.008),
        "stem_diameter": Wear("M-07", 5.972, 5.957, 0.003, 0.002, 0.003, -0.010),
        "stem_runout": Wear("R-01", 0.004, 0.004, 0.001, 0.002, 0.001, 0.008, 0.0),
        "margin": Wear("C-03", 1.15, 1.25, 0.05, 0.08, 0.02, -0.05),
        "guide_bore": Wear("B-02", 6.008, 6.012, 0.003, 0.002, 0.003, 0.015),
        "seat_width": Wear("G-01", 1.25, 1.65, 0.05, 0.10, 0.05, 0.10),
        "seat_runout": Wear("R-01", 0.010, 0.010, 0.002, 0.004, 0.001, 0.012, 0.0),
        "seat_recession": Wear("D-01", 0.25, 0.25, 0.05, 0.06, 0.01, 0.10),
        "stem_height": Wear("D-01", 43.95, 43.98, 0.05, 0.05, 0.01, 0.06),
        "spring_free_length": Wear("C-03", 48.6, 48.6, 0.15, 0.12, 0.02, -0.25),
        "spring_squareness": Wear("G-01", 0.6, 0.6, 0.1, 0.2, 0.05, 0.3, 0.0),
        "tall_height": Wear("C-03", 38.0, 38.0, 0.0, 0.0, 0.01),
        "tall_load": Wear("F-01", 300.0, 300.0, 5.0, 4.0, 1.0, -6.0),
        "short_height": Wear("C-03", 28.5, 28.5, 0.0, 0.0, 0.01),
        "short_load": Wear("F-01", 690.0, 690.0, 8.0, 8.0, 2.0, -10.0),
        "spring_solid_height": Wear("C-03", 25.4, 25.4, 0.1, 0.1, 0.02),
        "installed_height": Wear("C-03", 38.0, 38.02, 0.05, 0.05, 0.02, 0.07),
        "valve_lift": Wear("R-01", 9.46, 9.41, 0.02, 0.01, 0.002, -0.02),
        "valve_lash": Wear("L-05", 0.21, 0.31, 0.01, 0.02, 0.0, -0.01, 0.0),
        "lash_shim": Wear("M-07", 2.60, 2.55, 0.05, 0.09, 0.001),
        "lobe_height": Wear("M-07", 39.72, 39.62, 0.01, 0.004, 0.003, -0.020),
        "base_circle": Wear("M-07", 30.20, 30.20, 0.005, 0.005, 0.001, -0.003),
        "cam_journal_diameter": Wear("M-07", 24.966, 24.966, 0.002, 0.001, 0.001, -0.004),
        "cam_runout": Wear("R-01", 0.006, 0.006, 0.001, 0.002, 0.001, 0.008, 0.0),
        "bolt_length": Wear("C-03", 110.2, 110.2, 0.05, 0.05, 0.02, 0.15),
    },
)  # fmt: skip

INCH_LIMITS = """format: witnessmark-limits-1
sheet: {name: EG-1, document: Egret workshop book (invented), invented: yes}
limits:
  head_flatness: [{service: {high: 0.004}, unit: in, page: 3}]
  manifold_face_flatness: [{service: {high: 0.006}, unit: in, page: 3}]
  head_height: [{service: {low: 4.980}, unit: in, page: 3}]
  stem_diameter: [{service: {low: 0.3405}, unit: in, stations: worst, page: 4}]
  margin: [{service: {low: 0.031}, unit: in, page: 4}]
  stem_guide_clearance: [{service: {high: 0.0045}, unit: in, stations: worst, page: 4}]
  seat_width: [{service: {low: 0.050, high: 0.090}, unit: in, page: 5}]
  seat_runout: [{service: {high: 0.002}, unit: in, page: 5}]
  stem_height: [{service: {low: 1.900, high: 1.960}, unit: in, page: 5}]
  spring_free_length: [{service: {low: 2.020}, unit: in, page: 6}]
  tall_load: [{service: {low: 80}, unit: lbf, page: 6}]
  installed_height: [{service: {low: 1.690, high: 1.720}, unit: in, page: 6}]
  cam_journal_diameter: [{service: {low: 1.8680}, unit: in, page: 7}]
  cam_runout: [{service: {high: 0.0020}, unit: in, page: 7}]
  lobe_lift: [{service: {low: 0.270}, unit: in, page: 7}]
"""

INCH_SHOP = Shop(
    "inch shop", "in",
    {"layout": "v", "cylinders": "8", "valves": {"inl": "1", "exh": "1"}, "gear": "pushrod",
     "head": "iron", "block": "iron"},
    {
        "M-1": _gauge("micrometer", "in", "0.0001"), "B-1": _gauge("dial_bore", "in", "0.0001"),
        "R-1": _gauge("indicator", "in", "0.0005"), "C-1": _gauge("caliper", "in", "0.001"),
        "D-1": _gauge("depth_gauge", "in", "0.001"), "F-1": _gauge("spring_tester", "lbf", "1"),
        "L-1": _leaves("in", "0.0015 0.002 0.003 0.004 0.005 0.006 0.008 0.010 0.012 0.015 0.018 0.020"),
    },
    {"B-1": "0.3430"},
    INCH_LIMITS,
    {
        "head_flatness": Wear("L-1", 0.001, 0.001, 0.0005, 0.0003, 0.0005, 0.0010, 0.0),
        "manifold_face_flatness": Wear("L-1", 0.002, 0.002, 0.0005, 0.0005, 0.0005, 0.0015, 0.0),
        "head_height": Wear("D-1", 4.995, 4.995, 0.003, 0.0, 0.0006),
        "stem_diameter": Wear("M-1", 0.3415, 0.3411, 0.0001, 0.0001, 0.0001, -0.0004),
        "stem_runout": Wear("R-1", 0.0002, 0.0002, 0.0001, 0.0001, 0.0001, 0.0004, 0.0),
        "margin": Wear("C-1", 0.050, 0.055, 0.002, 0.003, 0.001, -0.002),
        "guide_bore": Wear("B-1", 0.3432, 0.3434, 0.0001, 0.0001, 0.0001, 0.0006),
        "seat_width": Wear("C-1", 0.062, 0.078, 0.002, 0.003, 0.001, 0.004),
        "seat_runout": Wear("R-1", 0.0005, 0.0005, 0.0001, 0.0002, 0.0001, 0.0005, 0.0),
        "seat_recession": Wear("D-1", 0.010, 0.010, 0.002, 0.002, 0.0005, 0.004),
        "stem_height": Wear("D-1", 1.925, 1.926, 0.002, 0.002, 0.0005, 0.003),
        "spring_free_length": Wear("C-1", 2.060, 2.060, 0.006, 0.005, 0.001, -0.010),
        "tall_height": Wear("C-1", 1.700, 1.700, 0.0, 0.0, 0.0005),
        "tall_load": Wear("F-1", 86.0, 86.0, 1.5, 1.5, 0.5, -2.0),
        "short_height": Wear("C-1", 1.250, 1.250, 0.0, 0.0, 0.0005),
        "short_load": Wear("F-1", 225.0, 225.0, 3.0, 3.0, 1.0, -4.0),
        "spring_solid_height": Wear("C-1", 1.150, 1.150, 0.004, 0.004, 0.001),
        "installed_height": Wear("C-1", 1.702, 1.703, 0.002, 0.002, 0.001, 0.003),
        "valve_lift": Wear("R-1", 0.450, 0.460, 0.001, 0.0005, 0.0005, -0.001),
        "lobe_height": Wear("M-1", 1.5210, 1.5290, 0.0004, 0.0002, 0.0001, -0.0010),
        "base_circle": Wear("M-1", 1.2400, 1.2400, 0.0002, 0.0002, 0.0001, -0.0001),
        "cam_journal_diameter": Wear("M-1", 1.8690, 1.8690, 0.0001, 0.00005, 0.00005, -0.0002),
        "cam_runout": Wear("R-1", 0.0004, 0.0004, 0.0001, 0.0001, 0.0001, 0.0004, 0.0),
        "bolt_length": Wear("C-1", 4.310, 4.310, 0.002, 0.002, 0.001, 0.005),
    },
)  # fmt: skip
