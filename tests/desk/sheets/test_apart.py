"""The engine taken apart, drawn for what has been read."""

import pytest

from desk.sheets.tern import EIGHT, SINGLE, tern
from witnessmark.desk.sheets.apart import engine_picture
from witnessmark.desk.sheets.start import start_sheet
from witnessmark.draw.shape import Text, flat


def crosses(drawing):
    return sum(shape.role == "out_line" for shape in flat(drawing.shapes))


def test_a_cross_stands_by_each_valve_that_is_out():
    desk = tern()
    assert crosses(engine_picture(start_sheet(desk), desk.layout)) == 2


@pytest.mark.parametrize("engine", [SINGLE, EIGHT])
def test_an_unread_engine_has_no_cross(engine):
    desk = tern(engine, with_readings=False)
    drawing = engine_picture(start_sheet(desk), desk.layout)
    assert crosses(drawing) == 0
    assert "pistons and rods: not read" in drawing.name


def test_an_engine_not_yet_described_can_be_drawn():
    desk = tern({}, with_readings=False)
    assert engine_picture(start_sheet(desk), desk.layout).width == 800


def test_an_engine_of_two_banks_shows_both():
    words = {shape.text for shape in flat(engine_picture(start_sheet(tern(EIGHT)), tern(EIGHT).layout).shapes)
             if isinstance(shape, Text)}  # fmt: skip
    assert {"left bank", "right bank"} <= words


def test_a_chamber_that_is_out_has_no_cross_among_the_valves():
    from witnessmark.desk.sheets.apart import _spot
    from witnessmark.engine.layout import layout

    four = layout({"layout": "inline", "cylinders": "4", "valves": {"inl": "1", "exh": "1"}, "gear": "rocker"})
    assert _spot("chamber-3", four, 1) is None and _spot("inl-3", four, 1) == 2
