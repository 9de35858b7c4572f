"""The cam drive: against paths of tangents and arcs measured whole, and camshafts turned until the links fit again."""

from itertools import pairwise
from math import asin, atan2, cos, degrees, hypot, pi, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from witnessmark.mechanics import drive_path
from witnessmark.mechanics.law import OutsideLaw


def tangent(first, second):
    """(length of the free span, direction of its run) between circles (x, y, r) that turn clockwise, outside both.

    Found by turning a line about: it must have each centre at its radius on the same hand.
    """
    dx, dy = second[0] - first[0], second[1] - first[1]
    far, way = hypot(dx, dy), atan2(dy, dx)
    # n: unit normal to the left; centre = point of touch - r n; difference of the centres along n is r1 - r2
    lean = brentq(lambda a: far * sin(a) - (second[2] - first[2]), -1.5, 1.5, xtol=1e-14)
    return far * cos(lean), way + lean


def touching(circle, run):
    """Angle at which a clockwise run leaves or meets a circle: a quarter turn to its left."""
    return run + pi / 2


def path(circles, marks):
    """Length of chain from a marked tooth of the first circle to one of the last, round all of them in turn."""
    length, at = 0.0, marks[0]
    for first, second in pairwise(circles):
        free, run = tangent(first, second)
        length += first[2] * (at - touching(first, run)) + free
        at = touching(second, run)
    return length + circles[-1][2] * (at - marks[1])


def late(before, after, marks, crank_turn=2):
    """Crank angle by which the last circle must turn back for its links to fit again.

    The crank pulls, so the chain runs against the path, and forward is anticlockwise.
    """
    whole = path(before, marks)
    back = brentq(lambda turn: path(after, (marks[0], marks[1] - turn)) - whole, -1, 1, xtol=1e-14)
    return crank_turn * back


def lowered(circle, by, along=(0.0, 1.0)):
    return circle[0] - by * along[0], circle[1] - by * along[1], circle[2]


CRANK, CAM = (0.0, 0.0, 25.0), (0.0, 400.0, 50.0)


@pytest.mark.truth(
    "derived by a path measured numerically: radii 25 and 50, 400 apart, 1 mm: 1.1437 degrees of the cam"
)
def test_a_camshaft_that_comes_down_runs_late():
    exact = late((CRANK, CAM), (CRANK, lowered(CAM, 1.0)), (pi, 0.3))
    assert degrees(exact) / 2 == pytest.approx(1.1437, abs=1e-3)  # a whole millimetre: the second order shows
    lean = drive_path.span_lean(25.0, 50.0, 400.0)
    assert degrees(drive_path.retard(1.0, 50.0, cos(lean))) / 2 == pytest.approx(1.1437, abs=5e-5)


@given(st.floats(15, 40), st.floats(30, 70), st.floats(250, 600), st.floats(-0.5, 1.0))
def test_any_two_sprockets(crank, cam, far, approach):
    before = ((0.0, 0.0, crank), (0.0, far, cam))
    exact = late(before, (before[0], lowered(before[1], approach)), (pi, 0.2))
    told = drive_path.retard(approach, cam, cos(drive_path.span_lean(crank, cam, far)))
    assert told == pytest.approx(exact, abs=1e-4 * abs(approach) + 1e-9)


@pytest.mark.truth("derived: pitch diameters 80 to 120 give 2.86 to 1.91 degrees of the crank for each millimetre")
@pytest.mark.parametrize(("diameter", "each"), [(80, 2.86), (90, 2.55), (100, 2.29), (110, 2.08), (120, 1.91)])
def test_degrees_of_the_crank_for_each_millimetre(diameter, each):
    assert degrees(drive_path.retard(1.0, diameter / 2, 1.0)) == pytest.approx(each, abs=0.006)


@pytest.mark.truth("tutorial problem, two postings: wheels 1600 and 500 mm, 12 m apart, open belt 27.32 m")
def test_the_tangents_of_an_open_belt():
    lean = drive_path.span_lean(250.0, 800.0, 12_000.0)
    free = 12_000.0 * cos(lean)
    length = 2 * free + 800.0 * (pi + 2 * lean) + 250.0 * (pi - 2 * lean)
    assert length / 1000 == pytest.approx(27.32, abs=0.005)


@pytest.mark.truth(
    "T. H. Wentzell, Machine Design, ex. 14.2: 4 and 6 in, belt 54 in: 19.12 in apart, wrap 174.01 degrees"
)
def test_the_wrap_of_a_textbook_belt():
    assert degrees(pi - 2 * drive_path.span_lean(2.0, 3.0, 19.12)) == pytest.approx(174.01, abs=0.01)
    assert degrees(pi - 2 * drive_path.span_lean(2.0 * 25.4, 3.0 * 25.4, 19.12 * 25.4)) == pytest.approx(
        174.01, abs=0.01
    )


@pytest.mark.truth("Khurmi and Gupta, Theory of Machines, ch. 11: crossed belt, 450 and 200 mm, 1.95 m: 4.975 m")
def test_a_crossed_belt_is_one_whose_other_wheel_has_a_negative_radius():
    lean = drive_path.span_lean(-100.0, 225.0, 1950.0)
    assert (2 * 1950 * cos(lean) + (pi + 2 * lean) * 325) / 1000 == pytest.approx(4.975, abs=0.0006)
    assert pi + 2 * lean == pytest.approx(3.477, abs=0.005)


def test_the_lean_is_that_of_a_tangent_not_of_a_slope():
    """An arc tangent in its place gives 11.67 degrees for wheels of 105 and 393, 697 apart; a tangent line 11.92."""
    assert degrees(drive_path.span_lean(52.5, 196.5, 697.0)) == pytest.approx(degrees(asin(144 / 697)), abs=1e-9)
    assert degrees(drive_path.span_lean(52.5, 196.5, 697.0)) == pytest.approx(11.92, abs=0.005)


def two_banks(half, radius=50.0, far=400.0):
    """Crank, camshaft of one bank, camshaft of the other: one drive, whose spans run along the banks and across."""
    away = (sin(half), cos(half))
    return (0.0, 0.0, radius), (-far * away[0], far * away[1], radius), (far * away[0], far * away[1], radius)


@pytest.mark.parametrize(("degrees_of_v", "printed"), [(60, 2.0), (90, 2.414)])
@pytest.mark.truth("derived: one drive round both banks, both heads alike: 1 + 2 sin of half the V, 2.0 and 2.4")
def test_one_drive_round_both_banks_of_a_v(degrees_of_v, printed):
    half, cut = radians(degrees_of_v / 2), 0.5
    crank, left, right = two_banks(half)
    axes = (-sin(half), cos(half)), (sin(half), cos(half))
    then = crank, lowered(left, cut, axes[0]), lowered(right, cut, axes[1])
    first = late((crank, left), then[:2], (pi, 0.0))
    second = late((crank, left, right), then, (pi, -0.4))
    assert second / first == pytest.approx(printed, abs=5e-3)
    assert 1 + drive_path.second_bank(half) == pytest.approx(second / first, rel=2e-3)
    spans = [(cos(tangent(a, b)[1]), sin(tangent(a, b)[1])) for a, b in ((crank, left), (left, right))]
    moves = [(0.0, 0.0), *((-cut * x, -cut * y) for x, y in axes)]
    told = drive_path.path_retard(np.array([50.0, 50.0, 50.0]), spans, moves, 2)
    assert told == pytest.approx(second, rel=2e-3)


@pytest.mark.parametrize("rail", ["on the block", "on the head"])
def test_a_rail_or_idler_on_the_way(rail):
    idler = (-60.0, 200.0, 30.0)
    crank, cam = (0.0, 0.0, 25.0), (10.0, 400.0, 50.0)
    moved = 0.4 if rail == "on the head" else 0.0
    exact = late((crank, idler, cam), (crank, lowered(idler, moved), lowered(cam, 0.4)), (pi, 0.2))
    runs = [tangent(a, b)[1] for a, b in ((crank, idler), (idler, cam))]
    spans, moves = [(cos(a), sin(a)) for a in runs], [(0, 0), (0, -moved), (0, -0.4)]
    told = drive_path.path_retard(np.array([25.0, 30.0, 50.0]), spans, moves, 2)
    assert told == pytest.approx(exact, rel=3e-3)


def test_both_camshafts_of_one_head_run_late_alike():
    crank, first, second = (0.0, 0.0, 25.0), (-60.0, 400.0, 50.0), (60.0, 400.0, 50.0)
    then = crank, lowered(first, 0.3), lowered(second, 0.3)
    one = late((crank, first), then[:2], (pi, 0.2))
    both = late((crank, first, second), then, (pi, 0.2))
    assert both == pytest.approx(one, rel=1e-6)


@given(st.floats(-1, 1))
def test_both_spans_give_what_they_lose_to_the_tensioner(approach):
    before = tangent(CRANK, CAM)[0]
    lost = before - tangent(CRANK, lowered(CAM, approach))[0]
    lean = drive_path.span_lean(25.0, 50.0, 400.0)
    arcs = (
        2 * (asin(25 / (400 - approach)) - asin(25 / 400)) * 25
    )  # the wraps change too, and give nothing to first order
    assert drive_path.slack_gained(approach, cos(lean)) == pytest.approx(2 * lost - arcs, abs=1e-3)


def test_sprockets_that_do_not_fit_are_asked_back():
    with pytest.raises(OutsideLaw, match="do not stand 20 mm apart: check the three"):
        drive_path.span_lean(25.0, 50.0, 20.0)
    with pytest.raises(OutsideLaw, match="is it half the pitch diameter"):
        drive_path.retard(0.3, 0.0, 1.0)
