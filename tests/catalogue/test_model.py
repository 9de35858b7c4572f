"""The shape of a data file."""

from witnessmark.catalogue import entry, model


def test_the_words_that_a_file_may_use_are_those_that_the_entry_knows():
    shape = model.File.model_json_schema()["$defs"]["Characteristic"]["properties"]
    assert tuple(shape["at"]["enum"]) == entry.KINDS_OF_PLACE
    assert tuple(shape["drawing"]["enum"]) == entry.DRAWINGS
    assert tuple(shape["group"]["enum"]) == entry.GROUPS
    assert tuple(shape["rule"]["enum"]) == entry.RULES
