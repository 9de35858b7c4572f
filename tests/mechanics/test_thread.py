"""Threads by designation, held against the tables of ISO 898-1 and ASME B1.1 and written in many ways."""

from math import pi
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics import thread
from witnessmark.mechanics.law import OutsideLaw

TRUTH = Path(__file__).parents[1] / "truth"
METRIC = yaml.safe_load((TRUTH / "proof-loads.yaml").read_text("utf-8"))["threads"]
BASIC = yaml.safe_load((TRUTH / "metric-threads.yaml").read_text("utf-8"))
UNIFIED = yaml.safe_load((TRUTH / "unified-threads.yaml").read_text("utf-8"))["threads"]
names = st.sampled_from(sorted(thread.METRIC))


@pytest.mark.truth("ISO 898-1, tables of coarse threads (two reprints seen): stress areas of M5 to M20, three figures")
@pytest.mark.parametrize("row", METRIC, ids=lambda row: row["name"])
def test_coarse_threads_have_the_stress_area_of_the_standard(row):
    half = 0.5 if row["stress_area"] >= 100 else 0.05
    assert thread.designated(row["name"]).stress_area == pytest.approx(row["stress_area"], abs=half)


@pytest.mark.truth("ISO 724:1993, ISO 965 (from memory): pitches, pitch diameters and cores of M6 to M14")
@pytest.mark.parametrize("row", BASIC["threads"], ids=lambda row: row["name"])
def test_a_coarse_thread_is_found_without_its_pitch(row):
    found = thread.designated(row["name"])
    assert found.pitch == row["pitch"]
    assert found.pitch_diameter == pytest.approx(row["pitch_diameter"], abs=0.0005)
    assert found.minor_diameter == pytest.approx(row["minor_diameter"], abs=0.0005)
    if row["name"] in BASIC["cores"]:
        assert found.root_diameter == pytest.approx(BASIC["cores"][row["name"]], abs=0.0005)


@pytest.mark.truth("VDI 2230-1 and DIN 13 tables (from memory): area of the core of M10 is 52.3 square millimetres")
def test_the_core_of_m10():
    assert thread.designated("M10").root_area == pytest.approx(52.3, abs=0.05)


@pytest.mark.truth("ASME B1.1 (from memory): tensile stress area and area at the root, as printed")
@pytest.mark.parametrize("row", UNIFIED, ids=lambda row: row["name"])
def test_unified_threads_have_the_areas_of_the_standard(row):
    found = thread.designated(row["name"])
    assert found.name == row["name"]
    assert found.nominal / 25.4 == pytest.approx(row["nominal"])
    square = 25.4**2
    places = 0.001 if row["stress_area"] > 0.2 else 0.0001  # one of the last figure: tables cut where they round
    assert found.stress_area / square == pytest.approx(row["stress_area"], abs=places)
    assert found.root_area / square == pytest.approx(row["root_area"], abs=places)


@pytest.mark.truth("ASME B1.1 (from memory) prints the stress area as pi/4 (D - 0.9743/n) squared")
@pytest.mark.parametrize("size", thread.UNIFIED)
def test_the_unified_stress_area_is_the_printed_formula(size):
    for count in thread.UNIFIED[size]:
        found = thread.unified(size, count)
        whole = found.nominal / 25.4
        assert found.stress_area / 25.4**2 == pytest.approx(pi / 4 * (whole - 0.9743 / count) ** 2, rel=1e-4)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("M10x1.25", "M10x1.25"), ("m10 × 1.25", "M10x1.25"), ("M10*1,25", "M10x1.25"), ("M10", "M10x1.5"),
        ("M8x1-6g", "M8x1"), ("3/8-16 UNC", "3/8-16 UNC"), ("3/8-16", "3/8-16 UNC"), ("1/2-13", "1/2-13 UNC"),
        ("7/16-20 UNF-2A", "7/16-20 UNF"), ("#10-24", "No. 10-24 UNC"), ("No. 10-32 UNF", "No. 10-32 UNF"),
        ('1/4"-28', "1/4-28 UNF"), ("1-8", "1-8 UNC"), ("1/2-20 UNRF", "1/2-20 UNF"),
    ],
)  # fmt: skip
def test_a_designation_is_read_as_people_write_it(written, name):
    assert thread.designated(written).name == name


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("M10x1.75", r"M10 is known with a pitch of 1\.5 \(coarse\), 1\.25, 1, 0\.75; gauge it"),
        ("M13", "no M13 stands in the table; known are M3, M3.5"),
        ("3/8-18", "3/8 is known as 3/8-16 UNC and 3/8-24 UNF"),
        ("3/8-16 UNF", "3/8 is known as 3/8-16 UNC and 3/8-24 UNF"),
        ("15/32-12", "no unified size 15/32"),
        ("10x1.5", "write it as M10x1.25, M10"),
        ("", "is no designation"),
        ("M0", "no M0 stands"),
        ("1/0-5", "no unified size 1/0"),
    ],
)
def test_what_no_table_has_is_refused_with_what_is_known(written, said):
    with pytest.raises(OutsideLaw, match=said):
        thread.designated(written)


@given(nominal=names, n=st.integers(0, 4))
def test_every_name_reads_back_as_itself_and_its_diameters_stand_in_order(nominal, n):
    pitches = thread.METRIC[nominal]
    one = thread.metric(nominal, pitches[n % len(pitches)])
    assert thread.designated(one.name) == one
    assert one.nominal > one.pitch_diameter > one.stress_diameter > one.root_diameter > 0
    assert one.pitch_diameter > one.minor_diameter > one.root_diameter


@pytest.mark.parametrize("size", thread.UNIFIED)
def test_every_unified_name_reads_back_as_itself(size):
    for count in thread.UNIFIED[size]:
        assert thread.designated(thread.unified(size, count).name) == thread.unified(size, count)


def test_coarse_stands_before_fine_in_the_tables():
    assert all(list(pitches) == sorted(set(pitches), reverse=True) for pitches in thread.METRIC.values())
    assert all(coarse < fine for coarse, fine in thread.UNIFIED.values())


def test_a_pitch_that_no_table_lists_can_be_given_by_its_two_numbers():
    assert thread.metric(11, 1.25).pitch_diameter == pytest.approx(11 - 0.6495 * 1.25, abs=0.0005)
