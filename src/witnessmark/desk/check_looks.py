"""What a job file says of looks, photos and decisions, held against the catalogue and the engine."""

from collections.abc import Iterator, Mapping
from typing import Any

from witnessmark.catalogue.entry import NOTHING, Catalogue, Characteristic
from witnessmark.engine.layout import Layout
from witnessmark.engine.place import PlaceError, location, parse
from witnessmark.engine.walk import stations
from witnessmark.quantity.unit import UnknownUnit, names, unit
from witnessmark.text.fault import Path
from witnessmark.text.near import did_you_mean

Said = tuple[Path, str]  # way within the entry, message
OVER_PLACES = ("all", "inl", "exh")  # where a spread over places stands


def look_faults(entry: Characteristic, body: Mapping[str, Any], catalogue: Catalogue) -> Iterator[Said]:
    """Of a reading: whether it says what can be said of its characteristic, and by a method that is known."""
    meaning = body.get("meaning")
    kind = meaning.get("kind") if isinstance(meaning, Mapping) else ""
    if kind == "look" and entry.kind != "look":
        yield ("says",), f"{entry.term} is measured; write the number in `raw`, and take `says` out"
    elif kind not in ("look", "") and entry.kind == "look":
        yield ("raw",), f"{entry.term} is looked at; write `says` with one of {', '.join(entry.says)}"
    elif kind == "look" and isinstance(meaning, Mapping):
        yield from _answer(entry, meaning)
    method = body.get("method")
    if method and method not in catalogue.methods:
        hint = did_you_mean(str(method), catalogue.methods) or f"; known: {', '.join(catalogue.methods)}"
        yield ("method",), f"no method is called '{method}'{hint}"


def _answer(entry: Characteristic, meaning: Mapping[str, Any]) -> Iterator[Said]:
    says = str(meaning.get("says"))
    if says not in entry.says:
        hint = did_you_mean(says, entry.says) or f"; it has {', '.join(entry.says)}"
        yield ("says",), f"{entry.term} has no answer '{says}'{hint}"
    name = meaning.get("unit")
    if name is None:
        return
    if entry.quantity == NOTHING:
        yield ("how_much",), f"{entry.term} has no amount; write the answer alone"
        return
    try:
        unit(str(name), entry.quantity)
    except UnknownUnit as unknown:
        yield ("unit",), f"{unknown}; write {', '.join(names(entry.quantity))}"


def beside_faults(kind: str, body: Mapping[str, Any], catalogue: Catalogue, layout: Layout | None) -> Iterator[Said]:
    """Of a decision or a photo: characteristic, place and operation."""
    if kind == "decided":
        yield from _about(body, catalogue, layout)
        if body.get("operation") and body["operation"] not in catalogue.operations:
            hint = did_you_mean(str(body["operation"]), catalogue.operations)
            yield ("operation",), f"no operation is called '{body['operation']}'{hint}"
    if kind == "photo_added" and isinstance(body.get("about"), Mapping):
        yield from _about(body["about"], catalogue, layout)


def _about(body: Mapping[str, Any], catalogue: Catalogue, layout: Layout | None) -> Iterator[Said]:
    name, place = body.get("characteristic"), body.get("place")
    entry = catalogue.characteristics.get(str(name)) if name else None
    if name and entry is None:
        yield (
            ("characteristic",),
            f"no characteristic is called '{name}'{did_you_mean(str(name), catalogue.characteristics)}",
        )
    if not place or place in OVER_PLACES:
        return
    try:
        there = parse(str(place)).location
    except PlaceError as error:
        yield ("place",), str(error)
        return
    if entry is not None and layout is not None and there not in set(map(location, stations(layout, entry))):
        yield ("place",), f"{entry.term} is not read at '{place}' of this engine"
