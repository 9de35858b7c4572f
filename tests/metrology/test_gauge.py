"""Gauges as models: what they contribute, and how contradictory ones are told."""

from math import inf, nan

import pytest

from witnessmark.metrology.gauge import (
    Calibration,
    Gauge,
    Repeatability,
    calibration_source,
    defects,
    permissible_source,
)

SOUND = Gauge("M-07", "micrometer", "mm", 0.001, Calibration(0.002), None, Repeatability(0.0012, 20))


def test_a_sound_gauge_has_no_defects():
    assert defects(SOUND) == []
    assert defects(Gauge("L-04", "leaves", "mm", 0.01, leaf_error=0.001, leaves=(0.03, 0.04, 0.05))) == []


@pytest.mark.parametrize(
    ("gauge", "told"),
    [
        (Gauge("a", "m", "mm", 0.0), r"gauge a: resolution is 0; give the smallest step"),
        (Gauge("a", "m", "mm", -0.001), "more than 0"),
        (Gauge("a", "m", "mm", nan), "resolution is nan"),
        (Gauge("a", "m", "mm", 0.001, Calibration(-0.002)), r"calibration U is -0\.002"),
        (Gauge("a", "m", "mm", 0.001, Calibration(0.002, 0)), "calibration k is 0"),
        (Gauge("a", "m", "mm", 0.001, Calibration(0.002, -2)), "calibration k is -2"),
        (Gauge("a", "m", "mm", 0.001, permissible_error=-0.004), "permissible error is -0.004"),
        (Gauge("a", "m", "mm", 0.001, repeatability=Repeatability(-1)), "repeatability s is -1"),
        (Gauge("a", "m", "mm", 0.001, repeatability=Repeatability(0.001, 1)), "n = 1"),
        (Gauge("a", "m", "mm", 0.001, leaf_error=-0.1), "leaf error is -0.1"),
        (Gauge("a", "m", "mm", 0.001, leaves=(0.0, 0.05)), "no thickness"),
        (Gauge("a", "m", "mm", 0.001, leaves=(0.05, 0.05)), "names one leaf twice"),
        (Gauge("a", "m", "mm", 0.001, leaf_error=0.01, leaves=(0.04, 0.05)), "closer than twice the leaf error"),
        (Gauge("a", "m", "mm", 0.001, expansion=11.5), "powers of ten"),
    ],
)
def test_a_contradictory_gauge_is_told_what_to_do(gauge, told):
    import re

    assert any(re.search(told, text) for text in defects(gauge)), defects(gauge)


def test_every_defect_is_told_at_once():
    assert len(defects(Gauge("a", "m", "mm", 0.0, Calibration(-1, 0), -1, Repeatability(-1, 1), -1))) == 7


@pytest.mark.truth("JCGM 100:2008, 4.3.3 and 4.3.7")
def test_a_certificate_gives_u_and_a_bound_gives_a_uniform_error():
    assert calibration_source(SOUND).u == 0.001
    bound = permissible_source(Gauge("B-02", "dial_bore", "mm", 0.002, permissible_error=0.004), 3)
    assert bound.u == pytest.approx(0.5773502692 * 0.004, rel=1e-9)
    assert (bound.shape, bound.dof) == ("uniform", inf)
    assert calibration_source(Gauge("B-02", "dial_bore", "mm", 0.002)) is None


def test_a_new_revision_is_another_error():
    again = Gauge("M-07", "micrometer", "mm", 0.001, Calibration(0.002), revision=1)
    assert calibration_source(again).key != calibration_source(SOUND).key


def test_a_scatter_from_twenty_readings_has_nineteen_degrees_of_freedom():
    assert (SOUND.s, SOUND.scatter_dof) == (0.0012, 19)
    assert Repeatability(0.001).dof == inf
