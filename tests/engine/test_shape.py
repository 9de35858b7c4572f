"""What a layout tells of itself."""

from engine.engines import egret, tern


def test_a_cylinder_knows_its_bank():
    assert [egret().bank_of(number) for number in (1, 2, 7, 8)] == ["left", "right", "left", "right"]
    assert tern().bank_of(3) == ""


def test_valves_of_a_cylinder_are_counted():
    assert tern().valves_each == 4
    assert egret().valves_each == 2


def test_a_hydraulic_gear_takes_up_its_own_lash():
    assert egret().hydraulic
    assert not tern().hydraulic
