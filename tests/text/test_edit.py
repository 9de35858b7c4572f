"""Changes to a text that leave the rest as it was written."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.text.edit import add, drop, flow, put
from witnessmark.text.fault import Faulty
from witnessmark.text.read import read

SHEET = """# copied by J. M. on a Tuesday
format: witnessmark-limits-1
sheet: {name: TN-3, document: Book 7}  # the thin one

limits:
  # stems first
  stem_diameter:  # page 41
    - {for: inl, service: {low: 5.940}, unit: mm}   # a coffee ring here
    - for: exh
      # the 3 may be an 8
      service: {low: 5.930}
      unit: mm  # sure

  margin: [{service: {low: 0.8}, unit: mm}]
# the end
"""
REMARKS = [part.split("\n")[0] for part in SHEET.split("#")[1:]]


def data(text):
    return read(text, "x").data


def lost(text):
    return [remark.strip() for remark in REMARKS if remark not in text]


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize(
    ("path", "value", "line"),
    [
        (("sheet", "doubt"), "even", "sheet: {name: TN-3, document: Book 7, doubt: even}  # the thin one"),
        (("limits", "stem_diameter", 0, "service"), {"low": "5.950"},
         "    - {for: inl, service: {low: 5.950}, unit: mm}   # a coffee ring here"),
        (("limits", "stem_diameter", 1, "page"), "42", "      page: 42"),
        (("limits", "stem_diameter", 1, "unit"), "in", "      unit: in  # sure"),
        (("limits", "seat_width"), [{"for": "inl", "unit": "mm"}], "    - {for: inl, unit: mm}"),
    ],
)  # fmt: skip
def test_a_value_is_changed_in_its_line_and_every_remark_stays(path, value, line, newline):
    text = put(SHEET.replace("\n", newline), path, value)
    found = data(text)
    for key in path:
        found = found[key]
    assert found == value
    assert line in text.split(newline)
    assert not lost(text)
    assert text.count("\n") == text.count(newline) >= SHEET.count("\n")


def test_an_item_goes_behind_the_last_one_as_that_is_written():
    text = add(add(SHEET, ("limits", "stem_diameter"), {"for": "exh"}), ("limits", "margin"), {"for": "inl"})
    assert "      unit: mm  # sure\n    - {for: exh}\n" in text
    assert "  margin: [{service: {low: 0.8}, unit: mm}, {for: inl}]\n" in text
    assert not lost(text)


@pytest.mark.parametrize("begun", ["format: x\n", "format: x", "format: x\nlimits: {}\n", "format: x\nlimits:\n"])
def test_a_list_is_begun_where_there_is_none(begun):
    assert add(begun, ("limits", "margin"), {"unit": "mm"}) == "format: x\nlimits:\n  margin:\n    - {unit: mm}\n"


def test_a_remark_behind_an_empty_value_stays():
    assert add("limits: {}  # none yet\nname: x\n", ("limits", "margin"), {"unit": "mm"}) == (
        "limits:  # none yet\n  margin:\n    - {unit: mm}\nname: x\n"
    )


@pytest.mark.parametrize(
    ("path", "gone"),
    [
        (("limits", "stem_diameter", 0), ["a coffee ring here"]),
        (("limits", "stem_diameter", 1), ["the 3 may be an 8", "sure"]),
        (("limits", "stem_diameter", 1, "unit"), ["sure"]),
        (("limits", "stem_diameter", 0, "for"), []),
        (("limits", "margin"), []),
        (("sheet", "document"), []),
    ],
)
def test_what_is_taken_out_takes_only_its_own_remarks_along(path, gone):
    text = drop(SHEET, path)
    assert lost(text) == gone
    assert data(put(text, ("format",), "other"))["format"] == "other"


def test_the_last_of_a_list_leaves_it_empty():
    assert data(drop(SHEET, ("limits", "margin", 0)))["limits"]["margin"] == []


TEXT = st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"]), max_size=8)
PLAIN = st.recursive(TEXT | st.none(), lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXT, inner, max_size=3),
                     max_leaves=8)  # fmt: skip


@given(st.dictionaries(TEXT, PLAIN, min_size=1, max_size=4), TEXT, PLAIN)
def test_whatever_is_put_into_a_text_is_read_from_it(held, key, value):
    from witnessmark.text.write import write

    for text in (write(held), flow(held) + "\n"):
        assert data(put(text, (key,), value)) == {**held, key: value}
        first = next(iter(held))
        assert data(drop(text, (first,))) == {name: each for name, each in held.items() if name != first}


def test_a_text_that_cannot_be_read_is_told():
    with pytest.raises(Faulty):
        put("a: [1\nb: 2", ("a",), "1")


def test_a_path_that_is_not_there_is_told():
    with pytest.raises(KeyError):
        drop(SHEET, ("limits", "seat_width"))
    with pytest.raises(IndexError):
        drop(SHEET, ("limits", "margin", 3))
