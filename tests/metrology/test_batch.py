"""Budgets of readings: what each carries, and that nothing shared is lost or doubled."""

import numpy as np
import pytest

from witnessmark.metrology.batch import Setting, budget, readings, set_with, size_groups
from witnessmark.metrology.gauge import Calibration, Gauge, Repeatability
from witnessmark.metrology.propagate import combine, of_readings, reading_lines
from witnessmark.metrology.source import Source, bounded

INCH = 25.4
MIC = Gauge("M-07", "micrometer", "mm", 0.001, Calibration(0.002), None, Repeatability(0.0012, 20))
BORE = Gauge("B-02", "dial_bore", "mm", 0.002, None, 0.004, Repeatability(0.001, 10))
TENTH = Gauge(
    "M-11", "micrometer", "in", 0.0001 * INCH, Calibration(0.0001 * INCH), None, Repeatability(0.00005 * INCH)
)


def test_a_reading_carries_calibration_scatter_and_step():
    known = of_readings(budget(readings([5.950]), [MIC]))
    assert known.u == pytest.approx([np.sqrt(0.001**2 + 0.0012**2 + 0.001**2 / 12)])
    assert known.repeat == pytest.approx([0.0012])


def test_an_inch_micrometer_is_the_same_arithmetic_in_millimetres():
    known = of_readings(budget(readings([0.2343 * INCH]), [TENTH]))
    assert known.u / INCH == pytest.approx([np.sqrt(0.00005**2 + 0.00005**2 + 0.0001**2 / 12)])
    assert known.dof.tolist() == [np.inf]


def test_the_lines_of_a_reading_add_to_the_whole():
    lines = reading_lines(budget(readings([5.950]), [MIC]), 0)
    assert [line.kind for line in lines] == ["repeatability", "calibration", "display step"]
    assert sum(line.share for line in lines) == pytest.approx(1)
    assert lines[0].dof == 19 and lines[1].key == "M-07#0"


def test_repeats_shrink_the_scatter_and_nothing_else():
    one, nine = of_readings(budget(readings([5.95, 5.95], repeats=[1, 9]), [MIC])).u ** 2
    assert one - nine == pytest.approx(0.0012**2 * (1 - 1 / 9))


def test_the_taper_of_one_stem_does_not_know_the_calibration():
    batch = budget(readings([5.952, 5.950]), [MIC])
    taper = combine(batch, [0, 0], [0, 1], [1, -1], 1).doubt
    assert taper.u == pytest.approx([np.sqrt(2 * (0.0012**2 + 0.001**2 / 12))])


def test_a_permissible_error_is_shared_within_a_size_group_and_not_beyond():
    batch = budget(readings([6.0, 6.01, 40.0], size_group=[0, 0, 1]), [BORE])
    near, far = combine(batch, [0, 0, 1, 1], [0, 1, 0, 2], [1, -1, 1, -1], 2).doubt.u
    own = np.sqrt(2 * (0.001**2 + 0.002**2 / 12))
    assert near == pytest.approx(own)
    assert far == pytest.approx(np.hypot(own, np.sqrt(2) * 0.004 / np.sqrt(3)))


@pytest.mark.truth(
    "common practice, no source: a bore gauge zeroed on the micrometer that measured the journal loses its error"
)
def test_setting_the_bore_gauge_on_the_journals_micrometer_cancels_its_calibration():
    gauges = [MIC, BORE]
    with_mic = set_with("s1", BORE, MIC)
    batch = budget(readings([6.012, 5.950], [1, 0], setting=[0, -1]), gauges, [with_mic])
    clearance = combine(batch, [0, 0], [0, 1], [1, -1], 1)
    assert not any(line.kind == "calibration" for line in clearance_lines(clearance))
    other = Gauge("M-08", "micrometer", "mm", 0.001, Calibration(0.002), None, Repeatability(0.0012, 20))
    apart = budget(readings([6.012, 5.950], [1, 0], setting=[0, -1]), [other, BORE], [with_mic])
    assert combine(apart, [0, 0], [0, 1], [1, -1], 1).doubt.u[0] > clearance.doubt.u[0]


def clearance_lines(derived):
    from witnessmark.metrology.propagate import lines

    return lines(derived, 0)


def test_two_readings_of_one_setting_share_it_and_a_new_setting_is_a_new_error():
    gauges, settings = [BORE], [set_with("s1", BORE, MIC), set_with("s2", BORE, MIC)]
    batch = budget(readings([6.01, 6.02, 6.02], setting=[0, 0, 1]), gauges, settings)
    same, reset = combine(batch, [0, 0, 1, 1], [0, 1, 0, 2], [1, -1, 1, -1], 2).doubt.u
    act = settings[0].sources[0].u
    assert act == pytest.approx(np.sqrt(0.001**2 + 0.002**2 / 12 + 0.0012**2 + 0.001**2 / 12))
    assert reset**2 - same**2 == pytest.approx(2 * act**2)


def test_a_gauge_is_not_its_own_master():
    with pytest.raises(ValueError, match="named as its own master"):
        set_with("s1", BORE, BORE)


def test_a_setting_without_a_known_master_still_has_the_act_of_setting():
    assert [source.kind for source in set_with("s1", BORE, None).sources] == ["setting"]


@pytest.mark.truth("derived: 86 mm, 11.5e-6 per K, ± 2 K uniform between part and gauge")
def test_a_difference_in_temperature_is_a_length():
    warm = bounded("temperature", "bench", 2.0)
    batch = budget(readings([86.0], temperature=[0], nominal=86.0), [Gauge("g", "m", "mm", 0.001)], temperatures=[warm])
    assert of_readings(batch).u == pytest.approx([np.hypot(86 * 11.5e-6 * 2 / np.sqrt(3), 0.001 / np.sqrt(12))])


def test_an_error_met_by_two_ways_adds_before_it_is_squared():
    warm = Source("temperature", "bench", 1.0)
    setting = Setting("s", (warm,), (-86 * 11.5e-6,))
    batch = budget(
        readings([86.0], setting=[0], temperature=[0], nominal=86.0), [Gauge("g", "m", "mm", 0.001)], [setting], [warm]
    )
    assert of_readings(batch).u == pytest.approx([0.001 / np.sqrt(12)])


def test_sizes_within_a_millimetre_are_one_group():
    assert size_groups([5.95, 6.4, 6.96, 40.0, 40.9, 41.1]).tolist() == [0, 0, 1, 2, 2, 3]


def test_no_readings_make_no_values():
    known = of_readings(budget(readings([]), [MIC]))
    assert known.u.shape == (0,)
    assert combine(budget(readings([]), []), [], [], [], 0).doubt.u.shape == (0,)


def test_a_batch_grows_with_its_readings_and_not_with_its_sources():
    n, settings = 20_000, [set_with(f"s{i}", BORE, MIC) for i in range(600)]
    batch = budget(readings(np.full(n, 6.0), 1, setting=np.arange(n) % 600), [MIC, BORE], settings)
    assert len(batch.sources.rows) > 600
    held = sum(
        a.nbytes for a in (batch.source, batch.contribution, batch.value, batch.scatter, batch.step, batch.estimated)
    )
    assert held < 3_000_000


def test_an_interval_between_leaves_enters_a_derived_value_as_uniform():
    """A shim under a lash found with leaves: most of the doubt is the gap between the leaves."""
    leaves = Gauge("L-04", "leaves", "mm", 0.01, leaf_error=0.001, leaves=(0.20, 0.25))
    batch = budget(readings([0.225, 2.75], [0, 1], width=[0.05, np.nan]), [leaves, MIC])
    shim = combine(batch, [0, 0], [0, 1], [1, 1], 1).doubt
    assert shim.value == pytest.approx([2.975])
    assert shim.half == pytest.approx([np.hypot(0.025, 0.001)])
    assert shim.u**2 == pytest.approx([0.05**2 / 12 + 0.001**2 / 3 + 0.001**2 + 0.0012**2 + 0.001**2 / 12])
