"""Shapes: groups dissolve to where their parts stand, and no shape knows a colour."""

from witnessmark.draw.shape import Circle, Drawing, Group, Line, Rect, Text, flat, moved, path, polygon


def test_a_group_in_a_group_stands_at_the_sum_of_both_shifts():
    inner = Group((Circle(1, 2, 3, "part"),), 10, 20)
    assert list(flat((Group((inner,), 100, 200),))) == [Circle(111, 222, 3, "part")]


def test_moving_a_path_moves_the_end_of_an_arc_and_not_its_radii():
    arc = path("part", "M", 0, 0, "A", 5, 6, 0, 1, 0, 10, 10)
    assert moved(arc, 1, 2).steps == (("M", (1, 2)), ("A", (5, 6, 0, 1, 0, 11, 12)))


def test_every_kind_of_shape_moves():
    shapes = (Line(0, 0, 1, 1, "thin"), Rect(0, 0, 1, 1, "part"), Text(0, 0, "a"), polygon("part", [(0, 0), (1, 1)]))
    assert list(flat(moved(Group(shapes), 3, 4).shapes, 3, 4)) == [moved(shape, 3, 4) for shape in shapes]


def test_a_drawing_without_a_window_shows_its_whole_size():
    assert Drawing(350, 560, "stem", ()).frame == (0, 0, 350, 560)
