"""The rooms above find the grammar of places under the engine."""

from witnessmark.catalogue import place as grammar
from witnessmark.engine import place


def test_the_engine_knows_the_same_places_as_the_catalogue():
    assert all(getattr(place, name) is getattr(grammar, name) for name in place.__all__)
    assert place.shown("inl-3f/middle/across") == "Inl 3F middle, across"
