"""Chamber, ratio and squish: against chambers cut by a plane and summed slice by slice, and against printed values."""

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics import volume
from witnessmark.mechanics.law import OutsideLaw

BORE = pi / 4 * 86.0**2
SWEPT = BORE * 86.0
CLEARANCE = SWEPT / 9  # ratio of 10


def sliced(mouth, lean, deep, cut, slices=20_000):
    """Volume of a chamber over the plane of a cut: round, `mouth` across at the face, its wall leaning in by `lean`."""
    edges = np.linspace(cut, deep, slices + 1)
    middle = (edges[1:] + edges[:-1]) / 2
    return float(np.sum(pi / 4 * (mouth - 2 * lean * middle) ** 2 * np.diff(edges)))


@pytest.mark.parametrize("lean", [0.0, 0.2, 0.6])
@pytest.mark.parametrize("cut", [0.1, 0.4, 1.0])
def test_a_cone_cut_by_a_plane(lean, cut):
    mouth, deep = 75.0, 12.0
    area, slope = pi / 4 * mouth**2, -pi * mouth * lean  # of the mouth, and for each mm that comes off
    told = volume.chamber_volume(sliced(mouth, lean, deep, 0.0), area, slope, cut, 0.0)
    assert told == pytest.approx(sliced(mouth, lean, deep, cut), rel=3e-5)


@pytest.mark.truth("derived by hand: bore and stroke of 86")
def test_a_cylinder():
    assert volume.swept_volume(86.0, 86.0) / 1000 == pytest.approx(499.557, abs=5e-4)


@pytest.mark.truth("H. N. Gupta, Fundamentals of Internal Combustion Engines, ch. 2: bore 20, stroke 25 cm, 1570 cm3")
def test_a_textbook_ratio():
    """Its temperature and pressure after compression, with an exponent of 1.4, fix the ratio that it worked with."""
    ratio = volume.compression_ratio(volume.swept_volume(200.0, 250.0), 1570e3)
    assert 300 * ratio**0.4 - 273.15 == pytest.approx(341.3, abs=0.06)
    assert ratio**1.4 == pytest.approx(12.29, abs=0.005)
    assert (1 - ratio**-0.4) * 100 == pytest.approx(51.17, abs=0.005)


@pytest.mark.truth(
    "H. N. Gupta, Fundamentals of Internal Combustion Engines, ch. 2: 1.2 and 4.8 bar at 5 and 75 percent"
)
def test_a_ratio_between_two_pressures():
    """Polytropic, exponent 1.3; absolute at both places, and the same curve from either of them to the bottom."""

    def at(ratio, share):  # absolute pressure at a share of the stroke, of 1 bar at its bottom
        left = volume.cranking_pressure(ratio, 1.0, 1.0, 1.3) + 1.0
        here = 1 + (1 - share) * (ratio - 1)
        return left / here**1.3

    ratios = np.linspace(8, 11, 30_001)
    found = ratios[np.argmin(np.abs(at(ratios, 0.75) / at(ratios, 0.05) - 4.0))]
    assert found == pytest.approx(9.5, abs=0.06)


@pytest.mark.truth("derived by hand: 0.10 off the head, at the full bore and at three quarters of it")
@pytest.mark.parametrize(("share", "gain"), [(1.0, 0.0952), (0.75, 0.071)])
def test_a_skim_raises_the_ratio(share, gain):
    cut = volume.chamber_volume(CLEARANCE, share * BORE, 0.0, 0.1, 0.0)
    assert volume.compression_ratio(SWEPT, cut) - 10 == pytest.approx(gain, abs=5e-4 if share < 1 else 5e-5)


@pytest.mark.truth("derived by hand: from 10 to 10.5 with a mouth of three quarters of the bore")
def test_the_skim_for_a_ratio():
    assert volume.skim_for_ratio(SWEPT, 0.75 * BORE, 10.0, 10.5) == pytest.approx(0.6706, abs=5e-5)


@pytest.mark.truth("derived by hand: 0.40 off head or block, gasket bore 87, ratio 10")
@pytest.mark.parametrize(("head", "block", "gasket", "ratio"), [(0.4, 0.0, 0.2931, 9.898), (0.0, 0.4, 0.3909, 9.991)])
def test_the_gasket_that_holds_a_ratio_and_one_as_thick_as_the_cut(head, block, gasket, ratio):
    assert volume.gasket_for_ratio(head, block, 0.75 * BORE, 86.0, 87.0) == pytest.approx(gasket, abs=5e-5)
    then = CLEARANCE - 0.75 * BORE * head - BORE * block + pi / 4 * 87.0**2 * 0.4
    assert volume.compression_ratio(SWEPT, then) == pytest.approx(ratio, abs=5e-4)


@given(st.floats(0, 1), st.floats(0, 1), st.floats(7, 14))
def test_the_gasket_for_a_ratio_holds_it(head, block, ratio):
    found = SWEPT / (ratio - 1)
    thicker = volume.gasket_for_ratio(head, block, 0.75 * BORE, 86.0, 87.0)
    after = volume.clearance_volume(found - 0.75 * BORE * head, 1.1 + thicker, 87.0, 0.5 - block, 86.0, 0.0, 0.0)
    before = volume.clearance_volume(found, 1.1, 87.0, 0.5, 86.0, 0.0, 0.0)
    assert volume.compression_ratio(SWEPT, after) == pytest.approx(volume.compression_ratio(SWEPT, before), rel=1e-9)


@given(st.floats(7, 12), st.floats(0.01, 2))
def test_the_skim_for_a_ratio_gives_it(ratio, more):
    cut = volume.skim_for_ratio(SWEPT, 0.75 * BORE, ratio, ratio + more)
    left = volume.chamber_volume(SWEPT / (ratio - 1), 0.75 * BORE, 0.0, cut, 0.0)
    assert volume.compression_ratio(SWEPT, left) == pytest.approx(ratio + more, rel=1e-9)


@pytest.mark.truth("derived by hand: bored over by 0.25, 0.50 and 1.00 with piston 0.5 down")
@pytest.mark.parametrize(("over", "ratio"), [(0.25, 10.050), (0.50, 10.099), (1.00, 10.199)])
def test_a_larger_bore_raises_the_ratio(over, ratio):
    head = CLEARANCE - BORE * 0.5
    whole = volume.clearance_volume(head, 0.0, 87.0, 0.5, 86.0 + over, 0.0, 0.0)
    assert volume.compression_ratio(volume.swept_volume(86.0 + over, 86.0), whole) == pytest.approx(ratio, abs=5e-4)


def gap(recess, skim):
    """From the piston to the pad, face on the gasket: the cutter stands at `skim` and takes what hangs below it."""
    pad, face = max(recess, skim), skim  # heights in the head as it was found
    return 1.10 + 0.20 + (pad - face)


@pytest.mark.parametrize("recess", [0.0, 0.2, 0.6])
@pytest.mark.parametrize("skim", [0.0, 0.1, 0.3, 0.8])
def test_a_pad_comes_nearer_until_the_cutter_reaches_it(recess, skim):
    assert volume.squish(1.10, 0.20, recess, skim) == pytest.approx(gap(recess, skim))


@pytest.mark.truth(
    "derived: closing 44 degrees late, rod 3.33 throws, exponent 1.2; sea level and 1000 m, 6 degrees later"
)
def test_cranking_pressures():
    def left(late):
        angle = np.radians(180 + late)
        throw, rod = 1.0, 3.33
        drop = throw * (1 - np.cos(angle)) + rod - np.sqrt(rod**2 - (throw * np.sin(angle)) ** 2)
        return drop / (2 * throw)

    assert volume.cranking_pressure(10, 101.325, left(44)) == pytest.approx(1326, abs=2)
    assert volume.cranking_pressure(10, 89.9, left(44)) == pytest.approx(1177, abs=2)
    assert volume.cranking_pressure(10, 101.325, left(50)) == pytest.approx(1275, abs=3)
    assert volume.cranking_pressure(10.5, 101.325, left(44)) == pytest.approx(1411, abs=2)


def test_volumes_in_inches_are_the_same_engine():
    inch = 25.4
    swept = volume.swept_volume(4.0, 3.5) * inch**3
    assert volume.swept_volume(4.0 * inch, 3.5 * inch) == pytest.approx(swept)
    assert volume.skim_for_ratio(volume.swept_volume(4.0, 3.5), 9.0, 9.0, 9.5) * inch == pytest.approx(
        volume.skim_for_ratio(swept, 9.0 * inch**2, 9.0, 9.5)
    )


def test_what_leaves_no_chamber_is_refused():
    with pytest.raises(OutsideLaw, match=r"a skim of 12 mm leaves no chamber: are area and volume in one unit\?"):
        volume.chamber_volume(44_000.0, 4500.0, 0.0, 12.0, 0.0)
    with pytest.raises(OutsideLaw, match="is a dome or a volume in mL"):
        volume.clearance_volume(44.0, 1.1, 87.0, 0.2, 86.0, -12_000.0, 0.0)
    with pytest.raises(OutsideLaw, match="is none: check the volumes"):
        volume.compression_ratio(500_000.0, 0.0)
    with pytest.raises(OutsideLaw, match="a compression ratio is above 1"):
        volume.skim_for_ratio(SWEPT, BORE, 1.0, 10.0)
    with pytest.raises(OutsideLaw, match="a compression ratio is above 1"):
        volume.cranking_pressure(0.9, 101.3, 0.8)
