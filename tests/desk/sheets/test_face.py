"""The gasket face stands over the columns of its valves."""

import pytest

from desk.sheets.tern import EIGHT, SINGLE, tern
from witnessmark.desk.sheets.face import NARROWEST, face_picture
from witnessmark.desk.sheets.head import head_sheet
from witnessmark.draw.shape import Circle, Path, Text, flat


def picture(engine=None, read=True, valve=""):
    desk = tern(engine, with_readings=read)
    return face_picture(head_sheet(desk, valve=valve), desk.layout)


def test_sixteen_columns_are_as_wide_as_a_quarter_of_a_cylinder():
    told = picture()
    assert told.projected and told.column == pytest.approx(56.4)


def test_the_leader_ends_over_the_column_of_the_picked_valve():
    told = picture(valve="exh-3f")
    ends = [
        shape.steps[-1][1] for shape in flat(told.drawing.shapes) if isinstance(shape, Path) and shape.role == "thin"
    ]
    column = 30 + 10.5 * told.column  # the eleventh column of a row that begins under the first bore's edge
    assert any(end and end[0] == pytest.approx(column) for end in ends)


def test_the_picked_valve_is_painted():
    def painted(told):
        return [s for s in flat(told.drawing.shapes) if isinstance(s, Circle) and s.role == "now_line"]

    assert len(painted(picture(valve="exh-3f"))) == 1
    assert not painted(picture())


@pytest.mark.parametrize("engine", [SINGLE, EIGHT])
def test_an_unread_face_has_its_lines_and_no_readings(engine):
    told = picture(engine, read=False)
    assert told.column >= NARROWEST
    assert not [s for s in flat(told.drawing.shapes) if isinstance(s, Text) and "–" in s.text and s.bold]


def test_the_name_tells_every_line():
    name = picture().drawing.name
    assert "diagonal 1 0.06–0.07 out" in name and "front end 0.02–0.03 within" in name


def test_columns_are_never_narrower_than_a_finger():
    six = {
        "layout": "inline",
        "cylinders": "6",
        "valves": {"inl": ["f", "r"], "exh": ["f", "r"]},
        "gear": "bucket_shim",
    }
    told = picture(six, read=False)
    assert not told.projected and told.column == NARROWEST
