"""Text of a wrench into traces; each thing that is wrong is told with its line and its cure."""

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from witnessmark.assemble.tracefile import MOST_FAULTS, read_trace
from witnessmark.text.fault import Faulty

ROWS = [(a, 2 * a) for a in range(30)]


def text(head="angle (deg),torque (Nm)", rows=ROWS, sep=","):
    return "\n".join([head, *(sep.join(map(str, row)) for row in rows)])


# lbf = 4.4482216152605 N, in = 25.4 mm: NIST SP 811 (2008), Appendix B
@pytest.mark.parametrize(("unit", "newton_mm"), [("N·m", 1000), ("Nm", 1000), ("N·mm", 1), ("lbf·ft", 1355.8179483314),
                         ("ft-lb", 1355.8179483314), ("in-lb", 112.9848290276), ("lbf-in", 112.9848290276)])  # fmt: skip
def test_units_of_torque(unit, newton_mm):
    (found,) = read_trace(text(f"Angle (°),Torque ({unit})"), "b4.csv")
    assert found.torque[10] == pytest.approx(20 * newton_mm, rel=1e-12)
    assert found.angle[10] == 10
    assert found.bolt == ""


@pytest.mark.parametrize("head", ["angle_deg,torque_Nm", "Angle [deg],Torque [N·m]", "ANGLE deg,TORQUE N·m",
                                  "angle,torque\ndeg,N·m", "\ufeffangle (deg),torque (N·m)"])  # fmt: skip
def test_ways_to_write_a_header(head):
    assert read_trace(text(head), "x")[0].torque[1] == pytest.approx(2000)


def test_radians_are_an_angle():
    assert read_trace(text("angle (rad),torque (Nm)", [(a / 10, a) for a in range(30)]), "x")[0].angle[10] == (
        pytest.approx(np.degrees(1)))  # fmt: skip


def test_semicolons_decimal_commas_comments_time_and_bolts():
    rows = [f"{n};{n % 30},5;{2 * (n % 30)},25;{'A' if n < 30 else 'B'};" for n in range(60)]
    found = read_trace("# wrench 3\ntime (s);angle [deg];torque [Nm];bolt\n" + "\n".join(rows), "x")
    assert [one.bolt for one in found] == ["A", "B"]
    assert found[0].angle[1] == 1.5
    assert found[0].torque[1] == 2250
    assert len(read_trace(text("angle (deg)\ttorque (Nm)", sep="\t"), "t")[0].angle) == 30
    alone = read_trace(found[1].text, "x")  # the lines of one bolt are a file of their own
    assert [one.bolt for one in alone] == ["B"]
    assert np.array_equal(alone[0].torque, found[1].torque)


@pytest.mark.parametrize(("given_", "line", "says"), [
    ("", 0, "the file is empty"),
    ("# only a remark\n", 0, "the file is empty"),
    (text("angle,torque (Nm)"), 1, "in which unit is the angle? Write it in the header: 'angle (deg)'"),
    (text("angle,torque (Nm)", [(1, 1), *ROWS]), 1, "in which unit is the angle?"),
    (text("angle (deg),torque"), 1, "in which unit is the torque?"),
    (text("angle (deg),torque (mm)"), 1, "'mm' is the unit of a length, and the column is the torque"),
    (text("angle (deg),torque (qm)"), 1, "no unit is called 'qm'"),
    (text("angle (deg),force (Nm)"), 1, "no column is called torque, there is angle (deg), force (Nm)"),
    (text("angle (deg),torque (Nm),angle (deg)"), 1, "both called angle"),
    (text(rows=[*ROWS[:3], ("3", "six"), *ROWS[4:]]), 5, "'six' stands where the torque should be"),
    (text(rows=[*ROWS[:3], ("3", "nan"), *ROWS[4:]]), 5, "'nan' stands"),
    (text(rows=[*ROWS[:3], ("3",), *ROWS[4:]]), 5, "the torque is missing"),
    (text(rows=[*ROWS[:3], ("3", "9e9"), *ROWS[4:]]), 5, "no torque is 9e9"),
    (text(rows=[(a, 5, 2 * a, 25) for a in range(30)]), 2, "decimal comma"),
    (text(rows=ROWS[:19]), 2, "19 points; a trace needs 20"),
    (text(rows=[]), 0, "no point follows"),
    (text(rows=[(a, 0) for a in range(30)]), 2, "0 throughout"),
    (text(rows=[(a, -a) for a in range(30)]), 2, "never above 0"),
    (text(rows=[(-a, a) for a in range(30)]), 5, "or was the bolt loosened?"),
    (text(rows=ROWS + ROWS), 32, "lines 2 to 31 and lines 32 to 61; say which one counts (run 1 to 2)"),
    (text(rows=[*ROWS, *((a + 11, 80) for a in range(30, 40))]), 32, "jumps by 12° while torque is on"),
    ("angle (deg),torque (Nm)\n" + "1,1\n" * 200_001, 0, "at most 200000"),
])  # fmt: skip
def test_what_is_wrong_is_told_with_its_line(given_, line, says):
    with pytest.raises(Faulty) as told:
        read_trace(given_, "b.csv")
    fault = told.value.faults[0]
    assert says in fault.message
    assert fault.line == line
    assert fault.name == "b.csv"


def test_a_jump_in_the_rundown_is_no_gap():
    rows = [(0, 0.5), (25, 0.5), *((a + 25, 2 * a) for a in range(1, 40))]
    assert read_trace(text(rows=rows), "x")[0].angle[-1] == 64


def test_the_run_that_counts_can_be_chosen():
    twice = text(rows=[*ROWS, *((a, 3 * a) for a in range(30))])
    assert read_trace(twice, "x", run=1)[0].torque[-1] == 58_000
    second = read_trace(twice, "x", run=2)[0]
    assert second.torque[-1] == 87_000
    assert np.array_equal(read_trace(second.text, "x")[0].torque, second.torque)
    with pytest.raises(Faulty):
        read_trace(twice, "x", run=3)


def test_a_hand_that_goes_back_and_lets_go_is_left_out():
    pause = [(15, t) for t in (20, 8, 0, 0, 8, 20, 30)]
    done = [(28, 50), (28, 9), (27, 0), (26, 0)]
    found = read_trace(text(rows=[*ROWS[:16], *pause, *ROWS[16:], *done]), "x")[0]
    at_15 = found.torque[found.angle == 15]
    assert at_15.min() == 20_000
    assert (found.angle[-1], found.torque[-1]) == (29, 58_000)


def test_a_ratchet_that_goes_back_a_little_begins_no_second_run():
    there = [(a, a) for a in range(100)]
    back = [(99 - n, 0) for n in range(30)] + [(70 + n, 0) for n in range(29)]
    found = read_trace(text(rows=[*there, *back, *((a, a) for a in range(100, 130))]), "x")[0]
    assert np.array_equal(found.torque, found.angle * 1000)
    assert found.angle[-1] == 129


def test_a_return_to_the_start_without_torque_is_no_second_run():
    back = [(29 - n, 0) for n in range(30)] + [(n / 10, 0) for n in range(30)]
    assert len(read_trace(text(rows=ROWS + back), "x")[0].angle) == 30


def test_many_faults_are_told_in_part():
    with pytest.raises(Faulty) as told:
        read_trace(text(rows=[("x", "y")] * 1000), "b")
    assert MOST_FAULTS <= len(told.value.faults) <= MOST_FAULTS + 2
    assert "perhaps more" in told.value.faults[-1].message


def test_a_file_that_goes_back_and_forth_is_read_in_no_time():
    rows = [(100 * (n % 2), n % 2) for n in range(100_000)]
    with pytest.raises(Faulty):
        read_trace(text(rows=rows), "x")


LETTERS = "angle torque(deg)Nm°·,;\t\n0123456789.-+e#\"\ufeffx"


@settings(max_examples=150, deadline=None)
@given(st.one_of(
    st.text(max_size=200), st.text(LETTERS, max_size=300),
    st.lists(st.tuples(st.floats(-2e5, 2e5), st.floats(-2e5, 2e5)), min_size=18, max_size=80).map(
        lambda rows: text(rows=rows)),
    st.lists(st.text(LETTERS, max_size=12), min_size=20, max_size=40).map(
        lambda lines: "angle (deg);torque (Nm)\n" + "\n".join(lines)),
), st.integers(0, 3))  # fmt: skip
@example("angle (deg)\ntorque (Nm)", 0)
def test_any_text_is_read_or_told(given_, run):
    try:
        found = read_trace(given_, "n", run)
    except Faulty as told:
        assert told.faults
        assert all(one.message and one.line >= 0 for one in told.faults)
    else:
        assert found
        assert all(np.isfinite(one.angle).all() and len(one.angle) == len(one.torque) > 0 for one in found)
