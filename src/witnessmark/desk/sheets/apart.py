"""The drawing of the start sheet: the engine taken apart, each part by what has been read of it."""

from witnessmark.desk.sheets.phrase import OVER_ALL
from witnessmark.desk.sheets.start import PARTLY, READ, TO_COME, UNREAD, PartLine, StartSheet
from witnessmark.draw.exploded import Apart, PartState, apart
from witnessmark.draw.shape import Drawing
from witnessmark.engine import place as places
from witnessmark.engine.layout import Layout

_LINES = {READ: "read", PARTLY: "read", UNREAD: "not read", TO_COME: "to come"}


def engine_picture(sheet: StartSheet, layout: Layout | None) -> Drawing:
    """The engine of the sheet, both banks of a V or an opposed engine side by side.

    Without a layout a four is drawn, every part not read.
    """
    per = max(len(at) for _, at in layout.valves) if layout else 2
    parts = {part.name if part.id != "valves" else "valves": _state(part, layout, per) for part in sheet.parts}
    said = "; ".join(f"{part.name}: {part.words}" for part in sheet.parts)
    name = f"the engine taken apart. {said}"
    if layout is None:
        return apart(Apart(4, per, parts), name)
    rows = tuple((bank, len(numbers)) for bank, numbers in layout.banks)
    banks = rows if len(rows) > 1 else ()
    return apart(Apart(rows[0][1], per, parts, banks, layout.layout == "opposed", layout.cam_in_block), name)


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
    """Where a valve stands: bank by bank, cylinder by cylinder, front before rear; inlet and exhaust share a spot."""
    if place in OVER_ALL:
        return None
    known = places.parse(place)
    if known.cylinder is None or not known.side:
        return None  # a chamber is no valve
    order = [number for _, numbers in layout.banks for number in numbers]
    positions = dict(layout.valves)[known.side]
    return order.index(known.cylinder) * per + positions.index(known.position)
