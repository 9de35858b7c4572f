"""The shape of a job file: its sections and keys, checked all at once, and published as a JSON Schema.

Every value is text, as it was written. In the published schema a number or a yes/no may stand without quotes as well.
"""

import re
from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Discriminator, Field, Tag, WithJsonSchema, model_validator

from witnessmark.quantity.unit import unit as unit_named
from witnessmark.text.near import did_you_mean

ROUNDS = ("as found", "trial part", "back from machining", "as assembled")
QUESTIONS = ("inch_or_mm", "meaning", "slip", "tenths", "comma", "fraction", "unread", "other")
SCOPES = ("place", "rest")
WAIVERS = ("not measured", "cannot be measured", "measured elsewhere", "rest waived")


def _one_of(*choices: str) -> AfterValidator:
    def check(value: str) -> str:
        if value not in choices:
            raise ValueError(f"'{value}' is none of {', '.join(choices)}{did_you_mean(value, choices)}")
        return value
    return AfterValidator(check)


def _number(value: str) -> str:
    if not re.fullmatch(r"[+-]?(\d{1,30}(\.\d{0,30})?|\.\d{1,30}|\d{1,9}/0*[1-9]\d{0,8})", value, re.ASCII):
        raise ValueError(f"'{value}' is no number; write digits with a decimal point, as 0.001, or a fraction, as 1/64")
    return value


def _positive(value: str) -> str:
    if value.startswith("-") or not re.search("[1-9]", _number(value).split("/")[0]):
        raise ValueError(f"'{value}' must be more than zero; check the value")
    return value


def _not_negative(value: str) -> str:
    if value.startswith("-"):
        raise ValueError(f"'{value}' must not be below zero; check the value")
    return _number(value)


def _leaf(value: str) -> str:
    if "/" in value:
        raise ValueError(f"'{value}' is a fraction; write the thickness of the leaf in decimals, as 0.05")
    return _positive(value)


def _count(value: str) -> str:
    if not re.fullmatch(r"\d{1,9}", value, re.ASCII):
        raise ValueError(f"'{value}' is no whole number; write digits only, as 20")
    return value


def _flag(value: str) -> str:
    if value.casefold() not in {"true", "false", "yes", "no"}:
        raise ValueError(f"'{value}' is neither yes nor no; write true or false")
    return value


def _unit(value: str) -> str:
    return unit_named(value).name


def _name(value: str) -> str:
    if not value.strip() or len(value) > 200:
        raise ValueError("a name of 1 to 200 characters belongs here; write one")
    return value


TEXT = {"type": ["string", "number", "boolean"]}
Text = Annotated[str, WithJsonSchema(TEXT)]
Name = Annotated[str, AfterValidator(_name), WithJsonSchema({"type": ["string", "number"], "minLength": 1})]
Number = Annotated[str, AfterValidator(_number), WithJsonSchema({"type": ["string", "number"]})]
Positive = Annotated[str, AfterValidator(_positive), WithJsonSchema({"type": ["string", "number"],
                                                                      "exclusiveMinimum": 0})]
Leaf = Annotated[str, AfterValidator(_leaf), WithJsonSchema({"type": ["string", "number"], "exclusiveMinimum": 0})]
NotNegative = Annotated[str, AfterValidator(_not_negative), WithJsonSchema({"type": ["string", "number"],
                                                                            "minimum": 0})]
Count = Annotated[str, AfterValidator(_count), WithJsonSchema({"type": ["string", "integer"], "minimum": 0})]
Flag = Annotated[str, AfterValidator(_flag), WithJsonSchema({"type": ["boolean", "string"]})]
UnitName = Annotated[str, AfterValidator(_unit), WithJsonSchema({"type": "string"})]
Round = Annotated[str, _one_of(*ROUNDS), WithJsonSchema({"enum": list(ROUNDS)})]
Scope = Annotated[str, _one_of(*SCOPES), WithJsonSchema({"enum": list(SCOPES)})]
Waiver = Annotated[str, _one_of(*WAIVERS), WithJsonSchema({"enum": list(WAIVERS)})]
QuestionKind = Annotated[str, _one_of(*QUESTIONS), WithJsonSchema({"enum": list(QUESTIONS)})]


def _or_text(schema: dict[str, Any]) -> None:
    """Let a plain text stand for a mapping in a published schema."""
    whole = dict(schema)
    schema.clear()
    schema["anyOf"] = [{"type": ["string", "number"]}, whole]


class Section(BaseModel):
    """A mapping of the file: its keys are all known."""

    model_config = ConfigDict(extra="forbid")


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


class CalibrationSection(Section):
    """What the certificate says, U in the unit of the gauge."""

    U: NotNegative
    k: Positive | None = None
    date: Text | None = None
    certificate: Text | None = None


class RepeatabilitySection(Section):
    """Scatter s of single readings before rounding, in the unit of the gauge, from n readings."""

    s: NotNegative
    n: Count | None = None


class GaugeSection(Section):
    """One gauge of the register."""

    kind: Name
    unit: UnitName
    resolution: Positive | None = None
    calibration: CalibrationSection | None = None
    permissible_error: NotNegative | None = None
    repeatability: RepeatabilitySection | None = None
    set: list[Leaf] | None = None
    leaf_error: NotNegative | None = None
    expansion: NotNegative | None = None
    serial: Text | None = None
    note: Text | None = None


class PartSection(Section):
    """A part with a name of its own."""

    kind: Name
    at: Text | None = None
    new: Flag | None = None


class Made(Section):
    """Who, when, where: what every entry may carry."""

    id: Name | None = None
    at: Text | None = None
    by: Text | None = None
    device: Text | None = None


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
    """What was accepted, where the raw text alone does not say."""

    kind: Literal["number", "deviation", "interval"]
    value: Number | None = None
    low: Number | None = None
    high: Number | None = None
    unit: UnitName
    step: Positive | None = None


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
    """One reading. What a correction leaves out it takes from the reading that it supersedes."""

    characteristic: Name | None = None
    place: Name | None = None
    part: Text | None = None
    round: Round | None = None
    gauge: Text | None = None
    setting: Text | None = None
    unit: UnitName | None = None
    raw: Text
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
