"""Catalogue files read: texts in, one catalogue out, or every fault of all files at once."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any, TypeVar

from witnessmark.catalogue.check import faults_of
from witnessmark.catalogue.entry import (
    NOTHING,
    UNIT_INSIDE,
    Catalogue,
    Characteristic,
    Consumable,
    GaugeKind,
    Hazard,
    Method,
    Operation,
    Source,
)
from witnessmark.catalogue.steps import step_kind
from witnessmark.mechanics.laws import Law, laws
from witnessmark.quantity.unit import UnknownUnit, unit
from witnessmark.text.fault import Fault, Faulty, Path
from witnessmark.text.faults import from_validation
from witnessmark.text.read import Document, read

if TYPE_CHECKING:
    from witnessmark.catalogue import model

Entry = TypeVar("Entry")


@dataclass(frozen=True, slots=True)
class Part:
    """One file as far as it could be read: the text with its places, and its shape."""

    document: Document
    file: "model.File"


def load(texts: Mapping[str, str], known_laws: Mapping[str, Law] | None = None) -> Catalogue:
    """The catalogue in a set of file texts by name; `text.Faulty` tells every fault of every file.

    Files stand in the order of their `family.order`, entries in the order of their file.
    """
    parts, faults = _parts(texts)
    if faults:
        raise Faulty(faults)
    parts.sort(key=lambda part: (int(part.file.family.order), part.document.name))
    held = laws() if known_laws is None else known_laws
    faults = [*_twice(parts), *(fault for part in parts for fault in _figures(part))]
    if not faults:
        catalogue = _catalogue(parts, held)
        faults = list(faults_of(catalogue, held, [(part.document, part.file) for part in parts]))
    if faults:
        raise Faulty(sorted(faults, key=lambda fault: (fault.name, fault.line, fault.column)))
    return catalogue


def _parts(texts: Mapping[str, str]) -> tuple[list[Part], list[Fault]]:
    from pydantic import ValidationError  # wakes only when a catalogue is read

    from witnessmark.catalogue.model import File

    parts: list[Part] = []
    faults: list[Fault] = []
    for name, text in texts.items():
        try:
            document = read(text, name)
            parts.append(Part(document, File.model_validate(document.data)))
        except Faulty as found:
            faults += found.faults
        except ValidationError as error:
            faults += from_validation(error.errors(include_url=False), document, _allowed)
    return parts, faults


def _allowed(path: Path) -> tuple[str, ...]:
    """The keys that may stand at a path, so that a slip finds its near word."""
    from witnessmark.catalogue import model

    shapes: dict[str, Any] = {
        "characteristics": model.Characteristic,
        "gauge_kinds": model.GaugeKind,
        "methods": model.Method,
        "operations": model.Operation,
        "consumables": model.Consumable,
        "steps": model.Step,
        "hazards": model.Hazard,
        "sources": model.Source,
    }
    if not path:
        return tuple(model.File.model_fields)
    if len(path) == 2:
        return tuple(shapes[str(path[0])].model_fields) if path[0] in shapes else ()
    return tuple(model.Range.model_fields) if path[-1] == "usual" else ()


def _twice(parts: list[Part]) -> Iterator[Fault]:
    seen: dict[Path, str] = {}
    for part in parts:
        for path in _ids(part.file):
            if path in seen:
                message = f"'{path[1]}' already stands in {seen[path]}; keep one of the two"
                yield part.document.fault("duplicate_key", message, path, at_key=True)
            seen.setdefault(path, part.document.name)


def _ids(file: "model.File") -> Iterator[Path]:
    sections = ("characteristics", "gauge_kinds", "methods", "operations", "consumables", "steps", "hazards", "sources")
    for section in sections:
        yield from ((section, key) for key in getattr(file, section))


def _figures(part: Part) -> Iterator[Fault]:
    """Quantities that cannot be judged; units that are none, or of another dimension than the quantity beside them."""
    for key, entry in part.file.characteristics.items():
        if entry.quantity not in UNIT_INSIDE:
            known = ", ".join(UNIT_INSIDE)
            message = f"'{entry.quantity}' is no quantity that can be judged here; write one of {known}"
            yield part.document.fault("value", message, ("characteristics", key, "quantity"))
            continue
        if entry.quantity == NOTHING:
            yield from _nothing(part.document, entry, ("characteristics", key))
            continue
        ranges: dict[Path, model.Range | None] = {("usual",): entry.usual}
        ranges |= {("usual_by", side): each for side, each in entry.usual_by.items()}
        for way, each in ranges.items():
            if each is not None:
                path: Path = ("characteristics", key, *way)
                yield from _unit_fault(part.document, each.unit, entry.quantity, (*path, "unit"))
                if Fraction(each.low) >= Fraction(each.high):
                    message = f"low {each.low} is not below high {each.high}; were the two exchanged?"
                    yield part.document.fault("value", message, (*path, "low"))
    for key, gauge in part.file.gauge_kinds.items():
        yield from _unit_fault(part.document, gauge.unit, gauge.quantity, ("gauge_kinds", key, "unit"))


def _nothing(document: Document, entry: "model.Characteristic", path: Path) -> Iterator[Fault]:
    if entry.kind != "look":
        message = f"only a look may say no quantity, and kind is '{entry.kind}'; write what is measured"
        yield document.fault("value", message, (*path, "quantity"))
    for way in ("usual", "usual_by"):
        if getattr(entry, way):
            message = "nothing is said besides the answer, so it has no usual range; take it out, or name the quantity"
            yield document.fault("value", message, (*path, way))


def _unit_fault(document: Document, name: str, quantity: str, path: Path) -> Iterator[Fault]:
    try:
        unit(name, quantity)
    except UnknownUnit as error:
        yield document.fault("value", str(error), path)


def _catalogue(parts: list[Part], held: Mapping[str, Law]) -> Catalogue:
    files = [part.file for part in parts]
    sources = {key: Source(key, each.text, each.status) for file in files for key, each in file.sources.items()}
    characteristics = [item for file in files for item in file.characteristics.items()]
    operations = [item for file in files for item in file.operations.items()]
    hazards = [item for file in files for item in file.hazards.items()]
    steps = sorted((item for file in files for item in file.steps.items()), key=lambda item: int(item[1].order))
    return Catalogue(
        {key: _characteristic(key, each, held, sources) for key, each in characteristics},
        {key: _gauge_kind(key, each) for file in files for key, each in file.gauge_kinds.items()},
        {key: _operation(key, each) for key, each in operations},
        {key: Hazard(key, each.term, each.text.strip(), each.source) for key, each in hazards},
        sources,
        {key: _method(key, each) for file in files for key, each in file.methods.items()},
        {
            key: Consumable(key, each.term, each.per, each.when, each.source)
            for file in files
            for key, each in file.consumables.items()
        },
        {key: step_kind(key, each) for key, each in steps},
    )


def _method(key: str, each: "model.Method") -> Method:
    return Method(
        key,
        each.term,
        tuple(each.also),
        each.finds.strip(),
        each.misses.strip(),
        tuple(each.materials),
        each.proves == "yes",
        tuple(each.usual_first_for),
        each.hazard or "",
        each.source,
    )


def _operation(key: str, each: "model.Operation") -> Operation:
    return Operation(
        key, each.term, tuple(each.also), each.amount or "", each.direction, each.source, each.at, each.kind,
        int(each.order), each.by, tuple(each.gates), tuple(each.uses), tuple(each.check), each.finish or "",
        each.hazard or "",
    )  # fmt: skip


def _characteristic(
    key: str, entry: "model.Characteristic", held: Mapping[str, Law], sources: Mapping[str, Source]
) -> Characteristic:
    law = held.get(entry.law or "")
    said = {what: sources[source].text if source in sources else source for what, source in entry.sources.items()}
    return Characteristic(
        id=key,
        usual=_inside(entry.usual, entry.quantity) if entry.usual else None,
        usual_by={side: _inside(each, entry.quantity) for side, each in entry.usual_by.items()},
        extreme="" if entry.extreme == "both" else entry.extreme,
        law=entry.law or "",
        arguments=tuple(name for name, _ in law.arguments) if law else (),
        pairing=entry.pairing or "",
        of=entry.of or "",
        form=entry.form or "",
        usual_gauge=entry.gauge or "",
        hazard=entry.hazard or "",
        says=dict(entry.says),
        only_if=entry.only_if or "",
        core=entry.core == "yes",
        assembled=entry.assembled == "yes",
        sources={str(what): key for what, key in entry.sources.items()},
        source="; ".join(f"{what}: {text}" for what, text in said.items()),
        **_same(entry),
    )


def _same(entry: "model.Characteristic") -> dict[str, Any]:
    """What the value takes over as it is written."""
    words = ("term", "table", "group", "quantity", "kind", "at", "rule", "drawing")
    sentences = ("wears", "state", "measure", "out", "teach")
    lists = ("also", "stations", "quick", "optional", "remedies", "after", "gears", "drives", "layouts", "methods")
    found: dict[str, Any] = {name: getattr(entry, name) for name in words}
    found |= {name: getattr(entry, name).strip() for name in sentences}
    return found | {name: tuple(getattr(entry, name)) for name in lists}


def _inside(range_: "model.Range", quantity: str) -> tuple[float, float]:
    known = unit(range_.unit, quantity)
    return float(known.inside(Fraction(range_.low))), float(known.inside(Fraction(range_.high)))


def _gauge_kind(key: str, gauge: "model.GaugeKind") -> GaugeKind:
    known = unit(gauge.unit, gauge.quantity)

    def size(figure: str | None) -> float:
        return float(known.inside(Fraction(figure))) if figure else 0.0

    return GaugeKind(
        key,
        gauge.term,
        tuple(gauge.also),
        gauge.quantity,
        gauge.reads,
        known.name,
        size(gauge.resolution),
        size(gauge.U),
        float(gauge.k),
        float(gauge.relative or 0),
        size(gauge.repeatability),
        tuple(map(size, gauge.leaves)),
        tuple(gauge.leaves),
        size(gauge.leaf_error),
        gauge.teach.strip(),
        gauge.source,
    )
