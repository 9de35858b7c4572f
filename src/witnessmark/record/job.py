"""A job as a value: what replay makes of the events. Everything is plain text or plain data, nothing is judged."""

from collections.abc import Mapping
from dataclasses import dataclass, field
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
    method: str | None = None  # how it was looked at; None for what a gauge read
    photos: tuple[str, ...] = ()  # hashes of the photos that show it
    mark: Plain | None = None  # where on its drawing: {"x": "0.43", "y": "0.61"}, shares of width and height


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
class Did:
    """What was done at the bolts of a joint: `kind` is that of its event, `body` as it was kept.

    tightening_begun   a run over the whole pattern, with its procedure as it was then
    bolt_turned, bolt_doubted, bolt_settled   one bolt of the run `body["run"]`
    """

    kind: str
    body: Plain
    event: str
    seq: int = 0
    at: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True)
class Signed:
    """A step of assembly that somebody signed, in the words that stood there. `did` is done or not done."""

    step: str
    did: str
    text: str
    note: str
    event: str
    seq: int = 0
    at: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True)
class TraceText:
    """A trace of torque over angle of one bolt, as the text that came from the wrench."""

    bolt: str
    run: str | None
    name: str
    text: str
    hash: str
    event: str
    seq: int = 0
    at: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True)
class Closing:
    """The job was closed: `hash` over the first `events` of its log, and `papers` by name with their hashes.

    links   16 hex digits for each of those events, by which `record.proof` finds the place of a change; "" for none.
    seal    the SHA-256 over all of this entry, "" for none.
    """

    hash: str
    events: int
    papers: Mapping[str, str]
    note: str
    event: str
    seq: int = 0
    at: str = ""
    by: str = ""
    links: str = ""
    seal: str = ""


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo that the store keeps under `photo`, the SHA-256 of its bytes, and what it shows.

    bytes, width, height   of the stored picture; height and width in pixels.
    mark                   where on the drawing it belongs, {"x": "0.43", "y": "0.61"} as shares of width and height.
    """

    photo: str
    type: str
    bytes: int
    width: int
    height: int
    characteristic: str | None
    place: str | None
    round: str | None
    note: str
    mark: Plain | None
    event: str
    seq: int = 0
    at: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True)
class ZeroCheck:
    """What a gauge showed where it should show nothing; `found` and `allowed` in `unit`.

    `when` is before, between or after; `against` what it was closed on: "closed", "ring", or the id of a master.
    """

    gauge: str
    found: str
    unit: str
    against: str
    when: str
    allowed: str | None
    passed: bool
    event: str
    seq: int = 0
    at: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two gauges on one thing: what each of them read, in `unit`."""

    first: str
    second: str
    on: str
    first_read: str
    second_read: str
    unit: str
    event: str
    seq: int = 0
    at: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True)
class Decision:
    """What a person made of a row: used again, machined, replaced, adjusted, look again; and why.

    `answer` is the id of the customer's answer that stands for it, None while there is none. `based_on` is the earlier
    decision of the same row that its writer saw. `place` is a location, or all, inl, exh.
    """

    characteristic: str
    place: str
    round: str
    decision: str
    operation: str | None
    why: str
    answer: str | None
    based_on: str | None
    event: str
    seq: int = 0
    at: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True)
class CustomerAnswer:
    """Yes or no of the customer. `about` are ids of decisions; empty: all that were made before it.

    `ceiling` is the price that a yes may cost, in `currency`; None where nothing was said. `covers` are the decisions
    of this job that it is about, whether or not a later answer stands for them.
    """

    about: tuple[str, ...]
    answer: str
    ceiling: str | None
    currency: str | None
    said_by: str | None
    note: str
    event: str
    seq: int = 0
    at: str = ""
    by: str = ""
    covers: tuple[str, ...] = ()
    based_on: str | None = None


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
    photos: tuple[Photo, ...] = ()
    checks: tuple[ZeroCheck, ...] = ()
    comparisons: tuple[Comparison, ...] = ()
    decisions: tuple[Decision, ...] = ()  # the one that stands for each row
    earlier: tuple[Decision, ...] = ()  # decisions that a later one of the same row replaced
    answers: tuple[CustomerAnswer, ...] = ()  # all that were not taken back, the earliest first
    extent: str = "full"  # full | quick
    extent_event: str | None = None  # id of the choice that holds, for the next one to be based on
    header_event: str | None = None  # id of the entry of the header that holds, for the next one to be based on
    geometry: Plain = field(default_factory=dict)  # quantity -> its entries: what no reading of the head shows
    geometry_event: str | None = None
    prices: LimitsText | None = None  # the shop's price list as text
    prices_event: str | None = None
    work: tuple[Plain, ...] = ()  # intended work: {operation, place, amount, unit}
    work_event: str | None = None
    plan_asked: Plain = field(default_factory=dict)  # pins, forbid, wanted: what the user says to the plan
    plan_asked_event: str | None = None
    order: Plain | None = None  # the plan that was ordered, as it was then
    order_event: str | None = None
    assembly: tuple[Did, ...] = ()  # what was done at the bolts, in the order of the log
    signed: tuple[Signed, ...] = ()  # steps of assembly
    traces: tuple[TraceText, ...] = ()
    conditions: Mapping[str, str] = field(default_factory=dict)  # of the tests: air pressure, temperature, orifice ...
    conditions_event: str | None = None
    closings: tuple[Closing, ...] = ()  # an event after the last of them is a later change


def answer_to(job: Job, decision: Decision) -> CustomerAnswer | None:
    """The customer's answer that stands for a decision, or None while there is none."""
    return next((one for one in job.answers if one.event == decision.answer), None)


def gauge_now(job: Job, gauge: str) -> GaugeRevision | None:
    """The revision of a gauge that new readings take, or None for a gauge that the job does not know."""
    return next((one for one in reversed(job.gauges.get(gauge, ())) if one.state == "current"), None)


def gauge_then(job: Job, reading: Reading) -> GaugeRevision | None:
    """The revision of its gauge that a reading was made with; None for a gauge that is assumed or unknown."""
    revisions = job.gauges.get(reading.gauge or "", ())
    return next((one for one in revisions if one.revision == reading.gauge_revision), None)
