"""What the API takes and gives, as shapes that describe themselves."""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

Name = Annotated[str, StringConstraints(min_length=1, max_length=120)]
Short = Annotated[str, StringConstraints(max_length=200)]
Words = Annotated[str, StringConstraints(max_length=2000)]
Sheet = Annotated[str, StringConstraints(min_length=1, max_length=1_500_000)]
Degrees = Annotated[str, StringConstraints(pattern=r"^[-+\u2212]?[0-9]{1,3}([.,][0-9]{1,3})?$")]
Id = Annotated[str, StringConstraints(min_length=1, max_length=80, pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]*$")]
Plain = dict[str, Any]


class _In(BaseModel):
    model_config = ConfigDict(extra="forbid")


class Temperature(_In):
    """Degrees Celsius of the part and of the gauge, as text with the digits that were read."""

    part: Degrees
    gauge: Degrees | None = None

    def plain(self) -> dict[str, str | None]:
        """The same with a decimal point and an ordinary minus, as the record keeps it."""
        return {name: text and text.replace(",", ".").replace("\u2212", "-") for name, text in self}


class Stamped(_In):
    """Who, when, on which device. An id that came before with the same bytes stores nothing twice."""

    id: Id | None = Field(None, description="Made where it was typed; left out, the server makes one.")
    at: Short = Field("", description="Time where it was typed, with its zone; evidence only.")
    by: Short = ""
    device: Short = ""
    device_seq: int = Field(0, ge=0, le=2**53)


class LineIn(Stamped):
    """One line of the entry line, as it came, with the station that it was typed at."""

    line: Annotated[str, StringConstraints(max_length=200)]
    characteristic: Name
    place: Name
    round: Name = "as found"
    gauge: Short | None = Field(None, description="Left out: the gauge in hand. `assumed`: the usual one of its kind.")
    part: Short | None = None
    temperature: Temperature | None = None
    supersedes: Id | None = Field(None, description="The reading that this line corrects.")
    corrects: bool = Field(False, description="The hand went back to this station: correct what stands there.")
    reason: Short | None = None
    question: Id | None = Field(None, description="The question that the entry line shows; answered before older ones.")
    note: Words = ""
    method: Short | None = Field(None, description="Of what is looked at; left out, the method in hand.")
    sheet: Annotated[str, StringConstraints(max_length=40)] = Field(
        "", description="Code or number of the paper sheet that is typed back; the walk then keeps to it."
    )
    order: Literal["by part", "by station", "by gauge", "valve by valve"] = Field(
        "by part", description="Order of the walk; it decides which station comes next."
    )


class StopOut(BaseModel):
    """A station: the n-th of its series at one place."""

    characteristic: str
    place: str
    n: int
    of: int
    name: str
    detail: str


class LineOut(BaseModel):
    """What came of a line. It is stored before this is said.

    kept: a reading. asked: kept, not counted, asked back in its own row. which: two meanings, answer first. unread:
    cannot be read. done: a command. repeat, note, unit: what the next line is. nothing. refused: see detail.
    """

    status: Literal["kept", "asked", "which", "unread", "done", "unit", "repeat", "note", "nothing", "refused"]
    echo: str
    detail: str
    seq: int
    next: StopOut | None
    span: tuple[int, int] | None
    question: Plain | None
    reading: str | None
    correction: bool
    again: bool


class JobIn(Stamped):
    """A job to open. The engine may wait."""

    job: Id
    engine_name: Short = Field("", description="What it is called on the tag, such as Tern 2.0.")
    works: Short = ""
    customer: Short = ""
    complaint: Words = ""
    invented: bool = False
    also_measure: Annotated[list[Name], Field(max_length=100)] = []
    engine: Plain | None = Field(None, description="Layout as in a job file: layout, cylinders, valves, gear.")


class EngineIn(Stamped):
    """The layout of the engine, as in a job file."""

    engine: Plain


class GaugeIn(Stamped):
    """A gauge, or a new revision of one, with the fields of a job file."""

    gauge: Name
    fields: Plain


class SettingIn(Stamped):
    """A comparing gauge set to a size."""

    gauge: Name
    set_to: Name
    set_with: Short | None = Field(None, description="The gauge or master that it was set with.")


class PartIn(Stamped):
    """A part by its own name."""

    part: Name
    kind: Name
    place: Short | None = None
    new: bool = False


class ListIn(Stamped):
    """What is to be measured beside what has a limit; the whole list anew."""

    measure: list[Name] = Field(max_length=400, description="Ids of the catalogue.")


class FactsIn(Stamped):
    """Facts of the job by their keys, such as head_number; an empty one is struck out, one not sent stays."""

    facts: dict[Name, Short]


class LimitsIn(Stamped):
    """A limit sheet as YAML text."""

    name: Name = "limits.yaml"
    text: Sheet


class LimitIn(Stamped):
    """One limit typed at the bench. One of `low` and `high` may be empty."""

    characteristic: Name
    place: Name
    low: Short = ""
    high: Short = ""
    unit: Short = ""
    page: Short = ""


class ZeroIn(Stamped):
    """A zero check: what the gauge shows on its closed anvils or on a master, less what it should show."""

    gauge: Name
    found: Name
    against: Short = "closed"
    when: Literal["before", "between", "after"] = "before"
    allowed: Short = Field("", description="Error that is let pass; left out, it follows from the gauge.")


class CompareIn(Stamped):
    """Two gauges on one part, and what each of them read."""

    first: Name
    second: Name
    on: Name
    first_read: Name
    second_read: Name


class DecisionIn(Stamped):
    """What becomes of a part or a face, and why. `place` is a location, or all, inl, exh for a spread over places."""

    characteristic: Name
    place: Name
    round: Name = "as found"
    decision: Literal["used again", "machined", "replaced", "adjusted", "look again"]
    operation: Short = ""
    why: Annotated[str, StringConstraints(min_length=1, max_length=2000)]


class CustomerIn(Stamped):
    """The customer's answer to decisions, by their event ids; none named is all that stand."""

    about: Annotated[list[Id], Field(max_length=500)] = []
    answer: Literal["yes", "no"]
    ceiling: Short = ""
    currency: Short = ""
    said_by: Short = ""
    note: Words = ""


class RouteIn(Stamped):
    """Quick: the worst places first, and the full set where a value comes near its limit."""

    extent: Literal["quick", "full"]


class ReasonIn(Stamped):
    """Why a correction was made: 1 misread, 2 wrong place, 3 dirt, 4 unit, 5 other."""

    reading: Id
    digit: Annotated[str, StringConstraints(min_length=1, max_length=1)]


class NoteIn(Stamped):
    """A remark about a reading or a place."""

    about: Name
    text: Annotated[str, StringConstraints(min_length=1, max_length=2000)]


class TakeBackIn(Stamped):
    """One event to take back; a take-back taken back brings it again."""

    event: Id


class ImportIn(_In):
    """A job file as text. A path in its `limits:` cannot be followed here: put the sheet inside."""

    name: Name = "job.yaml"
    text: Sheet
    job: Id | None = Field(None, description="Store it under this id instead of its own.")


class Done(BaseModel):
    """What was stored."""

    seq: int
    events: list[str]
    again: bool = False


class JobOut(BaseModel):
    """One job of the list."""

    id: str
    title: str
    created_at: str
    seq: int


class Fault(BaseModel):
    """One thing to mend, with its place."""

    where: str
    message: str
    line: int = 0
    column: int = 0


class Said(BaseModel):
    """What cannot be done: what, where, what to do."""

    what: str
    where: str
    do: str
    faults: list[Fault]


class Snapshot(BaseModel):
    """A job as it stands after its last event."""

    id: str
    seq: int
    header: Plain
    engine: Plain
    gauges: dict[str, Plain]
    limits: str | None
    readings: int
    questions: list[str]


class Judged(BaseModel):
    """The judgement of a job: rows, what is missing, counts, open questions, what could not be read."""

    model_config = ConfigDict(extra="allow")

    job: str
    results: list[Plain]
    missing: list[Plain]
    summary: dict[str, int]
    questions: list[Plain]
    problems: list[str]
