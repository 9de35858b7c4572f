"""The gasket face laid out by machine, for every head that the tool describes."""

from itertools import combinations
from math import hypot

import pytest

from witnessmark.draw.face import BORE, FacePlan, casting, lay_out
from witnessmark.draw.shape import Circle, flat

POSITIONS = {1: ("",), 2: ("f", "r"), 3: ("f", "m", "r")}
HEADS = [
    FacePlan(tuple(range(1, n + 1)), POSITIONS[inl], POSITIONS[exh])
    for n in range(1, 9)
    for inl in (1, 2, 3)
    for exh in (1, 2, 3)
    if 2 <= inl + exh <= 5
]
IDS = [f"{len(h.cylinders)} cylinders, {len(h.inlets)}+{len(h.exhausts)} valves" for h in HEADS]


@pytest.mark.parametrize("plan", HEADS, ids=IDS)
def test_no_valve_touches_another_or_leaves_its_bore(plan):
    face = lay_out(plan)
    assert len(face.valves) == len(plan.cylinders) * (len(plan.inlets) + len(plan.exhausts))
    for a, b in combinations(face.valves, 2):
        assert hypot(a.x - b.x, a.y - b.y) >= a.r + b.r
    for spot in face.valves:
        centre = min((face.centre(i) for i in range(len(plan.cylinders))), key=lambda x: abs(x - spot.x))
        assert hypot(spot.x - centre, spot.y - 129 * face.scale) + spot.r <= BORE * face.scale


@pytest.mark.parametrize("plan", HEADS[:8], ids=IDS[:8])
def test_the_plug_stands_clear_of_the_valves(plan):
    face = lay_out(plan)
    plugs = [s for s in flat(casting(face)) if isinstance(s, Circle) and s.r == 12 * face.scale]
    assert plugs
    for plug in plugs:
        assert all(hypot(plug.x - v.x, plug.y - v.y) > plug.r + v.r for v in face.valves)


def test_the_sixteen_valve_four_keeps_its_proportions_on_the_sheet():
    face = lay_out(FacePlan())
    exhaust = next(spot for spot in face.valves if spot.id == "exh-1f")
    assert (face.width, face.depth) == (962.4, 250)
    assert (exhaust.x + 176, exhaust.y + 8, exhaust.r) == pytest.approx((280.8, 182, 32))


def test_cylinders_of_a_bank_keep_their_own_numbers():
    face = lay_out(FacePlan((2, 4, 6, 8), ("",), ("",)))
    assert [spot.id for spot in face.valves][:4] == ["inl-2", "exh-2", "inl-4", "exh-4"]


@pytest.mark.parametrize(
    ("plan", "cure"),
    [(FacePlan(()), "name at least one cylinder"), (FacePlan((1,), ()), "enter one, two or three"),
     (FacePlan((1,), ("",), ("f", "m", "r", "x")), "4 exhaust valves")],
)  # fmt: skip
def test_a_head_that_cannot_be_drawn_is_told_with_its_cure(plan, cure):
    with pytest.raises(ValueError, match=cure):
        lay_out(plan)
