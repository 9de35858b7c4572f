"""What a leak-down set shows of its supply."""

import pytest

from witnessmark.mechanics.law import OutsideLaw
from witnessmark.mechanics.leakage import leak_loss
from witnessmark.mechanics.tester import leak_down


def test_the_line_of_a_quarter_reads_sixty_of_eighty():
    """Truth: FAA AC 43.13-1B, par. 8-14."""
    assert leak_down(80, 60) == pytest.approx(0.25)


def test_it_is_the_loss_that_a_leak_is_reckoned_from():
    assert leak_down(0.55, 0.4) == leak_loss(0.55, 0.4)


def test_gauges_that_differ_by_their_own_doubt_leak_nothing_and_are_not_refused():
    assert leak_down(0.550, 0.552) == pytest.approx(-0.0036, abs=1e-4)
    with pytest.raises(OutsideLaw, match="air on"):
        leak_down(0.0, 0.0)
