"""What an entry tells of itself."""

import json

import pytest

from catalogue.shelf import shipped
from witnessmark.catalogue.entry import KINDS_OF_PLACE, UNIT_INSIDE, form_groups, meet, methods_for
from witnessmark.quantity.unit import unit

SIX = ("top/along", "top/across", "middle/along", "middle/across", "bottom/along", "bottom/across")


def test_taper_compares_the_heights_in_one_direction():
    assert form_groups(SIX, "along") == (
        ("top/along", "middle/along", "bottom/along"),
        ("top/across", "middle/across", "bottom/across"),
    )


def test_out_of_round_compares_the_directions_at_one_height():
    assert form_groups(SIX, "round")[1] == ("middle/along", "middle/across")


def test_form_over_all_compares_everything():
    assert form_groups(SIX, "all") == (SIX,)


def test_values_stand_in_the_unit_inside():
    table = shipped().characteristics
    assert [table[name].unit for name in ("stem_diameter", "tall_load", "spring_rate")] == ["mm", "N", "N/mm"]


def test_a_side_may_have_its_own_usual_range():
    margin = shipped().characteristics["margin"]
    assert margin.usual_at("exh") == (0.3, 5.0)
    assert margin.usual_at("") == (0.2, 5.0)


def test_readings_and_sums_are_told_apart():
    table = shipped().characteristics
    assert table["valve_lash"].measured
    assert not table["stem_guide_clearance"].measured
    assert not table["stem_taper"].measured


@pytest.mark.parametrize("name", list(shipped().characteristics))
def test_machines_get_plain_data_with_the_keys_of_the_contract(name):
    plain = shipped().characteristics[name].to_dict()
    wanted = {"id", "term", "table", "measure", "stations", "law", "usual_gauge", "usual", "wears", "out", "remedies"}
    assert wanted | {"hazard", "teach", "source", "drawing", "unit"} <= set(plain)
    assert json.loads(json.dumps(plain)) == plain


def test_a_look_is_read_and_has_no_gauge():
    look = shipped().characteristics["head_cracks"]
    assert look.measured
    assert look.usual_gauge == ""
    assert list(look.says.items())[:2] == [("none", "good"), ("crack", "bad")]


def test_a_look_that_says_no_amount_has_no_unit():
    assert shipped().characteristics["keeper_groove"].unit == ""
    assert shipped().characteristics["head_cracks"].unit == "mm"
    assert shipped().characteristics["jacket_pressure_test"].unit == "MPa"


@pytest.mark.parametrize(
    "quantity", ["length", "force", "rate", "angle_plane", "pressure", "volume", "time", "ratio", "torque"]
)
def test_the_unit_inside_is_the_one_with_factor_one(quantity):
    assert unit(UNIT_INSIDE[quantity], quantity).factor == 1


@pytest.mark.truth("ISO 80000-3: one degree is pi / 180 radian; one millilitre is a cubic centimetre")
def test_angles_and_volumes_stand_inside_in_radian_and_cubic_millimetre():
    table = shipped().characteristics
    assert table["face_angle"].usual == pytest.approx((0.17453, 1.30900), abs=5e-6)
    assert table["chamber_volume"].usual == (3000.0, 150000.0)
    assert table["deck_finish"].usual == pytest.approx((0.00005, 0.012))


@pytest.mark.truth("common practice, no source: penetrant first on light alloy, magnetic powder first on iron")
def test_the_material_chooses_the_way_of_looking():
    catalogue = shipped()
    cracks = catalogue.characteristics["head_cracks"]
    assert methods_for(cracks, catalogue.methods, "aluminium")[0] == "penetrant"
    assert methods_for(cracks, catalogue.methods, "iron")[0] == "magnetic_dry"
    assert methods_for(cracks, catalogue.methods, "") == cracks.methods
    assert not {"magnetic_dry", "magnetic_wet"} & set(methods_for(cracks, catalogue.methods, "aluminium"))


def test_what_stands_at_one_location_meets():
    assert meet("guide", "valve")
    assert meet("pushrod", "adjuster")
    assert meet("cam_bore", "journal")
    assert not meet("seat", "chamber")
    assert not meet("cam", "journal")
    assert all(meet(at, at) for at in KINDS_OF_PLACE)
