"""A job as a value: what replay makes of the events. Everything is plain text or plain data, nothing is judged."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

Plain = Mapping[str, Any]

COUNTED, ASKED, SUPERSEDED, TAKEN_BACK, MEASURE_AGAIN = (
    "counted", "asked", "superseded", "taken back", "measure again")


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading with its raw text and accepted meaning; `state` says whether it counts.

    state   counted, asked (a question about it is open, or two corrections of one reading contend), superseded,
            taken back, measure again (the answer to its question).
    meaning the accepted one: of the reading itself, or of the answer that was given; None while there is none.
    """

    id: str
    seq: int
    characteristic: str
    place: str
    part: str | None
    round: str
    gauge: str | None
    gauge_revision: int | None
    setting: str | None
    raw: str
    meaning: Plain | None
    assumed: tuple[str, ...]
    note: str
    at: str
    by: str
    device: str
    supersedes: str | None
    superseded_by: str | None
    reason: str | None
    temperature: Plain | None
    question: Plain | None
    state: str
    answered: int | None = None
    reader: str = "1"
    received_at: str = ""


@dataclass(frozen=True, slots=True)
class GaugeRevision:
    """What was known of a gauge from one event on. `state`: current, earlier, stale (a conflict), taken back."""

    gauge: str
    revision: int
    fields: Plain
    event: str
    seq: int = 0
    at: str = ""
    by: str = ""
    state: str = "current"


@dataclass(frozen=True, slots=True)
class Setting:
    """A comparing gauge set to a size: every reading that names it shares its error."""

    setting: str
    gauge: str
    set_to: str
    unit: str
    with_: str | None
    s: str | None
    event: str
    seq: int = 0
    at: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """A part by its own name, wherever it is put."""

    part: str
    kind: str
    at: str | None
    new: bool
    event: str


@dataclass(frozen=True, slots=True)
class LimitsText:
    """The limit sheet as text, as it was entered."""

    name: str
    text: str
    hash: str
    event: str


@dataclass(frozen=True, slots=True)
class Waived:
    """Someone said that a place is not, or cannot be, measured. `scope`: place, or rest (of this series)."""

    characteristic: str
    place: str
    round: str
    scope: str
    reason: str
    event: str
    seq: int = 0
    at: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True)
class Note:
    """A remark about an event or a place."""

    about: str
    text: str
    event: str
    seq: int = 0
    at: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True)
class Conflict:
    """Two events that cannot both hold; both are kept until a person settles it.

    kind    two corrections | two answers | stale | circle | one name twice
    """

    kind: str
    about: str
    events: tuple[str, ...]
    text: str


@dataclass(frozen=True, slots=True)
class Waiting:
    """An event that points at an event, or a reading at a setting, that has not come yet."""

    event: str
    needs: str


@dataclass(frozen=True, slots=True)
class Kept:
    """An event that is kept and reported, but that this version could not apply, and why."""

    event: str
    kind: str
    why: str


@dataclass(frozen=True, slots=True)
class Job:
    """The snapshot of one job after its events; `seq` is that of the last event seen."""

    id: str
    header: Plain
    engine: Plain
    gauges: Mapping[str, tuple[GaugeRevision, ...]]
    parts: Mapping[str, Part]
    settings: Mapping[str, Setting]
    limits: LimitsText | None
    readings: tuple[Reading, ...]
    waived: tuple[Waived, ...]
    notes: tuple[Note, ...]
    questions: tuple[Reading, ...]
    conflicts: tuple[Conflict, ...]
    waiting: tuple[Waiting, ...]
    kept: tuple[Kept, ...]
    taken_back: tuple[str, ...]
    seq: int
    engine_event: str | None = None  # id of the entry that describes the engine, for the next one to be based on


def gauge_now(job: Job, gauge: str) -> GaugeRevision | None:
    """The revision of a gauge that new readings take, or None for a gauge that the job does not know."""
    return next((one for one in reversed(job.gauges.get(gauge, ())) if one.state == "current"), None)


def gauge_then(job: Job, reading: Reading) -> GaugeRevision | None:
    """The revision of its gauge that a reading was made with; None for a gauge that is assumed or unknown."""
    revisions = job.gauges.get(reading.gauge or "", ())
    return next((one for one in revisions if one.revision == reading.gauge_revision), None)
