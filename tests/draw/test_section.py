"""The section of one valve: true to scale, legible, and nothing in it that is not a number."""

from dataclasses import replace
from math import nan

import pytest

from witnessmark.draw.extent import box, overlaps
from witnessmark.draw.section import Lengths, valve_section
from witnessmark.draw.shape import Path, flat
from witnessmark.draw.svg import svg
from witnessmark.draw.work_order import node
from witnessmark.engine.shape import GEARS

FOUND = Lengths(44.0, 38.0, 6.0, 33.0, 105.0, 1.2, 1.3, 0.7854, 0.2, 0.0, 0.0)


@pytest.mark.parametrize("gear", GEARS)
@pytest.mark.parametrize("stem", [3.0, 6.0, 12.0])
def test_letters_lie_apart_and_all_stays_on_the_field_for_every_gear(gear, stem):
    size = stem / 6
    found = replace(FOUND, stem_diameter=stem, head_diameter=33 * size, valve_length=105 * size, stem_height=44 * size,
                    installed_height=38 * size)  # fmt: skip
    picture = valve_section(found, replace(found, gap=-0.07, sunk=0.27), gear=gear, place="Inl 3R").drawing
    assert not overlaps(picture.shapes)
    for shape in flat(picture.shapes):
        left, top, right, low = box(shape)
        assert left >= 0, shape
        assert top >= 0, shape
        assert right <= 520, shape
        assert low <= 620, shape
    assert "nan" not in svg(picture)


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


def test_what_is_not_known_is_named_and_what_is_no_length_is_refused():
    assert "head_diameter" in valve_section(Lengths(44), Lengths(), gear="rocker", place="Inl").assumed
    with pytest.raises(ValueError, match="stem_height"):
        valve_section(Lengths(nan), Lengths(), gear="rocker", place="Inl")


def test_nodes_join_and_a_gate_has_no_number():
    assert "gate" in node(None).name
    assert node(3).name == "step 3"
    assert box(node(3).shapes[0])[1] == 0
    assert box(node(3).shapes[1])[3] == 66


def test_a_hydraulic_gear_stands_on_the_tip_and_a_size_taken_for_granted_is_dashed():
    picture = valve_section(Lengths(gap=1.5), Lengths(gap=1.2), gear="pushrod_hydraulic", place="Inl").drawing
    shapes = list(flat(picture.shapes))
    valve = next(box(s) for s in shapes if isinstance(s, Path) and s.role == "hidden")
    block = next(box(s) for s in shapes if s.role == "section" and not isinstance(s, Path))
    assert block[3] == pytest.approx(valve[1])
