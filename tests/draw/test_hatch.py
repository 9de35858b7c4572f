"""Hatching: strokes stay inside, keep their pitch, and never go missing."""

from itertools import pairwise
from math import hypot, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.draw.hatch import strokes
from witnessmark.draw.shape import Circle, Rect, path, polygon


@given(st.floats(-50, 50), st.floats(-50, 50), st.floats(7, 80), st.floats(7, 80), st.booleans())
def test_strokes_stay_inside_the_wall(x, y, w, h, rising):
    for a, b in strokes(Rect(x, y, w, h, "wall"), 4.5, rising):
        for px, py in (a, b):
            assert x - 1e-6 <= px <= x + w + 1e-6
            assert y - 1e-6 <= py <= y + h + 1e-6


@given(st.floats(10, 60), st.floats(20, 60))
def test_a_wall_as_narrow_as_a_mark_is_never_without_hatch(w, h):
    assert strokes(Rect(0, 0, w, h, "wall_small"), 4.5)


def test_strokes_lie_one_pitch_apart_at_45_degrees():
    levels = sorted(x + y for (x, y), _ in strokes(Rect(0, 0, 60, 60, "wall"), 7))
    gaps = {round(b - a, 6) for a, b in pairwise(levels)}
    assert gaps == {round(7 * sqrt(2), 6)}


@pytest.mark.parametrize("rising", [True, False])
def test_a_round_section_is_hatched_to_its_rim(rising):
    for a, b in strokes(Circle(10, 20, 34, "section"), 7, rising):
        assert all(hypot(x - 10, y - 20) <= 34.0001 for x, y in (a, b))


def test_a_hole_stays_clear():
    ring = path(
        "section",
        "M",
        0,
        0,
        "L",
        90,
        0,
        "L",
        90,
        90,
        "L",
        0,
        90,
        "Z",
        "M",
        30,
        30,
        "L",
        60,
        30,
        "L",
        60,
        60,
        "L",
        30,
        60,
        "Z",
    )
    middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in strokes(ring, 5)]
    assert middles
    assert not any(31 < x < 59 and 31 < y < 59 for x, y in middles)


def test_a_bent_outline_is_cut_where_it_bends():
    hook = polygon("section", [(0, 0), (60, 0), (60, 10), (10, 10), (10, 60), (0, 60)])
    assert all(x <= 10.01 or y <= 10.01 for pair in strokes(hook, 5) for x, y in pair)
