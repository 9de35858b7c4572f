"""One head worked by hand from end to end: skim 0.30, seats 0.20 axial, faces 0.05 normal, and what all of it moves.

Bore and stroke 86, rod 143, chamber 44.0 mL with a mouth of 0.78 of the bore, gasket 1.10 on 87, piston 0.20 down, dish
4.0 mL; inlets 33, exhausts 28, 45 degrees, leaning 15 degrees; lash 0.20 on a shim of 2.60; spring 30 N/mm, free 48,
at 38.0, lift 9.5, solid 26.0; sprockets 50 and 25 on 400; both valves nearest at 10 degrees. Source: derived, by hand.
"""

from math import cos, degrees, pi, radians

import pytest

from engine.heads import after, head

WORK = (("skim", "all", 0.30), ("seat_cut", "all", 0.20), ("face_grind", "all", 0.05))
pytestmark = pytest.mark.truth("derived by hand from the geometry of the parts")


@pytest.fixture(scope="module")
def found():
    model, state = head()
    return after(model, state), after(model, state, *WORK)


def inlet(values):
    return values[0]


def exhaust(values):
    return values[8]


def test_the_valve_sinks_by_the_feed_and_by_the_face_along_the_axis(found):
    assert found[1]["valve_sunk"] == pytest.approx(0.2707, abs=5e-5)


def test_volume_and_ratio(found):
    before, then = found
    assert before["clearance_volume"][0] / 1000 == pytest.approx(55.701, abs=5e-4)
    assert then["clearance_volume"][0] / 1000 == pytest.approx(55.138, abs=5e-4)
    assert before["compression_ratio"][0] == pytest.approx(9.969, abs=5e-4)
    assert then["compression_ratio"][0] == pytest.approx(10.060, abs=5e-4)
    assert before["swept_volume"][0] / 1000 == pytest.approx(499.557, abs=5e-4)


def test_a_skim_does_not_touch_the_squish_of_a_pad_level_with_the_face(found):
    assert [each["squish"][0] for each in found] == pytest.approx([1.30, 1.30])
    model, state = head()
    assert after(model, state, ("block_deck", "all", 0.30))["squish"][0] == pytest.approx(1.00)


def test_a_recessed_pad_comes_nearer_until_the_cutter_reaches_it():
    model, state = head(pad_recess=0.60)
    assert after(model, state)["squish"][0] == pytest.approx(1.90)
    assert after(model, state, ("skim", "all", 0.30))["squish"][0] == pytest.approx(1.60)
    assert after(model, state, ("skim", "all", 0.80))["squish"][0] == pytest.approx(1.30)


def test_the_camshaft_runs_late(found):
    assert degrees(found[1]["cam_timing"][0]) == pytest.approx(0.686, abs=5e-4)
    model, state = head()
    millimetre = after(model, state, ("skim", "all", 1.0))["cam_timing"][0]
    assert degrees(millimetre) / 2 == pytest.approx(1.1437, abs=5e-5)  # of the camshaft


def test_the_exhaust_valve_loses_room_where_the_inlet_gains(found):
    before, then = found
    assert inlet(then["ptv_axial"]) - inlet(before["ptv_axial"]) == pytest.approx(0.093, abs=5e-4)
    assert exhaust(then["ptv_axial"]) - exhaust(before["ptv_axial"]) == pytest.approx(-0.131, abs=5e-4)


def test_lash_is_gone_and_the_shim_says_by_how_much(found):
    assert found[1]["valve_lash"] == pytest.approx(-0.071, abs=5e-4)
    assert found[1]["lash_shim_needed"] == pytest.approx(2.329, abs=5e-4)


def test_the_spring_weakens_and_a_shim_brings_it_back(found):
    then = found[1]
    assert then["installed_height"] == pytest.approx(38.271, abs=5e-4)
    assert then["seat_load"] == pytest.approx(292, abs=0.5)
    assert then["open_load"] == pytest.approx(577, abs=0.5)
    assert then["coil_bind_clearance"] == pytest.approx(2.77, abs=5e-3)
    model, state = head()
    shimmed = after(model, state, *WORK, ("spring_shim", "all", 0.25))
    assert shimmed["installed_height"] == pytest.approx(38.021, abs=5e-4)
    assert shimmed["seat_load"] == pytest.approx(299, abs=0.5)
    assert shimmed["open_load"] == pytest.approx(584, abs=0.5)
    assert shimmed["coil_bind_clearance"] == pytest.approx(2.52, abs=5e-3)


def test_only_the_face_takes_from_the_margin(found):
    assert found[0]["margin"] - found[1]["margin"] == pytest.approx(0.071, abs=5e-4)


def test_a_thicker_gasket_gives_back_timing_and_room_and_gives_away_ratio_and_squish():
    model, state = head()
    thicker = after(model, state, *WORK, ("gasket", "all", 1.40))
    assert thicker["compression_ratio"][0] == pytest.approx(9.776, abs=5e-4)
    assert thicker["cam_timing"] == pytest.approx(0.0, abs=1e-12)
    assert thicker["squish"] == pytest.approx(1.60)
    for_ratio = after(model, state, *WORK, ("gasket", "all", 1.195))
    assert for_ratio["compression_ratio"][0] == pytest.approx(9.969, abs=1e-3)
    assert for_ratio["squish"] == pytest.approx(1.395, abs=1e-9)
    assert degrees(for_ratio["cam_timing"][0]) == pytest.approx(0.47, abs=5e-3)


def test_the_same_cuts_on_pushrods():
    valves = {"inl": ["f", "r"], "exh": ["f", "r"]}
    pushrod = {"layout": "inline", "cylinders": "4", "valves": valves, "gear": "pushrod_hydraulic"}
    lean = {"pushrod_angle": radians(10), "lifter_angle": radians(10), "valve_angle": 0.0}
    model, state = head(pushrod, **lean)
    then = after(model, state, *WORK)
    assert then["hla_preload"] - 1.0 == pytest.approx(0.465, abs=5e-4)
    assert then["cam_timing"] == pytest.approx(0.0)
    model, state = head({**pushrod, "gear": "pushrod"}, **lean)
    assert after(model, state, *WORK)["valve_lash"] - 0.20 == pytest.approx(-0.743, abs=5e-4)


def test_a_finger_uses_more_of_its_plunger_than_the_valve_has_sunk():
    finger = {**{"layout": "inline", "cylinders": "4", "valves": {"inl": "1", "exh": "1"}}, "gear": "finger_hydraulic"}
    model, state = head(finger)
    assert after(model, state, ("seat_cut", "all", 0.5))["hla_preload"] - 1.0 == pytest.approx(0.8333, abs=5e-5)


def test_a_plunge_of_the_seat_cutter_widens_the_band():
    model, state = head(seat_width=1.5)
    assert after(model, state, ("seat_cut", "all", 0.10))["seat_width"] == pytest.approx(2.0278, abs=5e-5)
    relief = after(model, state, ("seat_cut", "all", 0.20), ("relief_top", "all", 0.316))
    assert relief["seat_width"] == pytest.approx(1.5 + 1.056 - 0.316 * 3.346, abs=2e-3)


def test_a_sunk_valve_adds_its_area_to_the_chamber():
    model, state = head()
    volumes = [each["chamber_volume"][0] for each in (after(model, state), after(model, state, ("seat_cut", "all", 0.25)))]
    assert (volumes[1] - volumes[0]) / 1000 == pytest.approx(0.736, abs=5e-4)
    assert pi / 4 * 40**2 * 0.25 / 1000 == pytest.approx(0.314, abs=5e-4)
    assert cos(radians(45)) == pytest.approx(1 / 1.4142, abs=5e-5)
