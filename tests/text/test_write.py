"""The writer of YAML: what is written reads back the same, and the bytes never change."""

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.text import read as reader
from witnessmark.text.fault import Faulty
from witnessmark.text.read import read
from witnessmark.text.write import write

ODD = st.sampled_from(
    [
        "null",
        "~",
        "",
        "no",
        " x",
        "x ",
        "-",
        "- a",
        "--",
        "---",
        "...",
        "a: b",
        "a:b",
        "a #b",
        "#",
        "5.950",
        "-0.071",
        "+0.03",
        "1 5/8",
        "⅝",
        '0.2345"',
        "a\nb\n",
        "\n",
        "\t",
        "\r\n",
        "\0",
        "\x85",
        "\u2028",
        "\ufeff",
        "\ufffe",
        "*a",
        "&a",
        "!a",
        "|",
        ">",
        "%",
        "@",
        "`",
        "'",
        "[a]",
        "{a}",
        ",",
        "a,b",
        "?",
        "? a",
        ":",
        "a:",
        "=",
        "<<",
        "x" * 1100,
        "µ" * 950,
        "\\",
        "😀",
        "e\u0301",
        "\u202eabc",
        "٣",
        "2026-03-02T10:15:00Z",
    ]
)
TEXT = ODD | st.text(max_size=12)
DATA = st.recursive(
    st.none() | TEXT,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(TEXT, inner, max_size=4),
    max_leaves=12,
)
LOADERS = [yaml.SafeLoader] + ([yaml.CSafeLoader] if hasattr(yaml, "CSafeLoader") else [])


@pytest.mark.parametrize("which", LOADERS, ids=lambda one: one.__name__)
@given(data=DATA)
def test_what_is_written_reads_back_the_same_and_writes_the_same_bytes(which, data):
    kept, reader.LOADER = reader.LOADER, which
    try:
        text = write(data)
        again = read(text.encode(), "j").data
    finally:
        reader.LOADER = kept
    assert again == data
    assert write(again) == text


@given(DATA)
def test_keys_keep_their_order(data):
    def orders(value):
        if isinstance(value, dict):
            return [list(value), *map(orders, value.values())]
        return list(map(orders, value)) if isinstance(value, list) else []

    assert orders(read(write(data), "j").data) == orders(data)


def test_a_job_is_written_so_that_a_person_can_read_it():
    job = {
        "format": "witnessmark-job-1",
        "gauges": {"M-07": {"unit": "mm", "set": ["0.03", "0.04"], "note": None}},
        "readings": [{"id": "r1", "raw": "5.950", "round": "as found"}, {"id": "r2", "raw": '0.2345"'}],
        "empty": {},
        "none": [],
        "words": ["no: yes", "µm"],
    }
    assert (
        write(job)
        == """\
format: witnessmark-job-1
gauges:
  M-07:
    unit: mm
    set: [0.03, 0.04]
    note: null
readings:
  - id: r1
    raw: 5.950
    round: as found
  - id: r2
    raw: "0.2345\\""
empty: {}
none: []
words: ["no: yes", µm]
"""
    )


def test_a_long_list_stands_line_by_line():
    assert write({"order": ["bolt"] * 40}).startswith("order:\n  - bolt\n  - bolt\n")


def test_what_cannot_be_written_is_named_with_its_path():
    for data, kind, path in [
        ({"a": [5.95]}, "value", "a[0]"),
        ({"a": "\ud800"}, "odd_character", "a"),
        ({5: "a"}, "key_not_text", ""),
        ({"a": b"x"}, "value", "a"),
    ]:
        with pytest.raises(Faulty) as caught:
            write(data)
        assert (caught.value.faults[0].kind, caught.value.faults[0].path) == (kind, path)


def nested(depth):
    data = "x"
    for _ in range(depth):
        data = {"a": data}
    return data


def test_nesting_is_written_as_deep_as_it_is_read_and_no_deeper():
    assert read(write(nested(40)), "j").data == nested(40)
    with pytest.raises(Faulty) as caught:
        write(nested(41))
    assert caught.value.faults[0].kind == "too_deep"
