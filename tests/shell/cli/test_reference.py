"""`catalogue --json`: the keys that scripts rely on."""

import json

from shell.cli.command import run

WORDS = "id term table measure stations law usual_gauge usual wears out remedies hazard teach source drawing"
KEYS = set(WORDS.split())


def test_every_entry_has_the_keys_that_scripts_rely_on():
    entries = json.loads(run("catalogue", "--json").out)["characteristics"]
    assert len(entries) >= 30 and all(set(entry) >= KEYS for entry in entries)
    assert len({entry["id"] for entry in entries}) == len(entries)


def test_one_entry_is_the_same_as_in_the_whole():
    (one,) = json.loads(run("catalogue", "margin", "--json").out)["characteristics"]
    assert one in json.loads(run("catalogue", "--json").out)["characteristics"]
    assert one["source"]


def test_for_a_person_an_entry_is_told_whole_in_the_words_of_the_side_that_is_asked_for():
    out = run("catalogue", "head_flatness", "--words", "american").out
    assert "Gasket face warpage" in out and "usual, not a limit" in out
    assert "gasket face warpage" not in run("catalogue", "head_flatness", "--json", "--words", "american").out


def test_ways_of_looking_say_what_each_cannot_find():
    assert "misses" in run("catalogue", "--methods").out
    methods = json.loads(run("catalogue", "--methods", "--json").out)["methods"]
    assert {"eye", "penetrant"} <= {one["id"] for one in methods}
