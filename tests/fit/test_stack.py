"""Whole stacks of spring shims against every way to pile them; the travel of an adjuster by hand."""

from itertools import combinations_with_replacement

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from witnessmark.fit.stack import stack, travel, turns

INCH = 25.4


def piled(height, low, high, target, sizes, most):
    """(pieces, grains off the height aimed at, total) of the best pile, or None: every pile there is, by counting."""
    grains = [round(size * 1e6) for size in sizes]
    full, found = round(most * 1e6), []
    for count in range(full // min(grains) + 1):
        for pile in combinations_with_replacement(grains, count):
            after = round(height * 1e6) - sum(pile)
            if sum(pile) <= full and round(low * 1e6) <= after <= round(high * 1e6):
                found.append((count, abs(after - round(target * 1e6)), sum(pile)))
    return min(found, default=None)


def test_no_shim_where_the_height_is_right():
    found = stack(38.0, 37.9, 38.1, 38.0, [0.25, 0.5], 1.5)
    assert (found.pieces, found.total, found.height) == ((), 0, 38.0)


@pytest.mark.truth("derived: 0.50 mm of sink is undone by 0.50 mm of shim; trade sizes 0.015, 0.030 and 0.060 in")
@pytest.mark.parametrize(("height", "pieces"), [
    (38.0 + 0.015 * INCH, (0.015,)),
    (38.0 + 0.045 * INCH, (0.015, 0.030)),
    (38.0 + 0.060 * INCH, (0.060,)),
])  # fmt: skip
def test_inch_shims_bring_back_what_was_sunk(height, pieces):
    found = stack(height, 37.95, 38.05, 38.0, [size * INCH for size in (0.060, 0.015, 0.030)], 1.6)
    assert found.pieces == pytest.approx([size * INCH for size in pieces])
    assert found.height == pytest.approx(38.0)


def test_more_than_four_pieces_where_it_takes_more():
    found = stack(39.5, 37.95, 38.05, 38.0, [0.25], 1.5)
    assert found.pieces == (0.25,) * 6 and found.height == 38.0


def test_fewest_pieces_before_nearest():
    assert stack(38.55, 37.9, 38.1, 38.0, [0.05, 0.50], 1.5).pieces == (0.50,)


def test_of_two_as_near_the_thinner():
    assert stack(38.5, 37.9, 38.1, 38.0, [0.55, 0.45], 1.5).pieces == (0.45,)


def test_of_two_piles_alike_the_one_with_the_thickest_piece():
    assert stack(38.8, 37.99, 38.01, 38.0, [0.2, 0.3, 0.5, 0.6], 1.5).pieces == (0.2, 0.6)


@pytest.mark.parametrize(("height", "most"), [(37.8, 1.5), (38.4, 0.25), (38.2, 1.5)])
def test_none_where_no_pile_will_do(height, most):
    """The spring stands short already; the pile would be too high; 0.2 lies between the piles of 0.5."""
    assert stack(height, 37.99, 38.01, 38.0, [0.5], most) is None


shims = st.lists(st.integers(15, 60), min_size=1, max_size=4, unique=True)


@settings(max_examples=120)
@given(shims, st.integers(3780, 3940), st.integers(0, 12), st.integers(-10, 10), st.integers(0, 150))
def test_every_pile_tried(sizes, height, half, aim, most):
    sizes, most = [size / 100 for size in sizes], most / 100
    asked = (height / 100, 38.0 - half / 100, 38.0 + half / 100, 38.0 + aim / 100, sizes, most)
    found, by_hand = stack(*asked), piled(*asked)
    assert (found is None) == (by_hand is None)
    if found is not None:
        off = round(abs(found.height - asked[3]) * 1e6)
        assert (len(found.pieces), off, round(found.total * 1e6)) == by_hand
        assert set(found.pieces) <= set(sizes) and found.total == pytest.approx(sum(found.pieces))


@given(shims, st.integers(3800, 3940), st.randoms(use_true_random=False))
def test_the_order_of_sizes_changes_nothing_and_inch_is_millimetre(sizes, height, chance):
    sizes = [size / 100 for size in sizes]
    mixed = [(size / INCH) * INCH for size in sizes]
    chance.shuffle(mixed)
    one = stack(height / 100, 37.95, 38.05, 38.0, sizes, 1.5)
    other = stack(height / 100 / INCH * INCH, 37.95, 38.05, 38.0, mixed, 1.5)
    assert (one is None) == (other is None)
    assert one is None or other.pieces == pytest.approx(one.pieces)


@given(st.lists(st.integers(20, 70), min_size=1, max_size=5), st.data())
def test_a_pile_that_was_put_in_can_be_found(pile, data):
    """A spring let down by a pile is brought back by one of no more pieces."""
    assume(sum(pile) <= 150)
    others = data.draw(st.lists(st.integers(20, 70), max_size=3))
    sizes = [size / 100 for size in {*pile, *others}]
    found = stack(38.0 + sum(pile) / 100, 38.0, 38.0, 38.0, sizes, 1.5)
    assert found is not None and len(found.pieces) <= len(pile)
    assert found.height == pytest.approx(38.0)


def test_many_thin_sizes_end_in_a_stack():
    found = stack(39.5, 37.9999, 38.0001, 38.0, [n / 100 + 0.001 for n in range(1, 50)], 1.5)
    assert found is not None
    assert found.total == pytest.approx(1.5, abs=1e-4)


@pytest.mark.parametrize(("preload", "inward", "outward", "holds"), [
    (1.0, 0.5, 0.5, True), (1.5, 0.0, 1.0, True), (1.6, -0.1, 1.1, False), (0.4, 1.1, -0.1, False),
])  # fmt: skip
def test_travel_left_both_ways(preload, inward, outward, holds):
    found = travel(preload, 0.5, 1.5)
    assert (found.inward, found.outward, found.holds) == (pytest.approx(inward), pytest.approx(outward), holds)


def test_turns_of_a_screw():
    """Derived: three quarters of a turn of a pitch of 1 mm moves 0.75 mm; 1/32 in of a 32-thread screw is one turn."""
    assert turns(0.75, 1.0) == 0.75
    assert turns(-INCH / 32, INCH / 32) == -1
