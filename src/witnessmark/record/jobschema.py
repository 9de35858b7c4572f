"""The shape of a job file: its sections and keys, checked all at once, and published as a JSON Schema.

Every value is text, as it was written. In the published schema a number or a yes/no may stand without quotes as well.
"""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, ConfigDict, Discriminator, Field, Tag, model_validator

from witnessmark.record.jobbeside import (
    ComparisonEntry,
    CustomerEntry,
    DecisionEntry,
    Made,
    MarkSection,
    PhotoEntry,
    Section,
    ZeroCheckEntry,
    needs,
)
from witnessmark.record.jobintended import Entries, OrderSection, PlanSection, WorkEntry
from witnessmark.record.jobtogether import TogetherEntry
from witnessmark.record.jobvalues import (
    Count,
    Day,
    Extent,
    Flag,
    Hash,
    Leaf,
    Name,
    NotNegative,
    Number,
    Positive,
    QuestionKind,
    Round,
    Scope,
    Text,
    UnitName,
    Waiver,
)


def _or_text(schema: dict[str, Any]) -> None:
    """Let a plain text stand for a mapping in a published schema."""
    whole = dict(schema)
    schema.clear()
    schema["anyOf"] = [{"type": ["string", "number"]}, whole]


def _raw_or_says(schema: dict[str, Any]) -> None:
    schema["anyOf"] = [needs("raw"), needs("says")]


def _look_or_unit(schema: dict[str, Any]) -> None:
    look = needs("says")
    look["properties"]["kind"] = {"const": "look"}
    schema["anyOf"] = [look, needs("unit")]


class JobSection(Section):
    """The head of the job."""

    id: Name
    engine: Text | None = None
    invented: Flag | None = None
    works: Text | None = None
    customer: Text | None = None
    complaint: Text | None = None
    also_measure: list[Text] | None = None
    opened: Text | None = None
    by: Text | None = None
    reference: Text | None = None
    engine_number: Text | None = None
    head_number: Text | None = None
    casting_number: Text | None = None
    distance: Text | None = None
    hours: Text | None = None
    bank: Text | None = None
    received: Day | None = None


class CalibrationSection(Section):
    """What the certificate says, U in the unit of the gauge; a date, or the day it is due, may stand without a U."""

    model_config = ConfigDict(extra="forbid", json_schema_extra={"dependentRequired": {"k": ["U"]}})
    U: NotNegative | None = None
    k: Positive | None = None
    date: Text | None = None
    certificate: Text | None = None
    due: Day | None = None

    @model_validator(mode="after")
    def _whole(self) -> Self:
        if self.k is not None and self.U is None:
            raise ValueError("the key 'U' is missing beside 'k'; add it as the certificate states it, or take k out")
        return self


class RepeatabilitySection(Section):
    """Scatter s of single readings before rounding, in the unit of the gauge, from n readings."""

    s: NotNegative
    n: Count | None = None


class GaugeSection(Section):
    """One gauge of the register."""

    kind: Name
    unit: UnitName
    resolution: Positive | None = None
    size: Positive | None = None
    calibration: CalibrationSection | None = None
    permissible_error: NotNegative | None = None
    repeatability: RepeatabilitySection | None = None
    set: list[Leaf] | None = None
    leaf_error: NotNegative | None = None
    expansion: NotNegative | None = None
    reads_from: NotNegative | None = None
    reads_to: Positive | None = None
    lever: Text | None = None
    sensor: Text | None = None
    serial: Text | None = None
    owner: Text | None = None
    place: Text | None = None
    note: Text | None = None


class PartSection(Section):
    """A part with a name of its own."""

    kind: Name
    at: Text | None = None
    new: Flag | None = None


class SettingEntry(Made):
    """A comparing gauge set to a size. `id` is the name of the setting."""

    id: Name
    gauge: Name
    set_to: Positive
    unit: UnitName | None = None
    with_: Text | None = Field(None, alias="with")
    s: NotNegative | None = None


class TemperatureSection(Section):
    """Degrees Celsius, of the part and of the gauge."""

    part: Number
    gauge: Number


class MeaningSection(Section):
    """What was accepted, where the raw text alone does not say. All but a look has a unit."""

    model_config = ConfigDict(extra="forbid", json_schema_extra=_look_or_unit)
    kind: Literal["number", "deviation", "interval", "look"]
    says: Name | None = None
    value: Number | None = None
    low: Number | None = None
    high: Number | None = None
    unit: UnitName | None = None
    step: Positive | None = None

    @model_validator(mode="after")
    def _whole(self) -> Self:
        if self.kind == "look" and self.says is None:
            raise ValueError("the key 'says' is missing here; add the answer that was given")
        if self.kind != "look" and self.unit is None:
            raise ValueError("the key 'unit' is missing here; add it")
        return self


class AnswerSection(Section):
    """One answer of a question."""

    label: Text
    meaning: MeaningSection | None = None
    do: Literal["take", "measure again"]


class QuestionSection(Section):
    """A question that is open about a reading."""

    kind: Text
    text: Text
    answers: list[AnswerSection] = Field(min_length=1)


def _shape(value: Any) -> str:
    return "mapping" if isinstance(value, Mapping | BaseModel) else "text"


Question = Annotated[Annotated[QuestionKind, Tag("text")] | Annotated[QuestionSection, Tag("mapping")],
                     Discriminator(_shape)]
Limits = Annotated[Annotated[str, Tag("text")] | Annotated[dict[str, Any], Tag("mapping")], Discriminator(_shape)]


class ReadingEntry(Made):
    """One reading, by a gauge (`raw`) or by looking (`says`).

    What a correction leaves out it takes from the reading that it supersedes.
    """

    model_config = ConfigDict(extra="forbid", json_schema_extra=_raw_or_says)
    characteristic: Name | None = None
    place: Name | None = None
    part: Text | None = None
    round: Round | None = None
    gauge: Text | None = None
    setting: Text | None = None
    unit: UnitName | None = None
    raw: Text | None = None
    says: Name | None = None
    how_much: Number | None = None
    method: Name | None = None
    photos: list[Hash] | None = None
    mark: MarkSection | None = None
    meaning: MeaningSection | None = None
    question: Question | None = None
    supersedes: Name | None = None
    reason: Text | None = None
    temperature: TemperatureSection | None = None
    note: Text | None = None


class WaivedEntry(Made):
    """A place that is not measured."""

    characteristic: Name
    place: Name
    round: Round | None = None
    scope: Scope | None = None
    reason: Waiver | None = None


class AnsweredEntry(Made):
    """The answer to the question about a reading, by its number from 0."""

    reading: Name
    answer: Count


class TakenBackEntry(Made):
    """An entry that is taken back: its id alone, or a mapping that says who and when."""

    model_config = ConfigDict(extra="forbid", json_schema_extra=_or_text)
    event: Name

    @model_validator(mode="before")
    @classmethod
    def _id_alone(cls, value: Any) -> Any:
        return {"event": value} if isinstance(value, str) else value


class NoteEntry(Made):
    """A remark about an entry or a place."""

    about: Name
    text: Text


class JobFile(Section):
    """The whole file."""

    format: Literal["witnessmark-job-1"]
    job: JobSection
    engine: dict[str, Any] | None = None
    gauges: dict[str, GaugeSection] | None = None
    parts: dict[str, PartSection] | None = None
    settings: list[SettingEntry] | None = None
    limits: Limits | None = None
    readings: list[ReadingEntry] | None = None
    waived: list[WaivedEntry] | None = None
    answers: list[AnsweredEntry] | None = None
    taken_back: list[TakenBackEntry] | None = None
    notes: list[NoteEntry] | None = None
    photos: list[PhotoEntry] | None = None
    zero_checks: list[ZeroCheckEntry] | None = None
    comparisons: list[ComparisonEntry] | None = None
    decisions: list[DecisionEntry] | None = None
    customer: list[CustomerEntry] | None = None
    route: Extent | None = None
    geometry: dict[str, Entries] | None = None
    prices: Limits | None = None
    work: list[WorkEntry] | None = None
    plan: PlanSection | None = None
    order: OrderSection | None = None
    conditions: dict[str, Text] | None = None
    assembly: list[TogetherEntry] | None = None
    log: list[str] | None = None


def json_schema() -> dict[str, Any]:
    """The published schema of a job file (JSON Schema, draft 2020-12)."""
    schema = JobFile.model_json_schema(by_alias=True)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}


def allowed(path: tuple[str | int, ...]) -> tuple[str, ...]:
    """The keys that may stand in the mapping at a path of the file; () where anything may."""
    here: Any = JobFile
    for part in path:
        here = _inside(here, part)
        if here is None:
            return ()
    return tuple(_keys(here)) if isinstance(here, type) and issubclass(here, Section) else ()


def _inside(here: Any, part: str | int) -> Any:
    if isinstance(here, type) and issubclass(here, Section):
        return _model_in(_keys(here).get(str(part)))
    return here.model if isinstance(here, _Each) else None


def _keys(model: type[Section]) -> Mapping[str, Any]:
    return {field.alias or name: field.annotation for name, field in model.model_fields.items()}


def _model_in(annotation: Any) -> Any:
    """The section that an annotation such as `dict[str, GaugeSection] | None` leads to, marked in a container."""
    if isinstance(annotation, type) and issubclass(annotation, Section):
        return annotation
    for inner in getattr(annotation, "__args__", ()):
        found = _model_in(inner)
        if found is not None:
            origin = getattr(annotation, "__origin__", None)
            return _Each(found) if origin in {list, dict} else found
    return None


class _Each:
    """A list or mapping of sections: one step further leads into a section."""

    def __init__(self, model: type[Section]) -> None:
        self.model = model
