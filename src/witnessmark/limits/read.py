"""A limit sheet read: text in, sheet out, or every fault of it at once with line and column.

    format: witnessmark-limits-1
    sheet: {name: TN-3, document: Workshop book 7, doubt: must be proven good}
    limits:
      stem_diameter:
        - {for: inl, service: {low: 5.940}, new: {low: 5.965, high: 5.980}, unit: mm, stations: worst, page: 41}
    operations: {skim: {allowed: up to, most: 0.20, unit: mm, page: 40}, tip_grind: {allowed: no}}

Every value is text as the document prints it. One entry has one unit; a sheet may mix N, mm and inch. What is looked at
has `accept: [none]` in place of a range. `to_check: yes` marks an entry that was copied and not yet held against
the document.
"""

from collections.abc import Iterator
from hashlib import sha256
from typing import TYPE_CHECKING, Any, TypeVar

from witnessmark.catalogue.entry import Catalogue
from witnessmark.limits.check import contradictions, warnings
from witnessmark.limits.entry import Reader, limits_of
from witnessmark.limits.limit import Allowed, Limit, Sheet, indexed
from witnessmark.limits.procedure import Procedure, procedure
from witnessmark.quantity.unit import WORDS
from witnessmark.text.fault import Fault, Faulty, Path
from witnessmark.text.faults import from_validation
from witnessmark.text.near import did_you_mean
from witnessmark.text.read import read

if TYPE_CHECKING:
    from pydantic import BaseModel

    from witnessmark.limits import model

    Shape = TypeVar("Shape", bound=BaseModel)

MOST_LIMITS = 5000


def read_sheet(text: str, name: str, catalogue: Catalogue) -> Sheet:
    """The sheet in a text; `text.Faulty` tells every fault. What is odd but possible is in `Sheet.warnings`."""
    from witnessmark.limits import model

    reader = Reader(read(text, name))
    outline = _shaped(reader, model.Outline, reader.document.data, ())
    if outline is None:
        raise Faulty(_sorted(reader.faults))
    header = _shaped(reader, model.Header, outline.sheet, ("sheet",))
    stand_in = header or model.Header(name="?", document="?")  # so that the entries are read all the same
    placed = list(_placed(reader, outline, catalogue, stand_in))
    allowed = dict(_allowed(reader, outline, catalogue, stand_in))
    tightening = dict(_tightening(reader, outline, stand_in))
    reader.faults += (reader.document.fault(*said) for said in contradictions(placed))
    if reader.faults:
        raise Faulty(_sorted(reader.faults))
    limits = tuple(limit for limit, _ in placed)
    return Sheet(
        stand_in.name,
        stand_in.document,
        stand_in.invented == "yes" or stand_in.document.casefold() == "invented",
        stand_in.doubt,
        limits,
        allowed,
        tuple(_sorted([reader.document.fault(*said) for said in warnings(placed, catalogue)])),
        sha256(text.encode()).hexdigest(),
        text,
        indexed(limits),
        stand_in.copied_from or "",
        tightening,
    )


def _sorted(faults: list[Fault]) -> list[Fault]:
    return sorted(dict.fromkeys(faults), key=lambda fault: (fault.line, fault.column, fault.path))


def _shaped(reader: Reader, shape: "type[Shape]", data: Any, path: Path) -> "Shape | None":
    """Data in its shape, or None and the faults told; `path` is where the data stand in the sheet."""
    from pydantic import ValidationError

    try:
        return shape.model_validate(data)
    except ValidationError as error:
        found = [{**each, "loc": (*path, *each["loc"])} for each in error.errors(include_url=False)]
        reader.faults += from_validation(found, reader.document, _keys)
        return None


def _keys(path: Path) -> tuple[str, ...]:
    """The keys that may stand at a path, so that a slip finds its near word."""
    from witnessmark.limits import model

    shapes: dict[tuple[str, int], Any] = {("limits", 3): model.Entry, ("operations", 2): model.Operation,
                                           ("tightening", 2): model.TighteningEntry,
                                           ("tightening", 3): model.BoltEntry, ("tightening", 4): model.StageEntry}
    shape = model.File if not path else model.Header if path == ("sheet",) else shapes.get((str(path[0]), len(path)))
    if shape is None:
        return ("low", "high") if path[0] == "limits" else ()
    return tuple(each.alias or key for key, each in shape.model_fields.items())


def _placed(
    reader: Reader, outline: "model.Outline", catalogue: Catalogue, header: "model.Header"
) -> Iterator[tuple[Limit, Path]]:
    from witnessmark.limits.model import Entry

    if sum(map(len, outline.limits.values())) > MOST_LIMITS:
        reader.fault(f"more than {MOST_LIMITS} entries; split the sheet by engine", ("limits",))
        return
    for key, entries in outline.limits.items():
        known = catalogue.characteristics.get(key)
        if known is None:
            hint = did_you_mean(key, catalogue.characteristics) or "; `witnessmark catalogue` lists what is measured"
            reader.fault(f"no characteristic is called '{key}'{hint}", ("limits", key), at_key=True)
        for number, data in enumerate(entries):
            path: Path = ("limits", key, number)
            entry = _shaped(reader, Entry, data, path)
            if entry is not None and known is not None:
                for limit in limits_of(reader, entry, known, path, header):
                    yield limit, (*path, *_way(limit))


def _way(limit: Limit) -> Path:
    return (limit.kind,) if limit.kind in ("service", "new", "given") else ("other", limit.kind)


def _allowed(
    reader: Reader, outline: "model.Outline", catalogue: Catalogue, header: "model.Header"
) -> Iterator[tuple[str, Allowed]]:
    from witnessmark.limits.model import Operation

    for key, data in outline.operations.items():
        path: Path = ("operations", key)
        known = catalogue.operations.get(key)
        if known is None:
            near = did_you_mean(key, catalogue.operations) or f"; known: {', '.join(catalogue.operations)}"
            reader.fault(f"no operation is called '{key}'{near}", path, at_key=True)
        found = _shaped(reader, Operation, data, path)
        if found is not None and known is not None:
            most = _most(reader, found, known.amount, known.term, path)
            source = (found.document or header.document, found.page or "", reader.document.key_place(path)[0])
            yield key, Allowed(found.allowed, most, found.most or "", found.unit or "", *source)


def _tightening(
    reader: Reader, outline: "model.Outline", header: "model.Header"
) -> Iterator[tuple[str, Procedure]]:
    from witnessmark.limits.model import TighteningEntry

    for joint, data in outline.tightening.items():
        path: Path = ("tightening", joint)
        if not joint.replace("_", "").isalnum():
            cure = "write letters, digits and _ only, such as head or cam_caps"
            reader.fault(f"'{joint}' is no name of a joint; {cure}", path, at_key=True)
        entry = _shaped(reader, TighteningEntry, data, path)
        if entry is not None:
            found, faults = procedure(joint, data, header.document)
            for said, below in faults:
                reader.fault(said, (*path, *below))
            yield joint, found


def _most(reader: Reader, found: "model.Operation", amount: str, term: str, path: Path) -> float | None:
    """How much of an operation is allowed, in the unit inside."""
    if found.allowed != "up to":
        for key in ("most", "unit"):
            if getattr(found, key) is not None:
                message = f"'{found.allowed}' has no amount; write allowed: up to, or take `{key}` out"
                reader.fault(message, (*path, key))
        return None
    if not amount:
        reader.fault(f"'{term}' has no amount; write yes, no or unknown", (*path, "allowed"))
        return None
    if found.most is None or found.unit is None:
        reader.fault(f"'up to' needs `most` and `unit`, such as most: 0.20, unit: mm ({WORDS[amount]})", path)
        return None
    wanted = reader.unit_of(found.unit, amount, f"the amount of '{term}'", (*path, "unit"))
    value = reader.value(found.most, wanted, None, (*path, "most")) if wanted else None
    if value is not None and value.value <= 0:
        reader.fault(f"{found.most} is no amount above nothing; where none is allowed write no", (*path, "most"))
    return value.inside if value else None
