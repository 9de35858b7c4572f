"""The word that was probably meant."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.text.near import did_you_mean, near

KEYS = ["gauge", "place", "round", "characteristic", "raw"]


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("guage", "gauge"),
        ("Gauge", "gauge"),
        ("charcteristic", "characteristic"),
        ("plaec", "place"),
        ("xyzzy", None),
        ("", None),
        ("gauge" * 40, None),
    ],
)
def test_a_slip_of_the_pen_finds_its_word(written, meant):
    assert near(written, KEYS) == meant


def test_a_message_gets_its_tail_only_where_something_is_near():
    assert did_you_mean("guage", KEYS) == "; did you mean 'gauge'?"
    assert did_you_mean("xyzzy", KEYS) == ""
    assert did_you_mean("guage", []) == ""


@given(st.text(), st.lists(st.text(max_size=20)))
def test_only_a_choice_is_ever_given_whatever_their_order(word, choices):
    found = near(word, choices)
    assert found is None or found in choices
    assert near(word, choices[::-1]) == found
