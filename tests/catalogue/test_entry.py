"""What an entry tells of itself."""

import json

import pytest

from catalogue.shelf import shipped
from witnessmark.catalogue.entry import form_groups

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
