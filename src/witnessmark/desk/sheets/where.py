"""The drawing of where the gauge goes now, with what was read at each station beside it."""

from witnessmark.catalogue.entry import Characteristic
from witnessmark.desk.route import Stop
from witnessmark.desk.sheets.stops import stops_of
from witnessmark.desk.state import State
from witnessmark.draw import where as drawings
from witnessmark.draw.face import FacePlan
from witnessmark.draw.shape import Drawing
from witnessmark.engine import place as places
from witnessmark.engine.shape import Layout
from witnessmark.explain.words import unit_of
from witnessmark.quantity.show import show
from witnessmark.record.job import Reading


def where(state: State, entry: Characteristic, stop: Stop, unit: str) -> tuple[Drawing, Drawing]:
    """Both sizes of the drawing: for the field, and as a strip for the phone."""
    values = _values(state, entry, stop, unit)
    gear = state.layout.gear if state.layout else "bucket_shim"
    face = _face(state.layout, stop.place)
    big, strip = (
        drawings.where(entry.drawing, places.station(stop.place), values, characteristic=entry.id, gear=gear, face=face,
                       strip=small, location=stop.location)
        for small in (False, True)
    )  # fmt: skip
    return big, strip


def _values(state: State, entry: Characteristic, stop: Stop, unit: str) -> dict[str, str]:
    """The last counted reading of each station at this location, as it is shown."""
    found = {}
    for one in (one for one in stops_of(state, entry) if one.location == stop.location):
        counted = [r for r in state.readings_at(one.characteristic, one.place) if r.state == "counted"]
        if counted:
            found[places.station(one.place)] = _shown(counted[-1], entry, unit)
    return found


def _shown(reading: Reading, entry: Characteristic, unit: str) -> str:
    """A reading as it came, where it came in the unit shown; else converted."""
    meaning = reading.meaning or {}
    own = str(meaning.get("unit") or "")
    shown_in = unit_of(entry, unit)
    if meaning.get("kind") == "look":
        amount = f" {meaning['value']} {meaning['unit']}" if meaning.get("value") else ""
        return f"{meaning.get('says')}{amount}"
    if meaning.get("kind") == "interval":
        ends = [str(meaning["low"]), *([str(meaning["high"])] if meaning.get("high") else [])]
        return "–".join(ends)
    if meaning.get("kind") != "number" or own == shown_in or "/" in str(meaning.get("value")):
        return reading.raw.strip()
    from witnessmark.quantity.unit import unit as known_unit

    inside = float(str(meaning["value"])) * float(known_unit(own).factor)
    return show(inside, shown_in, float(str(meaning.get("step") or "0.001")), own)


def _face(layout: Layout | None, place: str) -> FacePlan | None:
    """The face of the head that a place belongs to."""
    if layout is None:
        return None
    bank = places.parse(place).bank
    numbers = next((numbers for name, numbers in layout.banks if name == bank), layout.banks[0][1])
    valves = dict(layout.valves)
    return FacePlan(tuple(numbers), tuple(valves.get("inl", ())), tuple(valves.get("exh", ())))
