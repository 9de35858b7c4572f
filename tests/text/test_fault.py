"""Faults as values: how they are told."""

import pytest

from witnessmark.text.fault import Fault, Faulty, path_text


@pytest.mark.parametrize(
    ("fault", "told"),
    [
        (
            Fault("value", "no number", "limits.yaml", 9, 15, "seat_load.low"),
            "limits.yaml:9:15: seat_load.low: no number",
        ),
        (Fault("value", "no number", "limits.yaml", 9, 15), "limits.yaml:9:15: no number"),
        (Fault("too_large", "too much", "job.yaml"), "job.yaml: too much"),
        (Fault("value", "no number", path="seat_load.low"), "seat_load.low: no number"),
        (Fault("value", "no number", line=3, column=1), "3:1: no number"),
        (Fault("value", "no number"), "no number"),
    ],
)
def test_a_fault_tells_place_path_and_what_and_leaves_out_what_is_not_known(fault, told):
    assert str(fault) == told


def test_many_faults_are_told_together():
    two = Faulty([Fault("value", "one", "a", 1, 1), Fault("value", "two", "a", 2, 1)])
    assert two.faults[1].message == "two"
    assert str(two) == "a:1:1: one\na:2:1: two"


def test_a_path_reads_as_keys_and_positions():
    assert path_text(("limits", "stem_diameter", 0, "unit")) == "limits.stem_diameter[0].unit"
    assert path_text((2, "raw")) == "[2].raw"
    assert path_text(()) == ""
