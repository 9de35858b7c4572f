"""A record as JSON: what is written comes back, the schema and the reader agree, and what is amiss is told."""

import json

import pytest
from hypothesis import given, settings
from jsonschema import Draft202012Validator

from record.histories import histories, opened, reading
from witnessmark.record.event import digest
from witnessmark.record.recordfile import checksum_of, is_record, json_schema, read_record, write_record
from witnessmark.text.fault import Faulty

SCHEMA = Draft202012Validator(json_schema())


@given(log=histories())
@settings(max_examples=40, deadline=None)
def test_what_is_written_comes_back_and_fits_the_schema(log):
    numbered = [event.stored(number, "") for number, event in enumerate(log, 1)]
    text = write_record(numbered, "HL-1").encode()
    assert is_record(text)
    back = read_record(text, "x.json")
    assert digest(back) == digest(log) == checksum_of(text, "x.json")
    assert not list(SCHEMA.iter_errors(json.loads(text)))
    assert write_record([event.stored(n, "") for n, event in enumerate(back, 1)], "HL-1").encode() == text


BASE = json.loads(write_record([opened().stored(1, ""), reading("r1").stored(2, "")], "HL-1"))


def changed(change):
    data = json.loads(json.dumps(BASE))
    change(data)
    return data


@pytest.mark.parametrize(("change", "told"), [
    (lambda d: d.update(format="witnessmark-record-2"), "is no record"),
    (lambda d: d.update(more=1), "is no record"),
    (lambda d: d.update(events=[]), "holds no events"),
    (lambda d: d.update(events=3), "holds no events"),
    (lambda d: d["events"][1].pop("by"), "event 2 cannot be read: an event needs 'by'"),
    (lambda d: d["events"][1].update(odd=1), "event 2 cannot be read: an event has no key 'odd'"),
    (lambda d: d["events"][1].update(device_seq=1.5), "event 2 cannot be read: 1.5 stands without quotes"),
    (lambda d: d["events"].append(d["events"][1]), "event 3: the id 'r1' stands here twice"),
    (lambda d: d["events"].__setitem__(0, 7), "event 1 cannot be read"),
])  # fmt: skip
def test_what_is_no_record_is_told_with_its_place(change, told):
    data = changed(change)
    with pytest.raises(Faulty) as faulty:
        read_record(json.dumps(data).encode(), "x.json")
    assert told in str(faulty.value.faults[0])
    if "twice" not in told and "holds no" not in told:
        assert list(SCHEMA.iter_errors(data))


@pytest.mark.parametrize("text", [b"", b"{", b"[1]", b"\xff", b"[" * 100_000])
def test_what_is_no_json_is_told(text):
    with pytest.raises(Faulty):
        read_record(text, "x.json")
    assert not is_record(text)
