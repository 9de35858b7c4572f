"""The shape of what stands beside the readings of a job file: photos, checks of gauges, decisions, answers to them."""

from typing import Any

from pydantic import BaseModel, ConfigDict

from witnessmark.record.jobvalues import (
    Count,
    Decided,
    Flag,
    Hash,
    Name,
    NotNegative,
    Number,
    Round,
    Share,
    Text,
    UnitName,
    When,
)


class Section(BaseModel):
    """A mapping of the file: its keys are all known."""

    model_config = ConfigDict(extra="forbid")


class Made(Section):
    """Who, when, where: what every entry may carry."""

    id: Name | None = None
    at: Text | None = None
    by: Text | None = None
    device: Text | None = None


def needs(*keys: str) -> dict[str, Any]:
    """A published condition: these keys stand here, each with a value."""
    return {"required": list(keys), "properties": {key: {"not": {"type": "null"}} for key in keys}}


def _passed_or_allowed(schema: dict[str, Any]) -> None:
    schema["anyOf"] = [needs("passed"), needs("allowed")]


class MarkSection(Section):
    """Where on its drawing: shares of the width from the left and of the height from the top."""

    x: Share
    y: Share


class PhotoEntry(Made):
    """A photo and what it shows. `photo` is the hash that names its file; the picture itself lies beside this file."""

    photo: Hash
    type: Name | None = None
    bytes: Count
    width: Count
    height: Count
    characteristic: Name | None = None
    place: Name | None = None
    round: Round | None = None
    note: Text | None = None
    mark: MarkSection | None = None


class ZeroCheckEntry(Made):
    """A check of a gauge's zero; whether it passed is said, or follows from what is allowed.

    One that was made before the series stands before all readings, else behind them all; `follows` names the reading
    behind which it stands, and "" puts it before all.
    """

    model_config = ConfigDict(extra="forbid", json_schema_extra=_passed_or_allowed)
    gauge: Name
    found: Number
    unit: UnitName | None = None
    against: Name | None = None
    when: When | None = None
    allowed: NotNegative | None = None
    passed: Flag | None = None
    follows: Text | None = None


class ComparisonEntry(Made):
    """Two gauges held against each other on one thing, both in one unit."""

    first: Name
    second: Name
    on: Name
    first_read: Number
    second_read: Number
    unit: UnitName | None = None


class DecisionEntry(Made):
    """What becomes of a row. `based_on` is the earlier decision of the same row that was seen."""

    characteristic: Name
    place: Name
    round: Round | None = None
    decision: Decided
    operation: Name | None = None
    why: Name
    based_on: Name | None = None


class CustomerEntry(Made):
    """The customer's yes or no to decisions; without `about` to all that stand in this file."""

    about: list[Name] | None = None
    answer: Flag
    ceiling: Text | None = None
    currency: Text | None = None
    said_by: Text | None = None
    note: Text | None = None
    based_on: Name | None = None
