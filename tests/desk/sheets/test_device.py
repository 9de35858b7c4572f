"""What a device may remember, and what stands where it remembers nothing or something unknown."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.desk.sheets.device import SETTINGS, allowed, device_sheet, said, standing
from witnessmark.explain.dialect import DIALECTS

NAMES = [one.name for one in SETTINGS]


@pytest.mark.parametrize("name", NAMES)
def test_where_nothing_is_remembered_the_usual_value_stands(name):
    usual = next(one for one in SETTINGS if one.name == name).values[0].value
    assert standing(name, {}) == usual


@given(st.dictionaries(st.sampled_from(NAMES), st.text(max_size=12)))
def test_whatever_a_device_brings_only_known_values_stand(remembered):
    for shown in device_sheet(remembered):
        assert allowed(shown.setting.name, shown.now)
        known = allowed(shown.setting.name, remembered.get(shown.setting.name, ""))
        assert shown.now == (remembered.get(shown.setting.name, "") if known else shown.setting.values[0].value)


def test_the_words_are_those_of_the_two_sides():
    words = next(one for one in SETTINGS if one.name == "words")
    assert {one.value for one in words.values} == {"", *DIALECTS}


def test_what_was_kept_is_said_in_the_words_of_its_key():
    assert said("letters", "larger") == "letters: larger"
    assert said("stray", "off") == "keys: in the line"
    assert said("letters", "huge") == "" == said("colour", "red")


def test_an_unknown_setting_has_no_value():
    assert not allowed("colour", "red")
