"""Room between piston and valve: against a camshaft and a crank that are turned through, step by step."""

from math import cos, pi, radians

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.mechanics.law import OutsideLaw
from witnessmark.mechanics.piston_valve import ptv_axial, ptv_by_curve

STROKE, ROD = 86.0, 143.0
KNOTS = [radians(one) for one in range(-30, 35, 5)]


def lift(angle, side):
    """A smooth lift: 9.5 at its middle, 110 degrees of the crank after top for the inlet, before it for the exhaust."""
    away = (angle - side * radians(110)) / radians(140)
    return np.where(np.abs(away) < 1, 9.5 * np.cos(away * pi / 2) ** 4, 0.0)


def turned_through(side, lean, approach=0.0, sunk=0.0, later=0.0, floor=3.0):
    """Least room along the valve's axis and where, over an angle stepped by a thousandth of a degree."""
    angle = np.radians(np.arange(-29, 29, 0.001))
    throw = STROKE / 2
    height = throw * np.cos(angle) + np.sqrt(ROD**2 - (throw * np.sin(angle)) ** 2)
    below = throw + ROD - height
    room = (floor + below - approach) * cos(lean) + sunk - lift(angle - later, side)
    at = int(np.argmin(room))
    return float(room[at]), float(angle[at])


@pytest.mark.parametrize("side", [1.0, -1.0])
@pytest.mark.parametrize("lean", [0.0, 15.0])
@pytest.mark.parametrize("degrees", [0.3, -1.0, 3.0])
@pytest.mark.parametrize(("approach", "sunk"), [(0.0, 0.0), (0.3, 0.2)])
def test_both_laws_against_an_engine_turned_through(side, lean, degrees, approach, sunk):
    lean, later = radians(lean), radians(degrees)
    before, at = turned_through(side, lean)
    exact, _ = turned_through(side, lean, approach, sunk, later)
    told = ptv_axial(before, approach, sunk, later, abs(at), STROKE, ROD, cos(lean), side)
    assert told == pytest.approx(exact, abs=0.015 * max(1.0, degrees**2 / 4))
    assert told >= exact - 1e-6  # to first order is never too dark
    lifts = [float(lift(np.array(one), side)) for one in KNOTS]
    curved = ptv_by_curve(before, approach, sunk, later, STROKE, ROD, cos(lean), KNOTS, lifts)
    assert curved == pytest.approx(exact, abs=0.004)
    assert abs(curved - exact) <= abs(told - exact) + 0.004


@pytest.mark.truth("derived by hand: 1 mm skimmed, cam sprocket radius 50, nearest at 10 degrees, upright")
def test_the_exhaust_loses_more_than_twice_what_the_inlet_loses():
    late = radians(2.2873)
    inlet, exhaust = (ptv_axial(0.0, 1.0, 0.0, late, radians(10), STROKE, ROD, 1.0, side) for side in (1.0, -1.0))
    assert inlet == pytest.approx(-0.61, abs=5e-3)
    assert exhaust == pytest.approx(-1.39, abs=5e-3)


@given(st.floats(0.5, 3), st.floats(0, 1), st.floats(0, 1), st.floats(0, 0.4))
def test_what_does_not_turn_the_camshaft_is_the_same_by_both_laws(room, approach, sunk, lean):
    lifts = [float(lift(np.array(one), 1.0)) for one in KNOTS]
    plain = ptv_axial(room, approach, sunk, 0.0, 0.2, STROKE, ROD, cos(lean), 1.0)
    assert plain == pytest.approx(room - approach * cos(lean) + sunk)
    assert ptv_by_curve(room, approach, sunk, 0.0, STROKE, ROD, cos(lean), KNOTS, lifts) == pytest.approx(plain)


def test_a_batch_gives_what_its_rows_give_alone():
    lifts = [np.full(4, float(lift(np.array(one), 1.0))) for one in KNOTS]
    rows = np.linspace(0, 0.05, 4)
    batch = ptv_by_curve(2.0, 0.3, 0.1, rows, np.full(4, STROKE), np.full(4, ROD), np.full(4, 0.97), KNOTS, lifts)
    alone = [ptv_by_curve(2.0, 0.3, 0.1, one, STROKE, ROD, 0.97, KNOTS, [each[0] for each in lifts]) for one in rows]
    assert batch == pytest.approx(alone, abs=1e-12)


def test_later_helps_the_inlet_and_robs_the_exhaust():
    later = [ptv_axial(1.5, 0, 0, 0.02, 0.15, STROKE, ROD, 1.0, side) - 1.5 for side in (1.0, -1.0)]
    assert later[0] > 0 > later[1]
    assert later[0] == pytest.approx(-later[1])


def test_a_rod_shorter_than_the_throw_is_asked_back():
    with pytest.raises(OutsideLaw, match="shorter than the throw"):
        ptv_axial(1.5, 0.3, 0.0, 0.01, 0.15, STROKE, 40.0, 1.0, 1.0)
