"""All that the geometry knows, in one place: the tables of its subjects, and the model of a layout from them."""

from dataclasses import replace
from functools import lru_cache

from witnessmark.engine import table_beside, table_casting, table_chamber, table_drive, table_gear, table_valve
from witnessmark.engine.model import Model
from witnessmark.engine.model import model as model_of
from witnessmark.engine.quantity import Quantity
from witnessmark.engine.shape import Layout

SUBJECTS = (table_casting, table_valve, table_gear, table_chamber, table_drive, table_beside)
QUANTITIES = tuple(one for each in SUBJECTS for one in each.QUANTITIES)
LAWS = tuple(one for each in SUBJECTS for one in each.LAWS)
OPERATIONS = tuple(one for each in SUBJECTS for one in each.OPERATIONS)  # in working order


@lru_cache(maxsize=32)
def geometry(layout: Layout) -> Model:
    """The model of a layout."""
    return model_of(layout, [_of_metal(one, layout) for one in QUANTITIES], LAWS, OPERATIONS)


def _of_metal(one: Quantity, layout: Layout) -> Quantity:
    """An iron head grows as its camshaft does; of which metal a head is that nobody named is not known."""
    if one.id != "bore_growth" or layout.head == "aluminium":
        return one
    if layout.head == "iron":
        return replace(one, usual=table_beside.ALIKE, why="an iron head on a steel shaft; derived")
    return replace(one, usual=None, why="")
