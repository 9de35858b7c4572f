"""Which entry is the later one: by sight first, then by the device's own count, then by the clock."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.record.event import Event
from witnessmark.record.order import bases, keys, last, moment

NOBODY = frozenset()


def entry(id, at="", device="bench", device_seq=0, based_on=None):
    return Event(id, "decided", {"based_on": based_on}, at=at, device=device, device_seq=device_seq)


def held(*entries, gone=NOBODY):
    found = last(entries, frozenset(gone), keys(entries))
    return found.id if found else None


def test_the_later_clock_wins_where_nobody_saw_the_other():
    assert held(entry("a", "2026-11-25T09:00:00Z", "tablet"), entry("b", "2026-11-25T08:00:00Z")) == "a"


def test_times_of_two_zones_are_compared_as_times_and_not_as_texts():
    assert held(entry("a", "2026-11-25T09:30:00+02:00"), entry("b", "2026-11-25T08:00:00Z", "tablet")) == "b"


def test_a_clock_set_back_by_days_turns_nothing_round_on_its_own_device():
    assert held(entry("a", "2026-11-25T09:00:00Z", device_seq=7), entry("b", "2026-11-20T09:00:00Z", device_seq=8)) == "b"


def test_who_saw_the_other_entry_is_later_whatever_the_clocks_say():
    first = entry("a", "2027-01-01T00:00:00Z", "tablet")
    assert held(first, entry("b", "2026-11-25T09:00:00Z", based_on="a")) == "b"


def test_what_was_taken_back_gives_way_to_the_one_before():
    chain = [entry("a"), entry("b", based_on="a"), entry("c", based_on="b")]
    assert held(*chain) == "c"
    assert held(*chain, gone={"c"}) == "b"
    assert held(*chain, gone={"b"}) == "c"
    assert held(*chain, gone={"a", "b", "c"}) is None


def test_an_entry_goes_back_to_the_nearest_one_that_stands():
    chain = [entry("a"), entry("b", based_on="a"), entry("c", based_on="b")]
    assert bases(chain, NOBODY) == {"b": "a", "c": "b"}
    assert bases(chain, frozenset({"b"})) == {"b": "a", "c": "a"}
    assert bases(chain, frozenset({"a", "b"})) == {}


def test_entries_that_name_each_other_in_a_circle_still_leave_one_that_holds():
    circle = [entry("a", "2026-11-25T09:00:00Z", based_on="b"), entry("b", based_on="a")]
    assert held(*circle) == "a"
    assert bases(circle, frozenset({"b"})) == {"b": "a"}


def test_a_number_of_the_log_may_stand_for_the_entry_that_was_seen():
    first = entry("a", "2027-01-01T00:00:00Z").stored(4, "")
    assert held(first, entry("b", "2026-11-25T09:00:00Z", based_on=4).stored(5, "")) == "b"


@pytest.mark.parametrize("at", ["", "yesterday", "2026-13-40", "9999-12-31T23:59:59-23:59", "0001-01-01T00:00:00+23:00"])
def test_a_time_that_is_none_is_the_earliest_and_stops_nothing(at):
    assert moment(at) < moment("2026-11-25T09:00:00Z") or at.startswith("9999")


@given(st.lists(st.tuples(st.integers(0, 4), st.sampled_from(["", "bench", "tablet"]), st.integers(-6, 6),
                          st.none() | st.integers(0, 9)), min_size=1, max_size=10),
       st.sets(st.integers(0, 9)), st.randoms(use_true_random=False))
def test_no_order_of_arrival_changes_which_one_holds(made, gone, chance):
    entries = [entry(f"e{n}", f"2026-11-{15 + day:02}T09:00:00Z", device, count, None if aim is None else f"e{aim}")
               for n, (count, device, day, aim) in enumerate(made)]
    back = [f"e{n}" for n in gone]
    shuffled = list(entries)
    chance.shuffle(shuffled)
    assert held(*shuffled, gone=back) == held(*entries, gone=back)
    assert (held(*entries, gone=back) is None) == all(one.id in back for one in entries)
