"""The joint in a picture: everything inside, nothing over another, for heads of every shape."""

from itertools import combinations
from math import hypot

import pytest

from witnessmark.assemble.pattern import grid
from witnessmark.assemble.sequence import usual
from witnessmark.draw.pattern import DOUBT, HEIGHT, NOW, OUT, WIDTH, Spot, next_bolt, pattern
from witnessmark.draw.shape import Circle, flat
from witnessmark.draw.svg import record, svg


def drawn(rows, columns, states=(), **more):
    bolts = grid(rows, columns, 94, 98)
    spots = [Spot(one.name, one.x, one.y, dict(states).get(one.name, "waiting"), **more) for one in bolts]
    return pattern(spots, usual(bolts), 3, f"{len(spots)} bolts", [(str(n), 94 * n + 47) for n in range(columns - 1)])


@pytest.mark.parametrize(("rows", "columns"), [(1, 5), (2, 2), (2, 5), (2, 7), (3, 6), (4, 10), (1, 1)])
def test_all_of_it_is_inside_and_no_bolt_lies_on_another(rows, columns):
    drawing = drawn(rows, columns, faint="25 N·m")
    for role, (left, top, right, bottom), text in record(drawing):
        assert left >= -1 and top >= -1, (role, text)
        assert right <= WIDTH + 1 and bottom <= HEIGHT + 1, (role, text)
    washers = [one for one in flat(drawing.shapes) if isinstance(one, Circle) and one.role == "thin_part"]
    assert len(washers) == rows * columns
    for one, other in combinations(washers, 2):
        assert hypot(one.x - other.x, one.y - other.y) > one.r + other.r


def test_words_beside_bolts_do_not_meet_on_a_usual_head():
    boxes = [box for role, box, text in record(drawn(2, 5, strong="46", faint="final torque")) if text.startswith("46")]
    for (l1, t1, r1, b1), (l2, t2, r2, b2) in combinations(boxes, 2):
        assert r1 <= l2 or r2 <= l1 or b1 <= t2 or b2 <= t1


def test_shape_tells_the_state_and_colour_only_goes_with_it():
    roles = {state: [role for role, _, _ in record(drawn(2, 2, [("1", state)]))] for state in ("waiting", NOW, DOUBT, OUT)}
    assert roles[NOW].count("now") == roles["waiting"].count("now") + 1
    assert roles[OUT].count("part") == roles["waiting"].count("part") - 1  # no head: the bolt is out
    assert 'stroke-dasharray="7 5"' in svg(drawn(2, 2, [("1", DOUBT)]))


def test_the_paint_turns_with_the_bolt():
    def marks(turned):
        return [box for role, box, _ in record(drawn(2, 2, turned=turned)) if role == "now"]
    assert marks(0) != marks(90)
    assert marks(0) == marks(360)


@pytest.mark.parametrize(("bolt", "words", "turn"), [("4", "90°", 90), ("10", "25 N·m", 0), ("all", "even", 0),
                                                     ("7", "120°", 120), ("7", "270°", 270)])  # fmt: skip
def test_the_next_bolt_large_is_inside(bolt, words, turn):
    drawing = next_bolt(bolt, words, f"bolt {bolt}", turn)
    for role, (left, top, right, bottom), text in record(drawing):
        assert left >= -1 and top >= -1 and right <= drawing.width + 1 and bottom <= drawing.height + 1, (role, text)
