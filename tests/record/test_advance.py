"""Going on from a snapshot: the same as a replay from the beginning, or an honest "cannot tell"."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from record.histories import accumulating, answer, asked, gauge, histories, opened, reading, take_back
from witnessmark.record.advance import advance
from witnessmark.record.event import Event
from witnessmark.record.replay import replay


def numbered(events):
    return [event.stored(n, "") for n, event in enumerate(events, 1)]


def waive(id):
    return Event(
        id,
        "waived",
        {
            "characteristic": "margin",
            "place": "inl-1f",
            "round": "as found",
            "scope": "place",
            "reason": "not measured",
        },
    )


@given(events=histories() | accumulating(), data=st.data())
def test_wherever_a_log_is_cut_going_on_says_the_same_as_replay_or_nothing(events, data):
    log = numbered({event.id: event for event in events}.values())
    cut = data.draw(st.integers(0, len(log)))
    went_on = advance(replay(log[:cut]), log[cut:])
    assert went_on is None or went_on == replay(log)


@pytest.mark.parametrize("last", [reading("r2"), asked("r2"), waive("w1")])
def test_one_more_reading_or_one_place_left_out_needs_no_replay(last):
    log = numbered([opened(), gauge("g1"), reading("r1"), last])
    assert advance(replay(log[:-1]), log[-1:]) == replay(log)


@pytest.mark.parametrize(
    "last",
    [
        take_back("t1", "r1"),
        answer("a1", "r1", 0),
        reading("r2", supersedes="r1"),
        reading("r2", setting="s9"),
        gauge("g2", based_on="g1"),
    ],
)
def test_what_points_back_is_left_to_replay(last):
    log = numbered([opened(), gauge("g1"), asked("r1"), last])
    assert advance(replay(log[:-1]), log[-1:]) is None
