"""Extensions on a torque wrench: an Army manual in inch-pounds, levers laid out with vectors, ranges and accuracy."""

from math import cos, pi, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics import wrench
from witnessmark.mechanics.law import OutsideLaw

levers, extensions = st.floats(150, 1200), st.floats(0, 140)
angles = st.floats(-pi, pi)


@pytest.mark.truth(
    "US Army TM 1-1500-204-23-9, fig. 8-16: 300 in-lb, lever 10 in, extension 4 in outward: set 214 in-lb"
)
def test_the_printed_extension_in_inch_pounds():
    assert wrench.wrench_setting(300, 10, 4) == pytest.approx(214, abs=0.5)


@pytest.mark.truth("US Army TM 1-1500-204-23-9, fig. 8-17: folded back, the extension is taken from the lever")
def test_the_extension_folded_back():
    assert wrench.wrench_setting(300, 10, 4, pi) == pytest.approx(300 * 10 / (10 - 4))


@pytest.mark.truth("derived with a pencil: lever 400, extension 60 mm, 100 N·m")
@pytest.mark.parametrize(
    ("degrees", "setting"), [(0, 87.0), (45, 90.41), (90, 100), (135, 111.9), (180, 117.6), (-45, 90.41)]
)
def test_a_crow_foot_round_the_clock(degrees, setting):
    assert wrench.wrench_setting(100, 400, 60, radians(degrees)) == pytest.approx(setting, abs=0.05)


def test_a_crow_foot_that_nobody_reckoned_with_overtightens():
    assert wrench.torque_at_bolt(100, 400, 60) == pytest.approx(115)


@given(lever=levers, extension=extensions, angle=angles, torque=st.floats(1, 500))
def test_the_setting_brings_the_torque(lever, extension, angle, torque):
    setting = wrench.wrench_setting(torque, lever, extension, angle)
    assert wrench.torque_at_bolt(setting, lever, extension, angle) == pytest.approx(torque)


@given(lever=levers, extension=extensions, angle=angles, force=st.floats(1, 500))
def test_the_law_is_the_moment_of_a_pull_square_to_the_wrench(lever, extension, angle, force):
    """Fastener, drive and hand laid out in the plane; the moment as a cross product about each."""
    drive = np.array([extension * cos(angle), extension * sin(angle)])  # the fastener at nothing
    hand, pull = drive + np.array([lever, 0.0]), np.array([0.0, force])

    def moment(about):
        arm = hand - about
        return arm[0] * pull[1] - arm[1] * pull[0]

    at_drive, at_bolt = moment(drive), moment(np.zeros(2))
    assert wrench.torque_at_bolt(at_drive, lever, extension, angle) == pytest.approx(at_bolt)


@given(lever=levers, extension=extensions, angle=angles)
def test_inches_and_millimetres_are_the_same_wrench(lever, extension, angle):
    in_inches = wrench.wrench_setting(30.0, lever / 25.4, extension / 25.4, angle)
    assert in_inches == pytest.approx(wrench.wrench_setting(30.0, lever, extension, angle))


@given(hand=levers, grip=levers, share=st.floats(0, 0.9), extension=extensions, angle=angles)
def test_what_a_sensor_off_the_drive_shows(hand, grip, share, extension, angle):
    """Bending in the beam at the sensor, and the maker's scale, taken one after another."""
    sensor = share * min(hand, grip)
    force = 100.0 / (hand + extension * cos(angle))  # brings 100 to the fastener
    scale = grip / (grip - sensor)  # so that a pull at the grip shows the torque at the drive
    shown = force * (hand - sensor) * scale
    assert wrench.sensed_setting(100.0, hand, extension, angle, sensor, grip) == pytest.approx(shown)


@given(lever=levers, share=st.floats(0, 0.9), extension=extensions, angle=angles)
def test_pulled_at_its_grip_a_wrench_does_not_care_where_it_senses(lever, share, extension, angle):
    told = wrench.sensed_setting(100.0, lever, extension, angle, share * lever, lever)
    assert told == pytest.approx(wrench.wrench_setting(100.0, lever, extension, angle))


@given(hand=levers, grip=levers, extension=extensions)
def test_a_sensor_in_the_drive_does_not_care_where_the_grip_is(hand, grip, extension):
    told = wrench.sensed_setting(100.0, hand, extension, 0.0, 0.0, grip)
    assert told == pytest.approx(wrench.wrench_setting(100.0, hand, extension))


def test_a_pipe_on_a_click_wrench_spoils_its_scale_even_without_an_extension():
    """Pulled at 600 where the maker means 400, pivot 50 from the drive: it must be set to 104.8 for 100 to arrive."""
    shown = wrench.sensed_setting(100.0, 600, 0, 0.0, 50, 400)
    assert shown == pytest.approx(100 * 550 * 400 / (350 * 600))
    assert shown == pytest.approx(104.8, abs=0.05)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: wrench.wrench_setting(100, 300, 300, pi), "would loosen the bolt"),
        (lambda: wrench.wrench_setting(100, 300, 350, radians(150)), "at 150 degrees reaches back past the grip"),
        (lambda: wrench.wrench_setting(100, 0, 60), "the lever is above nothing"),
        (lambda: wrench.wrench_setting(100, 400, -60), "write a folded one with its angle"),
        (lambda: wrench.sensed_setting(100, 400, 60, 0, 450, 400), "does not lie between drive, hand"),
        (lambda: wrench.in_good_range(10, 0), "read it on the wrench"),
        (lambda: wrench.permissible_share(0), "is none"),
    ],
)
def test_misuse_is_asked_about(call, said):
    with pytest.raises(OutsideLaw, match=said):
        call()


@pytest.mark.truth("ISO 6789-1:2017 (from memory): 4 % above 10 N·m, 6 % at and below")
@pytest.mark.parametrize(("torque", "share"), [(5_000, 0.06), (10_000, 0.06), (10_001, 0.04), (100_000, 0.04)])
def test_how_far_a_wrench_may_be_out(torque, share):
    assert wrench.permissible_share(torque) == pytest.approx(share)


@pytest.mark.truth("ISO 6789-1:2017 (from memory): checked at 20, 60 and 100 % of full scale")
@pytest.mark.parametrize(
    ("setting", "good", "said"),
    [(19, False, "19% of full scale, and below 20%"), (20, True, ""), (60, True, ""), (100, True, ""),
     (101, False, "101% of full scale, beyond its end: take a larger wrench")],
)  # fmt: skip
def test_the_good_range_of_a_wrench(setting, good, said):
    assert bool(wrench.in_good_range(setting, 100)) is good
    assert said in wrench.range_advice(setting, 100)
    assert bool(wrench.range_advice(setting, 100)) is not good


def test_many_settings_at_once():
    settings = wrench.wrench_setting(np.array([50.0, 100.0]), 400, 60, np.array([0.0, pi / 2]))
    assert settings == pytest.approx([43.478, 100.0], abs=0.001)
    assert list(wrench.in_good_range(settings, 250.0)) == [False, True]
