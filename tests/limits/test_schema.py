"""The published schema and the loader say the same of a sheet's shape."""

import jsonschema
import pytest
import yaml

from catalogue.shelf import shipped
from limits.sheets import HEAD, TERN, told_of
from witnessmark.limits.schema import DRAFT, json_schema
from witnessmark.limits.sheet import read_sheet
from witnessmark.text.read import read

VALIDATOR = jsonschema.Draft202012Validator(json_schema(shipped()))

GOOD = {
    "the whole of a sheet": TERN,
    "nothing but its head": HEAD,
    "a figure as a number and as a text": HEAD + "limits: {margin: [{service: {low: 1.0, high: '2.0'}, unit: mm}]}\n",
    "a page left blank": HEAD + "limits: {margin: [{service: {low: 1.0}, unit: mm, page: }]}\n",
    "a page that is a number": HEAD + "limits: {margin: [{service: {low: 1.0}, unit: mm, page: 12}]}\n",
    "an inch fraction": HEAD + "limits: {margin: [{service: {low: 1/32}, unit: in}]}\n",
    "operations allowed and not": HEAD + "operations: {skim: {allowed: no}, gasket: {allowed: yes}}\n",
}
BAD = {
    "another format": TERN.replace("limits-1", "limits-7"),
    "no head": "format: witnessmark-limits-1\n",
    "a head without a document": "format: witnessmark-limits-1\nsheet: {name: TN-3}\n",
    "a bearer of doubt that is none": TERN.replace("must be proven good", "must be good"),
    "a characteristic that is none": HEAD + "limits: {margn: [{service: {low: 1}, unit: mm}]}\n",
    "an operation that is none": HEAD + "operations: {polish: {allowed: no}}\n",
    "an unknown key": HEAD + "limits: {margin: [{service: {low: 1}, unit: mm, pgae: 3}]}\n",
    "an unknown end": HEAD + "limits: {margin: [{service: {lowest: 1}, unit: mm}]}\n",
    "no unit": HEAD + "limits: {margin: [{service: {low: 1}}]}\n",
    "no list": HEAD + "limits: {margin: {service: {low: 1}, unit: mm}}\n",
    "an empty list": HEAD + "limits: {margin: []}\n",
    "a list for a value": HEAD + "limits: {margin: [{service: {low: [1, 2]}, unit: mm}]}\n",
    "a side that is none": HEAD + "limits: {margin: [{for: inlet, service: {low: 1}, unit: mm}]}\n",
    "a position that is none": HEAD + "limits: {margin: [{position: front, service: {low: 1}, unit: mm}]}\n",
    "a rule that is none": HEAD + "limits: {margin: [{stations: best, service: {low: 1}, unit: mm}]}\n",
    "an answer that is none": HEAD + "operations: {skim: {allowed: sometimes}}\n",
    "another top key": HEAD + "limit: {}\n",
}


def as_others_read(text):
    return yaml.safe_load(text)


def as_we_read(text):
    return read(text, "limits.yaml").data


def test_the_schema_is_one_of_draft_2020_12():
    jsonschema.Draft202012Validator.check_schema(json_schema())
    assert json_schema()["$schema"] == DRAFT


@pytest.mark.parametrize("reading", [as_others_read, as_we_read])
@pytest.mark.parametrize("name", GOOD)
def test_schema_and_loader_take_the_same_good_sheets(name, reading):
    VALIDATOR.validate(reading(GOOD[name]))
    assert read_sheet(GOOD[name], "limits.yaml", shipped()).name == "TN-3"


@pytest.mark.parametrize("reading", [as_others_read, as_we_read])
@pytest.mark.parametrize("name", BAD)
def test_schema_and_loader_refuse_the_same_bad_sheets(name, reading):
    assert list(VALIDATOR.iter_errors(reading(BAD[name])))
    assert told_of(BAD[name])


def test_the_schema_explains_its_keys_to_an_editor():
    entry = json_schema()["$defs"]["Entry"]["properties"]
    assert "for" in entry and "for_" not in entry
    assert all(entry[key].get("description") for key in ("service", "new", "unit", "stations"))
