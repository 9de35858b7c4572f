"""Labels for trays and caps: which part lies here, of which job, and a code that opens its place on the bench.

Each valve has one for itself, one for its spring with retainer and keepers, and one for what moves it; each camshaft
bearing has one for its cap, each head bolt one.

Code    `WM:JOB/PLACE`, or with the address of a bench `http://host:port/at/JOB/PLACE`, which any phone can follow.
        Without one a label stays true wherever the store is served; the bench reads both.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import quote

from witnessmark.desk.sheets.phrase import shown
from witnessmark.desk.state import State
from witnessmark.engine.layout import Layout
from witnessmark.engine.walk import locations

MARK = "WM:"
_BASE = re.compile(r"https?://[^\s/?#]+(:\d+)?(/[^\s?#]*)?")
_FOLLOWERS = {
    "bucket_shim": "bucket and shim",
    "bucket_shim_under": "bucket and shim",
    "bucket_hydraulic": "bucket",
    "finger_hydraulic": "finger and pivot",
    "finger_screw": "finger and pivot",
    "rocker": "rocker",
    "rocker_hydraulic": "rocker and adjuster",
    "pushrod": "rocker, pushrod, lifter",
    "pushrod_hydraulic": "rocker, pushrod, lifter",
}


class NoLabels(ValueError):
    """Labels that cannot be made; the message says what is wanted."""


@dataclass(frozen=True, slots=True)
class Label:
    """One label: the place large, the part under it, the job, and what its code says."""

    place: str
    name: str
    part: str
    job: str
    code: str


def labels(state: State, base: str = "") -> tuple[Label, ...]:
    """Every label of the engine, valve by valve, then caps, then bolts. Raises NoLabels."""
    if state.layout is None:
        raise NoLabels("the engine is not described yet; its layout tells which parts there are to label")
    engine = " · ".join(filter(None, (state.job.id, str(state.job.header.get("engine") or ""),
                                      str(state.job.header.get("head_number") or ""))))
    return tuple(
        Label(place, _name(place), part, engine, address(state.job.id, place, base))
        for place, part in _parts(state.layout)
    )


def address(job: str, place: str, base: str = "") -> str:
    """What the code of a place says: `WM:HL-0147/inl-3f`, or the address of the bench. Raises NoLabels."""
    path = f"{quote(job, safe='')}/{quote(place)}"
    if not base:
        return f"{MARK}{path}"
    if not _BASE.fullmatch(base):
        raise NoLabels(f"{base[:80]!r} is no address of a bench; write it like http://192.168.1.20:8620")
    return f"{base.rstrip('/')}/at/{path}"


def _parts(layout: Layout) -> Iterable[tuple[str, str]]:
    springs = "springs, retainer, keepers" if layout.springs > 1 else "spring, retainer, keepers"
    for valve in locations(layout, "valve"):
        for part in ("valve", springs, _FOLLOWERS[layout.gear]):
            yield valve, part
    if not layout.cam_in_block:
        for cap in locations(layout, "cam_cap"):
            yield cap, "cam cap"
    for bolt in locations(layout, "bolt"):
        yield bolt, "head bolt"


def _name(place: str) -> str:
    """The place as it is read across a bench: `Inl 3F`, `Inl cam 3`, `Left bolt 7`."""
    return shown(place).replace("journal ", "")
