"""Running clearances, interferences, and what a rocked valve shows of them."""

import math
from fractions import Fraction
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics.clearance import (
    bucket_clearance,
    cam_oil_clearance,
    guide_fit,
    lifter_bore_clearance,
    rock_reading,
    rocker_shaft_clearance,
    seat_insert_fit,
    stem_guide_clearance,
)
from witnessmark.mechanics.law import OutsideLaw

FITS = yaml.safe_load((Path(__file__).parents[1] / "truth" / "fits.yaml").read_text("utf-8"))["fits"]
LAWS = {"guide in the head": guide_fit, "seat insert": seat_insert_fit, "camshaft in its bore": cam_oil_clearance}


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


@pytest.mark.truth("ISO 286-2:2010, limit deviations of hole and shaft; differences of the limits")
@pytest.mark.parametrize("fit", FITS, ids=lambda fit: f"{fit['size']} {fit['fit']}")
def test_standard_fits_leave_the_standard_clearance_or_interference(fit):
    """Greatest clearance: greatest hole, least shaft; least clearance the other way round; minus is interference."""
    size = Fraction(fit["size"])
    hole = [size + Fraction(each, 1000) for each in fit["hole"]]
    shaft = [size + Fraction(each, 1000) for each in fit["shaft"]]
    law = LAWS[fit["part"]]

    def left(bore, part):
        return law(bore, part) if law is cam_oil_clearance else -law(part, bore)

    assert [left(hole[1], shaft[0]), left(hole[0], shaft[1])] == [Fraction(each, 1000) for each in fit["clearance"]]


@pytest.mark.truth("derived: stem leaning on opposite edges of its guide; planar construction gives the same")
@pytest.mark.parametrize(
    ("clearance", "length", "overhang", "bell", "swing", "half"),
    [(0.05, 40, 40, 0, 0.15, 0.005), (0.10, 40, 50, 0, 0.350, 0.0005), (0.10, 40, 50, 5, 0.4667, 0.00005)],
)
def test_a_rocked_valve_swings_by_more_than_its_clearance(clearance, length, overhang, bell, swing, half):
    assert rock_reading(clearance, length, overhang, bell) == pytest.approx(swing, abs=half)


@given(st.floats(0.01, 0.2), st.floats(25, 70), st.floats(0, 60))
def test_the_swing_is_that_of_a_line_through_two_edges(clearance, length, overhang):
    """The axis of the stem runs through half the clearance below at one end of the guide and above at the other."""
    slope = clearance / length
    reach = clearance / 2 + slope * overhang
    assert rock_reading(clearance, length, overhang) == pytest.approx(2 * reach)


@pytest.mark.truth(
    "common practice, no source: books divide by two where their sleeve stands at half the guide's length"
)
def test_divide_by_two_is_right_at_one_overhang_only():
    assert rock_reading(Fraction(1, 20), Fraction(40), 20) == 2 * Fraction(1, 20)
    assert rock_reading(Fraction(1, 20), Fraction(40), 40) == 3 * Fraction(1, 20)


def test_a_guide_worn_to_a_bell_throughout_is_asked_back():
    with pytest.raises(OutsideLaw, match="a bell of 20 mm at both ends leaves nothing"):
        rock_reading(0.1, 40, 50, 20)


@given(st.floats(0.01, 0.2), st.floats(0, 60), st.floats(0.1, 10))
def test_a_bell_makes_the_same_clearance_swing_further(clearance, overhang, bell):
    worn = rock_reading(clearance, 40, overhang, bell)
    assert worn > rock_reading(clearance, 40, overhang)
    assert math.isfinite(worn)


@pytest.mark.parametrize("law", [rocker_shaft_clearance, lifter_bore_clearance, bucket_clearance, cam_oil_clearance])
@pytest.mark.parametrize("unit", [Fraction(1), Fraction("25.4")])
def test_a_running_clearance_is_bore_less_what_runs_in_it_in_inch_and_in_millimetre(law, unit):
    assert law(Fraction("25.021") * unit, Fraction("24.980") * unit) == Fraction("0.041") * unit


@pytest.mark.truth(
    "US Army TM 5-3820-233-35/2, table 1: bearing 1.5000-1.5010 in, shaft 1.4970-1.4975 in, clearance 0.0025-0.0040 in"
)
def test_printed_bearing_and_shaft_leave_the_printed_clearance():
    bore, journal = (Fraction("1.5000"), Fraction("1.5010")), (Fraction("1.4970"), Fraction("1.4975"))
    assert cam_oil_clearance(bore[0], journal[1]) == Fraction("0.0025")
    assert cam_oil_clearance(bore[1], journal[0]) == Fraction("0.0040")


@pytest.mark.truth("ISO 286-2 (from memory): 22 H7 is 0 to +21 µm, 22 f7 is -41 to -20 µm; clearance 20 to 62 µm")
def test_a_lifter_made_to_f7_in_a_bore_made_to_h7_runs_free():
    assert lifter_bore_clearance(Fraction("22.000"), Fraction("21.980")) == Fraction("0.020")
    assert lifter_bore_clearance(Fraction("22.021"), Fraction("21.959")) == Fraction("0.062")
