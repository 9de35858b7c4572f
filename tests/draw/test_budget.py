"""A doubt budget as bars."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.draw.budget import Share, budget
from witnessmark.draw.extent import overlaps, text_box, texts
from witnessmark.draw.shape import Rect, flat

SHARES = (Share("calibration of M-07", "0.0010 mm", 0.3), Share("repeatability", "0.0012 mm", 0.65, False),
          Share("temperature", "0.0002 mm", 0.05))  # fmt: skip


def test_the_widest_share_stands_on_top():
    words = [t.text for t in texts(budget(SHARES, "0.0015 mm", "x").shapes)]
    assert words.index("repeatability") < words.index("calibration of M-07") < words.index("temperature")


def test_a_bar_is_as_long_as_its_share_of_the_variance():
    bars = [s.w for s in flat(budget(SHARES, "0.0015 mm", "x").shapes) if isinstance(s, Rect)]
    assert bars[0] / bars[1] == pytest.approx(0.65 / 0.3)


def test_only_what_repeats_shrink_is_hollow():
    roles = [s.role for s in flat(budget(SHARES, "0.0015 mm", "x").shapes) if isinstance(s, Rect)]
    assert roles == ["close_open", "ink", "ink"]


def test_shares_that_are_no_whole_are_refused_with_the_cure():
    with pytest.raises(ValueError, match="divide by the variance"):
        budget((Share("a", "1", 0.5),), "1", "x")


names = st.sampled_from(
    ["calibration of M-07", "setting of B-02 with M-07", "reading step", "temperature difference", "s"]
)


@given(st.lists(st.tuples(names, st.floats(0.001, 5)), min_size=1, max_size=9), st.sampled_from([320, 520]))
def test_words_of_a_budget_stay_inside_and_apart(parts, width):
    whole = sum(part for _, part in parts)
    shares = [Share(name, "0.00123 mm", part / whole) for name, part in parts]
    drawing = budget(shares, "0.0015 mm", "x", width)
    assert not overlaps(drawing.shapes)
    assert all(text_box(t)[2] <= drawing.width and text_box(t)[3] <= drawing.height for t in texts(drawing.shapes))
