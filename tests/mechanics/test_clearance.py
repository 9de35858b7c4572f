"""Running clearance of a stem in its guide."""

from fractions import Fraction

import pytest

from witnessmark.mechanics.clearance import stem_guide_clearance


@pytest.mark.truth(
    "US Army TM 9-4310-397-14, p. 6-28: guide 0.374-0.375 in, clearance 0.002-0.004 in, so stem 0.371-0.372 in"
)
def test_printed_guide_and_clearance_leave_the_printed_stem():
    """Least clearance: least guide less greatest stem; greatest clearance: the other way round."""
    guide, stem = (Fraction("0.374"), Fraction("0.375")), (Fraction("0.371"), Fraction("0.372"))
    assert stem_guide_clearance(guide[0], stem[1]) == Fraction("0.002")
    assert stem_guide_clearance(guide[1], stem[0]) == Fraction("0.004")


def test_a_stem_too_thick_for_its_guide_is_an_answer():
    assert stem_guide_clearance(5.97, 5.98) == pytest.approx(-0.01)
