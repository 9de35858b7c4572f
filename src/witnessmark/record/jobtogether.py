"""The shape of the section of a job file about putting together: what was done, signed, traced, closed, in order."""

from typing import Annotated, Any

from pydantic import AfterValidator, WithJsonSchema

from witnessmark.record.jobbeside import Made
from witnessmark.record.jobvalues import Name, Text, UnitName, one_of
from witnessmark.record.shape import DOUBTS, SETTLED, SHAPES, SIGNED, WAYS

# The word of an entry -> the kind of its event. What each must hold is told by the same rules as for the event.
KINDS = {"begun": "tightening_begun", "turned": "bolt_turned", "in doubt": "bolt_doubted", "settled": "bolt_settled",
         "signed": "step_signed", "trace": "trace_entered", "closed": "job_closed"}
WORDS = {kind: word for word, kind in KINDS.items()}

Was = Annotated[str, one_of(*KINDS), WithJsonSchema({"enum": list(KINDS)})]
Way = Annotated[str, one_of(*WAYS), WithJsonSchema({"enum": list(WAYS)})]
Doubt = Annotated[str, one_of(*DOUBTS), WithJsonSchema({"enum": list(DOUBTS)})]
Settled = Annotated[str, one_of(*SETTLED), WithJsonSchema({"enum": list(SETTLED)})]
SignedAs = Annotated[str, one_of(*SIGNED), WithJsonSchema({"enum": list(SIGNED)})]


def _from_one(value: str) -> str:
    if not value.isascii() or not value.isdigit() or not 1 <= len(value.lstrip("0")) <= 9 or value.startswith("0"):
        raise ValueError(f"'{value[:20]}' is no count; write 1, 2, 3 and so on")
    return value


Count = Annotated[str, AfterValidator(_from_one), WithJsonSchema({"type": ["string", "integer"], "minimum": 1})]


class TogetherEntry(Made):
    """One thing that was done; `was` says which, and the other keys belong to it.

    begun: joint, way, procedure, wrench, angle_by, threads, extension, bolts. turned: run, bolt, stage, wrench,
    angle_by, final_torque or stretch, unit. in doubt: run, bolt, why. settled: run, bolt, how. signed: step, did, text.
    trace: bolt, run, name, text, hash. closed: hash, events, papers, links, seal. Each may carry a note.
    """

    was: Was
    joint: Name | None = None
    way: Way | None = None
    procedure: dict[str, Any] | None = None
    wrench: Text | None = None
    angle_by: Text | None = None
    threads: Text | None = None
    extension: dict[str, Text] | None = None
    bolts: dict[str, Text] | None = None
    run: Name | None = None
    bolt: Name | None = None
    stage: Count | None = None
    final_torque: Text | None = None
    stretch: Text | None = None
    unit: UnitName | None = None
    why: Doubt | None = None
    how: Settled | None = None
    step: Name | None = None
    did: SignedAs | None = None
    text: Text | None = None
    name: Text | None = None
    hash: Text | None = None
    events: Count | None = None
    papers: dict[str, Text] | None = None
    links: Text | None = None
    seal: Text | None = None
    note: Text | None = None


MADE = ("id", "at", "by", "device")


def body_of(entry: TogetherEntry) -> dict[str, Any]:
    """The body of the event that an entry means: the keys that stand there."""
    return {key: value for key, value in entry.model_dump(exclude={"was", *MADE}).items() if value is not None}


def keys_of(word: str) -> tuple[str, ...]:
    """The keys that belong to an entry of this word."""
    return tuple(key.rstrip("?") for key in SHAPES[KINDS[word]])
