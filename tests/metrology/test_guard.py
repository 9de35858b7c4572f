"""Guard bands: the picture says the same as the rule."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.metrology.conform import OUT, WITHIN, judge
from witnessmark.metrology.doubt import doubt
from witnessmark.metrology.guard import guards, range_guards
from witnessmark.metrology.range_form import judge_range
from witnessmark.metrology.worst import worst


@pytest.mark.truth(
    "ISO 14253-1:2017 default with JCGM 106:2012, clause 8 (from memory): 1.65 u; U 6.7 and 17 µm: 5.5 and 14.0 µm"
)
def test_one_limit_is_guarded_by_1_645_u():
    both = guards(doubt([0, 0, 0], [1.0, 3.35, 8.5]), np.nan, 50.0)
    assert both.within == pytest.approx([1.65, 5.5, 14.0], abs=0.05)
    assert both.within == pytest.approx(both.out)


def test_below_3_92_u_between_the_limits_no_value_is_within():
    width = np.array([3.9, 3.919, 3.921, 4.2, 5.0, 8.0])
    both = guards(doubt(np.zeros(6), 1.0), 0.0, width)
    assert np.isnan(both.within).tolist() == [True, True, False, False, False, False]
    assert both.within[2] == pytest.approx(1.96, abs=0.03)
    assert both.within[5] == pytest.approx(1.645, abs=0.001)
    assert both.out == pytest.approx(np.full(6, 1.645), abs=0.001)


def test_the_worst_of_six_needs_more_to_be_out():
    both = guards(doubt([0.0], 1.0), 0.0, np.nan, 6)
    assert both.within == pytest.approx([1.645], abs=0.001)
    assert both.out == pytest.approx([2.386], abs=0.001)


@given(
    u=st.floats(0.1, 3),
    width=st.floats(0.5, 30),
    half=st.sampled_from([0.0, 0.9, 1.7]),
    dof=st.sampled_from([3.0, 12.0, np.inf]),
    stations=st.sampled_from([1, 6]),
    high_only=st.booleans(),
)
def test_the_bar_is_clear_of_the_wall_exactly_when_the_rule_says_within(u, width, half, dof, stations, high_only):
    low = np.nan if high_only else 0.0
    bar = guards(doubt([0.0], u, dof, half * u), low, width, stations)
    for g, inward, code in ((bar.within[0], 1, WITHIN), (bar.out[0], -1, OUT)):
        if np.isnan(g):
            middle = doubt([width / 2], u, dof, half * u)
            assert worst(middle, low, width, [0], 1, planned=stations).verdict != WITHIN
            continue
        beside = doubt(width - inward * g + np.array([-1e-5, 1e-5]) * inward * u, u, dof, half * u)
        first, second = (judged(beside, i, low, width, stations) for i in (0, 1))
        assert first == code
        assert second != code or (inward > 0 and abs(width / 2 - g) < 1e-4 * u)


def judged(known, row, low, high, stations):
    one = doubt(known.value[row], known.u[row], known.dof[row], known.widest[row])
    return worst(one, low, high, [0], 1, planned=stations).verdict[0]


def test_form_has_its_own_two_lengths():
    both = range_guards(5.0, 1.5, 4)
    assert both.within == pytest.approx([2.48], abs=0.006)
    assert both.out == pytest.approx([4.62], abs=0.006)
    assert judge_range(5 - both.within - 1e-6, 5.0, 1.5, 4).verdict.tolist() == [WITHIN]
    assert judge_range(5 + both.out + 1e-6, 5.0, 1.5, 4).verdict.tolist() == [OUT]


def test_between_limits_the_guard_is_the_same_at_both_walls():
    bar = guards(doubt([0.0], 1.0), 0.0, 4.5).within[0]
    at = doubt([bar + 1e-6, 4.5 - bar - 1e-6, bar - 1e-6], 1.0)
    assert judge(at, 0.0, 4.5)[0].tolist()[:2] == [WITHIN, WITHIN]
    assert judge(at, 0.0, 4.5)[0][2] != WITHIN
