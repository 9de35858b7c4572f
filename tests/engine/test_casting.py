"""Another casting: what it brings is stated with new valves in it; valves that are there stand as their wear has it."""

from math import pi

import numpy as np
import pytest

from engine.heads import after, head, kind_of

BROUGHT = {"new_head_height": 133.3, "new_stem_height": 43.9, "new_installed_height": 38.1, "new_seat_recession": 0.8,
           "new_chamber_volume": 43_500.0, "new_guide_bore": 6.005, "new_seat_width": 1.5,
           "new_seat_runout": 0.01, "new_margin": 1.40, "new_valve_length": 105.0, "valve_length": 104.9,
           "new_stem_diameter": 5.98}  # fmt: skip
SAME = {"new_head_height": 133.0, "new_stem_height": 44.0, "new_installed_height": 38.0, "new_seat_recession": 1.0,
        "new_chamber_volume": 44_000.0, "new_margin": 1.15, "new_valve_length": 105.0, "valve_length": 105.0}  # fmt: skip
HEAD, VALVES = ("head_replace", "all", 1.0), ("valve_replace", "all", 1.0)


def test_the_same_casting_again_moves_nothing_that_hangs_on_its_place():
    model, state = head(**SAME)
    then, before = after(model, state, HEAD), after(model, state)
    for name in ("stem_height", "installed_height", "valve_lash", "ptv_axial", "chamber_volume", "seat_recession",
                 "compression_ratio", "cam_timing", "head_height", "squish", "hole_spare"):  # fmt: skip
        assert then[name] == pytest.approx(before[name], abs=1e-9, nan_ok=True), name


def test_with_new_valves_it_is_as_it_was_stated():
    model, state = head(**BROUGHT)
    then = after(model, state, HEAD, VALVES)
    for name, value in (("stem_height", 43.9), ("installed_height", 38.1), ("seat_recession", 0.8),
                        ("chamber_volume", 43_500.0), ("head_height", 133.3), ("seat_width", 1.5),
                        ("stem_guide_clearance", 0.025), ("margin", 1.40)):  # fmt: skip
        assert then[name] == pytest.approx(value, abs=1e-9), name


def test_a_worn_valve_in_it_stands_higher_by_what_its_face_has_lost_and_lower_by_what_its_tip_has():
    model, state = head(**BROUGHT)
    then = after(model, state, HEAD)
    # face 1.40 - 1.15 = 0.25 up, length 105.0 - 104.9 = 0.10 down
    assert then["stem_height"] == pytest.approx(43.9 + 0.25 - 0.10)
    assert then["installed_height"] == pytest.approx(38.1 + 0.25)  # the groove knows nothing of the tip
    assert then["seat_recession"] == pytest.approx(0.8 + 0.25)
    assert then["stem_guide_clearance"] == pytest.approx(6.005 - 5.97)
    pockets = 0.25 * 2 * pi / 4 * (33.0**2 + 28.0**2)
    assert then["chamber_volume"] == pytest.approx(43_500.0 + pockets)


def test_lash_goes_with_the_tip():
    model, state = head(**BROUGHT)
    before, then = after(model, state), after(model, state, HEAD)
    assert then["valve_lash"] == pytest.approx(before["valve_lash"] - 0.05)  # the tip stands 44.05 high, not 44.00


def test_room_over_the_piston_goes_with_the_place_of_valve_and_head():
    model, state = head({**kind_of("inline", "pushrod", "gear")}, **BROUGHT)  # its camshaft stays where it is
    before, then = after(model, state), after(model, state, HEAD)
    lean = np.cos(np.radians(15))
    # 1.05 under the face instead of 1.00 along the valve, and a face 0.3 further from the piston
    assert then["ptv_axial"] == pytest.approx(before["ptv_axial"] + 0.05 + 0.3 * lean)


def test_nothing_is_known_of_seats_that_nobody_stated():
    model, state = head(**{**BROUGHT, "new_stem_height": np.nan, "new_installed_height": np.nan,
                           "new_seat_recession": np.nan})  # fmt: skip
    then = after(model, state, HEAD)
    for name in ("stem_height", "installed_height", "valve_lash"):
        assert np.isnan(then[name]).all(), name


def test_where_no_stem_was_stated_the_spring_tells_how_much_lower_the_valve_sits():
    model, state = head(**{**BROUGHT, "new_stem_height": np.nan})
    then = after(model, state, HEAD)
    assert then["installed_height"] == pytest.approx(38.1 + 0.25)
    assert then["valve_lash"] == pytest.approx(0.20 - 0.35)  # 38.35 is 0.35 higher than 38.00
