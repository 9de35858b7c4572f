"""Sizes to have at hand, held against every need of a range tried one by one."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from witnessmark.fit.cover import cover, step_of

FIVES = [2.40, 2.45, 2.50, 2.55, 2.60]
GRAIN = 1000  # tried needs are this many to the millimetre, off the places where two sizes are equally near


def nearest(need, below, above, sizes):
    """The size for one need, by looking at each."""
    fits = [size for size in sizes if need - below - 1e-9 <= size <= need + above + 1e-9]
    return min(fits, key=lambda size: (round(abs(size - need) * 1e6), size), default=None)


@pytest.mark.parametrize(("needed", "spread", "expected"), [
    (2.50, 0.000, (2.50,)),
    (2.51, 0.010, (2.50,)),
    (2.51, 0.020, (2.50, 2.55)),
    (2.50, 0.060, (2.45, 2.50, 2.55)),
    (2.525, 0.00, (2.50,)),  # half-way: the thinner
    (2.38, 0.01, (2.40,)),
    (2.30, 0.01, ()),  # thinner than the thinnest by more than its window
    (2.36, 0.02, (2.40,)),  # only the upper part of the range is served
    (2.64, 0.02, (2.60,)),
    (2.66, 0.01, ()),  # an answer here would name a shim that fits no need of the range
    (2.90, 0.01, ()),
])  # fmt: skip
def test_by_hand(needed, spread, expected):
    assert cover(needed, spread, needed - 0.03, needed + 0.03, FIVES) == expected


def test_a_single_size_serves_what_lies_in_its_window_and_nothing_else():
    assert cover(2.52, 0.0, 2.49, 2.55, [2.50]) == (2.50,)
    assert cover(2.54, 0.0, 2.51, 2.57, [2.50]) == ()


def test_a_window_beside_the_need_takes_the_size_inside_it():
    """The lash aimed at lies outside the limit that was entered: what fits the limit is taken, not what is nearest."""
    assert cover(2.50, 0.0, 2.53, 2.57, FIVES) == (2.55,)


thousandths = st.integers(0, 400).map(lambda n: 2.3 + n / GRAIN)
sizes = st.lists(thousandths, min_size=1, max_size=8, unique_by=lambda size: round(size * GRAIN))


@settings(max_examples=150)
@given(thousandths, st.integers(0, 60), st.tuples(st.integers(-60, 60), st.integers(-60, 60)), sizes)
def test_every_need_finds_its_size_and_every_size_its_need(needed, spread, ends, each):
    below, above = -min(ends) / GRAIN, max(ends) / GRAIN
    found = cover(needed, spread / GRAIN, needed - below, needed + above, each)
    tried = [needed + k / (4 * GRAIN) for k in range(-4 * spread, 4 * spread + 1)]
    wanted = {nearest(need, below, above, each) for need in tried} - {None}
    # a size that fits at one single need only, on the very edge of two windows, may be named or not
    certain = {nearest(need + off, below, above, each) for need in tried[:-1] for off in (1e-4,)} - {None}
    assert certain <= set(found) <= wanted
    assert list(found) == sorted(set(found))


@given(thousandths, st.integers(0, 60), sizes, st.randoms(use_true_random=False))
def test_the_order_of_sizes_changes_nothing(needed, spread, each, chance):
    window = (needed - 0.02, needed + 0.02)
    mixed = list(each)
    chance.shuffle(mixed)
    assert cover(needed, spread / GRAIN, *window, mixed) == cover(needed, spread / GRAIN, *window, each)


@given(thousandths, st.integers(0, 60), sizes)
def test_inch_is_millimetre(needed, spread, each):
    def back(size):
        return (size / 25.4) * 25.4

    one = cover(needed, spread / GRAIN, needed - 0.02, needed + 0.02, each)
    other = cover(back(needed), back(spread / GRAIN), back(needed - 0.02), back(needed + 0.02), [back(s) for s in each])
    assert [round(size, 6) for size in other] == [round(size, 6) for size in one]


def test_the_widest_step():
    assert step_of([2.5, 2.0, 2.2]) == pytest.approx(0.3)
    assert step_of([2.5]) == 0.0 == step_of([])
