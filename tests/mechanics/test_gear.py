"""Valve gear: laws of small moves held against levers and rods drawn whole, and closed by solving for their angles."""

from math import asin, cos, hypot, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq, fsolve

from witnessmark.mechanics import gear
from witnessmark.mechanics.law import OutsideLaw

NOTHING = {"valve_sunk": 0.0, "tip_ground": 0.0, "new_valve_longer": 0.0, "cap_added": 0.0, "base_lost": 0.0,
           "cam_lowered": 0.0}  # fmt: skip
ROD = {"valve_sunk": 0.0, "tip_ground": 0.0, "new_valve_longer": 0.0, "cap_added": 0.0, "base_lost": 0.0,
       "head_approach": 0.0, "pivot_raised": 0.0, "rod_longer": 0.0}  # fmt: skip
moves = st.floats(-0.5, 0.5)


def turned(point, angle):
    x, y = point
    return x * cos(angle) - y * sin(angle), x * sin(angle) + y * cos(angle)


class Finger:
    """A finger with a roller: pivot at the origin, valve pad at 32 mm, roller above the arm at 32 / ratio."""

    BASE, ROLLER, PAD = 16.0, 9.0, 8.0

    def __init__(self, ratio):
        self.roller, self.pad = (32.0 / ratio, 4.0), (32.0, 0.0)
        self.lobe = (32.0 / ratio, 4.0 + self.BASE + self.ROLLER)

    def gap(self, angle, pivot, base_lost=0.0, lowered=0.0):
        x, y = turned(self.roller, angle)
        lobe = self.lobe[0], self.lobe[1] - lowered
        return hypot(x - lobe[0], y + pivot - lobe[1]) - (self.BASE - base_lost) - self.ROLLER

    def over_tip(self, angle, pivot, rise=0.0):
        return turned(self.pad, angle)[1] + pivot - rise

    def pressed(self, rise=0.0, base_lost=0.0, lowered=0.0):
        """How far its pivot goes down, the roller on the lobe and the pad on the tip."""
        found = fsolve(lambda u: (self.gap(*u, base_lost, lowered), self.over_tip(*u, rise)), (0.0, 0.0), xtol=1e-12)
        return -found[1]

    def lash(self, rise=0.0, base_lost=0.0, lowered=0.0):
        """Gap at the lobe with the pivot held and the pad on the tip."""
        angle = brentq(lambda a: self.over_tip(a, 0.0, rise), -0.3, 0.3, xtol=1e-13)
        return self.gap(angle, 0.0, base_lost, lowered)


@pytest.mark.parametrize("ratio", [1.5, 1.6, 1.8, 2.0])
@pytest.mark.parametrize("move", ["valve_sunk", "tip_ground", "base_lost", "cam_lowered"])
@pytest.mark.parametrize("size", [0.1, 0.5])
def test_the_pivot_under_a_finger_goes_down_as_the_whole_geometry_says(ratio, move, size):
    exact = Finger(ratio).pressed(
        {"valve_sunk": size, "tip_ground": -size}.get(move, 0.0),
        size * (move == "base_lost"),
        size * (move == "cam_lowered"),
    )
    told = gear.finger_preload(
        1.0, **{**NOTHING, move: size}, rocker_ratio=ratio, cam_normal_cosine=1.0, valve_cosine=1.0
    )
    assert told - 1.0 == pytest.approx(exact, rel=0.02)


@pytest.mark.truth("derived: half a millimetre of sink at a ratio of 1.6; shares 2.0, 1.67, 1.25, 1.0 for 1.5 to 2.0")
def test_shares_of_a_finger():
    def pressed(ratio, **moved):
        return gear.finger_preload(0.0, **{**NOTHING, **moved}, rocker_ratio=ratio, cam_normal_cosine=1, valve_cosine=1)

    assert pressed(1.6, valve_sunk=0.5) == pytest.approx(0.8333, abs=5e-5)
    for ratio, share in ((1.5, 2.0), (1.6, 1.67), (1.8, 1.25), (2.0, 1.0)):
        assert pressed(ratio, valve_sunk=1.0) == pytest.approx(share, abs=0.005)
    assert pressed(1.6, base_lost=1.0) == pytest.approx(-2.67, abs=0.005)


@pytest.mark.parametrize("lean", [(0.15, 0.0), (0.0, 0.12), (0.2, 0.1)])
def test_a_finger_whose_contact_and_valve_lean_to_the_pivot(lean):
    """Moments of small turns: normals at roller and pad act on arms that their leans shorten; one pivot, one turn."""
    normal, valve = lean
    ratio, arm = 1.6, 20.0
    # a pivot that sinks by s, a lever that turns by w about it: both contacts must keep their normal distance
    # lobe:  n . (0, -s) + arm w = 0        valve:  v . (0, -s) + ratio arm w = rise
    rise = 0.3
    w = rise / arm / (ratio - cos(valve) / cos(normal))
    s = arm * w / cos(normal)
    told = gear.finger_preload(0.0, **{**NOTHING, "valve_sunk": rise}, rocker_ratio=ratio,
                               cam_normal_cosine=cos(normal), valve_cosine=cos(valve))  # fmt: skip
    assert told == pytest.approx(s)


@pytest.mark.parametrize("ratio", [1.5, 1.8])
@pytest.mark.parametrize(
    ("rise", "lost", "lowered"), [(0.3, 0, 0), (-0.3, 0, 0), (0, 0.2, 0), (0, 0, 0.2), (0.2, 0.1, 0.1)]
)
def test_lash_at_the_lobe_of_a_finger_on_a_screw(ratio, rise, lost, lowered):
    exact = Finger(ratio).lash(rise, lost, lowered)
    moved = {**NOTHING, "valve_sunk": rise, "base_lost": lost, "cam_lowered": lowered}
    told = gear.finger_lash(0.2, **moved, rocker_ratio=ratio, lash_set=0.0)
    assert told - 0.2 == pytest.approx(exact, rel=0.02, abs=2e-4)


def rocker_gap(ratio, rise=0.0, lost=0.0, lowered=0.0):
    """Gap at the valve: a rocker on a fixed pivot, its roller of 9 on a lobe of 16 under it, a pad of 6 over the tip."""
    arm = 22.0
    lobe = (-arm, -25.0 - lowered)

    def off(angle):
        x, y = turned((-arm, 0.0), angle)
        return hypot(x - lobe[0], y - lobe[1]) - (25.0 - lost)

    angle = brentq(off, -0.3, 0.3, xtol=1e-13)
    return turned((ratio * arm, 0.0), angle)[1] - rise


@pytest.mark.parametrize("ratio", [1.1, 1.6])
@pytest.mark.parametrize(("rise", "lost", "lowered"), [(0.3, 0, 0), (0, 0.3, 0), (0.2, 0.1, 0)])
def test_lash_at_the_valve_of_a_rocker_on_a_fixed_pivot(ratio, rise, lost, lowered):
    exact = rocker_gap(ratio, rise, lost, lowered)
    moved = {**NOTHING, "valve_sunk": rise, "base_lost": lost, "cam_lowered": lowered}
    told = gear.rocker_lash(0.2, **moved, rocker_ratio=ratio, lash_set=0.0)
    assert told - 0.2 == pytest.approx(exact, rel=0.02)
    pressed = gear.rocker_preload(1.0, **moved, rocker_ratio=ratio)
    assert pressed - 1.0 == pytest.approx(-exact, rel=0.02)


class Pushrod:
    """Lifter, rod, rocker, valve in one plane: the rod leans by `lean`, the bore by `bore`, the valve by `valve`."""

    def __init__(self, per_rod, lean, bore, valve):
        self.arm, self.long, self.lean, self.bore, self.valve = 25.0, 200.0, lean, bore, valve
        self.cup0 = (-self.arm * cos(lean), self.arm * sin(lean))  # square to the rod
        self.pad0 = (per_rod * self.arm * cos(valve), per_rod * self.arm * sin(valve))  # square to the valve's axis
        up = (sin(lean), cos(lean))
        self.lifter = (self.cup0[0] - self.long * up[0], self.cup0[1] - self.long * up[1])

    def plunger(self, approach=0.0, rise=0.0, raised=0.0, longer=0.0, lost=0.0):
        """How far the plunger goes in, along the bore, with everything in touch."""
        out = (-sin(self.valve), cos(self.valve))  # from seat to tip
        level = self.pad0[0] * out[0] + self.pad0[1] * out[1] + rise

        def touch(angle):
            x, y = turned(self.pad0, angle)
            return x * out[0] + (y + raised) * out[1] - level

        angle = brentq(touch, -0.3, 0.3, xtol=1e-13)
        x, y = turned(self.cup0, angle)
        cup = (x, y + raised - approach)

        def left(inward):
            socket = (self.lifter[0] - inward * sin(self.bore), self.lifter[1] - inward * cos(self.bore))
            return hypot(cup[0] - socket[0], cup[1] - socket[1]) - (self.long + longer)

        return brentq(left, -6, 6, xtol=1e-13) - lost  # a smaller base circle lets the whole lifter down


LEANS = [(0.0, 0.0, 0.0), (10.0, 10.0, 0.0), (10.0, 0.0, 12.0), (6.0, 14.0, -8.0)]
MOVES = [("head_approach", "approach", 0.3), ("valve_sunk", "rise", 0.27), ("pivot_raised", "raised", 0.3),
         ("rod_longer", "longer", 0.4), ("base_lost", "lost", 0.2)]  # fmt: skip


@pytest.mark.parametrize("leans", LEANS)
@pytest.mark.parametrize(("ours", "theirs", "size"), MOVES)
def test_a_pushrod_loop_closed_by_solving_it(leans, ours, theirs, size):
    lean, bore, valve = (radians(one) for one in leans)
    exact = Pushrod(1.6, lean, bore, valve).plunger(**{theirs: size})
    cosines = {"pushrod_cosine": cos(lean), "lifter_cosine": cos(lean - bore), "valve_cosine": cos(valve)}
    ratio = 1.6 * cosines["lifter_cosine"]  # valve lift over lifter lift
    told = gear.pushrod_preload(1.0, **{**ROD, ours: size}, rocker_ratio=ratio, **cosines)
    assert told - 1.0 == pytest.approx(exact, rel=0.02)
    lash = gear.pushrod_lash(0.0, **{**ROD, ours: size}, rocker_ratio=ratio, **cosines, lash_set=0.0)
    assert lash == pytest.approx(-1.6 * cosines["lifter_cosine"] * exact, rel=0.02)


@pytest.mark.truth("derived by hand: 0.30 and 0.2707 at a ratio of 1.6 and a lean of 10 degrees; pivot 0.3, upright")
def test_pushrods_by_hand():
    cosines = {"pushrod_cosine": cos(radians(10)), "lifter_cosine": 1.0, "valve_cosine": 1.0}
    cuts = {**ROD, "head_approach": 0.30, "valve_sunk": 0.2707}
    assert gear.pushrod_preload(0, **cuts, rocker_ratio=1.6, **cosines) == pytest.approx(0.465, abs=5e-4)
    assert gear.pushrod_lash(0, **cuts, rocker_ratio=1.6, **cosines, lash_set=0) == pytest.approx(-0.743, abs=5e-4)
    upright = {"pushrod_cosine": 1.0, "lifter_cosine": 1.0, "valve_cosine": 1.0}
    raised = gear.pushrod_preload(0, **{**ROD, "pivot_raised": 0.3}, rocker_ratio=1.6, **upright)
    assert raised == pytest.approx(-0.4875, abs=5e-5)


@given(moves, moves, moves, moves, moves, moves, moves)
def test_a_bucket_stands_in_one_line_with_its_lobe(sunk, ground, longer, cap, shim, lost, lowered):
    tip, lobe = sunk - ground + longer + cap, lost - lowered
    lash = gear.direct_lash(0.2, sunk, ground, longer, cap, shim, lost, lowered)
    assert lash == pytest.approx(0.2 - tip - shim + lobe)
    assert gear.direct_preload(1.0, sunk, ground, longer, cap, lost, lowered) == pytest.approx(1.0 + tip - lobe)


def test_lash_below_nothing_is_an_answer():
    assert gear.direct_lash(0.2, 0.27, 0, 0, 0, 0, 0, 0) == pytest.approx(-0.07)


@pytest.mark.truth(
    "derived: an arm of 35 mm at a lift of 11: 0.43 centred, 0.52, 0.61 and 0.76 at 0.5, 1.0 and 1.8 off"
)
@pytest.mark.parametrize(("offset", "sweep"), [(0.0, 0.43), (0.5, 0.52), (1.0, 0.61), (1.8, 0.76)])
def test_a_pad_sweeps_over_its_tip(offset, sweep):
    assert gear.tip_sweep(35.0, 2 * asin(5.5 / 35.0), offset) == pytest.approx(sweep, abs=5e-3)


@given(st.floats(20, 60), st.floats(0.1, 0.6))
def test_the_sweep_of_a_square_arm_is_how_far_its_end_goes_sideways(arm, swing):
    sideways = [arm * cos(-swing / 2 + swing * n / 400) for n in range(401)]
    assert gear.tip_sweep(arm, swing) == pytest.approx(max(sideways) - min(sideways), rel=1e-9)


def test_lift_is_less_what_the_camshaft_lost():
    assert gear.valve_lift(9.5, 0.3) == pytest.approx(9.2)


@pytest.mark.parametrize("ratio", [1.0, 0.6])
def test_a_finger_of_a_ratio_not_above_one_is_refused(ratio):
    with pytest.raises(OutsideLaw, match="lobe runs between pivot and valve"):
        gear.finger_preload(1.0, **NOTHING, rocker_ratio=ratio, cam_normal_cosine=1.0, valve_cosine=1.0)
    with pytest.raises(OutsideLaw, match="entered upside down"):
        gear.finger_lash(0.2, **NOTHING, rocker_ratio=ratio, lash_set=0.0)


def test_other_levers_that_are_none_are_refused():
    with pytest.raises(OutsideLaw, match="no pivot arm left at these angles"):
        gear.finger_preload(1.0, **NOTHING, rocker_ratio=1.02, cam_normal_cosine=1.0, valve_cosine=1.0)
    with pytest.raises(OutsideLaw, match="must be above nothing"):
        gear.rocker_lash(0.2, **NOTHING, rocker_ratio=0.0, lash_set=0.0)
    with pytest.raises(OutsideLaw, match="must be above nothing"):
        gear.pushrod_lash(0.2, **ROD, rocker_ratio=-1.0, pushrod_cosine=1, lifter_cosine=1, valve_cosine=1, lash_set=0)
    with pytest.raises(OutsideLaw, match="pivot to pad is meant"):
        gear.tip_sweep(0.0, pi / 10)
