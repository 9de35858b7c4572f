"""The clamp of a joint by the numbers: the ends stay round the middle, and the verdict on yield goes with them."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assemble.joint import made
from witnessmark.assemble.clamp import OutsideLaw, clamp

BOLT = {"segments": [["70", "10.0"], ["30", "thread"]], "held": "tapped", "bearing": "13.5", "joint_rate": "300000"}


@pytest.mark.truth("VDI 2230-1 assembly torque, by hand: 25 N·m, M10x1.5, mu 0.12, D_Km 13.5, K 0.1678 -> 14.9 kN")
def test_snug_by_hand():
    found = clamp(made(bolt=BOLT))
    assert found.snug.middle == pytest.approx(25_000 / (0.1678 * 10), rel=0.004)  # the printed factors 0.16 and 0.58 are rounded
    assert found.snug.low < found.snug.middle < found.snug.high


@pytest.mark.truth("derived: pitch over a turn times the rate of the joint, 1.5/360 x 123.3 x 300/(423.3) kN/mm = 0.364 kN")
def test_a_degree_by_hand():
    assert clamp(made(bolt=BOLT)).per_degree == pytest.approx(1.5 / 360 * 123_300 * 300 / 423.3, rel=0.02)


def test_twice_ninety_degrees_take_a_ten_nine_to_yield_and_a_torque_of_half_does_not():
    assert clamp(made(bolt=BOLT)).yields == "will"
    assert clamp(made(stages=[{"torque": "30"}])).yields == ""
    assert clamp(made(stages=[{"torque": "85"}])).yields == "may"


def test_inch_and_millimetre_are_one_clamp():
    metric = clamp(made(thread="7/16-14 UNC", strength="", stages=[{"torque": "94.907", "unit": "N·m"}]))
    inch = clamp(made(thread="7/16-14 UNC", strength="", stages=[{"torque": "70", "unit": "lbf·ft"}]))
    assert inch.snug.middle == pytest.approx(metric.snug.middle, rel=1e-4)
    assert inch.used is None
    assert "class on the head" in inch.missing[0]


def test_what_is_not_known_is_said_and_not_guessed():
    found = clamp(made())
    assert found.final is None
    assert found.used is None
    assert "stiffness" in found.missing[-1]
    assert clamp(replace(made(), thread="")) is None
    assert clamp(made(stages=[{"angle": "90"}])) is None
    with pytest.raises(OutsideLaw, match="wet"):
        clamp(made(), threads="wet")


@given(st.sampled_from(["dry", "oiled", "paste", "plated", "sealant"]), st.floats(10, 90))
@settings(max_examples=60, deadline=None)
def test_the_ends_stand_round_the_middle(threads, torque):
    found = clamp(made(bolt=BOLT, stages=[{"torque": f"{torque:.1f}"}, {"angle": "60"}]), threads)
    for spread in (found.snug, found.final, found.used, found.lubricant):
        if spread is not None:
            assert spread.low <= spread.middle <= spread.high
    assert (found.lubricant is None) == (threads == "oiled")


def test_slipperier_threads_clamp_more():
    paste, dry = (clamp(made(), threads).lubricant.middle for threads in ("paste", "dry"))
    assert paste > 1 > dry
