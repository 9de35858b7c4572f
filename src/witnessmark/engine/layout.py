"""The layout of an engine, under one roof: described by the user, held as a value, walked by a hand."""

from witnessmark.engine.described import LayoutError, layout
from witnessmark.engine.place import cylinder, valve_kind
from witnessmark.engine.shape import GEARS, LAYOUTS, MATERIALS, Layout
from witnessmark.engine.walk import PLACES, locations, misplaced, optional_stations, related, stations

__all__ = [
    "GEARS",
    "LAYOUTS",
    "MATERIALS",
    "PLACES",
    "Layout",
    "LayoutError",
    "cylinder",
    "layout",
    "locations",
    "misplaced",
    "optional_stations",
    "related",
    "stations",
    "valve_kind",
]
