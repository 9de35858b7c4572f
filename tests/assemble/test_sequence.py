"""Orders from places: from the middle outwards, every bolt once, even to both ends."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assemble.joint import ORDER, TEN
from witnessmark.assemble.pattern import Bolt, columns, grid, middle, rings
from witnessmark.assemble.sequence import balance, criss_cross, loosening, spiral, usual

TERN = [Bolt(name, float(x), float(y)) for name, (x, y) in TEN.items()]


def test_the_usual_ten_bolt_head():
    assert list(spiral(TERN)) == ORDER


@pytest.mark.truth("common practice, no source: four bolts about one bore are turned crosswise")
def test_four_bolts_are_turned_crosswise():
    square = [Bolt("a", 0, 1), Bolt("b", 1, 1), Bolt("c", 0, 0), Bolt("d", 1, 0)]
    assert usual(square) == ("a", "d", "b", "c")


def test_one_row_goes_to_both_ends_in_turn():
    assert spiral(grid(1, 5)) == ("3", "4", "2", "5", "1")


@st.composite
def patterns(draw):
    """One to four rows, four to forty bolts, steps that differ, rows that are not quite straight, some bolts missing."""
    rows = draw(st.integers(1, 4))
    count = draw(st.integers(max(2, -(-4 // rows)), 40 // rows))
    xs, x = [], 0.0
    for _ in range(count):
        xs.append(x)
        x += draw(st.floats(70, 110))
    bolts = [Bolt(f"{row}-{n}", one + draw(st.floats(-4, 4)), row * 80 + draw(st.floats(-4, 4)))
             for n, one in enumerate(xs) for row in range(rows)]  # fmt: skip
    gone = draw(st.sets(st.integers(0, len(bolts) - 1), max_size=max(0, min(2, len(bolts) - 4))))
    return [bolt for n, bolt in enumerate(bolts) if n not in gone]


@given(patterns(), st.sampled_from([spiral, criss_cross, usual]))
@settings(max_examples=120, deadline=None)
def test_any_pattern(bolts, order_of):
    order = order_of(bolts)
    assert sorted(order) == sorted(one.name for one in bolts)
    ring = {bolt.name: n for n, each in enumerate(rings(bolts)) for bolt in each}
    along = [ring[name] for name in order]
    assert along == sorted(along), "the rings come from the middle outwards"
    assert along[0] == 0
    assert loosening(loosening(order)) == order


@given(patterns())
@settings(max_examples=80, deadline=None)
def test_what_is_tight_stays_about_the_middle(bolts):
    """Never more than a column and its neighbours off: an order from one end comes to a half."""
    spans = [max(one.x for one in bolts) - min(one.x for one in bolts)]
    step = max((b[0].x - a[0].x for a, b in zip(columns(bolts), columns(bolts)[1:], strict=False)), default=0)
    most = max(balance(bolts, spiral(bolts)))
    assert most <= 1.2 * step / spans[0] + 0.05


@given(patterns())
@settings(max_examples=60, deadline=None)
def test_a_change_of_unit_or_place_changes_no_order(bolts):
    inches = [Bolt(one.name, one.x / 25.4 + 100, one.y / 25.4) for one in bolts]
    assert spiral(inches) == spiral(bolts)
    assert criss_cross(inches) == criss_cross(bolts)


def test_rows_that_are_not_straight_are_columns_all_the_same():
    bent = [Bolt("a", 0, 0), Bolt("b", 6, 80), Bolt("c", 90, 0), Bolt("d", 84, 80)]
    assert [[one.name for one in column] for column in columns(bent)] == [["a", "b"], ["c", "d"]]
    assert middle(bent) == (45, 40)


def test_nothing_has_no_order():
    assert spiral([]) == ()
