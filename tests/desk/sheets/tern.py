"""A head to look at: the Tern 2.0 (invented), half measured, with every verdict, a question, gaps and leaves."""

from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import Any

import witnessmark.catalogue as catalogue_room
from witnessmark.catalogue.entry import Catalogue
from witnessmark.catalogue.load import load
from witnessmark.desk.state import State, state
from witnessmark.record.event import Event
from witnessmark.record.replay import replay

ENGINE: dict[str, Any] = {
    "layout": "inline", "cylinders": "4", "valves": {"inl": ["f", "r"], "exh": ["f", "r"]}, "gear": "bucket_shim",
    "head": "aluminium",
}  # fmt: skip
SINGLE: dict[str, Any] = {
    "layout": "inline", "cylinders": "1", "valves": {"inl": "1", "exh": "1"}, "gear": "rocker", "head": "aluminium",
}  # fmt: skip
EIGHT: dict[str, Any] = {
    "layout": "v", "cylinders": "8", "valves": {"inl": "1", "exh": "1"}, "gear": "pushrod_hydraulic", "head": "iron",
}  # fmt: skip
LIMITS = """\
format: witnessmark-limits-1
sheet: {name: TN-3, document: invented, doubt: must be proven good}
limits:
  head_flatness:
    - {service: {high: "0.05"}, unit: mm, stations: worst, page: 40}
  stem_diameter:
    - {for: inl, service: {low: "5.940"}, new: {low: "5.965", high: "5.980"}, unit: mm, stations: worst, page: 41}
    - {for: exh, service: {low: "5.925"}, new: {low: "5.950", high: "5.965"}, unit: mm, stations: worst, page: 41}
  margin:
    - {service: {low: "0.8"}, unit: mm, page: 41}
  seat_runout:
    - {service: {high: "0.05"}, unit: mm, page: 42}
  stem_height:
    - {service: {low: "43.75", high: "44.25"}, unit: mm, page: 42}
  installed_height:
    - {service: {low: "37.8", high: "38.3"}, unit: mm, page: 43}
  valve_lash:
    - {for: inl, service: {low: "0.15", high: "0.25"}, unit: mm, page: 44}
    - {for: exh, service: {low: "0.25", high: "0.35"}, unit: mm, page: 44}
operations:
  skim: {allowed: up to, most: "0.20", unit: mm, page: 40}
"""
GAUGES: dict[str, dict[str, Any]] = {
    "M-07": {"kind": "micrometer", "unit": "mm", "resolution": "0.001",
             "calibration": {"U": "0.002", "k": "2", "date": "2026-03-02"},
             "repeatability": {"s": "0.0012", "n": "20"}},
    "D-01": {"kind": "depth_gauge", "unit": "mm", "resolution": "0.01", "calibration": {"U": "0.01", "k": "2"}},
    "R-01": {"kind": "indicator", "unit": "mm", "resolution": "0.001", "calibration": {"U": "0.004", "k": "2"}},
    "C-03": {"kind": "caliper", "unit": "mm", "resolution": "0.01", "calibration": {"U": "0.03", "k": "2"}},
    "L-04": {"kind": "leaves", "unit": "mm", "leaf_error": "0.001",
             "set": [f"0.{n:02d}" for n in range(2, 40)]},
}  # fmt: skip
HEIGHTS = ("top", "middle", "bottom")


@lru_cache
def catalogue() -> Catalogue:
    """The catalogue of the package."""
    folder = Path(catalogue_room.__file__).parent / "data"
    return load({path.name: path.read_text("utf-8") for path in sorted(folder.glob("*.yaml"))})


def valves(number: int = 4) -> list[str]:
    """Ids of the valves of a four with two of each kind, by cylinder."""
    return [f"{side}-{n}{at}" for n in range(1, number + 1) for side in ("inl", "exh") for at in "fr"]


def reading(name: str, characteristic: str, place: str, raw: str, gauge: str | None, **more: Any) -> Event:
    """A reading with the meaning that its raw text has in millimetres, leaves as two numbers."""
    words = raw.split()
    step = f"0.{'0' * (len(words[0].partition('.')[2]) - 1)}1"
    number = {"kind": "number", "value": words[0], "unit": "mm", "step": step}
    leaves = {"kind": "interval", "low": words[0], "high": words[-1], "unit": "mm"}
    body = {"characteristic": characteristic, "place": place, "round": "as found", "raw": raw, "gauge": gauge,
            "meaning": leaves if len(words) > 1 else number, "assumed": []} | more  # fmt: skip
    return Event(name, "reading_taken", body, at="2026-11-24T10:42:18+01:00", by="J. M.", device="tablet")


def opening(engine: dict[str, Any], limits: str = LIMITS, gauges: bool = True) -> list[Event]:
    """The first events of a job."""
    job = {"id": "HL-0147", "engine": "Tern 2.0", "invented": True, "works": "Harbour Lane Engine Works",
           "complaint": "overheated, head off"}  # fmt: skip
    events = [Event("o1", "job_opened", {"job": job, "engine": engine}, at="2026-11-24T08:00:00+01:00", by="J. M.")]
    if limits:
        body = {"name": "TN-3", "text": limits, "hash": sha256(limits.encode()).hexdigest()}
        events.append(Event("o2", "limits_entered", body, by="J. M."))
    if gauges:
        events += [Event(f"g-{n}", "gauge_entered", {"gauge": n, "fields": f}, by="J. M.") for n, f in GAUGES.items()]
    return events


def stems() -> list[Event]:
    """Stems of all but the fourth cylinder's inlets; Inl 1R is worn out, Inl 2F is close, Inl 2R has one question."""
    least = {"inl-1r": 5.931, "inl-2f": 5.941}
    found: list[Event] = []
    for n, valve in enumerate(valve for valve in valves() if not valve.startswith("inl-4")):
        base = least.get(valve, (5.958 if valve.startswith("inl") else 5.941) + 0.002 * (n % 5))
        for k, (height, way) in enumerate((h, w) for h in HEIGHTS for w in ("along", "across")):
            size = base if (height, way) == ("middle", "across") else base + 0.003 + 0.001 * (k % 3)
            found.append(reading(f"st-{valve}-{k}", "stem_diameter", f"{valve}/{height}/{way}", f"{size:.3f}", "M-07"))
    return found


def heights() -> list[Event]:
    """One reading each of margin, runout and heights; Exh 3F is sunk."""
    found: list[Event] = []
    for n, valve in enumerate(valves()):
        sunk, worn = valve == "exh-3f", 0.01 * (n % 4)
        rows = {
            "margin": (0.71 if sunk else 1.3 - 5 * worn, "C-03", 2),
            "seat_runout": (0.049 if sunk else 0.058 if valve == "inl-1r" else 0.02 + worn / 4, "R-01", 3),
            "stem_height": (44.30 if sunk else 43.98 + worn, "D-01", 2),
            "installed_height": (38.36 if sunk else 38.02 + worn, "D-01", 2),
        }
        found += [reading(f"{key}-{valve}", key, valve, f"{size:.{places}f}", gauge)
                  for key, (size, gauge, places) in rows.items()]  # fmt: skip
    return found


def lash() -> list[Event]:
    """Lash by leaves, all but the exhausts of the fourth cylinder."""
    found = []
    for valve in valves():
        if valve.startswith("exh-4"):
            continue
        middle = 20 if valve.startswith("inl") else 30
        low = {"inl-1r": 12, "exh-3f": 14, "exh-1r": 24}.get(valve, middle - 1)
        found.append(reading(f"la-{valve}", "valve_lash", valve, f"0.{low:02d} 0.{low + 2:02d}", "L-04"))
    return found


def flatness() -> list[Event]:
    """Six lines of the gasket face; one diagonal is hollow."""
    lows = {"inlet-edge": 3, "exhaust-edge": 4, "front-end": 2, "rear-end": 2, "diagonal-1": 6, "diagonal-2": 4}
    return [
        reading(f"f-{line}", "head_flatness", f"gasket-face/{line}", f"0.0{low} 0.0{low + 1}", "L-04")
        for line, low in lows.items()
    ]


def asked() -> list[Event]:
    """A reading of Inl 2R that looks like inches, kept and asked back, in place of an honest one."""
    question = {"kind": "slip", "text": "Inl 2R came as 0.2351: 25.3 times under its neighbours.", "answers": [
        {"label": "it was inch", "meaning": {"kind": "number", "value": "0.2351", "unit": "in", "step": "0.0001"},
         "do": "take"},
        {"label": "it was mm", "meaning": {"kind": "number", "value": "0.2351", "unit": "mm", "step": "0.0001"},
         "do": "take"},
        {"label": "measure again", "meaning": None, "do": "measure again"},
    ]}  # fmt: skip
    slip = reading("slip", "stem_diameter", "inl-2r/bottom/across", "0.2351", "M-07", question=question, meaning=None)
    return [Event("tb", "taken_back", {"event": "st-inl-2r-5"}, by="J. M."), slip]


def events(engine: dict[str, Any] | None = None, with_readings: bool = True, limits: str = LIMITS) -> tuple[Event, ...]:
    """The whole job in the order of its record."""
    found = opening(ENGINE if engine is None else engine, limits)
    if with_readings:
        found += [*flatness(), *stems(), *heights(), *lash(), *asked()]
    return tuple(event.stored(n, "2026-11-24T10:42:18+01:00") for n, event in enumerate(found, 1))


def tern(engine: dict[str, Any] | None = None, with_readings: bool = True) -> State:
    """Its state on the desk."""
    return state(replay(events(engine, with_readings)), catalogue())
