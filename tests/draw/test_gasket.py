"""The gasket face with its lines: every reading legible, every verdict told by shape."""

from itertools import combinations, pairwise
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from draw.test_face import HEADS, IDS
from witnessmark.draw.extent import box, overlap, overlaps, text_box, texts
from witnessmark.draw.face import FacePlan, lay_out
from witnessmark.draw.gasket import EDGE_STATIONS, FaceLine, FaceLook, gasket_face, manifold_face, span
from witnessmark.draw.mark import CLOSE, OUT, WITHIN
from witnessmark.draw.shape import Circle, Line, Rect, flat
from witnessmark.draw.svg import svg

SIX = tuple(FaceLine(station, "0.03–0.04", WITHIN) for station in EDGE_STATIONS)
INCH = tuple(FaceLine(station, "0.0015–0.0020", OUT if i == 4 else CLOSE) for i, station in enumerate(EDGE_STATIONS))


def boxes(drawing):
    return [box(s) for s in flat(drawing.shapes) if isinstance(s, Rect) and s.h == 30 and s.role == "sheet"]


@pytest.mark.parametrize("lines", [SIX, INCH], ids=["mm", "inch"])
@pytest.mark.parametrize("plan", HEADS, ids=IDS)
def test_every_reading_is_legible_on_every_head(plan, lines):
    drawing = gasket_face(plan, lines, "face")
    left, top, right, bottom = drawing.frame
    assert not overlaps(drawing.shapes)
    assert len(boxes(drawing)) == 6
    assert not [pair for pair in combinations(boxes(drawing), 2) if overlap(*pair)]
    for text in texts(drawing.shapes):
        one = text_box(text)
        assert left <= one[0]
        assert top <= one[1]
        assert one[2] <= right
        assert one[3] <= bottom
    ET.fromstring(svg(drawing))


readings = st.sampled_from(["", "0.02–0.03", "0.0015–0.0020", "under 0.03", "0.10"])
verdicts = st.sampled_from([WITHIN, OUT, CLOSE, ""])


@settings(max_examples=40)
@given(st.sampled_from(HEADS), st.lists(st.tuples(readings, verdicts, st.booleans()), min_size=6, max_size=6))
def test_any_mixture_of_readings_finds_its_places(plan, told):
    lines = [FaceLine(station, *one) for station, one in zip(EDGE_STATIONS, told, strict=True)]
    drawing = gasket_face(plan, lines, "face", FaceLook("exh-1r", ("inl-1f",)))
    assert not overlaps(drawing.shapes)
    assert len(boxes(drawing)) == sum(bool(line.reading) for line in lines)
    assert svg(drawing) == svg(gasket_face(plan, lines, "face", FaceLook("exh-1r", ("inl-1f",))))


def test_a_line_that_is_out_is_thick_and_ends_in_dots():
    drawing = gasket_face(FacePlan(), [FaceLine("diagonal-1", "0.06–0.07", OUT)], "face")
    line = next(s for s in flat(drawing.shapes) if isinstance(s, Line) and s.role == "out_line" and s.width == 4)
    dots = [(s.x, s.y) for s in flat(drawing.shapes) if isinstance(s, Circle) and s.role == "out"]
    assert dots == [(line.x1, line.y1), (line.x2, line.y2)]


def test_a_line_not_measured_is_dashed_and_has_no_box():
    drawing = gasket_face(FacePlan(), [FaceLine("centre")], "face")
    assert not boxes(drawing)
    assert [s for s in flat(drawing.shapes) if isinstance(s, Line) and s.role == "hidden"]


def test_a_line_read_elsewhere_is_firm():
    drawing = gasket_face(FacePlan(), [FaceLine("centre")], "face", FaceLook(read=("centre",)))
    assert not [s for s in flat(drawing.shapes) if isinstance(s, Line) and s.role == "hidden"]


def test_the_painted_valve_has_heavy_ink_with_its_paint_and_a_leader():
    drawing = gasket_face(FacePlan(), SIX, "face", FaceLook("exh-3f", leader=(622, 280)))
    spot = next(spot for spot in lay_out(FacePlan()).valves if spot.id == "exh-3f")
    ring = [s for s in flat(drawing.shapes) if isinstance(s, Circle) and (s.x, s.y) == (spot.x, spot.y)]
    assert {"now_line", "outline"} <= {s.role for s in ring}
    ends = [n for s in flat(drawing.shapes) for letter, n in getattr(s, "steps", ()) if n == (622, 280)]
    assert ends


def test_a_line_across_the_wall_between_two_cylinders_stands_between_them():
    face = lay_out(FacePlan((1, 3, 5, 7)))
    (x, _), _ = span(face, "between-3-5")
    assert face.centre(1) < x < face.centre(2)


def test_an_unknown_line_is_told_with_those_there_are():
    with pytest.raises(ValueError, match=r"no line 'diagnal-1': it has .*diagonal-1"):
        gasket_face(FacePlan(), [FaceLine("diagnal-1")], "face")
    with pytest.raises(ValueError, match=r"no line 'line-4'"):
        manifold_face(4, [FaceLine("line-4")], "face")


@pytest.mark.parametrize("ports", [1, 4, 8])
def test_a_manifold_face_has_three_lines_with_their_readings_beside_it(ports):
    lines = [FaceLine(f"line-{i}", "0.10–0.12", OUT) for i in (1, 2, 3)]
    drawing = manifold_face(ports, lines, "inlet face")
    assert len(boxes(drawing)) == 3
    assert not overlaps(drawing.shapes)
    assert not [pair for pair in combinations(boxes(drawing), 2) if overlap(*pair)]


def every_line(plan, reading):
    numbers = plan.cylinders
    between = [f"between-{a}-{b}" for a, b in pairwise(numbers)]
    return [FaceLine(station, reading, WITHIN) for station in (*EDGE_STATIONS, "centre", *between)]


@pytest.mark.parametrize("reading", ["0.03–0.04", "0.0015–0.0020"])
@pytest.mark.parametrize("plan", HEADS, ids=IDS)
def test_lines_between_all_cylinders_are_legible_too(plan, reading):
    lines = every_line(plan, reading)
    drawing = gasket_face(plan, lines, "face")
    assert not overlaps(drawing.shapes)
    assert len(boxes(drawing)) == len(lines)
    assert not [pair for pair in combinations(boxes(drawing), 2) if overlap(*pair)]
    left, top, right, bottom = drawing.frame
    for one in (text_box(text) for text in texts(drawing.shapes)):
        assert left <= one[0] < one[2] <= right
        assert top <= one[1] < one[3] <= bottom


@settings(max_examples=40)
@given(st.integers(1, 8), st.lists(st.tuples(readings, verdicts, st.booleans()), min_size=3, max_size=3),
       st.sampled_from([240.0, 420.0, 960.0]))  # fmt: skip
def test_a_manifold_face_of_any_head_is_legible_at_any_size(ports, told, room):
    lines = [FaceLine(f"line-{i}", *one) for i, one in enumerate(told, 1)]
    drawing = manifold_face(ports, lines, "face", room=room)
    assert not overlaps(drawing.shapes)
    assert not [pair for pair in combinations(boxes(drawing), 2) if overlap(*pair)]
    left, top, right, bottom = drawing.frame
    for one in (text_box(text) for text in texts(drawing.shapes)):
        assert left <= one[0] < one[2] <= right
        assert top <= one[1] < one[3] <= bottom
