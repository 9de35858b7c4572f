"""The single values of a job file: every one is text, and its key says what the text must be.

Each type checks what was written and tells the published schema what may stand there without quotes as well.
"""

import re
from datetime import date
from typing import Annotated

from pydantic import AfterValidator, WithJsonSchema

from witnessmark.quantity.unit import unit as unit_named
from witnessmark.record.shape import BACK, DECISIONS, EXTENTS, WHEN, is_hash
from witnessmark.text.near import did_you_mean

ROUNDS = ("as found", "trial part", BACK, "as assembled")
QUESTIONS = ("inch_or_mm", "meaning", "slip", "tenths", "comma", "fraction", "unread", "other")
SCOPES = ("place", "rest")
WAIVERS = ("not measured", "cannot be measured", "measured elsewhere", "rest waived")


def one_of(*choices: str) -> AfterValidator:
    """A check that a value is one of these words; another one is told with the nearest."""
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


def _day(value: str) -> str:
    try:
        whole = re.fullmatch(r"\d{4}-\d{2}-\d{2}", value, re.ASCII) and date.fromisoformat(value)
    except ValueError:
        whole = None
    if not whole:
        raise ValueError(f"'{value}' is no date; write year-month-day, as 2026-03-02")
    return value


def _share(value: str) -> str:
    if not re.fullmatch(r"0(\.\d{1,12})?|1(\.0{1,12})?", value, re.ASCII):
        raise ValueError(f"'{value}' is no share of the drawing; write a number from 0 to 1, as 0.43")
    return value


def _chance(value: str) -> str:
    if not re.fullmatch(r"0\.\d{1,12}", value, re.ASCII) or not re.search("[1-9]", value):
        raise ValueError(f"'{value}' is no chance to ask for; write 0.97 where it shall hold in 97 of 100")
    return value


def _hash(value: str) -> str:
    if not is_hash(value):
        raise ValueError(f"'{value[:70]}' is no hash of a photo; take the 64 digits and letters a to f of its name")
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
Round = Annotated[str, one_of(*ROUNDS), WithJsonSchema({"enum": list(ROUNDS)})]
Scope = Annotated[str, one_of(*SCOPES), WithJsonSchema({"enum": list(SCOPES)})]
Waiver = Annotated[str, one_of(*WAIVERS), WithJsonSchema({"enum": list(WAIVERS)})]
QuestionKind = Annotated[str, one_of(*QUESTIONS), WithJsonSchema({"enum": list(QUESTIONS)})]
When = Annotated[str, one_of(*WHEN), WithJsonSchema({"enum": list(WHEN)})]
Decided = Annotated[str, one_of(*DECISIONS), WithJsonSchema({"enum": list(DECISIONS)})]
Extent = Annotated[str, one_of(*EXTENTS), WithJsonSchema({"enum": list(EXTENTS)})]
Day = Annotated[str, AfterValidator(_day), WithJsonSchema({"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$"})]
Share = Annotated[str, AfterValidator(_share), WithJsonSchema({"type": ["string", "number"], "minimum": 0, "maximum": 1,
                                                               "pattern": r"^(0(\.\d{1,12})?|1(\.0{1,12})?)$"})]
Chance = Annotated[str, AfterValidator(_chance), WithJsonSchema({"type": ["string", "number"], "exclusiveMinimum": 0,
                                                                 "exclusiveMaximum": 1})]
Hash = Annotated[str, AfterValidator(_hash), WithJsonSchema({"type": "string", "pattern": "^[0-9a-f]{64}$"})]
