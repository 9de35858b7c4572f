"""How much room letters take."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.draw.extent import box, overlap, overlaps, spread, text_box, text_width
from witnessmark.draw.shape import Circle, Group, Line, Rect, Text, path


def test_figures_are_tabular_so_that_columns_of_readings_align():
    assert len({text_width(figure, 26) for figure in "0123456789"}) == 1


@pytest.mark.truth("advance widths of Atkinson Hyperlegible Next, measured in a browser at 100 px, in px")
@pytest.mark.parametrize(
    ("letter", "bold", "measured"),
    [("0", False, 63.2), ("m", False, 84.5), ("i", False, 25.2), (".", False, 21.0), ("–", False, 50.4),
     ("0", True, 63.2), ("m", True, 87.0), ("W", True, 88.4), (" ", True, 30.3)],
)  # fmt: skip
def test_no_letter_is_taken_for_narrower_than_it_is(letter, bold, measured):
    assert measured <= text_width(letter, 100, bold) <= measured + 1.5


def test_an_unknown_letter_counts_as_a_wide_one():
    assert text_width("漢", 10) == 9


@pytest.mark.parametrize(("anchor", "left"), [("start", 100), ("middle", 100 - 6.4), ("end", 100 - 12.8)])
def test_the_box_follows_the_anchor(anchor, left):
    assert text_box(Text(100, 50, "0", size=20, anchor=anchor))[0] == pytest.approx(left)


def test_boxes_of_shapes():
    assert box(Line(5, 1, 2, 9, "thin")) == (2, 1, 5, 9)
    assert box(Circle(10, 10, 4, "thin", ry=2)) == (6, 8, 14, 12)
    assert box(Group((Rect(0, 0, 2, 2, "part"), path("part", "M", 1, 1, "C", 9, 1, 9, 9, 1, 9)), 1, 1)) == (
        1,
        1,
        10,
        10,
    )


def test_boxes_that_only_touch_do_not_overlap():
    assert not overlap((0, 0, 1, 1), (1, 0, 2, 1))
    assert overlap((0, 0, 1, 1), (1, 0, 2, 1), slack=0.1)


def test_overlapping_texts_are_told_by_their_words():
    assert overlaps([Text(0, 20, "top"), Text(5, 22, "middle"), Text(0, 90, "bottom")]) == (("top", "middle"),)


@given(st.lists(st.tuples(st.floats(0, 300), st.floats(1, 40)), max_size=6))
def test_labels_are_pushed_apart_and_stay_on_the_line(wanted):
    places = spread(wanted, 0, 300)
    ends = sorted((x - w / 2, x + w / 2) for x, (_, w) in zip(places, wanted, strict=True))
    assert all(left >= 0 - 1e-6 and right <= 300 + 1e-6 for left, right in ends)
    assert all(a[1] <= b[0] + 1e-6 for a, b in pairwise(ends))
