"""Cranking compression: the stroke that is left, expected pressures with their ends, readings of other airs."""

from math import pi, radians
from pathlib import Path

import numpy as np
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics import cranking
from witnessmark.mechanics.law import OutsideLaw
from witnessmark.mechanics.leakage import air_pressure_at

ALTITUDES = yaml.safe_load((Path(__file__).parents[1] / "truth" / "compression-altitude.yaml").read_text("utf-8"))


@pytest.mark.truth("derived with a pencil: closing 44 deg after bottom, rod 3.33 throws, exponent 1.2")
@pytest.mark.parametrize(
    ("ratio", "air", "late", "pressure"),
    [(10, 101.325, 44, 1326), (10, 89.9, 44, 1177), (10, 101.325, 50, 1275), (10.5, 101.325, 44, 1411)],
)
def test_expected_pressures(ratio, air, late, pressure):
    told = cranking.cranking_range(ratio, air, cranking.stroke_left(radians(late), 3.33))
    assert told.middle == pytest.approx(pressure, abs=1.5)
    assert told.low < told.middle < told.high
    assert (told.made_of[0].low, told.made_of[0].high) == (told.low, told.high)


@given(late=st.floats(-1, 3), rod=st.floats(2.5, 6))
def test_the_stroke_left_is_that_of_a_crank_laid_out_in_the_plane(late, rod):
    """Where a circle of the rod's length about the crank pin meets the line of stroke, over the whole stroke."""
    angle = pi + late
    pin = np.array([np.sin(angle), np.cos(angle)])
    piston = pin[1] + np.sqrt(rod**2 - pin[0] ** 2)
    top = 1 + rod
    assert cranking.stroke_left(late, rod) == pytest.approx((top - piston) / 2, abs=1e-12)


@given(first=st.floats(0, 2), more=st.floats(0.01, 1), rod=st.floats(2.5, 6))
def test_a_later_closing_leaves_less(first, more, rod):
    assert cranking.stroke_left(first + more, rod) < cranking.stroke_left(first, rod) <= 1 + 1e-12
    assert cranking.stroke_left(0.0, rod) == pytest.approx(1)


@given(pressure=st.floats(100, 2000), one=st.floats(60, 105), other=st.floats(60, 105))
def test_a_reading_taken_to_another_air_and_back(pressure, one, other):
    there = cranking.scaled_to_air(pressure, one, other)
    assert cranking.scaled_to_air(there, other, one) == pytest.approx(pressure)


@given(ratio=st.floats(7, 20), left=st.floats(0.5, 1), metres=st.floats(0, 3000))
def test_scaling_a_reading_is_what_the_law_says_of_the_other_air(ratio, left, metres):
    here, there = 101.325, 1000 * air_pressure_at(metres)
    told = cranking.cranking_range(ratio, there, left).middle
    assert cranking.scaled_to_air(cranking.cranking_range(ratio, here, left).middle, here, there) == pytest.approx(told)


@pytest.mark.truth("US Army TM 5-3895-359-14&P, table 1: least compression and density of the air, five altitudes")
@pytest.mark.parametrize("unit", ["psi", "kPa"])
def test_a_reading_goes_with_the_density(unit):
    first = ALTITUDES["rows"][0]
    for row in ALTITUDES["rows"]:
        told = cranking.scaled_to_air(first[unit], first["density"], row["density"])
        assert told == pytest.approx(row[unit], rel=0.01)


@pytest.mark.truth("H. N. Gupta, Fundamentals of Internal Combustion Engines, ch. 2 (companion seen): 9.5, exponent 1.3")
def test_a_textbook_ratio_between_two_points_of_the_stroke():
    """1.2 bar at 5 and 4.8 bar at 75 percent of the stroke: the law begun at the first gives the second."""
    ratio = 9.51
    begun = 1 + 0.95 * (ratio - 1)  # volume at 5 percent, in clearance volumes
    at_75 = 1 + 0.25 * (ratio - 1)
    told = cranking.cranking_range(begun / at_75, 1.2, 1.0, (1.3, 1.3, 1.3)).middle + 1.2
    assert told == pytest.approx(4.8, abs=0.01)


@pytest.mark.truth("US Army TM 5-3895-359-14&P, table 2: 445, 440, 405, 435 psi; spread of 40 points at cylinder 3")
def test_lowest_over_highest():
    readings = np.array([445.0, 440, 405, 435])
    assert cranking.lowest_share(readings) == pytest.approx(405 / 445)
    assert cranking.lowest_share(readings * 6.894757) == pytest.approx(405 / 445)


def test_oil_in_the_cylinder():
    assert cranking.wet_gain(700.0, 950.0) == 250


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: cranking.stroke_left(0.8, 1.67), "given over the stroke"),
        (lambda: cranking.stroke_left(44, 3.33), "half a turn after"),
        (lambda: cranking.scaled_to_air(1000, 0, 101), "above nothing"),
        (lambda: cranking.lowest_share([900, 0]), "leave out a cylinder"),
        (lambda: cranking.cranking_range(0.9, 101, 0.9), "above 1"),
    ],
)
def test_misuse_is_asked_about(call, said):
    with pytest.raises(OutsideLaw, match=said):
        call()
