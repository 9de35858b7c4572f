"""Places, as the rooms above know them.

The grammar itself lives with the catalogue, since limit sheets read places too and may not look at an engine.
"""

from witnessmark.catalogue.place import (
    BANKS,
    FACES,
    MOST_CYLINDERS,
    SIDES,
    Place,
    PlaceError,
    cylinder,
    location,
    parse,
    position,
    shown,
    station,
    valve_kind,
)

__all__ = [
    "BANKS",
    "FACES",
    "MOST_CYLINDERS",
    "SIDES",
    "Place",
    "PlaceError",
    "cylinder",
    "location",
    "parse",
    "position",
    "shown",
    "station",
    "valve_kind",
]
