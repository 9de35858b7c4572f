"""Entries as they are typed and sent at the bench."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.quantity.amount import Amount
from witnessmark.quantity.read import Asked, Unread, read
from witnessmark.quantity.unit import UNITS, WORDS, UnknownUnit


@pytest.mark.parametrize(
    ("text", "in_hand", "value", "unit", "step"),
    [
        ("5.952", "mm", "5.952", "mm", "0.001"),
        ("0.2345", "in", "0.2345", "in", "0.0001"),
        ("5,95", "mm", "5.95", "mm", "0.01"),
        ("1.234,5", "mm", "1234.5", "mm", "0.1"),
        ("1,234.5", "mm", "1234.5", "mm", "0.1"),
        ("+0.03", "mm", "0.03", "mm", "0.01"),
        ("-0.071", "mm", "-0.071", "mm", "0.001"),
        ("\u22120.071", "mm", "-0.071", "mm", "0.001"),
        ("1 5/8", "in", "1.625", "in", "1/8"),
        ("1-5/8", "in", "1.625", "in", "1/8"),
        ("5/8", "in", "0.625", "in", "1/8"),
        ("⅝", "in", "0.625", "in", "1/8"),
        ("1⅝", "in", "1.625", "in", "1/8"),
        ("0.2345 in", "mm", "0.2345", "in", "0.0001"),
        ('0.2345"', "mm", "0.2345", "in", "0.0001"),
        ("0.2345″", "mm", "0.2345", "in", "0.0001"),
        ("2.5 thou", "mm", "2.5", "thou", "0.1"),
        ("2.5thou", "in", "2.5", "thou", "0.1"),
        ("63 um", "mm", "63", "µm", "1"),
        ("63 \u00b5m", "mm", "63", "µm", "1"),
        ("63\u03bcm", "in", "63", "µm", "1"),
        (".5", "mm", "0.5", "mm", "0.1"),
        ("5.", "mm", "5", "mm", "1"),
        ("38.40 mm", "in", "38.40", "mm", "0.01"),
        ("38.40MM", "in", "38.40", "mm", "0.01"),
        ("  5.952  ", "mm", "5.952", "mm", "0.001"),
        ("5/8 mm", "mm", "0.625", "mm", "1/8"),
        ("8", "tenths", "8", "tenths", "1"),
        ("2", "thou", "2", "thou", "1"),
    ],
)
def test_what_is_typed_at_the_bench_is_read_exactly(text, in_hand, value, unit, step):
    amount = read(text, in_hand)
    assert amount == Amount(Fraction(value), unit, Fraction(step), text)


@pytest.mark.parametrize(
    ("text", "mm"), [("0.2345 in", "5.9563"), ("2.5 thou", "0.0635"), ("63 um", "0.063"), ("1 5/8", "41.275")]
)
def test_all_dialects_meet_in_millimetre_without_rounding(text, mm):
    assert read(text, "in").inside_exact == Fraction(mm)


def test_a_bare_fraction_is_inch_even_with_a_millimetre_gauge_and_says_so():
    amount = read("5/8", "mm")
    assert (amount.unit, amount.inside) == ("in", 15.875)
    assert amount.assumed == "A fraction without a unit is inch, though the gauge in hand reads mm."
    assert read("5/8", "in").assumed == ""
    assert read("5/8 in", "mm").assumed == ""


def test_half_a_thou_on_a_gauge_that_reads_thou_is_asked_back_unless_the_place_decides():
    asked = read("1/2", "thou")
    assert [answer.label for answer in asked.answers] == ["1/2 in", "1/2 thou"]
    assert read("1/2", "thou", plausible=(0.0, 0.1)).unit == "thou"
    assert read("1/2", "thou", plausible=(10.0, 20.0)).unit == "in"


def test_a_comma_before_three_digits_is_asked_back_when_both_meanings_are_believable():
    for asked in (read("5,952", "mm"), read("5,952", "mm", plausible=(1.0, 10_000.0))):
        assert isinstance(asked, Asked)
        assert [(answer.label, answer.amount.value, answer.amount.step) for answer in asked.answers] == [
            ("5.952 mm", Fraction("5.952"), Fraction("0.001")),
            ("5952 mm", 5952, 1),
        ]
        assert asked.question.endswith("?")


def test_a_comma_before_three_digits_is_read_where_only_one_meaning_is_believable():
    assert read("5,952", "mm", plausible=(5.0, 7.0)).value == Fraction("5.952")
    assert read("5,952", "µm", plausible=(5.0, 7.0)).value == 5952


def test_a_comma_is_a_decimal_comma_where_neither_meaning_is_believable():
    assert read("5,952", "mm", plausible=(38.0, 41.0)).value == Fraction("5.952")


def test_a_comma_after_a_bare_zero_is_never_asked_back():
    assert read("0,952", "mm").value == Fraction("0.952")


def test_the_band_is_in_millimetre_whatever_the_gauge_reads():
    assert read("1,625", "in", plausible=(38.0, 42.0)).value == Fraction("1.625")


@pytest.mark.truth("common practice, no source: a shop tenth is 0.0001 in")
def test_a_tenth_is_a_tenth_of_a_thou():
    amount = read("8 tenths", "mm", plausible=(0.0, 0.1))
    assert (amount.to("in"), amount.to("mm")) == (Fraction("0.0008"), Fraction("0.02032"))


@pytest.mark.parametrize("band", [None, (0.0, 1.0)])
def test_a_tenth_is_asked_back_where_tenths_of_a_millimetre_are_believable_too(band):
    asked = read("8 tenths", "mm", plausible=band)
    assert isinstance(asked, Asked)
    assert [(answer.label, answer.amount.inside) for answer in asked.answers] == [
        ("0.0008 in", 0.02032),
        ("0.8 mm", 0.8),
    ]


def test_a_gauge_that_reads_in_tenths_is_never_asked_back():
    assert read("8", "tenths").to("in") == Fraction("0.0008")


@pytest.mark.parametrize(
    ("text", "in_hand", "dimension", "inside"),
    [
        ("12 deg", "deg crank", "angle_crank", "deg crank"),
        ("12", "deg cam", "angle_cam", "deg cam"),
        ("12 deg crank", "deg", "angle_crank", "deg crank"),
        ("12° cam", "deg", "angle", "deg cam"),
        ("12", "deg crank", "angle", "deg crank"),
    ],
)
def test_an_angle_is_of_the_crank_or_of_the_cam_by_its_name_or_by_its_gauge(text, in_hand, dimension, inside):
    amount = read(text, in_hand, dimension=dimension)
    assert (amount.value, amount.unit) == (12, inside)


@pytest.mark.parametrize(
    ("text", "in_hand", "dimension"),
    [
        ("12 deg", "deg", "angle_crank"),
        ("12", "deg", "angle"),
        ("12°", "deg", "angle_cam"),
        ("12 deg", "deg cam", "angle_crank"),
    ],
)
def test_an_angle_that_names_neither_crank_nor_cam_is_asked_back(text, in_hand, dimension):
    asked = read(text, in_hand, dimension=dimension)
    assert [answer.label for answer in asked.answers] == ["12 deg crank", "12 deg cam"]


def test_the_angle_of_a_seat_belongs_to_no_shaft():
    assert read("45°", "deg", dimension="angle_plane").value == 45


@pytest.mark.parametrize(
    ("text", "in_hand", "dimension", "message", "span"),
    [
        (
            "5 N",
            "mm",
            "length",
            "N measures force, and a length is wanted here. Write mm, µm, cm, m, in, thou, tenths or µin.",
            (2, 3),
        ),
        (
            "12",
            "mm",
            "force",
            "A force is wanted here, and the gauge in hand reads mm. Write the unit: N, kN, lbf or kgf.",
            (0, 2),
        ),
        (
            "12 cam deg",
            "deg crank",
            "angle_crank",
            "cam deg measures cam angle, and a crank angle is wanted here.",
            (3, 10),
        ),
        ("5..9", "mm", "length", "Two points. Rub one out.", (2, 3)),
        ("5.952 mmm", "mm", "length", "did you mean 'mm'?", (6, 9)),
        ("5.9o2", "mm", "length", "A letter stands among the digits.", (3, 4)),
        ("5.9 5.8", "mm", "length", "Two numbers.", (4, 7)),
        ("5e-3", "mm", "length", "No powers of ten.", (1, 4)),
        ("5.95-", "mm", "length", "A sign after the number.", (4, 5)),
        ("5/8/2", "in", "length", "A stroke without a whole number", (3, 4)),
        ("\uff15.9", "mm", "length", "plain 0 to 9", (0, 1)),
        ("5 nm", "mm", "length", "No unit is called 'nm'", (2, 4)),
        ("5 M", "mm", "length", "No unit is called 'M'", (2, 3)),
        ("", "mm", "length", "Nothing to read.", (0, 0)),
        ("5.952 \u00e4", "mm", "length", "No unit is called 'ä'", (6, 7)),
        ("5" * 201, "mm", "length", "201 characters. One reading has at most 200", (200, 201)),
    ],
)
def test_what_cannot_be_read_is_told_in_one_sentence_with_the_characters_to_mark(
    text, in_hand, dimension, message, span
):
    unread = read(text, in_hand, dimension=dimension)
    assert isinstance(unread, Unread)
    assert message in unread.message
    assert (unread.text, unread.start, unread.end) == (text, *span)


def test_a_gauge_with_an_unknown_unit_is_a_fault_of_the_register_not_of_the_hand():
    with pytest.raises(UnknownUnit, match="did you mean 'inch'"):
        read("5", "insh")
    with pytest.raises(ValueError, match="no dimension is called 'lenght'"):
        read("5", "mm", dimension="lenght")


ENTRY = st.lists(
    st.sampled_from([*list('0123456789.,+-/ −⅝*"°µ\xa0'), "mm", "in", " thou", " tenths", " deg", "N", "5/8", "５"]),
    max_size=12,
).map("".join)
BAND = st.none() | st.tuples(st.floats(allow_nan=False), st.floats(allow_nan=False)).map(lambda two: tuple(sorted(two)))


@given(
    ENTRY | st.text(max_size=210), st.sampled_from([one.name for one in UNITS]), st.sampled_from(sorted(WORDS)), BAND
)
def test_no_text_ever_raises_and_every_outcome_is_whole(text, in_hand, dimension, band):
    outcome = read(text, in_hand, dimension=dimension, plausible=band)
    if isinstance(outcome, Asked):
        assert 2 <= len(outcome.answers) <= 3
        assert (
            len({answer.label for answer in outcome.answers}) == len({answer.amount for answer in outcome.answers}) >= 2
        )
        assert outcome.text == text
    elif isinstance(outcome, Unread):
        assert 0 <= outcome.start <= outcome.end <= len(text)
        assert outcome.start < outcome.end or not text.strip()
        assert (
            outcome.message[0].isupper()
            or outcome.message[0].isdigit()
            or outcome.message.startswith(text[outcome.start : outcome.end])
        )
        for word in ("invalid", "error occurred", "failed", "please"):
            assert word not in outcome.message.replace(text, "").lower()
    else:
        assert outcome.text == text
        assert outcome.step > 0
        assert isinstance(outcome.inside, float)


@given(
    st.integers(0, 999_999),
    st.integers(1, 5),
    st.sampled_from(["mm", "in", "thou", "µm"]),
    st.sampled_from(["", "+", "-", "\u2212"]),
)
def test_a_point_a_comma_and_a_unit_after_it_mean_the_same(digits, places, name, sign):
    whole, part = divmod(digits, 10**places)
    pointed = f"{sign}{whole}.{part:0{places}d}"
    amount = read(pointed, name)
    assert amount.value == Fraction(digits, 10**places) * (-1 if sign in "-\u2212" and sign else 1)
    comma = read(pointed.replace(".", ","), name)
    meanings = [answer.amount for answer in comma.answers] if isinstance(comma, Asked) else [comma]
    assert amount.value in [meaning.value for meaning in meanings]
    assert (len(meanings) == 2) == (places == 3 and 1 <= whole <= 999)
    assert read(f"{pointed} {name}", "cm").inside_exact == amount.inside_exact
