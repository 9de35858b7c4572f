"""The catalogue on sheets: found by the words of either side, linked both ways."""

import pytest

from witnessmark.desk.sheets.card import NoCard
from witnessmark.desk.sheets.catalogue import TABLES, catalogue_sheet, entry_sheet, way_sheets
from witnessmark.shell.resources import catalogue


def ids(sheet):
    return [line.id for table in sheet.tables for line in table.lines]


def test_every_entry_stands_in_the_table_of_its_letter():
    sheet = catalogue_sheet(catalogue())
    assert [table.letter for table in sheet.tables] == list(TABLES)
    assert sorted(ids(sheet)) == sorted(catalogue().characteristics)
    assert all(line.gauge and line.at for table in sheet.tables for line in table.lines)


@pytest.mark.parametrize(("words", "first"), [
    ("warpage", "head_flatness"), ("keeper groove", "tip_to_groove"), ("collet groove", "tip_to_groove"),
    ("bent valve stem", None), ("STEM diameter", "stem_diameter"), ("stem_diameter", "stem_diameter"),
    ("centerline", "lobe_centreline"), ("intake", None),
])  # fmt: skip
def test_words_of_either_side_find_it(words, first):
    found = ids(catalogue_sheet(catalogue(), words))
    assert found if first is None else found[0] == first or first in found[:3]


def test_a_remedy_finds_what_it_cures_after_what_is_called_so():
    sheet = catalogue_sheet(catalogue(), "resurface")
    assert "head_flatness" in ids(sheet)
    assert sheet.tables[-1].title == "speaking of it"


def test_a_word_that_finds_nothing_is_met_with_the_nearest_that_does():
    sheet = catalogue_sheet(catalogue(), "warpge")
    assert (sheet.found, sheet.guess) == (0, "warpage")


def test_an_entry_names_what_it_comes_from_and_what_comes_from_it():
    assert [link.id for link in entry_sheet(catalogue(), "stem_guide_clearance").from_] == ["guide_bore", "stem_diameter"]
    assert "stem_guide_clearance" in [link.id for link in entry_sheet(catalogue(), "guide_bore").into]
    assert entry_sheet(catalogue(), "guide_bore").only_if.id == "stem_wobble"


def test_an_unknown_entry_is_told_with_the_nearest():
    with pytest.raises(NoCard, match="stem_diameter"):
        entry_sheet(catalogue(), "stem_diametre")


def test_every_way_of_looking_says_what_it_cannot_find():
    ways = way_sheets(catalogue())
    assert len(ways) == len(catalogue().methods)
    assert all(way.misses and way.used for way in ways)
    assert not next(way for way in ways if way.id == "eye").proves
