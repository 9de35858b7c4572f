"""What must hold between the entries of a catalogue: names that exist, units that agree, nothing dead."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from witnessmark.catalogue.entry import (
    UNIT_INSIDE,
    Catalogue,
    Characteristic,
    GaugeKind,
    Hazard,
    Method,
    Operation,
    meet,
)
from witnessmark.catalogue.steps import StepKind, step_faults
from witnessmark.mechanics.laws import Law
from witnessmark.text.fault import Fault, Path
from witnessmark.text.near import did_you_mean
from witnessmark.text.read import Document

if TYPE_CHECKING:
    from witnessmark.catalogue import model

Found = tuple[Path, str]  # way to the place, message


def faults_of(
    catalogue: Catalogue, laws: Mapping[str, Law], files: "Sequence[tuple[Document, model.File]]"
) -> Iterator[Fault]:
    """Every fault between entries, each at its place in its file."""
    for document, file in files:
        for path, message in _of_file(catalogue, laws, file):
            yield document.fault("value", message, path, at_key=len(path) == 2)  # of an entry as a whole


def _of_file(catalogue: Catalogue, laws: Mapping[str, Law], file: "model.File") -> Iterator[Found]:
    for key in file.characteristics:
        entry = catalogue.characteristics[key]
        checks = (_names, _kind, _look, _gauge, _only_if, _sources)
        for check in checks:
            yield from ((("characteristics", key, *way), message) for way, message in check(entry, catalogue))
        found = (*_stations(entry), *_law(entry, catalogue, laws))
        yield from ((("characteristics", key, *way), message) for way, message in found)
    for key in file.gauge_kinds:
        gauge = catalogue.gauge_kinds[key]
        yield from ((("gauge_kinds", key, *way), said) for way, said in _gauge_kind(gauge, catalogue))
    for section in ("methods", "operations", "consumables", "hazards"):
        for key, each in getattr(file, section).items():
            yield from _known((section, key, "source"), each.source, catalogue.sources, "source")
    for key, way_of_looking in file.methods.items():
        if way_of_looking.hazard:
            yield from _known(("methods", key, "hazard"), way_of_looking.hazard, catalogue.hazards, "hazard")
    for key in file.operations:
        yield from ((("operations", key, *way), said) for way, said in _operation(catalogue.operations[key], catalogue))
    for key in file.steps:
        yield from ((("steps", key, *way), said) for way, said in step_faults(key, catalogue))
    yield from _dead(catalogue, file)


def _operation(one: Operation, catalogue: Catalogue) -> Iterator[Found]:
    for number, name in enumerate(one.uses):
        yield from _known(("uses", number), name, catalogue.consumables, "consumable")
    for number, name in enumerate(one.check):
        yield from _known(("check", number), name, catalogue.characteristics, "characteristic")
    if one.hazard:
        yield from _known(("hazard",), one.hazard, catalogue.hazards, "hazard")


def _known(way: Path, name: str, choices: Iterable[str], what: str) -> Iterator[Found]:
    if name not in choices:
        yield way, f"no {what} is called '{name}'{did_you_mean(name, choices) or '; add it, or name another'}"


def _names(entry: Characteristic, catalogue: Catalogue) -> Iterator[Found]:
    for number, remedy in enumerate(entry.remedies):
        yield from _known(("remedies", number), remedy, catalogue.operations, "operation")
    for number, other in enumerate(entry.after):
        yield from _known(("after", number), other, catalogue.characteristics, "characteristic")
    if entry.hazard:
        yield from _known(("hazard",), entry.hazard, catalogue.hazards, "hazard")
    order = list(catalogue.characteristics)
    for number, other in enumerate(entry.after):
        if other in order and order.index(other) >= order.index(entry.id):
            message = f"{entry.id} stands before {other} in the bench order and comes after it; move one of the two"
            yield ("after", number), message


def _kind(entry: Characteristic, catalogue: Catalogue) -> Iterator[Found]:
    needs = {"law": "derived", "pairing": "derived", "of": "form", "form": "form"}
    for key, kind in needs.items():
        if bool(getattr(entry, key)) != (entry.kind == kind):
            cure = f"write `{key}:`" if entry.kind == kind else f"take it out, or write kind: {kind}"
            yield (key,), f"{entry.id} is of kind '{entry.kind}', and `{key}` belongs to kind '{kind}'; {cure}"
    if entry.of:
        yield from _known(("of",), entry.of, catalogue.characteristics, "characteristic")
        of = catalogue.characteristics.get(entry.of)
        if of is not None and (len(of.stations) < 2 or of.kind != "number"):
            yield ("of",), f"{entry.of} has no two stations to compare; a form is taken over several numbers"


def _look(entry: Characteristic, catalogue: Catalogue) -> Iterator[Found]:
    for number, method in enumerate(entry.methods):
        yield from _known(("methods", number), method, catalogue.methods, "method")
    if entry.kind != "look":
        for key in ("says", "methods"):
            if getattr(entry, key):
                yield (key,), f"{entry.id} is of kind '{entry.kind}', and `{key}` belongs to a look; take it out"
        return
    if not 2 <= len(entry.says) <= 6:
        yield ("says",), f"{entry.id} has {len(entry.says)} answers; a look has two to six, one for each key"
    if entry.says and next(iter(entry.says.values())) != "good":
        yield ("says",), "the first key is the usual good answer; put that one first"
    if not entry.methods:
        yield ("methods",), "nothing says how to look; name at least one method, the usual one first"
    if entry.rule not in ("each", "worst") or entry.extreme:
        yield ("rule",), "answers have no mean and no least; write rule: each or worst, and extreme: both"


def _only_if(entry: Characteristic, catalogue: Catalogue) -> Iterator[Found]:
    if not entry.only_if:
        return
    yield from _known(("only_if",), entry.only_if, catalogue.characteristics, "characteristic")
    first = catalogue.characteristics.get(entry.only_if)
    if first is None:
        return
    order = list(catalogue.characteristics)
    if order.index(first.id) >= order.index(entry.id):
        yield (
            ("only_if",),
            f"{entry.id} waits for {first.id} and stands before it in the bench order; move one of the two",
        )
    if not meet(first.at, entry.at):
        yield ("only_if",), f"{entry.id} is at '{entry.at}' and {first.id} at '{first.at}': they do not meet"


def _gauge(entry: Characteristic, catalogue: Catalogue) -> Iterator[Found]:
    if not entry.measured or entry.kind == "look":
        if entry.usual_gauge:
            said = "looked at" if entry.kind == "look" else "worked out"
            yield ("gauge",), f"{entry.id} is {said}, not read; take the gauge out"
        return
    yield from _known(("gauge",), entry.usual_gauge, catalogue.gauge_kinds, "gauge kind")
    gauge = catalogue.gauge_kinds.get(entry.usual_gauge)
    if gauge is None:
        return
    if gauge.quantity != entry.quantity:
        yield ("gauge",), f"a {gauge.term} reads a {gauge.quantity}, and {entry.id} is a {entry.quantity}; name another"
    if (gauge.reads == "leaves") != (entry.kind == "leaves"):
        yield ("kind",), f"a {gauge.term} reads {gauge.reads}, and kind is '{entry.kind}'; let the two agree"


def _stations(entry: Characteristic) -> Iterator[Found]:
    words = (*entry.stations, *entry.optional)
    for number, word in enumerate(words):
        if word in words[:number]:
            yield ("stations",), f"station '{word}' is written twice; keep one"
    for number, word in enumerate(entry.quick):
        yield from _known(("quick", number), word, entry.stations, "station")
    if entry.quick and not entry.measured:
        yield ("quick",), f"{entry.id} is worked out where its readings are; take `quick` out"
    if entry.rule != "each" and not entry.stations:
        yield ("rule",), f"rule '{entry.rule}' needs several stations and {entry.id} has one; write rule: each"


def _sources(entry: Characteristic, catalogue: Catalogue) -> Iterator[Found]:
    for what, name in entry.sources.items():
        yield from _known(("sources", what), name, catalogue.sources, "source")
    needed = {"measure": True, "usual": entry.usual is not None or bool(entry.usual_by), "law": bool(entry.law)}
    for what, need in needed.items():
        if need and what not in entry.sources:
            yield ("sources",), f"nothing says where `{what}` comes from; add `{what}:` with a key of sources.yaml"
        if not need and what in entry.sources:
            yield ("sources", what), f"there is no `{what}` in {entry.id} that could have a source; take it out"


def _law(entry: Characteristic, catalogue: Catalogue, laws: Mapping[str, Law]) -> Iterator[Found]:
    if not entry.law:
        return
    yield from _known(("law",), entry.law, laws, "law")
    law = laws.get(entry.law)
    if law is None:
        return
    if law.unit != UNIT_INSIDE.get(entry.quantity, law.unit):
        right = next((quantity for quantity, unit in UNIT_INSIDE.items() if unit == law.unit), law.unit)
        said = f"'{entry.quantity}' is not what law '{law.name}' gives, which is {law.unit}"
        yield ("quantity",), f"{said}; write '{right}', or name another law"
    for name, unit in law.arguments:
        argument = catalogue.characteristics.get(name)
        if argument is None:
            near = did_you_mean(name, catalogue.characteristics)
            yield ("law",), f"law '{law.name}' takes '{name}', which is no characteristic here{near or '; add it'}"
        else:
            yield from _argument(entry, argument, unit)


def _argument(entry: Characteristic, argument: Characteristic, unit: str) -> Iterator[Found]:
    taken = UNIT_INSIDE.get(argument.quantity, argument.quantity)
    if taken != unit:
        yield ("law",), f"law '{entry.law}' takes {argument.id} in {unit}, and {argument.id} is in {taken}"
    if not meet(argument.at, entry.at):
        yield ("at",), f"{entry.id} is at '{entry.at}' and {argument.id} at '{argument.at}': they do not meet"
    if entry.pairing == "station" and argument.stations and argument.stations != entry.stations:
        said = f"paired by station, {entry.id} and {argument.id} must list the same stations"
        yield ("stations",), f"{said}; copy those of {argument.id}"


def _gauge_kind(gauge: GaugeKind, catalogue: Catalogue) -> Iterator[Found]:
    yield from _known(("source",), gauge.source, catalogue.sources, "source")
    if (gauge.reads == "leaves") != bool(gauge.leaves):
        yield ("leaves",), "a set of leaves belongs to a gauge that reads leaves, and to no other; let the two agree"
    if gauge.leaves != tuple(sorted(set(gauge.leaves))):
        yield ("leaves",), "leaves stand from thin to thick, each once; put them in order"
    if gauge.reads == "size" and gauge.resolution:
        yield ("resolution",), "what holds a size shows no step; take the resolution out"
    if gauge.reads in ("number", "deviation") and not (gauge.resolution > 0 and (gauge.U > 0 or gauge.relative > 0)):
        yield ("resolution",), "a gauge that reads numbers needs a resolution and a doubt above nothing; add both"


def _dead(catalogue: Catalogue, file: "model.File") -> Iterator[Found]:
    """Hazards, methods and sources that nobody names. A gauge kind or an operation may wait for a user to name it."""
    entries = catalogue.characteristics.values()
    others: list[GaugeKind | Method | Operation | StepKind | Hazard] = [
        *catalogue.gauge_kinds.values(),
        *catalogue.methods.values(),
        *catalogue.operations.values(),
        *catalogue.steps.values(),
        *catalogue.hazards.values(),
    ]
    named = {
        "hazards": {entry.hazard for entry in entries} | {each.hazard for each in catalogue.methods.values()}
        | {each.hazard for each in catalogue.operations.values()}
        | {hazard for each in catalogue.steps.values() for hazard in each.hazards},
        "methods": {method for entry in entries for method in entry.methods},
        "sources": {key for entry in entries for key in entry.sources.values()} | {each.source for each in others},
    }
    for section, used in named.items():
        for key in getattr(file, section):
            if key not in used:
                yield (section, key), f"no entry names '{key}'; take it out, or name it where it belongs"
