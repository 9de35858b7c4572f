"""The entry line: what is a command, and that nothing else is."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.quantity.entry import (
    Answer,
    CannotBeMeasured,
    LimitLeaf,
    MeasuredElsewhere,
    NextQuestion,
    Note,
    Nothing,
    NotMeasured,
    OtherUnit,
    Repeat,
    TakeBack,
    Unknown,
    Value,
    WaiveRest,
    parse,
)


@pytest.mark.parametrize(
    ("line", "entry"),
    [
        ("", Nothing()),
        ("   ", Nothing()),
        ("*", TakeBack()),
        ("*1", Answer(1)),
        ("*2", Answer(2)),
        ("*3", Answer(3)),
        ("*4", LimitLeaf()),
        ("*5", CannotBeMeasured()),
        ("*6", WaiveRest()),
        ("*7", Repeat()),
        ("*8", MeasuredElsewhere()),
        ("*9", Note()),
        ("*0", NextQuestion()),
        ("-", NotMeasured()),
        ("\u2212", NotMeasured()),
        ("/", OtherUnit()),
        (" *7 ", Repeat()),
    ],
)
def test_a_numeric_pad_alone_gives_every_command(line, entry):
    assert parse(line) == entry


@pytest.mark.parametrize(
    "line",
    [
        "5.952",
        "5,952",
        "+0.03",
        "-0.071",
        "1 5/8",
        "1-5/8",
        "0*",
        "0.05*0.06",
        "0.05 0.06",
        "8 tenths",
        " 5.952 ",
        "abc",
        "--",
        "-/",
        "+",
        "5.952*",
    ],
)
def test_whatever_is_no_command_is_kept_byte_for_byte(line):
    assert parse(line) == Value(line)


@pytest.mark.parametrize("line", ["*77", "**", "*x", "* 1", "*1 5.952", "*5.952", "*" + "7" * 300, "*4*"])
def test_an_unknown_command_is_kept_and_told_what_commands_are(line):
    entry = parse(line)
    assert isinstance(entry, Unknown)
    assert entry.text == line
    assert "command" in entry.message.lower()


@given(st.text(max_size=20))
def test_any_line_is_one_entry_and_a_reading_is_never_a_command(line):
    entry = parse(line)
    if isinstance(entry, Value):
        assert entry.text == line
        assert not line.strip().startswith("*")
    if any(character.isdigit() for character in line) and not line.strip().startswith("*"):
        assert entry == Value(line)
