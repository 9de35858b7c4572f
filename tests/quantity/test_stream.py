"""A gauge's stream: whole lines, wherever it is cut."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.quantity.entry import Nothing, Value, parse
from witnessmark.quantity.stream import Line, Lines

BURST = "".join(f"5.9{n:02d}\r\n" for n in range(20)).encode()


def texts(stream):
    return [line.text for line in Lines().feed(stream)]


@pytest.mark.parametrize(
    ("stream", "lines"),
    [
        ("5.952\r\n5.951\r\n", ["5.952", "5.951"]),
        ("5.952\r5.951\r", ["5.952", "5.951"]),
        ("5.952\n5.951\n", ["5.952", "5.951"]),
        ("5.952\r\n\r\n5.951\r\n", ["5.952", "", "5.951"]),
        ("\r\r", ["", ""]),
        ("\n\n", ["", ""]),
        ("5.952\n\r5.951\r", ["5.952", "", "5.951"]),
        ("\x025.952\x03\r", ["5.952"]),
        ("\x005.9\x0052\r", ["5.952"]),
        ("  +5.952 mm\r", ["+5.952 mm"]),
        ("\t5.952\r", ["5.952"]),
        ("5.952", []),
        ("1 5/8\r", ["1 5/8"]),
        ("0.05\t0.06\r", ["0.05 0.06"]),
    ],
)
def test_lines_end_with_return_newline_or_both_and_stray_characters_are_dropped(stream, lines):
    assert texts(stream) == lines
    assert texts(stream.encode()) == lines


def test_twenty_readings_in_one_burst_are_twenty_readings():
    assert texts(BURST) == [f"5.9{n:02d}" for n in range(20)]


def test_a_double_enter_is_an_empty_line_which_skips_no_place():
    assert [parse(line.text) for line in Lines().feed("5.952\r\n\r\n")] == [Value("5.952"), Nothing()]


STREAM = st.lists(
    st.sampled_from(
        [
            b"5.952",
            b"-0.071",
            b"\r",
            b"\n",
            b"\r\n",
            b"\0",
            b"\x02",
            b" ",
            b"\t",
            "µm".encode(),
            "⅝".encode(),
            b"\xb5",
            b"\xff",
            b"*",
            b"x" * 90,
        ]
    ),
    max_size=30,
).map(b"".join)


@given(STREAM | st.just(BURST), st.data())
def test_a_stream_reads_the_same_wherever_it_is_cut(stream, data):
    cuts = sorted(data.draw(st.lists(st.integers(0, len(stream)), max_size=12)))
    whole, parts = Lines(), Lines()
    expected = whole.feed(stream)
    edges = [0, *cuts, len(stream)]
    found = [line for start, end in itertools.pairwise(edges) for line in parts.feed(stream[start:end])]
    assert tuple(found) == expected
    assert parts.begun == whole.begun


@given(st.text(alphabet="5.9 \r\nµ", max_size=30), st.data())
def test_text_from_a_keyboard_reads_the_same_wherever_it_is_cut(stream, data):
    lines = Lines()
    cut = data.draw(st.integers(0, len(stream)))
    assert (*lines.feed(stream[:cut]), *lines.feed(stream[cut:])) == Lines().feed(stream)


def test_a_byte_that_is_no_text_stays_visible():
    assert texts(b"63 \xb5m\r") == ["63 \\xb5m"]


def test_an_endless_line_is_kept_to_its_limit_and_refused():
    lines = Lines()
    for _ in range(1000):
        assert lines.feed("5" * 1000) == ()
    assert len(lines.begun) == 200
    (line,) = lines.feed("\r")
    assert line.text == "5" * 200
    assert line.refused.startswith("1000000 characters in one line, of which the first 200 are kept.")
    assert lines.feed("5.952\r") == (Line("5.952"),)
    assert Lines().feed("5" * 200 + "\r") == (Line("5" * 200),)
