"""The drawing of a characteristic as paper shows it beside its words: where the gauge goes, without any reading."""

from witnessmark.catalogue.entry import Characteristic
from witnessmark.desk.state import State
from witnessmark.draw import where as drawings
from witnessmark.draw.face import FacePlan
from witnessmark.draw.shape import Drawing
from witnessmark.engine import place as places
from witnessmark.engine.shape import Layout

GEAR = "bucket_shim"


def plate(entry: Characteristic, layout: Layout | None = None, place: str = "") -> Drawing | None:
    """Its drawing in the valve gear of an engine, painted at a place of it, else at its first station."""
    if not entry.drawing:
        return None
    station = places.station(place) if place else next(iter(entry.stations), "")
    gear = layout.gear if layout else next(iter(entry.gears), GEAR)
    return drawings.where(
        entry.drawing, station, characteristic=entry.id, gear=gear, face=_face(layout, place),
        location=places.location(place) if place else "",
    )  # fmt: skip


def plate_at(state: State, entry: Characteristic, place: str) -> Drawing | None:
    """The same in the engine of a job."""
    return plate(entry, state.layout, place)


def _face(layout: Layout | None, place: str) -> FacePlan | None:
    """The face of the head that a place belongs to; that of an invented four where there is no engine."""
    if layout is None:
        return None
    bank = places.parse(place).bank if place else ""
    numbers = next((numbers for name, numbers in layout.banks if name == bank), layout.banks[0][1])
    valves = dict(layout.valves)
    return FacePlan(tuple(numbers), tuple(valves.get("inl", ())), tuple(valves.get("exh", ())))
