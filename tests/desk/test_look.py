"""Look-and-say: the number of an answer, how much, and the method that was used."""

import pytest

from bench_job import MICROMETER, Shop
from witnessmark.desk.look import dialect, read_look
from witnessmark.shell.resources import catalogue

KNOWN = catalogue().characteristics
CRACKS = KNOWN["head_cracks"]
ANSWERS = tuple(CRACKS.says)
HERE = "chamber-1/between-seats"


def look(text, entry=CRACKS, display="mm"):
    return read_look(entry, text, HERE, display)


def test_the_number_of_an_answer_is_enough():
    for n, word in enumerate(ANSWERS, 1):
        found = look(f" {n} ")
        assert found.status == "kept"
        assert found.meaning == {"kind": "look", "says": word, "value": None, "unit": None}


def test_the_word_says_the_same_as_its_number():
    for n, word in enumerate(ANSWERS, 1):
        assert look(word.upper()).meaning == look(str(n)).meaning


def test_how_much_stands_after_the_answer():
    assert look("2 12").meaning == {"kind": "look", "says": ANSWERS[1], "value": "12", "unit": "mm"}
    assert look(f"{ANSWERS[1]} 12.5").meaning["value"] == "12.5"
    assert look("2 1/2 in").meaning["unit"] == "in"


def test_an_inch_shop_says_lengths_in_inch():
    assert look("2 0.5", display="in").meaning == {"kind": "look", "says": ANSWERS[1], "value": "0.5", "unit": "in"}
    assert dialect(Shop(gauges={"M-1": {**MICROMETER, "unit": "in"}}).state().job) == "in"
    assert dialect(Shop(gauges={}).state().job) == "mm"


@pytest.mark.parametrize("text", ["0", "9", "99999999999", "fine", "-1", "1.5", "²"])
def test_what_is_no_answer_is_kept_as_a_question_that_lists_them(text):
    found = look(text)
    assert found.status == "unread" and found.meaning is None
    assert all(word in found.message for word in ANSWERS)
    assert found.question["answers"], "it can at least be looked at again"


def test_an_amount_that_cannot_be_read_says_so():
    assert look("2 long").status == "unread"
    assert look("2 5 N").status == "unread", "a crack is not so many newton long"


def test_what_has_no_amount_takes_none():
    entry = next(e for e in KNOWN.values() if e.kind == "look" and e.quantity == "none")
    assert look("1", entry).status == "kept"
    assert "answer alone" in look("1 12", entry).message


def test_every_look_of_the_catalogue_reads_each_of_its_answers():
    for entry in KNOWN.values():
        if entry.kind == "look":
            said = [look(str(n), entry).meaning["says"] for n in range(1, len(entry.says) + 1)]
            assert said == list(entry.says), entry.id


def test_a_look_at_the_bench_keeps_raw_text_method_and_place():
    shop = Shop()
    outcome = shop.type("head_cracks", HERE, "2 12", method="eye" if "eye" in CRACKS.methods else CRACKS.methods[-1])
    body = outcome.events[0].body
    assert outcome.status == "kept" and body["raw"] == "2 12"
    assert body["method"] in CRACKS.methods and "gauge" not in body
    assert (outcome.next.characteristic, outcome.next.place) != ("head_cracks", HERE)
    (reading,) = shop.state().readings_at("head_cracks", HERE)
    assert reading.state == "counted" and reading.method == body["method"]


def test_the_usual_method_stands_where_none_is_named():
    outcome = Shop().type("head_cracks", HERE, "1")
    assert outcome.events[0].body["method"] == CRACKS.methods[0]


def test_a_method_that_this_look_does_not_have_is_refused():
    outcome = Shop().type("head_cracks", HERE, "1", method="dowsing")
    assert outcome.status == "refused" and "dowsing" in outcome.detail and not outcome.events


def test_photos_and_the_mark_go_with_the_reading():
    outcome = Shop().type("head_cracks", HERE, "2", photos=("a" * 64,), mark={"x": "0.4", "y": "0.6"})
    body = outcome.events[0].body
    assert body["photos"] == ["a" * 64] and body["mark"] == {"x": "0.4", "y": "0.6"}


def test_a_look_is_corrected_and_taken_back_like_a_reading():
    shop = Shop()
    first = shop.type("head_cracks", HERE, "2").events[0].id
    shop.type("head_cracks", HERE, "1", supersedes=first)
    states = [reading.state for reading in shop.state().readings_at("head_cracks", HERE)]
    assert states == ["superseded", "counted"]
    shop.type("head_cracks", HERE, "*")
    assert [r.state for r in shop.state().readings_at("head_cracks", HERE)][-1] == "taken back"
