"""The engine taken apart: the line tells what has been read."""

import pytest

from witnessmark.draw.exploded import PARTS, Apart, PartState, apart
from witnessmark.draw.extent import box, overlaps
from witnessmark.draw.shape import Path, Text, flat

STATES = {
    part: PartState(part, ("read", "not read", "to come")[i % 3], "24 of 24 within") for i, part in enumerate(PARTS)
}


@pytest.mark.parametrize("inlets", [1, 2, 3])
@pytest.mark.parametrize("cylinders", range(1, 17))
def test_every_row_engine_fits_the_sheet(cylinders, inlets):
    drawing = apart(Apart(cylinders, inlets, STATES), "x")
    assert not overlaps(drawing.shapes)
    for shape in flat(drawing.shapes):
        left, top, right, bottom = box(shape)
        assert left >= 0
        assert top >= -6
        assert right <= 800
        assert bottom <= 606


BANKS = [(("left", a), ("right", b)) for a, b in ((1, 1), (2, 2), (3, 3), (3, 2), (4, 4), (6, 6), (8, 8))]


@pytest.mark.parametrize("inlets", [1, 2, 3])
@pytest.mark.parametrize("opposed", [False, True])
@pytest.mark.parametrize("cam_in_block", [False, True])
@pytest.mark.parametrize("banks", BANKS, ids=[f"{a[1]}+{b[1]}" for a, b in BANKS])
def test_both_banks_stand_side_by_side_on_the_sheet(banks, cam_in_block, opposed, inlets):
    drawing = apart(Apart(0, inlets, STATES, banks, opposed, cam_in_block), "x")
    assert not overlaps(drawing.shapes)
    for shape in flat(drawing.shapes):
        left, top, right, bottom = box(shape)
        assert left >= 0, shape
        assert top >= -6
        assert right <= 800
        assert bottom <= 606
    assert {"left bank", "right bank"} <= {s.text for s in flat(drawing.shapes) if isinstance(s, Text)}


@pytest.mark.parametrize(("part", "drawn"), [("head", 2), ("head gasket", 2)])
def test_each_bank_has_its_own_head(part, drawn):
    shapes = flat(apart(Apart(0, 1, {part: PartState(part, "read")}, BANKS[4]), "x").shapes)
    faces = [box(s) for s in shapes if s.role == "part" and box(s)[2] - box(s)[0] > 100]
    assert len(faces) == drawn
    assert faces[0][2] < 264 < faces[1][0]


def test_a_cam_in_the_block_is_drawn_once_and_cams_in_the_heads_twice():
    many = [
        len(apart(Apart(0, 1, {"camshafts": PartState("camshafts", "read")}, BANKS[4], False, once), "x").shapes)
        for once in (True, False)
    ]
    assert many[0] < many[1]


def test_the_valve_that_is_out_stands_in_its_own_bank():
    def cross(spot):
        drawing = apart(Apart(0, 2, {"valves": PartState("valves", "read", out=(spot,))}, BANKS[4]), "x")
        return next(box(s)[0] for s in flat(drawing.shapes) if s.role == "out_line")

    assert cross(7) < 264 < cross(8)
    assert cross(0) < cross(3) < cross(7)


def test_an_opposed_engine_is_parted_between_its_banks():
    def joints(opposed):
        drawing = apart(Apart(0, 2, {"block": PartState("block", "read")}, BANKS[1], opposed), "x")
        return [s for s in flat(drawing.shapes) if s.role == "outline" and box(s)[0] == box(s)[2] == 264]

    assert len(joints(True)) == 1
    assert not joints(False)


def test_read_is_firm_not_read_dashed_to_come_phantom():
    for state, role in (("read", "part"), ("not read", "hidden"), ("to come", "phantom")):
        drawing = apart(Apart(1, 1, {"head gasket": PartState("head gasket", state)}), "x")
        assert drawing.shapes[0].role == role


def test_a_valve_that_is_out_carries_a_saltire():
    drawing = apart(Apart(4, 2, {"valves": PartState("valves", "read", out=(1, 4))}), "x")
    assert len([s for s in flat(drawing.shapes) if isinstance(s, Path) and s.role == "out_line"]) == 2


def test_the_part_in_work_is_painted():
    drawing = apart(Apart(4, 2, {"head": PartState("head", "read", painted=True)}), "x")
    assert "now" in {s.role for s in flat(drawing.shapes)}


def test_each_part_is_named():
    words = {s.text for s in flat(apart(Apart(4, 2, STATES), "x").shapes) if isinstance(s, Text)}
    assert set(PARTS) <= words


@pytest.mark.parametrize(
    ("engine", "cure"),
    [(Apart(17), "a bank at a time"), (Apart(0), "one to 16"),
     (Apart(0, 1, {}, (("left", 9), ("right", 9))), "of one to 8 cylinders each"),
     (Apart(0, 1, {}, (("left", 4),)), "two can"),
     (Apart(4, 2, {"sump": PartState("sump")}), "name one of"),
     (Apart(4, 2, {"head": PartState("head", "half")}), "read, not read or to come")],
)  # fmt: skip
def test_what_cannot_be_drawn_is_told_with_its_cure(engine, cure):
    with pytest.raises(ValueError, match=cure):
        apart(engine, "x")
