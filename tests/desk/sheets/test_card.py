"""Bench cards: all that the catalogue knows, and a usual range that is never taken for a limit."""

import pytest

from desk.sheets.tern import catalogue, tern
from witnessmark.desk.sheets.card import NOT_A_LIMIT, NoCard, card, cards


@pytest.mark.parametrize("name", catalogue().characteristics)
def test_every_characteristic_has_a_card_that_says_how_and_from_where(name):
    one = card(catalogue(), name)
    assert one.title and one.measure and one.source and one.out and one.drawing is not None
    assert all(NOT_A_LIMIT in words for words in one.usual)


def test_a_usual_range_stands_in_millimetres_and_inches():
    assert card(catalogue(), "stem_diameter").usual == ("3.9 to 14.5 mm, 0.154 to 0.571 in (usual, not a limit)",)


def test_an_angle_is_told_in_degrees():
    (words,) = card(catalogue(), "seat_angle").usual
    assert words.startswith("10 to 75 deg (")


def test_the_resolution_of_a_gauge_stands_in_its_own_unit():
    assert "0.00436" not in card(catalogue(), "seat_angle").gauge
    assert card(catalogue(), "stem_diameter").gauge == "outside micrometer, resolves 0.001 mm"


def test_a_look_tells_what_each_way_cannot_find_and_whether_it_proves():
    one = card(catalogue(), "head_cracks")
    proves = {way.term: way.proves for way in one.ways}
    assert proves["by eye"] == "“none found” proves nothing"
    assert proves["penetrant"] == "“none found” proves that there is none"
    assert one.says[0].endswith("may stand") and all(way.misses for way in one.ways)


def test_a_hazard_stands_on_the_cards_that_name_it_and_on_no_other():
    assert [term for term, _ in card(catalogue(), "stem_diameter").hazards] == ["Sodium in the stem"]
    assert card(catalogue(), "bucket_diameter").hazards == ()


def test_the_cards_of_a_job_follow_its_route_and_carry_its_limits():
    now = tern(with_readings=False)
    made = cards(now)
    assert [one.id for one in made] == list(dict.fromkeys(stop.characteristic for stop in now.route))
    stem = next(one for one in made if one.id == "stem_diameter")
    assert "service for inl: least 5.940 mm" in stem.limits


def test_a_card_of_nothing_known_is_told():
    with pytest.raises(NoCard, match="did you mean 'stem_diameter'"):
        card(catalogue(), "stem_diametre")
