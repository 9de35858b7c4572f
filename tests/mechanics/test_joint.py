"""Bolt and clamped parts as springs: textbook joints, cones cut into thin rings, and what a turn makes of them."""

from math import degrees, inf, pi, radians, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics import joint
from witnessmark.mechanics.law import OutsideLaw
from witnessmark.mechanics.preload import preload_range
from witnessmark.mechanics.spread import Spread
from witnessmark.mechanics.thread import designated

M10 = designated("M10")
rates = st.floats(1e4, 1e7)


@pytest.mark.truth("VDI 2230-1, resilience of the bolt, with a pencil: M10, 70 mm shank, 30 mm thread, nut: 123.3 kN/mm")
def test_a_bolt_by_its_segments():
    free = [(70, joint.circle(10), joint.STEEL), (30, M10.root_area, joint.STEEL)]
    told = joint.bolt_rate([*free, *joint.end_segments(10, M10.root_area)])
    assert told == pytest.approx(123_300, abs=100)


def test_a_tapped_hole_changes_little_in_iron_and_more_in_light_alloy():
    free = [(70, joint.circle(10), joint.STEEL), (30, M10.root_area, joint.STEEL)]
    nut = joint.bolt_rate([*free, *joint.end_segments(10, M10.root_area)])
    iron = joint.bolt_rate([*free, *joint.end_segments(10, M10.root_area, "tapped")])
    alloy = joint.bolt_rate(
        [*free, *joint.end_segments(10, M10.root_area, "tapped", tapped_modulus=joint.LIGHT_ALLOY)]
    )  # fmt: skip
    assert nut * 0.98 < iron < nut
    assert nut * 0.95 < alloy < iron


@pytest.mark.truth("Jindal, Machine Design, example 9-4 (companion seen): M20, grip 80 mm, 20 kN outside: 123.28 MPa")
def test_the_joint_of_a_textbook():
    """Its cone leans by 45 degrees from a face of one and a half diameters; the bolt counts as 84 mm of full section."""
    bolt = joint.bolt_rate([(84.0, joint.circle(20.0), 205_000.0)])
    parts = joint.clamped_rate([(80.0, 105_000.0)], 30.0, 20.0, radians(45))
    assert bolt == pytest.approx(766_698, abs=1)
    assert parts == pytest.approx(2_656_549, abs=3)
    stress = 105 + joint.bolt_load_share(bolt, parts) * 20_000 / 245
    assert stress == pytest.approx(123.28, abs=0.005)


@pytest.mark.truth("Shigley, Mechanical Engineering Design (from memory): 0.5774 pi E d / 2 ln(5 (0.5774 l + 0.5 d) / ...)")
@pytest.mark.parametrize(("grip", "nominal"), [(40, 10), (100, 10), (60, 12.7)])
def test_the_short_form_for_a_face_of_one_and_a_half_diameters(grip, nominal):
    inside = 5 * (0.57735 * grip + 0.5 * nominal) / (0.57735 * grip + 2.5 * nominal)
    short = 0.57735 * pi * 205_000 * nominal / (2 * np.log(inside))
    assert joint.clamped_rate([(grip, 205_000)], 1.5 * nominal, nominal) == pytest.approx(short, rel=1e-4)


@given(
    layers=st.lists(st.tuples(st.floats(1, 60), st.sampled_from([70e3, 110e3, 205e3])), min_size=1, max_size=4),
    nominal=st.floats(6, 14),
)
def test_cones_cut_into_thin_rings_give_the_same(layers, nominal):
    """The give of each thin ring summed, its modulus and width looked up at its middle."""
    bearing, hole = 1.6 * nominal, 1.05 * nominal
    grip = sum(thickness for thickness, _ in layers)
    begin, give = 0.0, 0.0
    for thickness, modulus in layers:
        edges = np.linspace(begin, begin + thickness, 2001)
        middle = (edges[1:] + edges[:-1]) / 2
        wide = bearing + 2 * np.minimum(middle, grip - middle) * tan(radians(30))
        give += float(np.sum(np.diff(edges) / (modulus * pi / 4 * (wide**2 - hole**2))))
        begin += thickness
    assert joint.clamped_rate(layers, bearing, hole) == pytest.approx(1 / give, rel=1e-4)


@given(first=st.floats(1, 50), second=st.floats(1, 50))
def test_a_layer_cut_in_two_is_the_same_layer(first, second):
    whole = joint.clamped_rate([(first + second, 70e3)], 16, 11)
    assert joint.clamped_rate([(first, 70e3), (second, 70e3)], 16, 11) == pytest.approx(whole)


@pytest.mark.truth("Wentzell, Machine Design, example 6.2 (companion seen): 5 in, 0.85 proof, pitch 0.1 in: 43.35 deg")
def test_the_turn_in_a_rigid_joint_and_the_larger_one_in_a_real_joint():
    inch, pound = 25.4, 4.4482216
    area, modulus = 0.334 * inch**2, 30e6 * pound / inch**2
    bolt = joint.bolt_rate([(5 * inch, area, modulus)])
    force = 0.85 * 0.334 * 85_000 * pound
    rigid = joint.turn_for(force, 0.1 * inch, bolt, inf)
    assert degrees(rigid) == pytest.approx(43.35, abs=0.005)
    assert joint.turn_for(force, 0.1 * inch, bolt, 3 * bolt) == pytest.approx(rigid * 4 / 3)
    assert joint.bolt_stretch(force, bolt) == pytest.approx(rigid / (2 * pi) * 0.1 * inch)


@pytest.mark.truth("derived with a pencil: 123.3 kN/mm, pitch 1.5; parts 150, 300, 600 kN/mm: 0.28, 0.36, 0.43 kN/deg")
@pytest.mark.parametrize(("parts", "each", "quarter"), [(150e3, 0.28, 25), (300e3, 0.36, 33), (600e3, 0.43, 38)])
def test_a_degree_and_a_quarter_turn(parts, each, quarter):
    assert joint.preload_per_turn(1.5, 123_300, parts) * pi / 180 / 1000 == pytest.approx(each, abs=0.005)
    assert joint.turned_preload(pi / 2, 1.5, 123_300, parts) / 1000 == pytest.approx(quarter, abs=0.5)
    assert joint.bolt_stretch(40_000, 123_300) == pytest.approx(0.32, abs=0.005)


@given(bolt=rates, parts=rates, turn=st.floats(0.01, 4))
def test_the_turn_for_the_preload_of_a_turn_is_that_turn(bolt, parts, turn):
    assert joint.turn_for(joint.turned_preload(turn, 1.5, bolt, parts), 1.5, bolt, parts) == pytest.approx(turn)


@given(bolt=rates, parts=rates, turn=st.floats(0.01, 4))
def test_stretch_and_press_add_up_to_the_travel_of_the_thread(bolt, parts, turn):
    force = joint.turned_preload(turn, 1.5, bolt, parts)
    assert joint.bolt_stretch(force, bolt) + force / parts == pytest.approx(1.5 * turn / (2 * pi))
    assert joint.embedding_loss(joint.bolt_stretch(force, bolt) + force / parts, bolt, parts) == pytest.approx(force)


@given(bolt=rates, parts=rates, more=st.floats(1.01, 10))
def test_a_softer_bolt_loses_less_and_takes_less_of_a_load(bolt, parts, more):
    assert joint.embedding_loss(0.005, bolt, parts) < joint.embedding_loss(0.005, more * bolt, parts)
    assert joint.bolt_load_share(bolt, parts) < joint.bolt_load_share(more * bolt, parts) < 1
    assert joint.joint_rate(bolt, parts) == pytest.approx(joint.joint_rate(parts, bolt))


SNUG = preload_range(25_000, M10.pitch, M10.pitch_diameter, 13.5, 0.10, 0.14)


@given(
    share=st.tuples(st.floats(0, 1), st.floats(0, 1), st.floats(0, 1)), turn=st.floats(0.2, 3.2), error=st.floats(0, 0.1)
)
def test_every_case_inside_its_ranges_stays_between_the_ends(share, turn, error):
    low, high = 60_000.0, 110_000.0
    told = joint.turned_range(SNUG, turn, error, 1.5, (low, 87_000.0, high))
    snug = SNUG.low + share[0] * (SNUG.high - SNUG.low)
    angle = turn + (2 * share[1] - 1) * error
    force = snug + 1.5 / (2 * pi) * angle * (low + share[2] * (high - low))
    assert told.low * (1 - 1e-9) <= force <= told.high * (1 + 1e-9)
    assert [part.name for part in told.made_of] == ["snug torque", "turn", "stiffness"]
    for part in told.made_of:
        assert told.low <= part.low <= told.middle <= part.high <= told.high


def test_many_turns_at_once():
    turns = np.radians([90.0, 180.0])
    told = joint.turned_range(SNUG, turns, radians(5), 1.5, (87e3, 87e3, 87e3))
    assert told.middle[1] - SNUG.middle == pytest.approx(2 * (told.middle[0] - SNUG.middle))


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: joint.bolt_rate([(70, 0, 205_000)]), "cannot be stretched"),
        (lambda: joint.bolt_rate([]), "no length together"),
        (lambda: joint.end_segments(10, 52.3, "glue"), "not by 'glue'"),
        (lambda: joint.clamped_rate([], 16, 11), "give thickness and modulus"),
        (lambda: joint.clamped_rate([(40, 70e3)], 10, 11), "presses nothing"),
        (lambda: joint.joint_rate(0, 1e5), "both are above nothing"),
        (lambda: joint.embedding_loss(-0.005, 1e5, 1e5), "below nothing"),
        (lambda: joint.turned_range(Spread(1, 2, 3), 1.5, 0.1, 1.5, (3, 2, 1)), "do not rise"),
        (lambda: joint.turned_range(Spread(1, 2, 3), 0.1, 0.2, 1.5, (1, 2, 3)), "turn error of 0.2 rad exceeds"),
    ],
)
def test_misuse_is_asked_about(call, said):
    with pytest.raises(OutsideLaw, match=said):
        call()
