"""What may be done: the book speaks first, then the prices, then the user."""

from dataclasses import replace
from functools import cache

import pytest

from witnessmark.desk.planning import bench_of
from witnessmark.desk.state import state
from witnessmark.limits.sheet import read_sheet
from witnessmark.plan.offers import USUAL_LEAST, USUAL_MOST, Wish, open_work
from witnessmark.record.replay import replay
from witnessmark.shell.demo import demo_events
from witnessmark.shell.resources import catalogue

HEAD = "format: witnessmark-limits-1\nsheet: {name: S-1, document: A book (invented), invented: yes}\nlimits: {}\n"


@cache
def bench():
    return bench_of(state(replay(demo_events("wren")), catalogue()))


def opened(sheet="", wish=None, prices="as listed", **others):
    known = read_sheet(HEAD + sheet, "limits.yaml", catalogue())
    listed = bench().prices if prices == "as listed" else prices
    return open_work(bench().model, known, listed, catalogue(), wish or Wish(), **others)


def operations(found):
    return {one.operation for one in found.offers}


def asked(found):
    return {facts["operation"] for note, facts in found.questions if note == "ask"}


def test_metal_that_the_book_does_not_mention_is_asked_for_and_a_new_part_is_open():
    found = opened()
    assert {"seat_cut", "face_grind"} <= asked(found)
    assert "valve_replace" in operations(found)
    assert "seat_cut" not in operations(found)


def test_what_the_book_allows_is_open_and_what_it_forbids_is_closed():
    found = opened("operations: {seat_cut: {allowed: yes}, valve_replace: {allowed: no, page: 7}}\n")
    assert "seat_cut" in operations(found)
    assert "valve_replace" not in operations(found)
    assert ("the book says no", {"operation": "valve_replace", "page": "7"}) in found.closed


def test_narrowing_a_band_is_open_where_its_seat_may_be_cut():
    assert "relief_top" in operations(opened("operations: {seat_cut: {allowed: yes}}\n"))
    assert "relief_top" not in operations(opened())


def test_asking_nothing_opens_what_the_book_does_not_mention():
    assert "seat_cut" in operations(opened(ask_nothing=True))


def test_what_has_no_price_is_closed_and_told():
    fewer = {name: one for name, one in bench().prices.work.items() if name != "valve_replace"}
    found = opened(prices=replace(bench().prices, work=fewer))
    assert ("no price", {"operation": "valve_replace"}) in found.closed
    assert "valve_replace" not in operations(found)


def test_without_a_list_every_operation_counts_one_and_takes_what_is_usual():
    found = opened("operations: {seat_cut: {allowed: yes}}\n", prices=None)
    assert {one.cost for one in found.offers} == {1.0}
    cut = next(one for one in found.offers if one.operation == "seat_cut")
    assert (cut.least, cut.most) == (USUAL_LEAST, USUAL_MOST)


def test_a_list_without_sizes_offers_no_size():
    found = opened(prices=replace(bench().prices, stock={}), ask_nothing=True)
    sets = {name for name, one in bench().model.operations.items() if one.sets}
    assert not sets & operations(found)


@pytest.mark.parametrize("forbid", [("valve_replace", ""), ("valve_replace", "inl-1")])
def test_what_the_user_forbids_is_not_offered(forbid):
    mine = {one.location for one in opened(wish=Wish(forbid=(forbid,))).offers if one.operation == "valve_replace"}
    assert mine == (set() if forbid[1] == "" else {"exh-1"})


def test_what_came_off_before_counts_against_the_most_that_may_ever_come_off():
    book = "operations: {skim: {allowed: up to, most: 0.20, unit: mm}}\n"
    free, cut = opened(book, prices=None), opened(book, prices=None, removed={("skim", "head"): 0.15})
    most = [next(one.most for one in each.offers if one.operation == "skim") for each in (free, cut)]
    assert most == pytest.approx([0.20, 0.05])
    none = opened(book, prices=None, removed={("skim", "head"): 0.19})
    assert "skim" not in operations(none)


def test_an_inch_book_opens_what_a_millimetre_book_opens():
    inch = opened("operations: {skim: {allowed: up to, most: 0.010, unit: in}}\n", prices=None)
    metric = opened("operations: {skim: {allowed: up to, most: 0.254, unit: mm}}\n", prices=None)
    assert [one.most for one in inch.offers] == pytest.approx([one.most for one in metric.offers])


def test_shims_come_in_whole_stacks_with_the_fewest_pieces():
    found = [one for one in opened(ask_nothing=True).offers if (one.operation, one.location) == ("spring_shim", "inl-1")]
    stock = bench().prices.stock["spring_shim"]
    sizes = {round(one.most, 6) for one in found}
    assert {round(size, 6) for size in stock.sizes} & sizes
    assert all(one.least == one.most and one.step is None for one in found)
    singles = [one for one in found if round(one.most, 6) in {round(size, 6) for size in stock.sizes}]
    work = bench().prices.work["spring_shim"].cost
    assert all(one.cost == pytest.approx(work + stock.cost) for one in singles)


def test_a_stack_may_be_as_high_as_the_list_says_with_as_many_shims_as_that_takes():
    """Quarters up to 1.5: six heights, six pieces in the highest; halves beside them make it three."""
    prices = replace(bench().prices, stock={**bench().prices.stock})
    plain = bench().prices.stock["spring_shim"]
    for sizes, pieces in (((0.25,), 6), ((0.25, 0.50), 3)):
        prices.stock["spring_shim"] = replace(plain, sizes=sizes, texts=tuple(map(str, sizes)), most=1.5)
        found = [one for one in opened(prices=prices, ask_nothing=True,
                                       sheet="operations: {spring_shim: {allowed: up to, most: 1.5, unit: mm}}\n").offers
                 if (one.operation, one.location) == ("spring_shim", "inl-1")]  # fmt: skip
        assert sorted(one.most for one in found) == pytest.approx([0.25, 0.5, 0.75, 1.0, 1.25, 1.5])
        highest = max(found, key=lambda one: one.most)
        assert highest.cost == pytest.approx(prices.work["spring_shim"].cost + pieces * plain.cost)
