"""Lash shims of a whole head, held against published assignments, against every way tried, and against themselves."""

from collections import Counter
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fit.brute import best, score
from witnessmark.fit.lash import (
    BETWEEN,
    BOUGHT,
    ON_SHELF,
    SHELF,
    STAYS,
    SWAPPED,
    TAKEN,
    TOO_THICK,
    TOO_THIN,
    _matched,
    _Shims,
    assign,
)

LADDER = tuple(round(2.0 + 0.05 * n, 2) for n in range(21))


def head(needed, on_engine, shelf=(), sizes=LADDER, half=0.03, names=None):
    """A question with one half width for every window, in the order in which `assign` takes it."""
    names = names or [f"v{n}" for n in range(len(needed))]
    return (names, list(needed), [one - half for one in needed], [one + half for one in needed], list(on_engine),
            dict(shelf), list(sizes))  # fmt: skip


def sources(found):
    return {one.place: one.source for one in found.given}


# Whole cost tables, every shim on the shelf: published instances with their optimum.
OR_TOOLS = [[90, 76, 75, 80], [35, 85, 55, 65], [125, 95, 90, 105], [45, 110, 95, 115]]
CLAPPER = (
    ([[400, 150, 400], [400, 450, 600], [300, 225, 300]], 850),
    ([[400, 150, 400, 1], [400, 450, 600, 2], [300, 225, 300, 3]], 452),
    ([[10, 10, 8], [9, 8, 1], [9, 7, 4]], 18),
    ([[10, 10, 8, 11], [9, 8, 1, 1], [9, 7, 4, 10]], 15),
)


def total(table):
    """What the matching of the product costs on a table of costs."""
    table = np.array(table, float)
    shims = _Shims(np.ones(table.shape[1]), np.full(table.shape[1], ON_SHELF), np.ones(table.shape, bool), table)
    chosen = _matched(shims)
    assert len(set(chosen.values())) == len(table)
    return sum(table[row, column] for row, column in chosen.items())


@pytest.mark.truth("SciPy, optimize/tests/test_linear_assignment.py, instances of B. M. Clapper's munkres with optimum")
@pytest.mark.parametrize(("table", "optimum"), CLAPPER)
def test_published_tables_square_and_wide(table, optimum):
    assert total(table) == optimum


@pytest.mark.truth("OR-Tools, linear assignment test on a 4 x 4 table: the optimum is 80 + 55 + 95 + 45")
def test_published_table_of_four():
    assert total(OR_TOOLS) == 80 + 55 + 95 + 45


@pytest.mark.truth("Machol and Wien, Operations Research 25 (1977) 364: cost i j; the optimum pairs i with n - 1 - i")
@pytest.mark.parametrize("n", [3, 8, 32, 80])
def test_a_hard_assignment_problem(n):
    assert total(np.outer(np.arange(n), np.arange(n))) == n * (n - 1) * (n - 2) // 6


@pytest.mark.truth("derived: of two crossed pairs on a line the uncrossed are never longer, so rank goes to rank")
@given(st.lists(st.tuples(st.integers(0, 400), st.integers(0, 400)), min_size=1, max_size=40))
def test_as_many_shims_as_valves_go_by_rank(pairs):
    needed, held = ([2.0 + each[k] / 1000 for each in pairs] for k in (0, 1))
    found = assign(*head(needed, [None] * len(needed), Counter(held), [], half=1.0))
    ranked = sum(abs(a - b) for a, b in zip(sorted(needed), sorted(held), strict=True))
    assert sum(abs(one.left) for one in found.given) == pytest.approx(ranked, abs=1e-9)


# By hand.
def test_a_shim_that_serves_stays_though_a_better_one_lies_on_the_shelf():
    found = assign(*head([2.51], [2.53], {2.51: 1}))
    assert (found.given[0].source, found.given[0].size, found.moved, found.chains) == (STAYS, 2.53, 0, ())


def test_two_valves_exchange_their_shims_before_anything_is_bought():
    found = assign(*head([2.50, 2.60], [2.60, 2.50]))
    assert sources(found) == {"v0": SWAPPED, "v1": SWAPPED} and not found.bought
    assert found.chains == (("v0", "v1", "v0"),)


def test_a_chain_begins_where_the_shim_is_given_away_and_nothing_comes_back():
    found = assign(*head([2.60, 2.50, 2.70], [2.50, 2.70, 2.90], sizes=[2.60]))
    assert [(one.place, one.source, one.came_from) for one in found.given] == [
        ("v0", BOUGHT, ""), ("v1", SWAPPED, "v0"), ("v2", SWAPPED, "v1"),
    ]  # fmt: skip
    assert found.bought == {2.60: 1} and found.chains == (("v0", "v1", "v2"),)


def test_one_bought_less_is_worth_any_number_of_moves():
    """v0 alone would buy; instead its need is met by v1, v1's by v2, v2's from the shelf."""
    found = assign(*head([2.50, 2.55, 2.60], [2.30, 2.50, 2.55], {2.60: 1}, [2.50], half=0.02))
    assert not found.bought and found.moved == 3
    assert found.chains == (("v2", "v1", "v0"),)


def test_of_two_as_good_the_engine_gives_before_the_shelf():
    found = assign(*head([2.50, 2.80], [2.30, 2.50], {2.50: 1, 2.80: 1}, []))
    assert sources(found) == {"v0": SWAPPED, "v1": SHELF}


def test_the_engine_gives_before_the_shelf_however_the_ties_fall():
    """Both v0 and v1 want 2.52; one gets it, the other 2.51 off the shelf or 2.53 from v2, as far off."""
    found = assign(*head([2.52, 2.52, 2.50], [2.50, 2.50, 2.53], {2.52: 1, 2.51: 1}, [], half=0.01))
    assert sorted(one.size for one in found.given) == [2.50, 2.52, 2.53]
    assert sorted(sources(found).values()) == [SWAPPED, SWAPPED, SHELF]


def test_nearness_counts_after_moves():
    found = assign(*head([2.50], [2.20], {2.48: 1, 2.51: 2}))
    assert (found.given[0].size, found.given[0].left) == (2.51, pytest.approx(-0.01))


@pytest.mark.parametrize(("needed", "why", "thick", "thin", "below", "above"), [
    (1.90, TOO_THICK, 0.07, 0.0, None, 2.00),
    (3.10, TOO_THIN, 0.0, 0.07, 3.00, None),
    (2.525, BETWEEN, 0.0, 0.0, 2.50, 2.55),
])  # fmt: skip
def test_a_valve_without_a_shim_says_why(needed, why, thick, thin, below, above):
    found = assign(*head([needed], [None], half=0.03 if why != BETWEEN else 0.02))
    one = found.unfit[0]
    assert not found.given
    assert (one.why, one.below, one.above) == (why, below, above)
    assert (one.too_thick, one.too_thin) == (pytest.approx(thick), pytest.approx(thin))


def test_the_last_shim_of_a_shelf_goes_to_one_and_the_other_says_where_it_went():
    found = assign(*head([2.50, 2.51], [None, None], {2.50: 1}, []))
    assert [one.place for one in found.given] == ["v0"]
    assert [(one.place, one.why) for one in found.unfit] == [("v1", TAKEN)]


def test_a_shim_of_a_valve_that_nothing_fits_serves_another():
    found = assign(*head([1.50, 2.50], [2.50, 2.90]))
    assert found.given[0].came_from == "v0" and found.unfit[0].why == TOO_THICK


def test_what_is_bought_may_be_bought_more_than_once():
    found = assign(*head([2.50, 2.50, 2.50], [None] * 3))
    assert found.bought == {2.50: 3}


def test_a_window_exactly_as_wide_as_nothing_takes_its_size():
    assert assign(*head([2.50], [None], half=0.0)).given[0].size == 2.50


def test_a_large_engine_with_wide_windows_stays_exact():
    """80 valves, windows 2 mm wide: what is near counts to the micrometre beside what is bought."""
    stream = np.random.default_rng(7)
    needed = list(np.round(stream.uniform(2, 3, 80), 3))
    held = list(np.round(stream.uniform(2, 3, 80), 3))
    found = assign(*head(needed, [None] * 80, Counter(held), LADDER, half=1.0))
    ranked = sum(abs(a - b) for a, b in zip(sorted(needed), sorted(held), strict=True))
    assert not found.bought
    assert sum(abs(one.left) for one in found.given) == pytest.approx(ranked, abs=1e-4)


# Whatever comes.
hundredths = st.integers(0, 30).map(lambda n: round(2.3 + n / 100, 2))
valve = st.tuples(hundredths, st.sampled_from([0.0, 0.02, 0.05]), st.one_of(st.none(), hundredths))


@st.composite
def heads(draw, most=5, shelf_most=4):
    """Questions small enough to be tried in every way, with ties in plenty."""
    valves = draw(st.lists(valve, min_size=1, max_size=most))
    shelf = draw(st.dictionaries(hundredths, st.integers(0, 2), max_size=shelf_most))
    sizes = draw(st.lists(hundredths, max_size=5, unique=True))
    if not sizes and not any(shelf.values()):
        sizes = [2.4]
    needed = [one[0] for one in valves]
    return ([f"v{n}" for n in range(len(valves))], needed, [one[0] - one[1] for one in valves],
            [one[0] + one[1] for one in valves], [one[2] for one in valves], shelf, sizes)  # fmt: skip


@settings(max_examples=150)
@given(heads())
def test_no_other_way_is_better(asked):
    """Fewest without, then fewest bought, then least handled, then nearest, then the engine before the shelf."""
    assert score(assign(*asked)) == best(*asked)


@given(heads(most=8))
def test_every_shim_is_used_once_and_fits(asked):
    places, _, low, high, own, shelf, sizes = asked
    found = assign(*asked)
    at = {place: n for n, place in enumerate(places)}
    assert sorted([one.place for one in (*found.given, *found.unfit)], key=places.index) == places
    for one in found.given:
        n = at[one.place]
        assert low[n] - 1e-6 <= one.size <= high[n] + 1e-6
        if one.source in {STAYS, SWAPPED}:
            assert one.size == own[at[one.came_from] if one.came_from else n]
    givers = [one.came_from or one.place for one in found.given if one.source in {STAYS, SWAPPED}]
    assert len(set(givers)) == len(givers)
    taken = Counter(one.size for one in found.given if one.source == SHELF)
    assert all(count <= shelf[size] for size, count in taken.items())
    assert all(size in sizes for size in found.bought)
    assert sum(found.bought.values()) == list(sources(found).values()).count(BOUGHT)


@given(heads(most=8))
def test_chains_tell_every_move_once(asked):
    found = assign(*asked)
    told = [pair for chain in found.chains for pair in pairwise(chain)]
    assert sorted(told) == sorted((one.came_from, one.place) for one in found.given if one.source == SWAPPED)


@given(heads(most=8), st.randoms(use_true_random=False))
def test_the_order_of_valves_stock_and_sizes_changes_nothing(asked, chance):
    *valves, shelf, sizes = asked
    mixed = list(zip(*valves, strict=True))
    stock = list(shelf.items())
    for each in (mixed, stock, sizes):
        chance.shuffle(each)
    one, other = assign(*asked), assign(*map(list, zip(*mixed, strict=True)), dict(stock), sizes)
    for name in ("given", "unfit"):
        assert sorted(getattr(one, name), key=lambda each: each.place) == sorted(
            getattr(other, name), key=lambda each: each.place
        )
    assert (one.bought, one.chains) == (other.bought, other.chains)


@given(heads(most=8))
def test_inch_is_millimetre(asked):
    """The same head written in inch and read back: the same shims go the same ways."""
    places, *lengths, own, shelf, sizes = asked

    def there_and_back(size):
        return None if size is None else (size / 25.4) * 25.4

    again = assign(places, *([there_and_back(each) for each in row] for row in lengths), [there_and_back(s) for s in own],
                   {there_and_back(size): count for size, count in shelf.items()}, [there_and_back(s) for s in sizes])  # fmt: skip
    one = assign(*asked)
    assert [(g.place, g.source, g.came_from, round(g.size, 6)) for g in again.given] == [
        (g.place, g.source, g.came_from, round(g.size, 6)) for g in one.given
    ]
    assert again.chains == one.chains


@given(heads(most=8), st.data())
def test_two_names_exchanged_exchange_their_shims(asked, data):
    places, *rest = asked
    a, b = (data.draw(st.sampled_from(places)) for _ in range(2))
    swap = {a: b, b: a}
    one, other = assign(*asked), assign([swap.get(place, place) for place in places], *rest)
    renamed = [replace(g, place=swap.get(g.place, g.place), came_from=swap.get(g.came_from, g.came_from)) for g in one.given]
    assert score(one) == score(other)
    data_of = list(zip(*rest[:4], strict=True))
    if len(set(data_of)) == len(data_of):  # two valves alike in everything may serve each other's turn
        assert renamed == list(other.given)


@given(heads(most=8))
def test_a_stock_that_holds_a_perfect_set_is_used(asked):
    places, needed, *_ = asked
    none = [None] * len(needed)
    found = assign(places, needed, needed, needed, none, Counter(needed), [2.0])
    assert not found.unfit and not found.bought
    assert all(one.source == SHELF and abs(one.left) < 1e-9 for one in found.given)


@given(heads(most=8), hundredths)
def test_a_fuller_shelf_never_asks_for_more(asked, extra):
    *rest, shelf, sizes = asked
    more = {**shelf, extra: shelf.get(extra, 0) + 1}
    assert score(assign(*rest, more, sizes))[:2] <= score(assign(*asked))[:2]


@given(heads(most=8))
def test_a_perfect_head_is_left_alone(asked):
    places, needed, low, high, _, shelf, sizes = asked
    found = assign(places, needed, low, high, needed, shelf, sizes)
    assert found.moved == 0 and not found.unfit


def test_sizes_written_a_hair_apart_on_the_shelf_are_one():
    found = assign(*head([2.5, 2.5], [None, None], {2.5: 1, 2.5 + 1e-9: 1}, []))
    assert [one.source for one in found.given] == [SHELF, SHELF]
