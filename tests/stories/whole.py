"""A whole head measured clean, for any layout: what the gauge shows at each station, a sheet that limits everything."""

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any

from bench_job import Shop
from witnessmark.catalogue.entry import Characteristic
from witnessmark.desk.bench import Bench
from witnessmark.desk.enter import enter
from witnessmark.desk.state import State
from witnessmark.quantity.unit import unit
from witnessmark.shell.resources import catalogue

# What a gauge in good order shows on an invented head in good order; lengths in mm, loads in N.
CLEAN: Mapping[str, str] = {
    "valve_lash": "0.18 0.20", "valve_lift": "9.200", "lash_shim": "2.500", "head_flatness": "0.03 0.04",
    "manifold_face_flatness": "0.04 0.05", "head_height": "132.900", "stem_diameter": "5.960", "stem_runout": "0.010",
    "margin": "1.300", "guide_bore": "6.000", "stem_wobble": "0.100", "seat_width": "1.300", "seat_runout": "0.020",
    "seat_recession": "0.500", "stem_height": "44.000", "spring_free_length": "48.000", "spring_squareness": "0.800",
    "tall_height": "38.000", "tall_load": "200.000", "short_height": "29.000", "short_load": "470.000",
    "spring_solid_height": "26.000", "installed_height": "38.000", "lobe_height": "45.000", "base_circle": "35.500",
    "cam_journal_diameter": "24.960", "cam_runout": "0.010", "bolt_length": "110.000",
}  # fmt: skip
# What is worked out from them, about which the limits of the sheet lie.
WORKED_OUT = {"stem_taper": 0.0, "stem_guide_clearance": 0.04, "spring_rate": 30.0, "seat_load": 300.0,
              "open_load": 576.0, "coil_bind_clearance": 2.8, "lobe_lift": 9.5, "cam_journal_form": 0.0}  # fmt: skip
DIGITS = {"mm": 6, "N": 6, "in": 7, "lbf": 7}  # far finer than any gauge, so that no unit rounds more than another
Ends = tuple[float | None, float | None]
INSIDE = {"length": "mm", "force": "N", "rate": "N/mm"}
INCH = {"length": "in", "force": "lbf", "rate": "lbf/in"}
LEAVES = ["0.02", "0.03", "0.04", "0.05", "0.06", "0.08", "0.10", "0.15", "0.18", "0.20", "0.25", "0.30"]


def about(entry: Characteristic) -> float:
    """The value that a characteristic has on the clean head, in inside units."""
    return WORKED_OUT[entry.id] if entry.id in WORKED_OUT else float(CLEAN[entry.id].split()[-1])


def sheet_of_everything(units: Mapping[str, str] = INSIDE, close: Mapping[str, Ends] = {}) -> str:
    """A limit for every characteristic: half of its clean value to twice, no low end for runouts; `close` is closer."""
    return "".join(_limit(entry, units[entry.quantity], close) for entry in catalogue().characteristics.values())


def _limit(entry: Characteristic, name: str, close: Mapping[str, Ends]) -> str:
    scale = float(unit(name, entry.quantity).factor)
    value = about(entry)
    ends = close.get(entry.id) or (value / 2 if value >= 0.5 else None, max(2 * value, 0.4))
    words = [f"{word}: {end / scale:.9f}" for word, end in zip(("low", "high"), ends, strict=True) if end is not None]
    return f"  {entry.id}:\n    - {{service: {{{', '.join(words)}}}, unit: {name}, page: 1}}\n"


def register(units: Mapping[str, str] = INSIDE) -> dict[str, dict[str, Any]]:
    """One gauge of each kind, in millimetre or inch, with the same doubt in both."""
    found: dict[str, dict[str, Any]] = {}
    for kind in catalogue().gauge_kinds.values():
        name = units["force"] if kind.unit == "N" else units["length"]
        scale = Fraction(unit(name).factor)
        of = lambda mm, scale=scale: f"{float(Fraction(str(mm)) / scale):.9f}"  # noqa: E731
        found[kind.kind] = {"kind": kind.kind, "unit": name, "calibration": {"U": of(0.002), "k": "2"},
                            "repeatability": {"s": of(0.001), "n": "20"}}  # fmt: skip
        if kind.kind == "leaves":
            found[kind.kind] = {"kind": "leaves", "unit": name, "leaf_error": of(0.001),
                                "set": [typed(leaf, name) for leaf in LEAVES]}  # fmt: skip
        else:
            found[kind.kind]["resolution"] = f"{10.0 ** -DIGITS[name]:.{DIGITS[name]}f}"
    return found


def typed(mm: str, name: str) -> str:
    """What is typed for a value in mm (or N) where the gauge shows another unit, fine enough to be the same value."""
    scale = Fraction(unit(name).factor)
    return " ".join(f"{float(Fraction(one) / scale):.{DIGITS[name]}f}" for one in mm.split())


def clean_lines(state: State, units: Mapping[str, str] = INSIDE) -> dict[tuple[str, str], str]:
    """What is typed at every station of the route."""
    of = {name: units["force" if entry.quantity == "force" else "length"]
          for name, entry in catalogue().characteristics.items()}  # fmt: skip
    return {(stop.characteristic, stop.place): typed(CLEAN[stop.characteristic], of[stop.characteristic])
            for stop in state.route}  # fmt: skip


def measure(shop: Shop, lines: Mapping[tuple[str, str], str], gauges: Mapping[str, str | None] | None = None) -> None:
    """Type each line at its station, the state worked out anew for each characteristic; every one must be kept."""
    now, state = "", shop.state()
    for (characteristic, place), line in lines.items():
        if characteristic != now:
            now, state = characteristic, shop.state()
        gauge = gauges[characteristic] if gauges else None
        n = len(shop.log) + 1
        bench = Bench(f"e{n}", characteristic, place, gauge=gauge, by="J. M.", device=shop.device, device_seq=n,
                      at="2026-11-24T09:00:00Z")  # fmt: skip
        outcome = enter(state, bench, line)
        assert outcome.status == "kept", (characteristic, place, line, outcome.status, outcome.detail)
        shop.log += [replace(event, seq=len(shop.log) + 1) for event in outcome.events]


def usual_gauges(names: Mapping[str, str] | None = None) -> dict[str, str | None]:
    """The gauge of the register for each characteristic: the one of its usual kind, by its name there."""
    return {name: (names or {}).get(entry.usual_gauge, entry.usual_gauge)
            for name, entry in catalogue().characteristics.items() if entry.measured}  # fmt: skip
