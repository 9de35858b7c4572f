"""A whole part on one sheet: every subset of its dimensions legible, in every valve gear, in inch and millimetre."""

from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalogue.shelf import shipped
from witnessmark.draw.extent import box, overlap, overlaps, text_box, text_width, texts
from witnessmark.draw.mark import CLOSE
from witnessmark.draw.part_sheet import PARTS, Row, carried, part_sheet, wrapped
from witnessmark.draw.shape import Circle, Line, Rect, flat
from witnessmark.draw.svg import PENS, svg
from witnessmark.engine.shape import GEARS

CATALOGUE = shipped().characteristics
VARIANTS = {"follower": GEARS, "drive": ("chain", "belt", "gear")}
SHEETS = [(kind, gear) for kind in PARTS for gear in VARIANTS.get(kind, GEARS[:1])]
IDS = [" of a ".join(sheet) for sheet in SHEETS]
VALUES = ("", "5.952", "0.2345", "(0.074)", "0.0015–0.0020", "clip missing 0.25")
LIMITS = ("", "least 5.940", "37.8 to 38.3", "0.0015 to 0.0060 in", "polished or dull")
MARKS = ("", "within", "out", "close", CLOSE, "so far")


def rows(kind, gear, value="5.952", mark="within", limit="least 5.940"):
    return tuple(Row(name, CATALOGUE[name].term, value, mark, limit) for name in carried(kind, gear))


def legible(drawing):
    assert (drawing.width, drawing.height) == (700, 560)
    assert not overlaps(drawing.shapes)
    for text in texts(drawing.shapes):
        left, top, right, bottom = text_box(text)
        assert left >= 0, text
        assert top >= 0, text
        assert right <= 700, text
        assert bottom <= 560, text


@pytest.mark.parametrize("value", ["", "5.952", "0.0015–0.0020"])
@pytest.mark.parametrize(("kind", "gear"), SHEETS, ids=IDS)
def test_the_whole_table_of_a_part_is_legible_on_its_sheet(kind, gear, value):
    drawing = part_sheet(kind, rows(kind, gear, value, "close", "0.0015 to 0.0060 in"), gear)
    legible(drawing)
    for shape in flat(drawing.shapes):
        left, top, right, bottom = box(shape)
        assert left >= -1, shape
        assert top >= -1, shape
        assert right <= 701, shape
        assert bottom <= 561, shape
        assert shape.role in PENS
    ET.fromstring(svg(drawing))
    ET.fromstring(svg(drawing, printed=True))


@settings(max_examples=120)
@given(st.data(), st.sampled_from(SHEETS))
def test_any_subset_with_any_readings_is_legible(data, sheet):
    kind, gear = sheet
    names = data.draw(st.lists(st.sampled_from(carried(kind, gear)), unique=True))
    told = st.tuples(st.sampled_from(VALUES), st.sampled_from(MARKS), st.sampled_from(LIMITS))
    drawing = part_sheet(kind, [Row(name, CATALOGUE[name].term, *data.draw(told)) for name in names], gear)
    legible(drawing)
    words = [text.text for text in texts(drawing.shapes)]
    assert len(words) >= 2 * len(names)


@pytest.mark.parametrize(("kind", "gear"), SHEETS, ids=IDS)
def test_words_keep_off_the_part_and_each_has_a_leader_to_its_place(kind, gear):
    drawing = part_sheet(kind, rows(kind, gear), gear)
    bare = [box(shape) for shape in flat(part_sheet(kind, (), gear).shapes)]
    assert not [(text.text, one) for text in texts(drawing.shapes) for one in bare if overlap(text_box(text), one)]
    ends = [shape for shape in flat(drawing.shapes) if isinstance(shape, Line) and shape.role == "faint"]
    assert len([line for line in ends if line.end == "dot"]) >= len(rows(kind, gear))


@pytest.mark.parametrize("gear", GEARS)
def test_every_follower_characteristic_of_a_gear_has_its_place(gear):
    asked = {
        entry.id for entry in CATALOGUE.values() if entry.table == "E" and (not entry.gears or gear in entry.gears)
    }
    assert asked <= set(carried("follower", gear))


@pytest.mark.parametrize(("kind", "table"), [("valve", "B"), ("spring", "D"), ("bolt", "M")])
def test_every_characteristic_of_the_table_has_its_place(kind, table):
    assert {entry.id for entry in CATALOGUE.values() if entry.table == table} <= set(carried(kind))


@pytest.mark.parametrize("kind", ["guide", "seat", "lobe"])
def test_every_characteristic_read_at_the_part_has_its_place(kind):
    assert {entry.id for entry in CATALOGUE.values() if entry.at == kind} <= set(carried(kind))


@pytest.mark.parametrize("drive", VARIANTS["drive"])
def test_every_characteristic_of_a_drive_has_its_place(drive):
    asked = {entry.id for entry in CATALOGUE.values() if entry.at == "drive" and drive in (entry.drives or (drive,))}
    assert asked <= set(carried("drive", drive))


def test_every_characteristic_of_camshaft_lobe_and_journal_has_its_place():
    asked = {entry.id for entry in CATALOGUE.values() if entry.table == "F" and entry.group == "cam" and entry.kind != "reckoned"}
    assert asked <= set(carried("cam"))
    bores = {entry.id for entry in CATALOGUE.values() if entry.at in {"cam_bore", "cam_cap", "journal"}}
    assert bores <= set(carried("journal"))


def test_only_what_is_asked_for_is_dimensioned():
    none, one = (part_sheet("valve", rows("valve", "")[:n]) for n in (0, 1))
    assert not texts(none.shapes)
    assert len(one.shapes) > len(none.shapes)
    assert one.name == "the valve with 1 dimensions, 1 read"


def test_a_value_stands_with_its_mark_and_its_boxed_limit():
    drawing = part_sheet("valve", (Row("margin", "valve margin", "0.71", "out", "least 0.8"),))
    assert [text.text for text in texts(drawing.shapes)] == ["valve margin", "0.71", "least 0.8"]
    boxed = [shape for shape in flat(drawing.shapes) if isinstance(shape, Rect) and shape.role == "thin"]
    limit = text_box(texts(drawing.shapes)[2])
    assert len(boxed) == 1
    assert boxed[0].x < limit[0]
    assert boxed[0].x + boxed[0].w > limit[2]
    assert "out_line" in {shape.role for shape in flat(drawing.shapes)}


def test_what_is_not_read_is_a_thin_dash():
    assert "–" in [text.text for text in texts(part_sheet("valve", (Row("margin", "valve margin"),)).shapes)]


def test_a_doubtful_series_has_the_open_mark():
    drawing = part_sheet("valve", (Row("stem_diameter", "stem diameter", "5.955", "so far", "least 5.940"),))
    rings = [shape for shape in flat(drawing.shapes) if isinstance(shape, Circle) and shape.role == "close_open"]
    assert len(rings) == 1
    assert rings[0].dash


@pytest.mark.parametrize(
    ("kind", "rows", "cure"),
    [("piston", (), "name one of valve, guide"), ("valve", (Row("seat_width", "seat width"),), "it shows valve_lash"),
     ("valve", (Row("margin", "valve margin", "1", "bad"),), "no mark is called 'bad': say one of within"),
     ("valve", tuple(Row("margin", "valve margin " * 12, "0.7") for _ in range(20)), "show them on two sheets")],
)  # fmt: skip
def test_what_cannot_be_shown_is_told_with_its_cure(kind, rows, cure):
    with pytest.raises(ValueError, match=cure):
        part_sheet(kind, rows)


@given(st.text(st.characters(codec="ascii", categories=("L", "N", "P", "Zs")), max_size=60), st.integers(20, 300))
def test_wrapped_words_fit_their_room_and_none_is_lost(text, room):
    lines = wrapped(text, 16, room)
    assert "".join("".join(lines).split()) == ("".join(text.split()) or "–")
    assert all(text_width(line, 16) <= room for line in lines if len(line) > 1)


def test_the_same_rows_give_the_same_bytes():
    assert svg(part_sheet("cam", rows("cam", ""))) == svg(part_sheet("cam", rows("cam", "")))
