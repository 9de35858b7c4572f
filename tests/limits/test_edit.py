"""A sheet changed entry by entry: the right entry, and nothing else."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.shelf import shipped
from limits.sheets import TERN, told_of
from witnessmark.limits.edit import (
    NoEntry,
    begun,
    copy_of,
    mark_all_checked,
    mark_checked,
    remove_entry,
    remove_operation,
    set_entry,
    set_operation,
)
from witnessmark.limits.sheet import Selector, limit_for, read_sheet

BLOCK = """format: witnessmark-limits-1
sheet: {name: TN-3, document: Book 7}
# stems: the page is torn
limits:
  stem_diameter:
    - for: inl          # intake in the book
      service: {low: 5.940}
      unit: mm
      page: 41
    - {for: exh, service: {low: 5.930}, unit: mm, page: 41}
  # in inch, as printed
  margin: [{service: {low: 1/32}, unit: in}]
"""


def sheet(text):
    return read_sheet(text, "limits.yaml", shipped())


def limits(text):
    """What a sheet says, its lines left out."""
    return [
        (one.characteristic, one.kind, one.low, one.high, one.unit, one.applies, one.page) for one in sheet(text).limits
    ]


@pytest.mark.parametrize("text", [BLOCK, TERN])
def test_a_copy_says_the_same_and_that_it_is_to_be_checked(text):
    copied = copy_of(text, "HL-0152", "job HL-0147")
    assert limits(copied) == limits(text)
    assert all(limit.to_check for limit in sheet(copied).limits) and not any(one.to_check for one in sheet(text).limits)
    assert (sheet(copied).name, sheet(copied).copied_from) == ("HL-0152", "job HL-0147")
    assert len([one for one in sheet(copied).warnings if one.kind == "to_check"]) == copied.count("to_check: yes")
    for remark in ("the page is torn", "intake in the book", "in inch, as printed"):
        assert (remark in copied) == (remark in text)


def test_a_copy_of_a_copy_is_named_after_the_nearest():
    assert sheet(copy_of(copy_of(BLOCK, "second"), "third")).copied_from == "second"


@pytest.mark.parametrize("text", [BLOCK, TERN])
def test_checking_every_entry_gives_the_sheet_back(text):
    name = sheet(text).name
    copied = copy_of(text, name)
    assert mark_all_checked(copied) == put_back(copied)
    assert limits(mark_all_checked(copied)) == limits(text)
    assert not any(one.to_check for one in sheet(mark_all_checked(copied)).limits)


def put_back(copied):
    """The same text with the flags taken out by hand."""
    lines = [line for line in copied.split("\n") if line.strip() != "to_check: yes"]
    return "\n".join(lines).replace(", to_check: yes", "")


def test_one_entry_is_checked_and_the_others_wait():
    text = mark_checked(copy_of(BLOCK, "TN-4"), "stem_diameter", Selector("inl"), page="43")
    found = {(one.characteristic, one.applies.for_): (one.to_check, one.page) for one in sheet(text).limits}
    assert found == {("stem_diameter", "inl"): (False, "43"), ("stem_diameter", "exh"): (True, "41"),
                     ("margin", ""): (True, "")}  # fmt: skip
    assert "intake in the book" in text


def test_a_limit_is_typed_into_an_empty_sheet():
    text = begun("bench", "typed at the bench")
    assert sheet(text).limits == ()
    text = set_entry(text, "margin", {"service": {"low": "1/32"}, "unit": "in"})
    text = set_entry(text, "margin", {"for": "exh", "service": {"low": "1.2"}, "unit": "mm"})
    assert [(one.applies.for_, one.low) for one in sheet(text).limits] == [("", 25.4 / 32), ("exh", 1.2)]
    assert text.endswith("limits:\n  margin:\n    - {service: {low: 1/32}, unit: in}\n"
                         "    - {for: exh, service: {low: 1.2}, unit: mm}\n")  # fmt: skip


def test_a_changed_limit_leaves_the_rest_of_its_entry_as_written():
    text = set_entry(BLOCK, "stem_diameter", {"for": "inl", "service": {"low": "5.935"}, "unit": "mm", "page": "41"})
    assert text == BLOCK.replace("5.940", "5.935")
    text = set_entry(BLOCK, "stem_diameter", {"for": "exh", "new": {"low": "5.955"}, "unit": "mm"})
    assert "- {for: exh, unit: mm, new: {low: 5.955}}\n" in text


def test_two_entries_for_the_same_places_become_the_one_that_was_typed():
    text = begun("x", "y")
    text = text.replace("limits: {}", "limits: {margin: [{service: {low: 1}, unit: mm}, {new: {low: 2}, unit: mm}]}")
    text = set_entry(text, "margin", {"service": {"low": "1.1"}, "new": {"low": "2"}, "unit": "mm"})
    assert [(one.kind, one.low) for one in sheet(text).limits] == [("service", 1.1), ("new", 2.0)]


def test_an_entry_is_taken_out_alone_and_the_last_one_with_its_characteristic():
    text = remove_entry(BLOCK, "stem_diameter", Selector("exh"))
    assert text == BLOCK.replace("    - {for: exh, service: {low: 5.930}, unit: mm, page: 41}\n", "")
    text = remove_entry(remove_entry(text, "stem_diameter", Selector("inl")), "margin")
    assert sheet(text).limits == () and "the page is torn" in text


def test_a_spread_and_a_value_of_one_characteristic_are_two_entries():
    text = remove_entry(TERN, "installed_height", stations="spread_of_places")
    assert [one.rule for one in sheet(text).limits if one.characteristic == "installed_height"] == ["each", "each"]


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (lambda: remove_entry(BLOCK, "seat_width"), "no limit of 'seat_width' for everywhere"),
        (lambda: mark_checked(BLOCK, "stem_diameter", Selector("inl", "f")), "for inl, f"),
        (lambda: remove_entry(BLOCK, "margin", stations="spread_of_places"), "spread_of_places"),
        (lambda: remove_operation(BLOCK, "skim"), "says nothing of 'skim'"),
    ],
)
def test_an_entry_that_is_not_there_is_told(change, told):
    with pytest.raises(NoEntry, match=told):
        change()


def test_what_the_book_allows_is_set_changed_and_taken_out():
    text = set_operation(BLOCK, "skim", {"allowed": "up to", "most": "0.008", "unit": "in", "page": "12"})
    assert sheet(text).allowed["skim"].most == pytest.approx(0.2032)
    text = set_operation(text, "tip_grind", {"allowed": "no"})
    text = set_operation(text, "skim", {"allowed": "unknown"})
    found = {key: (one.allowed, one.most) for key, one in sheet(text).allowed.items()}
    assert found == {"skim": ("unknown", None), "tip_grind": ("no", None)}
    assert set(sheet(remove_operation(text, "skim")).allowed) == {"tip_grind"}


def test_a_slip_in_a_typed_entry_is_told_with_its_line():
    text = set_entry(BLOCK, "seat_width", {"service": {"low": "1.0", "hihg": "1.6"}, "unit": "mm"})
    line = 1 + text.split("\n").index("    - {service: {low: 1.0, hihg: 1.6}, unit: mm}")
    assert f"limits.yaml:{line}:" in told_of(text) and "high" in told_of(text)


@given(
    st.lists(
        st.tuples(
            st.sampled_from(["margin", "stem_diameter", "seat_width"]),
            st.sampled_from(["inl", "exh", ""]),
            st.integers(1, 400),
            st.sampled_from(["set", "remove", "check", "copy"]),
        ),
        max_size=8,
    )
)
def test_any_row_of_changes_says_what_a_list_of_entries_would(steps):
    text, held = BLOCK, {("stem_diameter", "inl"): 5.940, ("stem_diameter", "exh"): 5.930, ("margin", ""): 25.4 / 32}
    for name, side, thirtieths, what in steps:
        where = Selector(side)
        if what == "set":
            low = f"{thirtieths / 100:.2f}"
            entry = {**({"for": side} if side else {}), "service": {"low": low}, "unit": "mm"}
            text, held[name, side] = set_entry(text, name, entry), float(low)
        elif what == "copy":
            text = copy_of(text, "next")
        elif (name, side) in held:
            text = remove_entry(text, name, where) if what == "remove" else mark_checked(text, name, where)
            held = {key: low for key, low in held.items() if what != "remove" or key != (name, side)}
    assert {(one.characteristic, one.applies.for_): one.low for one in sheet(text).limits} == held
    assert all((limit_for(sheet(text), name, "inl-1f", "service") is not None) for name, side in held if side != "exh")
    assert "the page is torn" in text
