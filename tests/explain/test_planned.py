"""A plan in words, both units; numbers of the sentence are those of the facts."""

from types import SimpleNamespace

import pytest

from witnessmark.explain.planned import (
    amount,
    conflict_words,
    missing_words,
    place,
    places_words,
    questions_words,
    why_item,
)
from witnessmark.plan.result import Conflict, InTheWay, Item, Missing
from witnessmark.shell.resources import catalogue

C = catalogue()


def item(*reasons, operation="seat_cut", location="inl-1f"):
    return Item(operation, location, 0.1, 0.05, 0.15, 1.0, 1.0, reasons)


def holds(room, side="high", characteristic="stem_height", location="inl-1f"):
    return ("holds", {"characteristic": characteristic, "location": location, "side": side, "room": room, "limit": 44.25})


@pytest.mark.parametrize(("unit", "words"), [
    ("mm", "without it stem height is 0.35 mm over its most"), ("in", "without it stem height is 0.0138 in over its most"),
])  # fmt: skip
def test_what_would_be_out_says_by_how_much(unit, words):
    assert why_item(item(holds(-0.35)), C, unit) == words


def test_a_place_is_named_only_where_it_is_another():
    assert why_item(item(holds(-0.35, location="exh-2r")), C) == "without it stem height Exh 2R is 0.35 mm over its most"


def test_what_would_be_too_near_and_what_was_out_and_both_once():
    assert why_item(item(holds(0.01, "low")), C) == "stem height would stand too near to its least to be sure"
    out = ("answers", {"characteristic": "seat_width", "location": "inl-1f", "verdict": "out"})
    assert why_item(item(out, out, holds(-0.35)), C).startswith("seat width out; without it")


def test_a_row_that_the_catalogue_does_not_know_is_told_all_the_same():
    assert "lash shim needed" in why_item(item(holds(-0.1, characteristic="lash_shim_needed")), C)


def test_a_shim_says_what_it_needs_and_whose_it_takes():
    def shim(**more):
        return ("shim", {"needed": 2.59, "source": "other place", "came_from": "", **more})

    assert why_item(item(shim(came_from="exh-1r"), operation="lash_shim"), C) == "needs 2.590: takes that of Exh 1R"
    assert why_item(item(shim(source="shelf"), operation="lash_shim"), C, "in") == "needs 0.1020: from the shelf"


def test_many_operations_are_asked_about_in_one_sentence():
    notes = [("ask", {"operation": name}) for name in ("skim", "block_deck", "skim")] + [("no price", {"operation": "guide_set"})]
    told = questions_words(notes, C)
    assert told == ("The book says nothing of: skim the gasket face, deck the block. Look it up, and enter it in the limit sheet.",
                    "No price stands for: press the guide to height. Enter it in the price list, and it can be planned.")  # fmt: skip


def test_what_must_be_measured_better_comes_first_with_its_doubt():
    facts = {"characteristic": "hla_preload", "location": "inl-7", "verdict": "too close to call", "U": 0.0528}
    told = questions_words([("ask", {"operation": "skim"}), ("measure better", facts)], C)
    assert told[0].startswith("Measure again, better:") and "0.05" in told[0]
    lost = {"characteristic": "head_height", "location": "head", "verdict": "out"}
    assert "no remedy of it is open" in questions_words([("no remedy", lost)], C)[0]


def test_what_is_not_known_names_its_places_once():
    assert missing_words(Missing("valve_lash", "valve lash is not known", ("exh-4f", "exh-4r")), C) == "valve lash Exh 4F · Exh 4R"
    many = tuple(f"inl-{n}f" for n in range(1, 7))
    assert missing_words(Missing("valve_lash", "the shim is not known", many), C).endswith("and 2 more: the shim is not known")


@pytest.mark.parametrize(("kind", "head"), [
    ("limits", "cannot hold together"), ("gauge", "only the gauge is too coarse"), ("physical", "No part, shim or cut"),
    ("permission", "Within what the book allows nothing works"), ("pins", "What you pinned"),
])  # fmt: skip
def test_each_kind_of_conflict_says_what_stands_in_the_way(kind, head):
    rows = (InTheWay("stem_height", "inl-1f", "high", 44.25, 0.102), InTheWay("lash_shim_needed", "inl-1f", "low", 2.0, 0.05))
    told = conflict_words(Conflict(kind, rows, (("ptv_axial", "exh-1f", 0.04),), ("skim",)), C)
    assert head in told[0]
    assert "stem height Inl 1F, most 44.25 mm: by 0.10 mm" in told
    assert any(line.startswith("lash shim needed Inl 1F, least 2.00: by 0.050") for line in told)
    assert "piston to valve room Exh 1F: a gauge with U 0.04 mm" in told
    assert any("skim" in line for line in told)


def test_amounts_and_places():
    assert (amount(0.254, "in"), amount(0.254, "mm"), amount(2.59, "mm", 3)) == ("0.010", "0.25", "2.590")
    assert place("inl-1f") == "Inl 1F"
    assert place("nowhere at all") == "nowhere at all"
    assert places_words([SimpleNamespace(location="inl-1f"), SimpleNamespace(location="exh-2r")]) == "Inl 1F · Exh 2R"
