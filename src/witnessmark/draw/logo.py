"""The witness mark: one stroke across the joint of two parts, unbroken as long as nothing has turned."""

from witnessmark.draw.shape import Drawing, Line, polygon


def logo(size: float = 30) -> Drawing:
    """The mark, 30 px at its natural size: a casting, a bolt head on it, the stroke over their joint."""
    shapes = (
        Line(1, 17, 29, 17, "outline", 1.5),
        polygon("thin", [(4, 17), (4, 27), (26, 27), (26, 17)], closed=False),
        polygon("thin", [(8, 17), (8, 3), (22, 3), (22, 17)], closed=False),
        Line(12.5, 27, 17.5, 3, "within_line", 4.5),
    )
    return Drawing(size, size, "Witnessmark", shapes, (0, 0, 30, 30))
