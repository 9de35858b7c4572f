"""What may be done to a job besides measuring: start it, describe the engine, enter gauges, limits, settings, parts.

Each gives the events to be stored, or raises Refused with a sentence and, for a file, every fault with its place.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from witnessmark.desk.bench import Refused, in_use, last_setting
from witnessmark.desk.enter import REASONS
from witnessmark.desk.gauge import checked_fields
from witnessmark.desk.state import State
from witnessmark.engine.layout import LayoutError, layout
from witnessmark.limits.read import read_sheet
from witnessmark.quantity.amount import Amount
from witnessmark.quantity.read import read
from witnessmark.record.event import Event
from witnessmark.record.job import Job
from witnessmark.record.meant import exact
from witnessmark.record.written import sha256
from witnessmark.text.fault import Faulty


@dataclass(frozen=True, slots=True)
class Stamp:
    """Who does it, when, on which device, and the id of the event."""

    id: str
    at: str
    by: str = ""
    device: str = ""
    device_seq: int = 0
    received: str = ""

    def event(self, kind: str, body: Mapping[str, Any], suffix: str = "") -> Event:
        """An event with this stamp."""
        return Event(self.id + suffix, kind, body, self.at, self.by, self.device, self.device_seq, self.received)


def start_job(stamp: Stamp, job: Mapping[str, Any], engine: Mapping[str, Any] | None) -> tuple[Event, ...]:
    """Open a job. The engine may wait; what is told of it must hold together."""
    if not str(job.get("id") or "").strip():
        raise Refused("a job needs a number: the one on its tag, such as HL-0147")
    if engine:
        checked_layout(engine)
    return (stamp.event("job_opened", {"job": dict(job), "engine": dict(engine) if engine else None}),)


def checked_layout(engine: Mapping[str, Any]) -> None:
    """Raise Refused when a layout does not hold together, telling every fault."""
    try:
        layout(engine)
    except LayoutError as error:
        raise Refused(str(error), tuple(getattr(error, "faults", ()))) from None


def describe_engine(state: State, stamp: Stamp, engine: Mapping[str, Any]) -> tuple[Event, ...]:
    """Describe the engine anew; readings at places that it no longer has stay in the record."""
    checked_layout(engine)
    return (stamp.event("engine_described", {"engine": dict(engine), "based_on": state.job.engine_event}),)


def enter_gauge(state: State | None, stamp: Stamp, gauge: str, fields: Mapping[str, Any]) -> tuple[Event, ...]:
    """Enter a gauge, or a new revision of one: readings made before keep the revision they were made with."""
    name = gauge.strip()
    if not name:
        raise Refused("a gauge needs a name: the one engraved on it, such as M-07")
    kinds = state.catalogue.gauge_kinds if state else {}
    kind = str(fields.get("kind") or "")
    if state and kind not in kinds:
        raise Refused(f"gauge {name}: kind '{kind[:60]}' is not known; write one of {', '.join(sorted(kinds))}")
    kept = checked_fields(name, fields, kinds[kind].reads if kind in kinds else "")
    revisions = state.job.gauges.get(name, ()) if state else ()
    based_on = revisions[-1].event if revisions else None
    return (stamp.event("gauge_entered", {"gauge": name, "fields": kept, "based_on": based_on}),)


def enter_limit_sheet(state: State, stamp: Stamp, text: str, name: str) -> tuple[Event, ...]:
    """Take a limit sheet whole. Every fault is told with line and column, and then nothing is taken."""
    try:
        read_sheet(text, name, state.catalogue)
    except Faulty as faulty:
        raise Refused(f"{name} cannot be taken: {len(faulty.faults)} to mend", tuple(faulty.faults)) from None
    body = {
        "name": name,
        "text": text,
        "hash": sha256(text),
        "based_on": state.job.limits.event if state.job.limits else None,
    }
    return (stamp.event("limits_entered", body),)


def make_setting(state: State, stamp: Stamp, gauge: str, set_to: str, with_: str | None) -> tuple[Event, ...]:
    """Set a comparing gauge to a size: what it reads from now on is a deviation from it."""
    revisions = state.job.gauges.get(gauge)
    if not revisions:
        raise Refused(f"no gauge {gauge} in the register of this job; enter it first")
    if with_ and with_ == gauge:
        raise Refused(f"gauge {gauge} cannot be its own master; name what it was set with")
    if with_ and with_ not in state.job.gauges:
        raise Refused(f"no gauge {with_} in the register of this job; enter what {gauge} was set with first")
    unit = str(revisions[-1].fields.get("unit") or "mm")
    found = read(set_to, unit)
    if not isinstance(found, Amount):
        raise Refused(f"set to '{set_to}': {getattr(found, 'message', getattr(found, 'question', ''))}")
    if found.value <= 0:
        raise Refused(f"set to '{set_to}': the size that it was set to is more than 0")
    number = len([s for s in state.job.settings.values() if s.gauge == gauge]) + 1
    written = found.text.strip() if found.unit == unit and _plain(found.text) else exact(found.value)
    body = {
        "setting": f"{gauge}-s{number}-{stamp.id[-6:]}",
        "gauge": gauge,
        "set_to": written,
        "unit": found.unit,
        "with": with_ or None,
        "s": None,
    }
    return (stamp.event("setting_made", body),)


def _plain(text: str) -> bool:
    return text.strip().replace(".", "", 1).isdigit()


def enter_part(state: State, stamp: Stamp, part: str, kind: str, at: str | None, new: bool) -> tuple[Event, ...]:
    """Give a part its name: this valve, that spare one."""
    if not part.strip():
        raise Refused("a part needs a name, such as v-3f or spare-1")
    return (stamp.event("part_entered", {"part": part.strip(), "kind": kind, "at": at, "new": new, "based_on": None}),)


def give_reason(state: State, stamp: Stamp, reading: str, digit: str) -> tuple[Event, ...]:
    """One digit after a correction: why it was made."""
    found = state.reading(reading)
    if found is None or not found.supersedes:
        raise Refused(f"reading {reading} corrects no other one, so it needs no reason")
    if digit not in REASONS:
        told = ", ".join(f"{key} {word}" for key, word in REASONS.items())
        raise Refused(f"'{digit}' is no reason; type one digit: {told}")
    return (stamp.event("noted", {"about": reading, "text": f"reason: {REASONS[digit]}"}),)


def note(state: State, stamp: Stamp, about: str, text: str) -> tuple[Event, ...]:
    """A remark about a reading or a place."""
    if not text.strip():
        raise Refused("the note is empty; type it, or go on measuring")
    return (stamp.event("noted", {"about": about, "text": text.strip()}),)


def take_back(state: State, stamp: Stamp, event: str) -> tuple[Event, ...]:
    """Take one event back; taking back the take-back brings it again."""
    if not event:
        raise Refused("name the event to take back")
    return (stamp.event("taken_back", {"event": event}),)


# kinds that stand in for each other: what spans a thickness, a bore, a movement, a height
BORES = ("small_hole", "dial_bore")
FAMILIES = (
    ("micrometer", "micrometer_coarse", "caliper"),
    BORES,
    ("indicator", "lever_indicator"),
    ("depth_gauge", "height_gauge", "spring_height_gauge"),
)


def gauges_for(state: State, characteristic: str, *, close: bool = False) -> Sequence[str]:
    """Gauges of the register that can read a characteristic: its usual kind first, then what stands in for it.

    `close` leaves out those that only share the dimension, such as a height gauge for a stem.
    """
    usual = state.catalogue.characteristics[characteristic].usual_gauge
    if not usual:
        return ()  # it is looked at
    wanted = state.catalogue.gauge_kinds[usual]
    family = next((kinds for kinds in FAMILIES if usual in kinds), (usual,))
    found: list[tuple[int, str]] = []
    for name, revisions in state.job.gauges.items():
        kind = state.catalogue.gauge_kinds.get(str(revisions[-1].fields.get("kind")))
        alike = kind and kind.quantity == wanted.quantity and (kind.reads == "leaves") == (wanted.reads == "leaves")
        if kind and alike and kind.reads != "size" and (kind.kind in BORES) == (usual in BORES):
            rank = 0 if kind.kind == usual else 1 if kind.kind in family else 2
            found.append((rank, name))
    return tuple(name for rank, name in sorted(found, key=lambda pair: pair[0]) if rank < 2 or not close)


def usable(state: State, characteristic: str, gauge: str | None) -> str:
    """Why a gauge in hand cannot be used here yet, with what to do; empty when it can."""
    entry = state.catalogue.characteristics[characteristic]
    if entry.kind == "look":
        return ""
    use = in_use(state, gauge, entry)
    if use.kind == "dial_bore" and gauge and last_setting(state, gauge) is None:
        return f"{gauge} reads deviations: say first what it was set to"
    return ""


def job_with(job: Job) -> dict[str, Any]:
    """The header of a job as plain data."""
    return {"id": job.id, **dict(job.header)}
