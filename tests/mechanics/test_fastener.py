"""Necked bolts, the room beneath them, and the thread that a caliper meets, held against the thread tables."""

from fractions import Fraction
from math import pi
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics import fastener
from witnessmark.mechanics.law import OutsideLaw

TABLE = yaml.safe_load((Path(__file__).parents[1] / "truth" / "metric-threads.yaml").read_text("utf-8"))
THREADS = {each["name"]: each for each in TABLE["threads"]}
exact = st.fractions(min_value=Fraction(1, 100), max_value=100, max_denominator=1000)


@pytest.mark.truth("ISO 724:1993 (from memory), pitches of ISO 261")
@pytest.mark.parametrize("name", THREADS)
def test_pitch_and_minor_diameter_as_the_standard_prints_them(name):
    row = THREADS[name]
    assert fastener.pitch_diameter(row["nominal"], row["pitch"]) == pytest.approx(row["pitch_diameter"], abs=0.0005)
    assert fastener.minor_diameter(row["nominal"], row["pitch"]) == pytest.approx(row["minor_diameter"], abs=0.0005)


@pytest.mark.truth("thread tables to ISO 965 (from memory): core of M8 6.466, M10 8.160, M12 9.853 mm")
@pytest.mark.parametrize("name", TABLE["cores"])
def test_the_core_at_the_rounded_root(name):
    row = THREADS[name]
    assert fastener.root_diameter(row["nominal"], row["pitch"]) == pytest.approx(TABLE["cores"][name], abs=0.0005)


@pytest.mark.truth("ISO 898-1, tables of proof loads (seen in reprints): nominal stress areas, three figures")
@pytest.mark.parametrize("name", THREADS)
def test_pitch_and_core_diameter_make_the_stress_area(name):
    """The area of the circle on the mean of pitch and core diameter; half a unit of the third figure."""
    row = THREADS[name]
    mean = (
        fastener.pitch_diameter(row["nominal"], row["pitch"]) + fastener.root_diameter(row["nominal"], row["pitch"])
    ) / 2
    half_unit = 0.5 if row["stress_area"] >= 100 else 0.05
    assert pi / 4 * mean**2 == pytest.approx(row["stress_area"], abs=half_unit)


@given(nominal=st.floats(5, 24), share=st.floats(0.05, 0.2))
def test_crest_pitch_minor_and_core_stand_in_order(nominal, share):
    pitch = nominal * share
    assert (
        nominal
        > fastener.pitch_diameter(nominal, pitch)
        > fastener.minor_diameter(nominal, pitch)
        > fastener.root_diameter(nominal, pitch)
        > 0
    )


def test_nominal_and_pitch_exchanged_are_asked_about():
    with pytest.raises(OutsideLaw, match=r"pitch of 10 mm does not belong to a thread of 1\.5 mm"):
        fastener.pitch_diameter(1.5, 10)


def test_a_bolt_that_drew_out_shows_its_neck():
    assert fastener.bolt_necking(Fraction("9.96"), Fraction("9.81")) == Fraction("0.15")


def test_an_even_bolt_may_read_a_neck_below_nothing():
    assert fastener.bolt_necking(9.95, 9.96) < 0


@given(depth=exact, reach=exact, cut=exact)
def test_each_millimetre_off_the_head_is_a_millimetre_less_under_the_bolt(depth, reach, cut):
    assert fastener.hole_spare(depth, reach + cut) == fastener.hole_spare(depth, reach) - cut


def test_a_bolt_that_bottoms_has_room_below_nothing():
    assert fastener.hole_spare(30.0, 31.5) == -1.5


@pytest.mark.truth("derived: a quarter turn of a screw of 1.5 mm pitch moves it by 0.375 mm")
def test_a_quarter_turn_is_a_quarter_of_the_pitch():
    assert fastener.turned_stretch(pi / 2, 1.5) == pytest.approx(0.375, abs=0.0005)


@pytest.mark.truth(
    "Wentzell, Machine Design, example 6.2 (companion seen): 5 in bolt, 0.85 proof, 10 threads: 43.35 deg"
)
def test_the_turn_that_stretches_a_bolt_in_a_stiff_joint():
    """Proof 85 000 psi at 0.85 over 5 in of steel of 30 million psi; the joint does not give."""
    stretch = 0.85 * 85_000 / 30_000_000 * 5
    turn = 43.35 * pi / 180
    assert fastener.turned_stretch(turn, 0.1) == pytest.approx(stretch, abs=0.1 * 0.005 / 360)
