"""What holds for every drawing of where the gauge goes, whoever drew it."""

from witnessmark.draw.extent import box
from witnessmark.draw.shape import Drawing, flat


def on_its_field(picture: Drawing) -> None:
    """No shape leaves the field of 350 x 560 by more than a stroke; the name says where the gauge goes now."""
    for shape in flat(picture.shapes):
        left, top, right, bottom = box(shape)
        assert left >= -2, shape
        assert top >= -2, shape
        assert right <= 352, shape
        assert bottom <= 562, shape
    assert picture.name.startswith("where the ")
    assert " now" in picture.name
