"""The shim that sets a lash."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics.lash import shim_for_lash
from witnessmark.mechanics.law import OutsideLaw

exact = st.fractions(min_value=Fraction(1, 100), max_value=5, max_denominator=1000)


@pytest.mark.truth("derived: the gap under a bucket is a closed chain; 2.60 with lash 0.12 for 0.20 wants 2.52")
def test_too_little_lash_wants_a_thinner_shim():
    assert shim_for_lash(Fraction("2.60"), Fraction("0.12"), Fraction("0.20")) == Fraction("2.52")


@pytest.mark.truth("derived: a lever of ratio 1.6 moves the valve end 1.6 times the cam end")
def test_a_shim_on_the_tip_under_a_lever_follows_the_ratio():
    """The feeler at the cam finds 0.05 too much; at the tip that is 0.08."""
    assert shim_for_lash(2, Fraction("0.25"), Fraction("0.20"), Fraction("1.6")) == Fraction("2.08")


@given(shim=exact, lash=exact, target=exact, ratio=exact)
def test_with_the_new_shim_the_lash_is_its_target(shim, lash, target, ratio):
    new = shim_for_lash(shim, lash, target, ratio)
    assert lash - (new - shim) / ratio == target


def test_a_ratio_of_nothing_is_asked_about():
    with pytest.raises(OutsideLaw, match="valve movement over cam movement"):
        shim_for_lash(2.6, 0.12, 0.20, 0)
