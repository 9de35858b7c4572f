"""A YAML text with places: what is kept, what is refused, and where."""

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.text import read as reader
from witnessmark.text.fault import Faulty
from witnessmark.text.read import read

LOADERS = [yaml.SafeLoader] + ([yaml.CSafeLoader] if hasattr(yaml, "CSafeLoader") else [])
JOB = """\
format: witnessmark-job-1
readings:
  - {id: r1, place: inl-3f, raw: 5.950}
  - id: r2
    raw: "0.04 0.05"
    allowed: no
    note:
"""


def faults(text, name="job.yaml"):
    with pytest.raises(Faulty) as caught:
        read(text, name)
    return caught.value.faults


def test_every_scalar_stays_the_text_that_was_written(loader):
    readings = read(JOB, "job.yaml").data["readings"]
    assert readings[0] == {"id": "r1", "place": "inl-3f", "raw": "5.950"}  # the zero is evidence of the gauge's step
    assert readings[1] == {"id": "r2", "raw": "0.04 0.05", "allowed": "no", "note": None}


@pytest.mark.parametrize(
    "written",
    [
        "no",
        "yes",
        "true",
        "1:30",
        "010",
        "1_000",
        "1e-3",
        "2026-03-02",
        "0x1F",
        ".5",
        "5.",
        "-0.071",
        "+0.03",
        "1 5/8",
        "NULL",
        "=",
        "<<",
    ],
)
def test_yaml_guesses_nothing(loader, written):
    assert read(f"raw: {written}", "job.yaml").data == {"raw": written}


@pytest.mark.parametrize("written", ["", "null", "~"])
def test_an_empty_value_is_none_and_a_quoted_one_is_text(loader, written):
    assert read(f"raw: {written}", "j").data == {"raw": None}
    assert read(f'raw: "{written}"', "j").data == {"raw": written}


def test_a_key_is_always_text(loader):
    assert read("null: 1\n~: 2\nno: 3\n5.0: 4", "j").data == {"null": "1", "~": "2", "no": "3", "5.0": "4"}


def test_an_empty_text_is_none(loader):
    document = read("# nothing yet\n", "j")
    assert document.data is None
    assert document.place(("limits", 3)) == (1, 1)


def test_a_byte_order_mark_is_no_text(loader):
    assert read("\ufeffraw: 1".encode(), "j").data == {"raw": "1"}
    assert read("\ufeffraw: 1", "j").data == {"raw": "1"}


def test_a_huge_text_is_refused_before_it_is_parsed():
    for text in ("a" * 5_000_001, b"a" * 5_000_001, "µ" * 2_500_001):
        (fault,) = faults(text)
        assert fault.kind == "too_large"
        assert "5,000,000" in fault.message


def test_the_byte_that_is_no_utf8_is_named():
    (fault,) = faults("raw: 63 \u00b5m\nb: ".encode() + b"\xb5m")
    assert (fault.kind, fault.line, fault.column) == ("not_utf8", 2, 4)
    assert "byte 16" in fault.message and "0xb5" in fault.message


@pytest.mark.parametrize(
    ("character", "word"),
    [
        ("\0", "NUL"),
        ("\x01", "U+0001"),
        ("\x1b", "U+001B"),
        ("\x7f", "U+007F"),
        ("\ud800", "U+D800"),
        ("\ufffe", "U+FFFE"),
    ],
)
def test_a_character_that_no_text_holds_is_named_with_its_place(loader, character, word):
    (fault,) = faults(f"a: 1\nb: x{character}")
    assert (fault.kind, fault.line, fault.column) == ("odd_character", 2, 5)
    assert word in fault.message


@pytest.mark.parametrize("escape", ["\\ud800", "\\UFFFFFFFF", "\\U00110000"])
def test_an_escape_that_gives_no_character_is_refused(loader, escape):
    (fault,) = faults(f'a: "x{escape}"')
    assert fault.kind in ("odd_character", "grammar")
    assert "escape" in fault.message


def test_a_tab_as_indent_is_told_in_plain_words(loader):
    (fault,) = faults("a:\n\tb: 1")
    assert (fault.kind, fault.line, fault.column) == ("tab_indent", 2, 1)
    assert "indent with spaces" in fault.message


YAMLISH = st.lists(
    st.sampled_from(
        [
            "a",
            "b: ",
            "- ",
            "? ",
            ": ",
            ":",
            "\n",
            "  ",
            "\t",
            "[",
            "]",
            "{",
            "}",
            ",",
            '"',
            "'",
            "\\x",
            "|",
            ">",
            "|2-\n",
            "&a ",
            "*a",
            "!",
            "!!int ",
            "!<",
            "%YAML 1.2\n",
            "%T",
            "---",
            "...",
            "#",
            " #",
            "~",
            "null",
            "@",
            "`",
            "5.950",
            "µ",
            "\r",
            "\x85",
            "\u2028",
            "\ufeff",
            "\0",
            "\ud800",
            "-",
            "<<",
        ]
    ),
    max_size=25,
).map("".join)


@pytest.mark.parametrize("which", LOADERS, ids=lambda one: one.__name__)
@given(text=YAMLISH | st.text(max_size=60))
def test_any_text_is_read_or_refused_with_places_inside_it(which, text):
    kept, reader.LOADER = reader.LOADER, which
    try:
        read(text, "job.yaml")
    except Faulty as faulty:
        assert faulty.faults
        for fault in faulty.faults:
            assert fault.line >= 1 and fault.column >= 1, fault
            assert "; " in fault.message or "," in fault.message, fault
            for word in ("invalid", "error occurred", "failed", "please"):
                assert word not in fault.message.lower(), fault
    finally:
        reader.LOADER = kept


@given(st.binary(max_size=40))
def test_any_bytes_are_read_or_refused(data):
    try:
        read(data, "job.yaml")
    except Faulty as faulty:
        assert faulty.faults
