"""The drawing of the start sheet: the engine taken apart, each part by what has been read of it."""

from witnessmark.desk.sheets.phrase import OVER_ALL
from witnessmark.desk.sheets.start import PARTLY, READ, TO_COME, UNREAD, PartLine, StartSheet
from witnessmark.draw.exploded import Apart, PartState, apart
from witnessmark.draw.shape import Drawing
from witnessmark.engine import place as places
from witnessmark.engine.layout import Layout

_LINES = {READ: "read", PARTLY: "read", UNREAD: "not read", TO_COME: "to come"}


def engine_picture(sheet: StartSheet, layout: Layout | None) -> Drawing:
    """The engine of the sheet; of a V or an opposed engine one bank is drawn, and marks of both stand on it.

    Without a layout a four is drawn, every part not read.
    """
    numbers = max((row for _, row in layout.banks), key=len) if layout else (1, 2, 3, 4)
    per = max(len(at) for _, at in layout.valves) if layout else 2
    parts = {part.name if part.id != "valves" else "valves": _state(part, layout, per) for part in sheet.parts}
    said = "; ".join(f"{part.name}: {part.words}" for part in sheet.parts)
    return apart(Apart(len(numbers), per, parts), f"the engine taken apart. {said}")


def _state(part: PartLine, layout: Layout | None, per: int) -> PartState:
    spots = {_spot(name, layout, per) for name in part.out} if layout else set()
    return PartState(
        part.name,
        _LINES[part.line],
        part.words,
        tuple(sorted(spot for spot in spots if spot is not None)),
        part.now and part.id == "head",
    )


def _spot(place: str, layout: Layout, per: int) -> int | None:
    """Where a valve stands in the row: cylinder by cylinder, front before rear; inlet and exhaust share a spot."""
    if place in OVER_ALL:
        return None
    known = places.parse(place)
    if known.cylinder is None:
        return None
    row = dict(layout.banks)[layout.bank_of(known.cylinder)]
    positions = dict(layout.valves)[known.side]
    return row.index(known.cylinder) * per + positions.index(known.position)
