"""The witness mark."""

from witnessmark.draw.logo import logo
from witnessmark.draw.shape import Line


def test_one_stroke_crosses_the_joint_of_two_parts():
    joint, *_, stroke = logo().shapes
    assert isinstance(joint, Line)
    assert isinstance(stroke, Line)
    assert min(stroke.y1, stroke.y2) < joint.y1 < max(stroke.y1, stroke.y2)


def test_it_keeps_its_shape_at_any_size():
    assert logo(60).frame == logo().frame
