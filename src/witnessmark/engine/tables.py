"""All that the geometry knows, in one place: the tables of its subjects, and the model of a layout from them."""

from functools import lru_cache

from witnessmark.engine import table_casting, table_chamber, table_drive, table_gear, table_valve
from witnessmark.engine.model import Model
from witnessmark.engine.model import model as model_of
from witnessmark.engine.shape import Layout

SUBJECTS = (table_casting, table_valve, table_gear, table_chamber, table_drive)
QUANTITIES = tuple(one for each in SUBJECTS for one in each.QUANTITIES)
LAWS = tuple(one for each in SUBJECTS for one in each.LAWS)
OPERATIONS = tuple(one for each in SUBJECTS for one in each.OPERATIONS)  # in working order


@lru_cache(maxsize=32)
def geometry(layout: Layout) -> Model:
    """The model of a layout."""
    return model_of(layout, QUANTITIES, LAWS, OPERATIONS)
