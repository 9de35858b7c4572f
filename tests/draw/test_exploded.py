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
     (Apart(4, 2, {"sump": PartState("sump")}), "name one of"),
     (Apart(4, 2, {"head": PartState("head", "half")}), "read, not read or to come")],
)  # fmt: skip
def test_what_cannot_be_drawn_is_told_with_its_cure(engine, cure):
    with pytest.raises(ValueError, match=cure):
        apart(engine, "x")
