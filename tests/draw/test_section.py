"""The section of one valve: true to scale, legible, and nothing in it that is not a number."""

from dataclasses import replace
from math import nan, pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from witnessmark.draw.extent import box, overlaps, texts
from witnessmark.draw.section import HEIGHT, WIDTH, Lengths, valve_section
from witnessmark.draw.shape import Circle, Path, flat
from witnessmark.draw.svg import svg
from witnessmark.draw.work_order import node
from witnessmark.engine.shape import GEARS

FOUND = Lengths(44.0, 38.0, 6.0, 33.0, 105.0, 1.2, 1.3, pi / 4, 0.2, 0.0, 0.0)
MILLIMETRES = {"gap": "−0.07", "stem_height": "44.27", "installed_height": "38.02", "margin": "1.08", "seat_width": "2.34",
               "moved": "valve sunk 0.27, stem 0.27 higher"}  # fmt: skip
INCHES = {"gap": "−0.0028", "stem_height": "1.7429", "installed_height": "1.4968", "margin": "0.0425",
          "seat_width": "0.0921", "moved": "valve sunk 0.0106, stem 0.0106 higher"}  # fmt: skip


def on_the_field(picture):
    assert not overlaps(picture.shapes)
    for shape in flat(picture.shapes):
        left, top, right, low = box(shape)
        assert left >= 0, shape
        assert top >= 0, shape
        assert right <= WIDTH, shape
        assert low <= HEIGHT, shape
    assert all(text.size >= 16 for text in texts(picture.shapes))
    assert "nan" not in svg(picture)


@pytest.mark.parametrize("words", [MILLIMETRES, INCHES], ids=["mm", "in"])
@pytest.mark.parametrize("gear", GEARS)
@pytest.mark.parametrize("stem", [3.0, 6.0, 12.0])
def test_letters_lie_apart_and_all_stays_on_the_field_for_every_gear(gear, stem, words):
    size = stem / 6
    found = replace(FOUND, stem_diameter=stem, head_diameter=33 * size, valve_length=105 * size, stem_height=44 * size,
                    installed_height=38 * size, base_circle=32 * size, bucket=30 * size)  # fmt: skip
    after = replace(found, gap=-0.07, sunk=0.27, shim=0.25)
    on_the_field(valve_section(found, after, gear=gear, place="Inl 3R", words=words, out=("gap", "margin")).drawing)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(GEARS), st.floats(-1.5, 3.5), st.floats(-0.5, 2.0), st.floats(0.0, 2.5), st.floats(0.2, 4.0),
       st.floats(26.5, 41.0))
def test_no_state_of_an_engine_leaves_the_field(gear, gap, sunk, margin, band, installed):
    after = replace(FOUND, gap=gap, sunk=sunk, margin=margin, seat_width=band, installed_height=installed,
                    stem_height=44.0 + sunk)  # fmt: skip
    on_the_field(valve_section(FOUND, after, gear=gear, place="Exh 4F", words=INCHES).drawing)


def heads(found, after):
    shapes = [s for s in valve_section(found, after, gear="rocker", place="Inl").drawing.shapes if isinstance(s, Path)]
    old = next(s for s in shapes if s.role == "phantom")
    new = next(s for s in shapes if s.role == "part" and len(s.steps) == len(old.steps))
    return box(old), box(new)


def test_a_valve_sunk_by_a_fifth_moves_by_a_fifth_of_the_scale():
    old, new = heads(FOUND, replace(FOUND, sunk=0.2, stem_height=44.2))
    scale = (old[3] - old[1]) / 105
    assert old[3] - new[3] == pytest.approx(0.2 * scale)
    assert old[1] - new[1] == pytest.approx(0.2 * scale)


def test_the_retainer_stands_where_the_spring_height_has_it_and_shims_lift_the_spring():
    plain, lifted = (
        [box(s) for s in valve_section(FOUND, replace(FOUND, shim=shim), gear="rocker", place="Inl").drawing.shapes
         if isinstance(s, Circle) and s.role == "part" and s.r < 10]
        for shim in (0.0, 1.0)
    )  # fmt: skip
    scale = 380 / 105
    assert max(one[3] for one in plain) - max(one[3] for one in lifted) == pytest.approx(1.0 * scale)
    assert max(one[3] for one in plain) - min(one[1] for one in plain) == pytest.approx(38.0 * scale)


def band(picture):
    return next(s for s in picture.shapes if getattr(s, "start", "") == "arrow" and s.x1 != s.x2)


@pytest.mark.parametrize("width", [1.3, 2.0, 3.0])
def test_the_band_in_the_detail_is_as_wide_as_its_scale_says(width):
    line = band(valve_section(FOUND, replace(FOUND, seat_width=width), gear="rocker", place="Inl").drawing)
    assert ((line.x2 - line.x1) ** 2 + (line.y2 - line.y1) ** 2) ** 0.5 == pytest.approx(width * 8 * 380 / 105)


def test_what_is_out_has_the_pen_of_it_and_a_gap_below_nothing_says_what_it_does():
    picture = valve_section(FOUND, replace(FOUND, gap=-0.07), gear="bucket_shim", place="Inl", out=("gap",)).drawing
    told = {text.text: text.role for text in texts(picture.shapes)}
    assert told["lash −0.07"] == "out"
    assert told["margin 1.20"] == "ink"
    assert "holds the valve open" in told
    assert any(getattr(shape, "role", "") == "out_line" for shape in picture.shapes)


def test_what_is_not_known_is_named_and_what_is_no_length_is_refused():
    assert "head_diameter" in valve_section(Lengths(44), Lengths(), gear="rocker", place="Inl").assumed
    with pytest.raises(ValueError, match="stem_height"):
        valve_section(Lengths(nan), Lengths(), gear="rocker", place="Inl")


def test_a_size_taken_for_granted_is_dashed():
    picture = valve_section(Lengths(gap=1.5), Lengths(gap=1.2), gear="pushrod_hydraulic", place="Inl").drawing
    assert any(isinstance(s, Path) and s.role == "hidden" for s in flat(picture.shapes))


@pytest.mark.parametrize("gear", [gear for gear in GEARS if "hydraulic" in gear])
def test_a_hydraulic_gear_tells_of_its_plunger(gear):
    for gap in (0.5, 2.5):
        found = replace(FOUND, gap=1.5)
        picture = valve_section(found, replace(found, gap=gap), gear=gear, place="Inl").drawing
        assert any(text.text == f"plunger {gap:.2f}" for text in texts(picture.shapes))
        on_the_field(picture)


def test_nodes_join_and_a_gate_has_no_number():
    assert "gate" in node(None).name
    assert node(3).name == "step 3"
    assert box(node(3).shapes[0])[1] == 0
    assert box(node(3).shapes[1])[3] == 66
