"""A YAML text with places: what is kept, what is refused, and where."""

import time
import tracemalloc

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


@pytest.fixture(params=LOADERS, ids=lambda loader: loader.__name__)
def loader(request, monkeypatch):
    """Both parsers: the one with the C library, and the one for machines that have none."""
    monkeypatch.setattr(reader, "LOADER", request.param)


def faults(text, name="job.yaml"):
    with pytest.raises(Faulty) as caught:
        read(text, name)
    return caught.value.faults


def told(text):
    return [(fault.kind, fault.line, fault.column, fault.path) for fault in faults(text)]


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


def test_values_and_keys_have_places_counted_from_one(loader):
    document = read(JOB, "job.yaml")
    assert document.place(("readings", 0, "raw")) == (3, 34)
    assert document.place(("readings", 1, "raw")) == (5, 10)
    assert document.key_place(("readings", 1, "raw")) == (5, 5)
    assert document.place(("readings",)) == (3, 3)
    assert document.key_place(("readings",)) == (2, 1)


def test_a_missing_thing_has_the_place_of_its_nearest_parent(loader):
    document = read(JOB, "job.yaml")
    assert document.place(("readings", 1, "gauge")) == document.place(("readings", 1)) == (4, 5)
    assert document.key_place(("readings", 9, "gauge", "U")) == (3, 3)
    assert document.place(("nowhere",)) == (1, 1)


def test_columns_count_characters_not_bytes(loader):
    assert read("{µm: 1, b: 2}".encode(), "j").key_place(("b",)) == (1, 9)


def test_a_byte_order_mark_is_no_text(loader):
    assert read("\ufeffraw: 1".encode(), "j").data == {"raw": "1"}
    assert read("\ufeffraw: 1", "j").data == {"raw": "1"}


def test_every_duplicate_is_told_at_its_second_place(loader):
    text = "a: 1\nb: {x: 1, x: 2}\na: {y: 1, y: 2}\na: [[1], {z: [2]}]\n"
    assert told(text) == [
        ("duplicate_key", 2, 11, "b.x"),
        ("duplicate_key", 3, 1, "a"),
        ("duplicate_key", 3, 11, ""),
        ("duplicate_key", 4, 1, "a"),
    ]
    assert "first in line 1" in faults(text)[1].message


def test_faults_of_all_kinds_are_told_together(loader):
    text = "a: &x 1\nb: *x\nc: !!int 3\n[d]: 4\nb: 5\n"
    assert told(text) == [
        ("anchor", 1, 4, "a"),
        ("alias", 2, 4, "b"),
        ("tag", 3, 4, "c"),
        ("key_not_text", 4, 1, ""),
        ("duplicate_key", 5, 1, "b"),
    ]


def test_an_alias_bomb_is_refused_without_being_walked(loader):
    text = "a0: &a0 [x, x]\n" + "".join(f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 9)}]\n" for i in range(1, 30))
    tracemalloc.start()
    begun = time.perf_counter()
    kinds = {fault.kind for fault in faults(text)}
    took, (_, peak) = time.perf_counter() - begun, tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert kinds == {"anchor", "alias", "too_many"}
    assert took < 2
    assert peak < 5_000_000


def test_an_alias_that_holds_itself_is_refused(loader):
    assert [kind for kind, *_ in told("a: &a [*a]")] == ["anchor", "alias"]


@pytest.mark.parametrize("text", ["[" * 41, "{a: " * 41, "- " * 41, "[" * 100_000])
def test_deep_nesting_is_refused_at_once(loader, text):
    kinds = {fault.kind for fault in faults(text)}
    assert kinds == {"too_deep"}


def test_forty_levels_are_read(loader):
    data = read("[" * 40 + "]" * 40, "j").data
    for _ in range(39):
        (data,) = data
    assert data == []


def test_a_huge_text_is_refused_before_it_is_parsed():
    for text in ("a" * 5_000_001, b"a" * 5_000_001, "µ" * 2_500_001):
        (fault,) = faults(text)
        assert fault.kind == "too_large"
        assert "5,000,000" in fault.message


def test_too_many_entries_are_refused(monkeypatch):
    monkeypatch.setattr(reader, "MOST_ENTRIES", 10)
    assert told("[1,2,3,4,5,6,7,8,9,10]") == [("too_large", 1, 20, "[9]")]


def test_a_second_document_is_told_at_its_place(loader):
    assert told("a: 1\n---\na: 2\n") == [("documents", 2, 1, "")]


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


def test_fifty_faults_are_told_and_then_it_is_said_that_more_follow(loader):
    found = faults("a: 1\n" * 60_000)
    assert [fault.kind for fault in found] == ["duplicate_key"] * 50 + ["too_many"]
    assert len(faults("\0" * 100)) == 51


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
