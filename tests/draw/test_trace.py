"""The picture of a trace: nothing outside it, no tooth lost by thinning, shapes for points, both units, and its time."""

from itertools import combinations
from time import perf_counter

import numpy as np
import pytest

from witnessmark.draw.extent import box, text_box
from witnessmark.draw.shape import Circle, Path, Text, flat
from witnessmark.draw.svg import record, svg
from witnessmark.draw.trace import Curve, Mark, _field, thinned, trace

X = np.linspace(0, 120, 5000)
CURVE = Curve("4", X, np.clip(X - 40, 0, None) + np.random.default_rng(1).normal(3, 0.4, 5000))
MARKS = [Mark("alignment", "alignment", 38.0, 3.0), Mark("snug", "snug", 40.0, 3.5), Mark("origin", "origin", 40.5, 3.0),
         Mark("yield", "yield", 110.0, 73.0), Mark("end", "end", 120.0, 83.0)]  # fmt: skip


def others(count):
    return [Curve(str(n), X, np.clip(X - 35 - n, 0, None) + 3) for n in range(count)]


@pytest.mark.parametrize("factor", [1.0, 1 / 1.3558179483314004])
@pytest.mark.parametrize("end", [1.0, 9.7, 120.0, 1234.0])
def test_all_lies_inside_and_no_words_overlap(factor, end):
    curve = Curve("4", X * end / 120, CURVE.torque * factor)
    marks = [Mark(one.kind, one.word, one.angle * end / 120, one.torque * factor) for one in MARKS]
    picture = trace(curve, others(3) if end == 120 else (), marks, "N·m" if factor == 1 else "lbf·ft", (40.0, factor))
    for shape in flat(picture.shapes):
        left, top, right, bottom = box(shape)
        assert left >= 0, shape
        assert top >= 0, shape
        assert right <= picture.width, shape
        assert bottom <= picture.height, shape
    words = [text_box(one) for one in flat(picture.shapes) if isinstance(one, Text)]
    for a, b in combinations(words, 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1], (a, b)


def test_paint_lies_under_the_bolt_shown_and_the_others_are_thin():
    roles = [role for role, _, _ in record(trace(CURVE, others(3), MARKS, "N·m"))]
    assert roles.count("now_line") == 1
    assert roles.index("now_line") < roles.index("outline")
    faint = [one for one in trace(CURVE, others(3), (), "N·m").shapes if isinstance(one, Path) and one.role == "faint"]
    assert len(faint) == 3


def test_each_kind_of_point_has_a_shape_of_its_own():
    picture = trace(CURVE, (), MARKS, "N·m")
    shapes = picture.shapes[-5:]
    assert isinstance(shapes[1], Circle)
    forms = {str([letter for letter, _ in one.steps]) + one.role for one in shapes if isinstance(one, Path)}
    assert len(forms) == 4
    words = [one.text for one in flat(picture.shapes) if isinstance(one, Text)]
    assert {"snug 40°", "yield 110°", "N·m", "angle"} <= set(words)
    assert "bolt 4" in picture.name
    assert "snug 40°" in picture.name


def test_thinning_keeps_a_single_tooth():
    torque = CURVE.torque.copy()
    torque[3333] = 0.0
    field = _field(Curve("4", X, torque), (), 820, 460)
    points = thinned(Curve("4", X, torque), field, 1.0)
    assert len(points) < 3100
    assert any(y == pytest.approx(field.y(0.0)) for x, y in points if x > 500)
    assert max(y for x, y in points) <= field.height


def test_five_thousand_points_are_drawn_in_a_few_milliseconds():
    ten = others(9)
    trace(CURVE, ten, MARKS, "N·m")
    begun = perf_counter()
    for _ in range(5):
        drawn = trace(CURVE, ten, MARKS, "N·m")
    assert (perf_counter() - begun) / 5 < 0.15  # 8 ms on a desk; room for a machine with much else to do
    assert len(svg(drawn)) < 250_000


def test_nothing_is_drawn_of_nothing():
    flat_ = Curve("1", np.arange(20.0), np.zeros(20))
    assert "bolt 1" in trace(flat_, (), (), "N·m").name
