"""A bench in memory for the tests: events in, state out, lines typed as a hand types them."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from witnessmark.desk.bench import Bench, Outcome
from witnessmark.desk.enter import enter
from witnessmark.desk.state import Memory, State, state
from witnessmark.judge.result import Result
from witnessmark.record.event import Event
from witnessmark.record.replay import replay
from witnessmark.record.written import sha256
from witnessmark.shell.resources import catalogue

TERN: dict[str, Any] = {
    "layout": "inline", "cylinders": "4", "valves": {"inl": ["f", "r"], "exh": ["f", "r"]}, "gear": "bucket_shim",
    "head": "aluminium",
}  # fmt: skip
MICROMETER = {"kind": "micrometer", "unit": "mm", "resolution": "0.001", "calibration": {"U": "0.002", "k": "2"},
              "repeatability": {"s": "0.0012", "n": "20"}}  # fmt: skip
BORE = {"kind": "dial_bore", "unit": "mm", "resolution": "0.002", "permissible_error": "0.004"}
LEAVES = {
    "kind": "leaves",
    "unit": "mm",
    "set": ["0.03", "0.04", "0.05", "0.06", "0.07", "0.08"],
    "leaf_error": "0.001",
}
STEM = [f"{height}/{way}" for height in ("top", "middle", "bottom") for way in ("along", "across")]


@dataclass
class Shop:
    """One job with its log. `sheet` is the body under `limits:`; every gauge is given by its fields."""

    sheet: str = ""
    engine: dict[str, Any] = field(default_factory=lambda: dict(TERN))
    gauges: dict[str, dict[str, Any]] = field(
        default_factory=lambda: {"M-07": MICROMETER, "B-02": BORE, "L-04": LEAVES}
    )
    device: str = "bench-1"
    log: list[Event] = field(default_factory=list)
    memory: Memory = field(default_factory=Memory)

    def __post_init__(self) -> None:
        self.add("job_opened", {"job": {"id": "HL-1", "engine": "Tern 2.0", "invented": True}, "engine": self.engine})
        for name, fields in self.gauges.items():
            self.add("gauge_entered", {"gauge": name, "fields": fields})
        if self.sheet:
            self.limits(self.sheet)

    def add(self, kind: str, body: dict[str, Any]) -> None:
        n = len(self.log) + 1
        self.log.append(
            Event(f"e{n}", kind, body, at="2026-11-24T09:00:00Z", by="J. M.", device=self.device, device_seq=n, seq=n)
        )

    def limits(self, body: str) -> None:
        head = "format: witnessmark-limits-1\nsheet: {name: TN-3, document: Tern book (invented)}\nlimits:\n"
        text = head + body
        self.add("limits_entered", {"name": "limits.yaml", "text": text, "hash": sha256(text)})

    def set_to(self, gauge: str, size: str, with_: str | None, unit: str = "mm") -> None:
        self.add(
            "setting_made",
            {"setting": f"s{len(self.log)}", "gauge": gauge, "set_to": size, "unit": unit, "with": with_, "s": None},
        )

    def state(self) -> State:
        return state(replay(self.log), catalogue(), memory=self.memory)

    def type(self, characteristic: str, place: str, line: str, gauge: str | None = None, **more: Any) -> Outcome:
        n = len(self.log) + 1
        given = {"device": self.device, "by": "J. M.", "at": "2026-11-24T09:00:00Z", **more}
        bench = Bench(f"e{n}", characteristic, place, gauge=gauge, device_seq=n, **given)
        outcome = enter(self.state(), bench, line)
        self.log += [event.stored(len(self.log) + 1, "") for event in outcome.events]
        return outcome

    def stem(self, valve: str, *readings: str, gauge: str = "M-07") -> None:
        for station, reading in zip(STEM, readings, strict=False):
            assert self.type("stem_diameter", f"{valve}/{station}", reading, gauge).status == "kept"

    def results(self, characteristic: str) -> list[Result]:
        return [result for result in self.state().judgement.results if result.characteristic == characteristic]

    def only(self, characteristic: str) -> Result:
        (result,) = self.results(characteristic)
        return result


def as_plain(results: Iterable[Result]) -> list[tuple[str, str, str]]:
    return [(result.characteristic, result.location, result.verdict) for result in results]
