"""One door to the layout."""

from witnessmark.engine import described, layout, shape, walk


def test_the_door_leads_to_description_shape_and_walk():
    assert layout.layout is described.layout
    assert layout.Layout is shape.Layout
    assert layout.stations is walk.stations
