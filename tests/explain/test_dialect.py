"""Words of either side: whole words, the case kept, and nothing else touched."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.explain.dialect import DIALECTS, ONE_WAY, PAIRS, catalogue_said, said
from witnessmark.shell.resources import catalogue

NUMBER = re.compile(r"[\d.,+\-−/]*\d")


@pytest.mark.parametrize(("text", "american"), [
    ("Skim the inlet side", "Resurface the intake side"),
    ("gasket face flatness", "gasket face warpage"),
    ("GREY iron, centre", "GRAY iron, center"),
    ("every skim takes 0.05 mm", "every resurfacing takes 0.05 mm"),
    ("lifter_bore of Inl 3F", "lifter_bore of Inl 3F"),
    ("skimpy inletting", "skimpy inletting"),
])  # fmt: skip
def test_american_says_it_its_own_way(text, american):
    assert said(text, "american") == american


def test_british_says_tappet_and_collet_and_never_skims_a_pad():
    assert said("Keepers of the lifter, resurface the pad", "british") == "Collets of the tappet, resurface the pad"


def test_a_dialect_that_is_not_known_leaves_all_as_written():
    assert said("inlet", "") == said("inlet", "welsh") == "inlet"


def test_no_word_stands_on_both_sides():
    british, american = {b for b, _ in (*PAIRS, *ONE_WAY)}, {a for _, a in PAIRS}
    assert not british & american
    assert len({b for b, _ in (*PAIRS, *ONE_WAY)}) == len((*PAIRS, *ONE_WAY))
    assert len({a for _, a in PAIRS}) == len(PAIRS)


words = st.sampled_from([*(w for pair in PAIRS for w in pair), "5.940 mm", "0.2345 in", "Inl 3F", "stem_diameter", "N·mm"])


@given(st.lists(words, max_size=12), st.sampled_from(DIALECTS))
def test_numbers_ids_and_units_come_through_unchanged_and_twice_is_once(parts, dialect):
    text = "; ".join(parts)
    once = said(text, dialect)
    assert NUMBER.findall(once) == NUMBER.findall(text)
    for fixed in ("mm", "in", "stem_diameter", "Inl 3F", "N·mm"):
        assert re.findall(rf"(?<!\w){fixed}(?!\w)", once) == re.findall(rf"(?<!\w){fixed}(?!\w)", text)
    assert said(once, dialect) == once


@pytest.mark.parametrize("dialect", DIALECTS)
def test_of_the_catalogue_only_words_change(dialect):
    as_written, spoken = catalogue(), catalogue_said(catalogue(), dialect)
    assert spoken.characteristics.keys() == as_written.characteristics.keys()
    changed = 0
    for name, entry in as_written.characteristics.items():
        other = spoken.characteristics[name]
        kept = {"id", "also", "says", "stations", "usual", "usual_by", "sources", "source", "arguments", "unit", "law"}
        before, after = entry.to_dict(), other.to_dict()
        assert {key: after[key] for key in kept} == {key: before[key] for key in kept}
        assert NUMBER.findall(other.measure) == NUMBER.findall(entry.measure)
        changed += before != after
    assert 10 < changed < len(as_written.characteristics)
