"""Feeler leaves: the shop's rule at a marked leaf, chance between two leaves."""

import numpy as np
import pytest

from witnessmark.metrology.conform import OUT, TOO_CLOSE, WITHIN
from witnessmark.metrology.leaves import chance_gap_below, judge_leaves, leaf_that_settles

INCH = 25.4
INF = np.inf


@pytest.mark.truth(
    "common practice, no source: at most 0.05, the 0.05 leaf refused is good and the 0.05 leaf entering is not"
)
@pytest.mark.parametrize(
    ("unit", "limit", "thinner", "thicker"), [(1.0, 0.05, 0.04, 0.06), (INCH, 0.002, 0.0015, 0.0025)]
)
def test_a_limit_that_is_a_leaf_is_settled_by_that_leaf(unit, limit, thinner, thicker):
    code, p = judge_leaves([thinner * unit, limit * unit], [limit * unit, thicker * unit], np.nan, limit * unit, 0.001)
    assert code.tolist() == [WITHIN, OUT]
    assert p.tolist() == [1, 0]


def test_at_least_a_leaf_is_settled_the_other_way():
    code, p = judge_leaves([0.09, 0.10], [0.10, 0.11], 0.10, np.nan, 0.001)
    assert code.tolist() == [OUT, WITHIN]
    assert p.tolist() == [0, 1]


def test_lash_between_two_leaves_that_are_its_limits():
    code, _ = judge_leaves([0.10, 0.09, 0.20], [0.20, 0.10, 0.21], 0.10, 0.20, 0.001)
    assert code.tolist() == [WITHIN, OUT, OUT]


def test_a_limit_between_two_leaves_is_a_matter_of_chance_and_of_a_leaf():
    code, p = judge_leaves([0.04], [0.06], np.nan, 0.05, 0.001)
    assert code.tolist() == [TOO_CLOSE]
    assert p == pytest.approx([0.5])
    assert leaf_that_settles([0.04], [0.06], np.nan, 0.05).tolist() == [0.05]
    assert np.isnan(leaf_that_settles([0.04], [0.05], np.nan, 0.05)).all()
    assert leaf_that_settles([0.20], [0.30], 0.25, np.nan).tolist() == [0.25]


def test_leaves_clear_of_the_limit_are_certain():
    code, p = judge_leaves([0.02, 0.08], [0.03, 0.10], np.nan, 0.05, 0.001)
    assert code.tolist() == [WITHIN, OUT]
    assert p == pytest.approx([1, 0], abs=1e-12)


def test_not_even_the_thinnest_leaf_enters():
    assert judge_leaves([0.0], [0.03], np.nan, 0.05, 0.001)[0].tolist() == [WITHIN]
    assert judge_leaves([0.0], [0.03], 0.05, np.nan, 0.001)[0].tolist() == [OUT]


def test_the_thickest_leaf_enters_and_nothing_is_known_beyond_it():
    code, p = judge_leaves([0.08, 0.08, 0.08], [INF] * 3, [np.nan, np.nan, 0.05], [0.05, 0.10, np.nan], 0.001)
    assert code.tolist() == [OUT, TOO_CLOSE, WITHIN]
    assert np.isnan(p[1])
    assert leaf_that_settles([0.08], [INF], np.nan, 0.10).tolist() == [0.10]


def test_a_stack_that_enters_at_the_upper_limit_is_out_though_the_lower_cannot_be_told():
    assert judge_leaves([0.20], [INF], 0.25, 0.20)[0].tolist() == [OUT]


def test_chance_between_leaves_agrees_with_simulation():
    """Gap uniform between true leaf faces that are off by one common error, taken as normal."""
    rng = np.random.default_rng(1)
    error = 0.004
    gap = rng.uniform(0.04, 0.06, 400_000) + error / np.sqrt(3) * rng.standard_normal(400_000)
    for limit in (0.0412, 0.052, 0.0592):
        assert chance_gap_below(limit, 0.04, 0.06, error) == pytest.approx([(gap < limit).mean()], abs=0.0025)
