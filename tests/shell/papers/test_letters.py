"""Letters that the papers can draw, and those that they spell."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.shell.papers.letters import BREAK, breakable, covered, drawable


@pytest.mark.parametrize(
    "letters", ["Inl 3F middle, across", "0.04–0.05 µm ° ′ ″ × − ½ ‹›“”", "ÅÄÖßçéñŠķűž", "Ωμέγα", "Мастерская №"]
)
def test_the_trade_and_the_names_of_europe_are_drawn(letters):
    assert drawable(letters) == letters


@pytest.mark.parametrize(("came", "printed"), [
    ("中", "‹U+4E2D›"), ("a\x07b\nc", "a b c"), ("e\u0301", "é"), ("x\u202ey", "x‹U+202E›y"), ("🔧", "‹U+1F527›"),
])  # fmt: skip
def test_a_letter_without_a_shape_is_spelt_not_dropped(came, printed):
    assert drawable(came) == printed


@given(st.text())
def test_whatever_comes_can_be_drawn(text):
    printed = drawable(text)
    assert {ord(letter) for letter in printed} <= covered() | {0x20}
    assert drawable(printed) == printed


@given(st.text())
def test_places_to_end_a_line_change_no_letter(text):
    assert breakable(text).replace(BREAK, "") == text.replace(BREAK, "")


def test_a_long_word_can_end_a_line_and_a_short_one_cannot():
    assert BREAK not in breakable("stem-to-guide clearance, out-of-round")
    assert max(map(len, breakable("9" * 500).split(BREAK))) <= 11


def test_a_composed_letter_is_one_letter():
    assert unicodedata.is_normalized("NFC", drawable("A\u030angstro\u0308m"))
