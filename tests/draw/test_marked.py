"""A mark with its number, on any drawing."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from witnessmark.draw.extent import box, text_box, texts
from witnessmark.draw.marked import mark_on
from witnessmark.draw.shape import Circle, Line, flat
from witnessmark.draw.where import where

share = st.floats(0, 1)


def added(picture, marked):
    return marked.shapes[len(picture.shapes) :]


@settings(max_examples=80, deadline=None)
@given(share, share, st.integers(1, 99), st.sampled_from(["bad", "doubt"]), st.booleans())
def test_the_mark_stands_at_its_share_and_its_number_on_the_drawing(x, y, number, sort, strip):
    picture = where("cracks", "deck", strip=strip)
    marked = mark_on(picture, x, y, number, sort)
    left, top, right, low = picture.frame
    sign = [box(shape) for shape in added(picture, marked)[:-1]]
    middle = sign[-1]
    assert (middle[0] + middle[2]) / 2 == pytest.approx(left + x * (right - left), abs=1e-6)
    assert (middle[1] + middle[3]) / 2 == pytest.approx(top + y * (low - top), abs=1e-6)
    label = texts(marked.shapes)[-1]
    assert label.text == str(number)
    one = text_box(label)
    assert left - 1e-6 <= one[0] < one[2] <= right + 1e-6
    assert top - 1e-6 <= one[1] < one[3] <= low + 1e-6


def test_what_is_bad_is_a_saltire_and_what_is_in_doubt_a_ring():
    picture = where("cracks")
    bad, doubt = (added(picture, mark_on(picture, 0.5, 0.3, 1, sort)) for sort in ("bad", "doubt"))
    assert [s.role for s in bad if isinstance(s, Line)].count("out_line") == 2
    assert [s.role for s in doubt if isinstance(s, Circle)][-1] == "close_line"


def test_the_mark_is_as_large_in_the_strip_as_in_the_field():
    sizes = []
    for strip in (False, True):
        picture = where("cracks", strip=strip)
        left, _, right, _ = box(added(picture, mark_on(picture, 0.5, 0.5))[-2])
        sizes.append((right - left) * picture.width / (picture.frame[2] - picture.frame[0]))
    assert sizes[0] == pytest.approx(sizes[1])


def test_several_marks_each_keep_their_number():
    picture = mark_on(mark_on(where("cracks"), 0.4, 0.2, 1), 0.6, 0.2, 2, "doubt")
    assert {"1", "2"} <= {text.text for text in texts(flat(picture.shapes))}
    assert picture.name.endswith("mark 1; mark 2")


@pytest.mark.parametrize(("x", "y", "sort", "cure"),
                         [(1.2, 0.5, "bad", "shares from 0 to 1"), (0.5, -0.1, "bad", "off the drawing"),
                          (0.5, 0.5, "good", "bad or doubt")])  # fmt: skip
def test_a_mark_that_cannot_be_drawn_is_told_with_its_cure(x, y, sort, cure):
    with pytest.raises(ValueError, match=cure):
        mark_on(where("cracks"), x, y, 1, sort)
