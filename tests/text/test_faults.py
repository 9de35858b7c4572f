"""A validator's complaints as faults with places, from the validator that the loaders use."""

from decimal import Decimal
from typing import Annotated, Literal

import pydantic
import pytest

from witnessmark.text.fault import Fault
from witnessmark.text.faults import from_validation
from witnessmark.text.read import read


class Strict(pydantic.BaseModel):
    model_config = pydantic.ConfigDict(extra="forbid")


class Reading(Strict):
    characteristic: str
    gauge: str
    raw: str
    temperature: Decimal | None = None


class Each(Strict):
    rule: Literal["each"]
    low: Annotated[Decimal, pydantic.Field(gt=0)]


class Spread(Strict):
    rule: Literal["spread", "mean"]
    high: Decimal

    @pydantic.field_validator("high")
    @classmethod
    def small(cls, value: Decimal) -> Decimal:
        if value > 1:
            raise ValueError("a spread above 1 mm is no spread; check the unit")
        return value


class Job(Strict):
    format: Literal["witnessmark-job-1"]
    readings: list[Reading] = []
    limits: list[Annotated[Each | Spread, pydantic.Field(discriminator="rule")]] = []
    bolts: dict[Annotated[str, pydantic.Field(pattern="^bolt-[0-9]+$")], int] = {}
    also: Decimal | None = None


def faults(text, allowed=None):
    document = read(text, "job.yaml")
    with pytest.raises(pydantic.ValidationError) as caught:
        Job.model_validate(document.data)
    return from_validation(caught.value.errors(), document, allowed)


GOOD = "format: witnessmark-job-1\n"


def test_a_good_job_has_no_faults():
    assert Job.model_validate(read(GOOD, "job.yaml").data).format == "witnessmark-job-1"


def test_a_misspelt_key_and_the_key_that_it_should_be_are_one_fault():
    found = faults(GOOD + "readings:\n  - {characteristic: stem, guage: M-07, raw: 5.952}\n")
    assert found == [
        Fault(
            "unknown_key", "no key 'guage' is known here; did you mean 'gauge'?", "job.yaml", 3, 28, "readings[0].guage"
        )
    ]


def test_a_missing_key_is_told_at_its_mapping():
    (fault,) = faults(GOOD + "readings:\n  - {characteristic: stem, raw: 5.952}\n")
    assert str(fault) == "job.yaml:3:5: readings[0].gauge: the key 'gauge' is missing here; add it"
    assert fault.kind == "missing"


def test_a_misspelt_optional_key_finds_its_word_among_the_keys_allowed_there():
    text = GOOD + "readings:\n  - {characteristic: stem, gauge: M-07, raw: 5.952, temprature: 20}\n"
    assert "take it out" in faults(text)[0].message
    asked = []

    def allowed(path):
        asked.append(path)
        return Reading.model_fields

    assert faults(text, allowed)[0].message == "no key 'temprature' is known here; did you mean 'temperature'?"
    assert asked == [("readings", 0)]


def test_names_of_a_unions_branches_are_no_part_of_the_path():
    (fault,) = faults(GOOD + "limits:\n  - rule: each\n    low: abc\n")
    assert (fault.path, fault.line, fault.column) == ("limits[0].low", 4, 10)
    assert fault.message == "'abc' is no number; write digits with a decimal point"


def test_all_faults_are_told_in_the_order_of_the_text():
    found = faults(
        "format: witnesmark-job-1\nbolts: {bolt-1: x, nut-2: 3}\nalso: [1]\n"
        "limits:\n  - {rule: worst, low: 1}\n  - {rule: each, low: -1}\n  - {rule: mean, high: 3}\n  - {high: 2}\n"
        "readings: 5\n"
    )
    assert [(fault.kind, fault.line, fault.path) for fault in found] == [
        ("value", 1, "format"),
        ("value", 2, "bolts.bolt-1"),
        ("value", 2, "bolts.nut-2"),
        ("value", 3, "also"),
        ("value", 5, "limits[0]"),
        ("value", 6, "limits[1].low"),
        ("value", 7, "limits[2].high"),
        ("value", 8, "limits[3]"),
        ("value", 9, "readings"),
    ]
    assert [fault.message for fault in found] == [
        "'witnesmark-job-1' is none of 'witnessmark-job-1'; did you mean 'witnessmark-job-1'?",
        "'x' is no whole number; write digits only",
        "'nut-2' has not the form ^bolt-[0-9]+$; write it in that form",
        "a list of 1 is no number; write digits with a decimal point",
        "'worst' is none of 'each', 'spread', 'mean'; write one of these",
        "'-1' must be more than 0; check the value and its unit",
        "a spread above 1 mm is no spread; check the unit",
        "the key 'rule' is missing, which says what kind this is; add it",
        "a list belongs here, but '5' stands here; write [one, two] or one line `- one` for each",
    ]


def test_a_key_at_fault_is_told_at_the_key():
    (fault,) = faults(GOOD + "bolts: {bolt-1: 1, nut-2: 3}\n")
    assert (fault.line, fault.column) == (2, 20)


def test_a_complaint_without_words_of_ours_is_still_told_without_the_words_that_tell_nobody():
    document = read("a: 1", "j")
    (fault,) = from_validation(
        [{"type": "novel", "loc": ("a",), "msg": "Invalid thing, it failed", "input": "1"}], document
    )
    assert fault == Fault("value", "'1' does not belong here: wrong thing, it stopped", "j", 1, 4, "a")


def test_the_top_of_the_text_may_be_at_fault():
    document = read("- 1", "j")
    with pytest.raises(pydantic.ValidationError) as caught:
        Job.model_validate(document.data)
    assert [fault.path for fault in from_validation(caught.value.errors(), document)] == [""]
