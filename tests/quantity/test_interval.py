"""Feeler leaves: the gap lies from the leaf that enters up to the leaf that does not."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.quantity.interval import Leaves, read_leaves
from witnessmark.quantity.outcome import Asked, Unread
from witnessmark.quantity.unit import UnknownUnit

MM = tuple(map(Decimal, ("0.03", "0.04", "0.05", "0.06", "0.07", "0.08")))
INCH = tuple(map(Decimal, ("0.0015", "0.002", "0.003", "0.004", "0.005", "0.006")))


@pytest.mark.parametrize(
    ("text", "enters", "stops"),
    [
        ("0.05", "0.05", "0.06"),
        ("0,05", "0.05", "0.06"),
        (" 0.05 ", "0.05", "0.06"),
        ("0.05 mm", "0.05", "0.06"),
        ("50 µm", "0.05", "0.06"),
        ("0.05 0.06", "0.05", "0.06"),
        ("0.05*0.06", "0.05", "0.06"),
        ("0.05 * 0.06", "0.05", "0.06"),
        ("0.05 mm 0.06 mm", "0.05", "0.06"),
        ("0.05 0.08", "0.05", "0.08"),
        ("0*", "0", "0.03"),
        ("0 *", "0", "0.03"),
        ("0*0.03", "0", "0.03"),
        ("0*0.05", "0", "0.05"),
        ("0.08", "0.08", None),
        ("0.050", "0.05", "0.06"),
    ],
)
def test_leaves_of_a_millimetre_set(text, enters, stops):
    leaves = read_leaves(text, "mm", MM)
    assert leaves == Leaves(Decimal(enters), None if stops is None else Decimal(stops), "mm", text)


@pytest.mark.parametrize(
    ("text", "enters", "stops"),
    [
        ("0.002", "0.002", "0.003"),
        ("2 thou", "0.002", "0.003"),
        ("1.5 thou*2 thou", "0.0015", "0.002"),
        ("0*", "0", "0.0015"),
        ("0.006", "0.006", None),
        (".002 .003", "0.002", "0.003"),
        ("0,002", "0.002", "0.003"),
        ("20 tenths", "0.002", "0.003"),
    ],
)
def test_leaves_of_an_inch_set(text, enters, stops):
    leaves = read_leaves(text, "in", INCH)
    assert leaves == Leaves(Decimal(enters), None if stops is None else Decimal(stops), "in", text)


def test_the_interval_is_in_millimetre_exactly_and_open_above_the_thickest_leaf():
    assert (read_leaves("0.05", "mm", MM).low, read_leaves("0.05", "mm", MM).high) == (
        Fraction("0.05"),
        Fraction("0.06"),
    )
    inch = read_leaves("0.002", "in", INCH)
    assert (inch.low, inch.high) == (Fraction("0.0508"), Fraction("0.0762"))
    assert read_leaves("0.08", "mm", MM).high is None
    assert read_leaves("0*", "mm", MM).low == 0


@pytest.mark.truth("common practice, no source: a gasket face with at most 0.004 in is tried with the 0.004 in leaf")
def test_the_limit_leaf_that_does_not_enter_stops_the_gap():
    assert read_leaves("*4", "in", INCH, Decimal("0.004")) == Leaves(
        Decimal("0.003"), Decimal("0.004"), "in", "*4", by_limit=True
    )
    assert read_leaves("*4", "mm", MM, Decimal("0.050")) == Leaves(
        Decimal("0.04"), Decimal("0.05"), "mm", "*4", by_limit=True
    )


def test_below_the_thinnest_leaf_as_limit_nothing_entered():
    leaves = read_leaves("*4", "mm", MM, Decimal("0.03"))
    assert (leaves.enters, leaves.stops) == (0, Decimal("0.03"))


@pytest.mark.parametrize(
    ("text", "limit", "message", "span"),
    [
        ("0.055", None, "This set has no leaf 0.055 mm; the nearest are 0.05 and 0.06.", (0, 5)),
        ("0.05*0.10", None, "no leaf 0.1 mm; the nearest is 0.08.", (5, 9)),
        ("5", None, "no leaf 5 mm; the nearest is 0.08.", (0, 1)),
        ("-0.05", None, "no leaf -0.05 mm; the nearest is 0.03", (0, 5)),
        ("0.06 0.05", None, "were the two exchanged?", (0, 9)),
        ("0.05*0.05", None, "the same leaf: were the two exchanged?", (0, 9)),
        ("0.06*0", None, "were the two exchanged?", (0, 6)),
        ("0", None, "type 0*", (0, 1)),
        ("0.04 0.05 0.06", None, "More than two leaves.", (10, 14)),
        ("0.05**0.06", None, "More than two leaves.", (6, 10)),
        ("0.05*", None, "After * comes the leaf that does not enter.", (4, 5)),
        ("*0.05", None, "Nothing to read", (0, 0)),
        ("*4", None, "No limit is entered here", (0, 2)),
        ("*4", "0.055", "The limit 0.055 mm is no leaf of this set", (0, 2)),
        ("0.05*x", None, "No digits.", (5, 6)),
        ("0..05", None, "Two points. Rub one out.", (2, 3)),
        ("0.05*0..6", None, "Two points. Rub one out.", (7, 8)),
        ("", None, "Nothing to read", (0, 0)),
        ("0.05 N", None, "N measures force", (5, 6)),
        ("x" * 201, None, "201 characters", (200, 201)),
    ],
)
def test_what_is_no_leaf_of_the_set_is_told_with_its_place(text, limit, message, span):
    unread = read_leaves(text, "mm", MM, limit and Decimal(limit))
    assert isinstance(unread, Unread)
    assert message in unread.message
    assert (unread.text, unread.start, unread.end) == (text, *span)


def test_the_set_may_be_entered_in_any_order_and_must_have_leaves():
    assert read_leaves("0.05", "mm", MM[::-1]) == read_leaves("0.05", "mm", MM)
    assert "no leaves yet" in read_leaves("0.05", "mm", ()).message
    with pytest.raises(UnknownUnit):
        read_leaves("0.05", "N", MM)


def test_an_ambiguous_leaf_is_settled_by_the_set_and_asked_only_if_the_set_has_both():
    wide = tuple(map(Decimal, ("0.0254", "1")))
    assert read_leaves("10 tenths", "mm", (Decimal("0.0254"), Decimal("0.5"), Decimal(2))).enters == Decimal("0.0254")
    asked = read_leaves("10 tenths", "mm", wide)
    assert isinstance(asked, Asked)
    assert [answer.amount.inside for answer in asked.answers] == [0.0254, 1.0]
    both = read_leaves("10 tenths*1", "mm", wide)
    assert both.message.startswith("Tenths of a thou, or tenths of a millimetre? Type both leaves in full.")


LEAVES = st.lists(st.decimals(min_value="0.001", max_value="2", places=3), min_size=1, max_size=8).map(tuple)


@given(
    st.lists(st.sampled_from([*"0123456789.,*/- ", "0.05", "0.06", "mm", "thou", " tenths", "⅝"]), max_size=8).map(
        "".join
    )
    | st.text(max_size=20),
    st.sampled_from(["mm", "in", "thou"]),
    LEAVES,
    st.none() | st.just(Decimal("0.05")),
)
def test_no_text_ever_raises_and_an_interval_is_never_empty(text, unit, leaves, limit):
    outcome = read_leaves(text, unit, leaves, limit)
    if isinstance(outcome, Leaves):
        assert outcome.high is None or outcome.low < outcome.high
        assert outcome.enters == 0 or outcome.enters in leaves
        assert outcome.stops is None or outcome.stops in leaves
    elif isinstance(outcome, Unread):
        assert 0 <= outcome.start <= outcome.end <= len(text)


@given(LEAVES, st.data())
def test_the_leaf_that_enters_alone_is_that_leaf_and_the_next_of_the_set(leaves, data):
    enters = data.draw(st.sampled_from(leaves))
    alone = read_leaves(str(enters), "mm", leaves)
    if alone.stops is not None:
        named = read_leaves(f"{enters}*{alone.stops}", "mm", leaves)
        assert (named.low, named.high) == (alone.low, alone.high)
        assert not any(enters < leaf < alone.stops for leaf in leaves)
    else:
        assert enters == max(leaves)
