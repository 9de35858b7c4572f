"""A whole head measured clean, for any layout: what the gauge shows at each station, a sheet that limits everything."""

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any

from bench_job import Shop
from stories.clean import CLEAN, READ_IN, ROUGH, WORKED_OUT
from witnessmark.catalogue.entry import Characteristic
from witnessmark.desk.bench import Bench
from witnessmark.desk.enter import enter
from witnessmark.desk.state import State
from witnessmark.quantity.unit import unit
from witnessmark.shell.resources import catalogue

# Far finer than any gauge, so that no unit rounds more than another.
DIGITS = {"mm": 6, "N": 6, "in": 7, "lbf": 7, "psi": 7, "lbf·ft": 7, "in³": 8}
Ends = tuple[float | None, float | None]
INSIDE: Mapping[str, str] = READ_IN
INCH = {**READ_IN, "length": "in", "force": "lbf", "rate": "lbf/in", "pressure": "psi", "volume": "in³", "torque": "lbf·ft"}
LEAVES = ["0.02", "0.03", "0.04", "0.05", "0.06", "0.08", "0.10", "0.15", "0.18", "0.20", "0.25", "0.30"]


def about(entry: Characteristic) -> float:
    """The value that a characteristic has on the clean head, in inside units."""
    if entry.id in WORKED_OUT:
        return WORKED_OUT[entry.id]
    return float(CLEAN[entry.id].split()[-1]) * float(unit(_written(entry.id, entry.quantity), entry.quantity).factor)


def _written(name: str, quantity: str) -> str:
    return ROUGH.get(name) or READ_IN[quantity]


def sheet_of_everything(units: Mapping[str, str] = INSIDE, close: Mapping[str, Ends] = {}) -> str:
    """A limit for every characteristic: half of its clean value to twice, no low end for runouts; `close` is closer."""
    return "".join(_limit(entry, units[entry.quantity], close) for entry in catalogue().characteristics.values()
                   if entry.kind != "reckoned")


def _limit(entry: Characteristic, name: str, close: Mapping[str, Ends]) -> str:
    if entry.kind == "look":
        good = ", ".join(answer for answer, sort in entry.says.items() if sort == "good")
        return f"  {entry.id}:\n    - {{accept: [{good}], page: 1}}\n"
    scale = float(unit(name, entry.quantity).factor)
    value = about(entry)
    most = 2 * value if entry.id in ROUGH else max(2 * value, 0.4)
    ends = close.get(entry.id) or (value / 2 if value >= 0.5 else None, most)
    words = [f"{word}: {end / scale:.9f}" for word, end in zip(("low", "high"), ends, strict=True) if end is not None]
    return f"  {entry.id}:\n    - {{service: {{{', '.join(words)}}}, unit: {name}, page: 1}}\n"


def register(units: Mapping[str, str] = INSIDE) -> dict[str, dict[str, Any]]:
    """One gauge of each kind, in millimetre or inch, with the same doubt in both."""
    found: dict[str, dict[str, Any]] = {}
    for kind in catalogue().gauge_kinds.values():
        if kind.reads == "size":
            continue  # a master is read with another gauge
        name = kind.unit if kind.unit in ROUGH.values() else units[kind.quantity]
        scale = Fraction(unit(name, kind.quantity).factor)
        of = lambda mm, scale=scale: f"{float(Fraction(str(mm)) / scale):.9f}"  # noqa: E731
        found[kind.kind] = {"kind": kind.kind, "unit": name, "calibration": {"U": of(0.002), "k": "2"},
                            "repeatability": {"s": of(0.001), "n": "20"}}  # fmt: skip
        if kind.kind == "leaves":
            found[kind.kind] = {"kind": "leaves", "unit": name, "leaf_error": of(0.001),
                                "set": [typed(leaf, "mm", name) for leaf in LEAVES]}  # fmt: skip
        else:
            found[kind.kind]["resolution"] = f"{10.0 ** -_digits(name):.{_digits(name)}f}"
    return found


def _digits(name: str) -> int:
    return DIGITS.get(name, 6)


def typed(line: str, written: str, name: str, quantity: str = "length") -> str:
    """What is typed for a line in one unit where the gauge shows another, fine enough to be the same value."""
    scale = Fraction(unit(name, quantity).factor) / Fraction(unit(written, quantity).factor)
    return " ".join(f"{float(Fraction(one) / scale):.{_digits(name)}f}" for one in line.split())


def clean_line(name: str, units: Mapping[str, str] = INSIDE) -> str:
    """What is typed for a characteristic in good order: the first answer of a look, else the value."""
    entry = catalogue().characteristics[name]
    if entry.kind == "look":
        return "1"
    if name in ROUGH:
        return typed(CLEAN[name], ROUGH[name], ROUGH[name])
    return typed(CLEAN[name], _written(name, entry.quantity), units[entry.quantity], entry.quantity)


def clean_lines(state: State, units: Mapping[str, str] = INSIDE) -> dict[tuple[str, str], str]:
    """What is typed at every station of the route."""
    found = {name: clean_line(name, units) for name in {stop.characteristic for stop in state.route}}
    return {(stop.characteristic, stop.place): found[stop.characteristic] for stop in state.route}


def measure(shop: Shop, lines: Mapping[tuple[str, str], str], gauges: Mapping[str, str | None] | None = None) -> None:
    """Type each line at its station, the state worked out anew for each characteristic; every one must be kept."""
    now, state = "", shop.state()
    for (characteristic, place), line in lines.items():
        if characteristic != now:
            now, state = characteristic, shop.state()
        gauge = gauges.get(characteristic) if gauges else None
        n = len(shop.log) + 1
        bench = Bench(f"e{n}", characteristic, place, gauge=gauge, by="J. M.", device=shop.device, device_seq=n,
                      at="2026-11-24T09:00:00Z")  # fmt: skip
        outcome = enter(state, bench, line)
        assert outcome.status == "kept", (characteristic, place, line, outcome.status, outcome.detail)
        shop.log += [replace(event, seq=len(shop.log) + 1) for event in outcome.events]


def measure_together(shop: Shop, units: Mapping[str, str] = INSIDE, **more: str) -> None:
    """Everything that is asked of the engine once it is assembled: read in that round, in good order.

    `more` are other lines than the clean one: of a characteristic, at all of its places.
    """
    for name, places in shop.state().wanted.together.items():
        for place in places:
            outcome = shop.type(name, place, more.get(name) or clean_line(name, units), round="as assembled")
            assert outcome.status == "kept", (name, place, outcome.status, outcome.detail)


def usual_gauges(names: Mapping[str, str] | None = None) -> dict[str, str | None]:
    """The gauge of the register for each characteristic: the one of its usual kind, by its name there."""
    return {name: (names or {}).get(entry.usual_gauge, entry.usual_gauge)
            for name, entry in catalogue().characteristics.items() if entry.usual_gauge}  # fmt: skip
