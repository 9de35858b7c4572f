"""Gates: only a clear answer passes."""

from dataclasses import replace

import pytest

from witnessmark.judge.result import CLOSE, OUT, WITHIN
from witnessmark.plan.gates import LOOKS_AT, passed
from witnessmark.shell.demo import demo_events


@pytest.fixture(scope="module")
def results():
    """Rows of the Wren, to be given other verdicts and names."""
    from witnessmark.desk.state import state
    from witnessmark.record.replay import replay
    from witnessmark.shell.resources import catalogue

    return state(replay(demo_events("wren")), catalogue()).judgement.results


@pytest.fixture
def row(results):
    plain = next(one for one in results if one.verdict == WITHIN and one.complete and one.decided)
    return lambda name, verdict, **more: replace(plain, characteristic=name, verdict=verdict, round="as found", **more)


def test_nobody_has_looked(row):
    assert passed("sound", []) is None
    assert passed("sound", [row("head_cracks", WITHIN)]) is None  # the pressure test is still to come


def test_both_looked_at_and_clear(row):
    assert passed("sound", [row("head_cracks", WITHIN), row("jacket_pressure_test", WITHIN)]) is True


@pytest.mark.parametrize("first", [WITHIN, OUT, CLOSE])
def test_one_that_failed_fails_whatever_the_other_says(row, first):
    assert passed("sound", [row("head_cracks", first), row("jacket_pressure_test", OUT)]) is False


def test_doubt_is_no_answer(row):
    assert passed("sound", [row("head_cracks", CLOSE), row("jacket_pressure_test", WITHIN)]) is None


def test_one_chamber_too_close_keeps_the_gate_shut(row):
    rows = [row("head_cracks", WITHIN, location="chamber-1"), row("head_cracks", CLOSE, location="chamber-2"),
            row("jacket_pressure_test", WITHIN)]  # fmt: skip
    assert passed("sound", rows) is None


def test_one_way_to_look_at_the_cam_line_is_enough(row):
    assert passed("cam_line", [row("cam_bore_alignment", WITHIN)]) is True
    assert passed("cam_line", [row("cam_bore_roundness", WITHIN)]) is True


def test_what_was_read_in_another_round_does_not_count(row):
    rows = [replace(row(name, WITHIN), round="back from machining") for name in ("head_cracks", "jacket_pressure_test")]
    assert passed("sound", rows) is None
    assert passed("sound", rows, "back from machining") is True


def test_every_gate_of_the_catalogue_is_known():
    from witnessmark.shell.resources import catalogue

    asked = {gate for one in catalogue().operations.values() for gate in one.gates}
    assert asked == set(LOOKS_AT)
