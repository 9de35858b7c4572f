"""The verdict mark: its measures, and that the picture cannot contradict the rule."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.draw.mark import CELL, CLOSE, OUT, WITHIN, Mark, cell, chance, mark_name, row, word
from witnessmark.draw.scale import Scale, Wall, scale_for
from witnessmark.draw.shape import Circle, Line, Path, Rect, flat
from witnessmark.draw.svg import svg

STEM = Wall(low=5.940, new_low=5.965, new_high=5.980, guard_low=5.9425)
SCALE = scale_for([STEM])
G = 0.0025


def shapes(drawing, kind=None, role=None):
    return [
        s for s in flat(drawing.shapes) if (kind is None or isinstance(s, kind)) and (role is None or s.role == role)
    ]


def mark(value, verdict, **more):
    return Mark(value, STEM, (value - G, value + G), verdict, **more)


def test_a_row_is_262_by_56_with_its_axis_at_28_and_the_mark_2_below():
    drawing = row(mark(5.961, WITHIN), SCALE, "x")
    assert (drawing.width, drawing.height) == (262, 56)
    axis = shapes(drawing, Line, "hair")[0]
    assert (axis.y1, axis.x1, axis.x2) == (28, 0, 262)
    assert shapes(drawing, Circle)[0].y == 30


def test_within_is_a_filled_disc_of_6_2_on_a_bar_9_high_with_caps_2_by_14():
    drawing = row(mark(5.961, WITHIN), SCALE, "x")
    disc = shapes(drawing, Circle)[0]
    bar, *caps = shapes(drawing, Rect, "within")
    assert (disc.role, disc.r, disc.x) == ("within_disc", 6.2, pytest.approx(SCALE.x(5.961)))
    assert (bar.h, bar.y) == (9, 25.5)
    assert [(cap.w, cap.h, cap.x + 1) for cap in caps] == [
        (2, 14, pytest.approx(SCALE.x(5.961 - G))), (2, 14, pytest.approx(SCALE.x(5.961 + G)))]  # fmt: skip


def test_too_close_is_hollow_with_a_ring_of_2_4():
    drawing = row(mark(5.941, CLOSE), SCALE, "x")
    ring = shapes(drawing, Circle)[0]
    assert (ring.role, ring.width) == ("close_open", 2.4)
    assert ring.r + ring.width / 2 == pytest.approx(6.4)
    assert shapes(drawing, Rect, "close_open")[0].h == 9


def test_out_is_a_saltire_with_a_halo_and_no_disc():
    drawing = row(mark(5.935, OUT), SCALE, "x")
    assert not shapes(drawing, Circle)
    cross, halo = shapes(drawing, Path, "out_line")[0], shapes(drawing, Path, "halo")[0]
    assert cross.width == pytest.approx(0.42 * 6.2)
    assert halo.width == pytest.approx(cross.width + 3)


@pytest.mark.parametrize(("verdict", "role"), [(WITHIN, "within"), (OUT, "out"), (CLOSE, "close")])
def test_a_series_so_far_has_the_pen_of_its_verdict_and_nothing_filled(verdict, role):
    drawing = row(mark(5.95, verdict, so_far=True), SCALE, "x")
    ring = shapes(drawing, Circle)[0]
    first, second = (float(n) for n in ring.dash.split())
    assert (ring.role, ring.width, ring.r) == (f"{role}_open", 1.6, 6.2)
    assert 7 * (first + second) == pytest.approx(2 * 3.14159 * 6.2, rel=0.01)  # seven dashes
    filled = {"within", "out", "close", "within_disc"}
    assert not [s for s in shapes(drawing) if s.role in filled and not isinstance(s, Line)]


def test_every_raw_reading_is_a_tick_from_9_to_15():
    drawing = row(mark(5.951, WITHIN, raws=(5.951, 5.953, 5.953)), SCALE, "x")
    assert [(t.y1, t.y2) for t in shapes(drawing, Line, "thin")] == [(9, 15)] * 3


def test_not_measured_is_a_dashed_line_and_nothing_else():
    drawing = row(Mark(wall=STEM), SCALE, "x")
    assert [s.role for s in shapes(drawing)] == ["hidden"]


def test_leaves_are_a_bar_with_a_cap_left_an_open_end_right_and_no_point():
    drawing = row(Mark(None, Wall(high=0.05), None, WITHIN, interval=(0.03, 0.04)), Scale(0, 0.1, 262), "x")
    bar, *caps = shapes(drawing, Rect, "within")
    assert not shapes(drawing, Circle)
    assert [cap.x + 1 for cap in caps] == [pytest.approx(bar.x)]
    assert bar.x + bar.w == pytest.approx(0.04 / 0.1 * 262)


def test_a_leaf_refused_at_the_limit_touches_the_wall_and_does_not_enter_it():
    scale = Scale(0, 0.1, 262)
    drawing = row(Mark(None, Wall(high=0.05), None, WITHIN, interval=(0.04, 0.05)), scale, "x")
    bar = shapes(drawing, Rect, "within")[0]
    assert bar.x + bar.w <= scale.x(0.05) + 1e-9


def test_the_thickest_leaf_that_enters_points_off_the_scale():
    drawing = row(Mark(None, Wall(high=0.05), None, OUT, interval=(0.08, None)), Scale(0, 0.1, 262), "x")
    arrow = shapes(drawing, Path, "ink")[0]
    assert arrow.steps[0][1] == (261, 30)


@pytest.mark.parametrize(("value", "side", "tip"), [(5.8, "left", 1), (6.3, "right", 261)])
def test_a_value_off_the_scale_stands_at_the_end_with_an_arrow_outward(value, side, tip):
    drawing = row(Mark(value, STEM, None, OUT if side == "left" else WITHIN), SCALE, "x")
    assert shapes(drawing, Path, "ink")[0].steps[0][1][0] == tip


def test_limits_too_close_for_this_gauge_fill_the_gap_with_a_dashed_line():
    narrow = Wall(low=1.0, high=1.002, settles=False)
    scale = scale_for([narrow])
    drawing = row(Mark(1.001, narrow, (0.99, 1.01), CLOSE), scale, "x")
    gap = shapes(drawing, Line, "close_line")[0]
    assert (gap.x1, gap.x2, gap.dash) == (pytest.approx(scale.x(1.0)), pytest.approx(scale.x(1.002)), "4 2.6")
    assert not shapes(drawing, Rect)


def test_a_prediction_runs_by_a_phantom_line_from_the_value_before():
    drawing = row(Mark(5.95, STEM, None, WITHIN, before=5.97), SCALE, "x")
    line = shapes(drawing, Line, "phantom")[0]
    assert (line.x1, line.x2) == (pytest.approx(SCALE.x(5.97)), pytest.approx(SCALE.x(5.95)))


@given(st.floats(5.93, 5.98), st.floats(0.0005, 0.004))
def test_a_bar_is_clear_of_the_wall_exactly_where_the_value_lies_past_the_guard_band(value, guard):
    """One limit from below: within iff value - guard is at or over it; out iff value + guard is under it."""
    verdict = WITHIN if value - guard >= 5.940 else OUT if value + guard <= 5.940 else CLOSE
    drawing = row(Mark(value, STEM, (value - guard, value + guard), verdict), SCALE, "x")
    role = {WITHIN: "within", OUT: "out", CLOSE: "close_open"}[verdict]
    bar, wall = shapes(drawing, Rect, role)[0], SCALE.x(5.940)
    assert (bar.x >= wall - 1e-6) == (verdict == WITHIN)
    assert (bar.x + bar.w <= wall + 1e-6) == (verdict == OUT)


walls = st.sampled_from([Wall(low=1.0), Wall(high=2.0), Wall(low=1.0, high=2.0)])
sizes = st.sampled_from([(48.0, 29.0), (88.0, 32.0), (104.0, 36.0)])


@given(walls, sizes, st.floats(0, 3))
def test_in_a_cell_a_disc_stays_2_5_clear_and_a_saltire_lies_wholly_inside_the_wall(wall, size, value):
    width, height = size
    scale = scale_for([wall], [1.3, 1.5, 1.7], width)
    good = (wall.low is None or value >= wall.low) and (wall.high is None or value <= wall.high)
    drawing = cell(Mark(value, wall, None, WITHIN if good else OUT), scale, "x", height)
    if not scale.shows(value):
        return
    low = scale.x(wall.low) if wall.low is not None else -1e9
    high = scale.x(wall.high) if wall.high is not None else 1e9
    if good:
        disc = shapes(drawing, Circle, "within_disc")[0]
        assert low + 2.5 - 1e-6 <= disc.x - CELL.point
        assert disc.x + CELL.point <= high - 2.5 + 1e-6
    else:
        xs = [n[0] for _, n in shapes(drawing, Path, "out_line")[0].steps]
        assert max(xs) <= low or min(xs) >= high
        assert min(xs) >= 0
        assert max(xs) <= width


def test_a_cell_that_is_out_has_a_red_frame_of_2():
    scale = scale_for([Wall(high=2.0)], [1.5], 48)
    frame = shapes(cell(Mark(2.1, Wall(high=2.0), None, OUT), scale, "x"), Rect, "out_line")[0]
    assert (frame.x, frame.y, frame.w, frame.h, frame.width) == (1, 1, 46, 27, 2)
    bare = cell(Mark(2.1, Wall(high=2.0), None, OUT), scale, "x", framed=False)
    assert not shapes(bare, Rect, "out_line")


def test_in_a_cell_a_short_bar_is_left_out_and_a_short_leaf_interval_becomes_a_point():
    wall, scale = Wall(high=0.05), Scale(0, 0.1, 48)
    short = cell(Mark(0.03, wall, (0.02, 0.04), WITHIN), scale, "x")  # half length 4.8 px
    long = cell(Mark(0.025, wall, (0.005, 0.045), WITHIN), scale, "x")
    leaves = cell(Mark(None, wall, None, WITHIN, interval=(0.02, 0.03)), scale, "x")
    assert not shapes(short, Rect, "within")
    assert shapes(long, Rect, "within")
    assert shapes(leaves, Circle, "within_disc")[0].x == pytest.approx(12)


def test_the_halo_of_a_saltire_does_not_eat_the_edge():
    scale = scale_for([Wall(high=2.0)], [1.5], 48)
    roles = [s.role for s in shapes(cell(Mark(2.01, Wall(high=2.0), None, OUT), scale, "x"))]
    assert roles.index("halo") < len(roles) - 1 - roles[::-1].index("edge")


@pytest.mark.parametrize("verdict", [WITHIN, OUT, CLOSE])
def test_the_word_mark_is_46_by_20_with_two_walls(verdict):
    drawing = word(verdict)
    assert (drawing.width, drawing.height, drawing.name) == (46, 20, verdict)
    assert [(w.x, w.x + w.w) for w in shapes(drawing, Rect, "wall_small")] == [(0, 10), (36, 46)]


def test_without_colour_the_three_verdicts_are_three_shapes():
    pages = {verdict: svg(word(verdict), printed=True) for verdict in (WITHIN, OUT, CLOSE)}
    assert len(set(pages.values())) == 3


@pytest.mark.truth("derived: a chance rounded towards doubt never reads 0.95 or 0.05 where the rule is not met")
@pytest.mark.parametrize(("p", "shown"), [(0.9452, "0.94"), (0.9499999, "0.94"), (0.74, "0.74"), (0.05001, "0.06"),
                                          (0.5, "0.50"), (0.29, "0.29")])  # fmt: skip
def test_a_chance_is_rounded_towards_doubt(p, shown):
    assert chance(p) == shown


@given(st.floats(0.0500001, 0.9499999))
def test_a_chance_that_is_too_close_never_reads_as_settled(p):
    assert 0.05 < float(chance(p)) < 0.95


def test_what_a_mark_says_aloud():
    said = mark_name("Inl 2F", "5.941", "mm", verdict=CLOSE, limit="least 5.940", p=0.7449)
    assert said == "Inl 2F 5.941 millimetre, too close to call, least 5.940, chance 0.74"
    assert mark_name("Inl 3F", "0.2343", "in", verdict=WITHIN, limit="least 0.2339", so_far="3 of 6") == (
        "Inl 3F 0.2343 inch, within so far, 3 of 6, least 0.2339")  # fmt: skip
    assert mark_name("Inl 4F", "", "mm", verdict="", limit="") == "Inl 4F not measured"
    assert mark_name("Exh 1F", "44.1", "mm", verdict="", limit="") == "Exh 1F 44.1 millimetre, no limit entered"
