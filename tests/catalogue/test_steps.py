"""The steps of assembly as they ship, and what becomes of a slip in their file."""

import pytest

from catalogue.shelf import shipped
from catalogue.test_load import edited, told
from witnessmark.catalogue.steps import FACTS, SECTIONS


def test_steps_stand_in_working_order_and_section_follows_section():
    steps = list(shipped().steps.values())
    assert len(steps) > 50
    assert [one.order for one in steps] == sorted({one.order for one in steps})
    sections = [SECTIONS.index(one.section) for one in steps]
    assert sections == sorted(sections)


def test_every_consumable_goes_in_at_some_step():
    """What is bought because it is used once would else lie on the bench at the end."""
    used = {name for one in shipped().steps.values() for name in one.uses}
    assert used == set(shipped().consumables)


def test_every_step_says_how_and_with_what():
    for one in shipped().steps.values():
        assert one.term[0].islower() and not one.term.endswith("."), one.id
        assert one.text.endswith(".") and len(one.text) > 60 and one.tool, one.id


def test_what_a_step_asks_to_check_is_read_and_not_reckoned():
    kinds = {name: shipped().characteristics[name].kind for one in shipped().steps.values() for name in one.check}
    assert "reckoned" not in kinds.values(), kinds


def test_the_words_of_the_drive_are_those_of_the_catalogue():
    from witnessmark.catalogue.entry import DRIVES
    from witnessmark.engine.shape import COOLINGS, FUELS, SEALS

    assert FACTS["drive"] == DRIVES
    for fact, words in (("seal", SEALS), ("fuel", FUELS), ("cooling", COOLINGS)):
        assert FACTS[fact] == (*words, "untold")


@pytest.mark.parametrize(("old", "new", "message"), [
    ("when: [{seal: [ring]}]", "when: [{seal: [rings]}]", "'rings' is no seal; did you mean 'ring'?"),
    ("when: [{seal: [ring]}]", "when: [{seals: [ring]}]", "no fact of an engine is called 'seals'; did you mean 'seal'?"),
    ("when: [{operations: [lash_cap]}]", "when: [{operations: [lash_cup]}]", "no operation is called 'lash_cup'"),
    ("after: [springs_on]", "after: [spring_on]", "no step is called 'spring_on'; did you mean 'springs_on'?"),
    ("after: [springs_on]", "after: [keepers_in]", "comes after keepers_in, and its order 160 is not above 170"),
    ("order: 160", "order: 170", "order 170 is that of"),
    ("uses: [head_bolt]", "uses: [head_bolts]", "no consumable is called 'head_bolts'"),
    ("check: [valve_lash]", "check: [lash_valve]", "no characteristic is called 'lash_valve'"),
    ("hazards: {fuel_jet: []}", "hazards: {fuel_jet: [{fuel: [petroleum]}]}", "'petroleum' is no fuel"),
    ("hazards: {sprung_tensioner: []}", "hazards: {sprung_tensor: []}", "no hazard is called 'sprung_tensor'"),
    ("tells: seal", "tells: gear", "no fact that may be untold is called 'gear'"),
    ("tool: fingers, small magnet", "tools: fingers, small magnet", "did you mean 'tool'"),
])  # fmt: skip
def test_a_slip_is_told_with_its_place(old, new, message):
    found = told(edited("steps.yaml", old, new))
    assert any(message in one and one.startswith("steps.yaml:") for one in found), found
