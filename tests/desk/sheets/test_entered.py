"""Limits that were entered, before anything was read."""

from desk.sheets.tern import catalogue, tern
from witnessmark.desk.sheets.entered import entered_wall, entered_words, joined


def test_the_first_word_of_a_pair_of_limits_is_said_once():
    assert joined(["least 5.940", "least 5.925"]) == "least 5.940 · 5.925"
    assert joined([]) == "no limit yet"


def test_limits_in_another_unit_are_converted_and_in_their_own_stand_as_written():
    sheet = tern(with_readings=False).sheet
    where = ["inl-1f", "exh-1f"]
    assert entered_words(sheet, "stem_diameter", where, catalogue(), "mm") == "least 5.940 · 5.925"
    assert entered_words(sheet, "stem_diameter", where, catalogue(), "in") == "least 0.2339 · 0.2333"
    assert entered_words(None, "stem_diameter", where, catalogue(), "mm") == "no limit yet"


def test_an_unread_place_has_the_walls_of_its_kind():
    sheet = tern(with_readings=False).sheet
    wall = entered_wall(sheet, "stem_diameter", "inl-2f")
    assert (wall.low, wall.high, wall.new_low, wall.new_high) == (5.94, None, 5.965, 5.98)
