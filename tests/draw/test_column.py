"""What stands above and behind a column of rows."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.draw.column import Head, column_head, wall
from witnessmark.draw.extent import overlaps, text_box, texts
from witnessmark.draw.scale import Wall, scale_for
from witnessmark.draw.shape import Line, Path, Rect, flat

STEM = Wall(low=5.940, new_low=5.965, new_high=5.980, guard_low=5.9425)


def roles(drawing, kind, role):
    return [s for s in flat(drawing.shapes) if isinstance(s, kind) and s.role == role]


def test_the_wall_runs_through_all_rows_without_a_gap():
    drawing = wall(STEM, scale_for([STEM]), 480)
    hatch, edge = roles(drawing, Rect, "wall")[0], roles(drawing, Line, "edge")[0]
    assert (hatch.x, hatch.y, hatch.h) == (0, 0, 480)
    assert (edge.y1, edge.y2, edge.width) == (0, 480, 3)
    assert hatch.w == pytest.approx(edge.x1)


def test_the_guard_band_is_one_dashed_line_on_the_clear_side():
    scale = scale_for([STEM])
    guards = roles(wall(STEM, scale, 480), Line, "hidden")
    assert [guard.x1 for guard in guards] == [pytest.approx(scale.x(5.9425))]
    assert guards[0].x1 > scale.x(5.940)


def test_no_guard_band_is_drawn_where_the_gauge_can_settle_nothing():
    narrow = Wall(low=1, high=1.001, guard_low=1.1, guard_high=0.9, settles=False)
    assert not roles(wall(narrow, scale_for([narrow]), 480), Line, "hidden")


def test_a_one_sided_new_limit_is_a_strip_that_runs_to_the_other_limit():
    both = Wall(low=37.8, high=38.3, new_low=38.0)
    scale = scale_for([both])
    strip = roles(wall(both, scale, 100), Rect, "new_limit")[0]
    assert (strip.x, strip.x + strip.w) == (pytest.approx(scale.x(38.0)), pytest.approx(scale.x(38.3)))


def test_the_head_names_service_guard_band_and_new_limit():
    head = column_head(STEM, scale_for([STEM]), Head("5.940", "", "5.965 – 5.980"))
    assert {text.text for text in texts(head.shapes)} == {
        "service",
        "5.940",
        "guard band",
        "new limit",
        "5.965 – 5.980",
    }
    assert head.name == "service limit least 5.940, new limit 5.965 – 5.980"


limits = st.tuples(st.floats(0.5, 400), st.floats(0.01, 5), st.floats(0.01, 0.9), st.floats(0.01, 0.4))


@given(limits, st.sampled_from(["low", "high", "both"]), st.sampled_from([150.0, 262.0]), st.sampled_from([1, 25.4]))
def test_words_over_a_column_never_meet_and_never_leave_it(limit, side, width, unit):
    least, gap, new, guard = limit
    low = least / unit if side in {"low", "both"} else None
    high = (least + gap) / unit if side in {"high", "both"} else None
    strip = (least + gap * new) / unit
    one = Wall(low, high, strip, strip + 0.01 / unit, None if low is None else low + guard * gap / unit,
               None if high is None else high - guard * gap / unit)  # fmt: skip
    digits = 3 if unit == 1 else 4
    names = Head(
        "" if low is None else f"{low:.{digits}f}", "" if high is None else f"{high:.{digits}f}", f"{strip:.{digits}f}"
    )
    head = column_head(one, scale_for([one], width=width), names)
    assert not overlaps(head.shapes)
    assert all(text_box(t)[0] >= -1 and text_box(t)[2] <= width + 1 for t in texts(head.shapes))


def test_limits_that_this_gauge_cannot_settle_are_said_to_have_no_guard_band():
    narrow = Wall(low=1, high=1.001, settles=False)
    head = column_head(narrow, scale_for([narrow]), Head("1.000", "1.001"))
    assert "no guard band" in {text.text for text in texts(head.shapes)}


def test_a_usual_range_is_a_dotted_bracket_and_no_wall():
    scale = scale_for([Wall()], [43.9, 44.0, 44.1, 44.2])
    head = column_head(Wall(), scale, Head(), usual=(43.95, 44.15))
    assert [s.role for s in flat(head.shapes) if isinstance(s, Path)] == ["usual"]
    assert not roles(head, Line, "edge")
    assert [text.text for text in texts(head.shapes)] == ["usual"]
    assert head.name == "no limit entered"
