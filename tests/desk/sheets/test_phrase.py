"""Places and counts in words."""

from witnessmark.desk.sheets.phrase import count_word, listed, plural, shown, together


def test_neighbours_of_one_kind_share_its_name():
    assert together(["inl-4f/top/along", "inl-4f/top/across", "inl-4r"]) == "Inl 4F and 4R"
    assert together(["inl-4f", "exh-4f"]) == "Inl 4F and Exh 4F"


def test_more_than_four_places_are_counted():
    assert together([f"inl-{n}" for n in range(1, 6)]) == "5 places"


def test_small_numbers_are_words_and_large_ones_digits():
    assert (count_word(2), count_word(11)) == ("two", "11")
    assert (plural(1, "question"), plural(2, "entry was", "entries were")) == ("1 question", "2 entries were")
    assert listed(["a", "b", "c"]) == "a, b and c"


def test_a_place_of_an_older_record_is_shown_as_it_came():
    assert shown("piston-3") == "piston-3"
    assert together(["piston-3"]) == "piston-3"
