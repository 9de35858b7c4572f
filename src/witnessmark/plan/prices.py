"""A shop's price list read: text in, prices out, or every fault of it at once with line and column.

    format: witnessmark-prices-1
    sheet: {name: HL-11, date: 2026-11-03, currency: EUR}
    work: {seat_cut: {cost: 18, minutes: 20, least: 0.03, most: 0.60, step: 0.01, tolerance: 0.01, unit: mm}}
    parts: [{id: valve-inl, fits: valve_replace, for: inl, cost: 29, brings: {margin: {value: 1.5, unit: mm}}}]
    stock: {lash_shim: {unit: mm, from: 2.00, to: 3.00, step: 0.02, cost: 9, on_hand: {2.48: 1}}}
    one_time: {head_gasket: 64.00}

What is not priced is not planned; what costs nothing says so.
"""

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from hashlib import sha256
from itertools import pairwise
from typing import TYPE_CHECKING, Any, TypeVar

from witnessmark.catalogue.entry import Catalogue
from witnessmark.catalogue.place import valve_kind
from witnessmark.engine.quantity import NEW, Quantity
from witnessmark.engine.tables import QUANTITIES
from witnessmark.limits.entry import Reader
from witnessmark.quantity.amount import Amount
from witnessmark.text.fault import Fault, Faulty, Path
from witnessmark.text.faults import from_validation
from witnessmark.text.near import did_you_mean
from witnessmark.text.read import read

if TYPE_CHECKING:
    from pydantic import BaseModel

    from witnessmark.plan import prices_model as model

    Shape = TypeVar("Shape", bound=BaseModel)

MOST_SIZES = 5000
SAME_SIZE = 1e-6  # mm: nearer than this two sizes are one
MONEY = r"[0-9]{1,9}([.][0-9]{1,2})?"
COVERAGE = 2.0  # a tolerance is entered as a half width at k = 2
BROUGHT: Mapping[str, Quantity] = {one.id.removeprefix("new_"): one for one in QUANTITIES if one.kind == NEW}


@dataclass(frozen=True, slots=True)
class WorkPrice:
    """How the shop does one operation. Lengths in mm; `tolerance` is a standard uncertainty; None where unsaid."""

    cost: float
    minutes: float
    least: float | None = None
    most: float | None = None
    step: float | None = None
    tolerance: float | None = None
    wait: int = 0


@dataclass(frozen=True, slots=True)
class PartPrice:
    """A part that can be bought; `brings` says quantity -> (value, standard uncertainty), in the units inside."""

    id: str
    fits: str
    for_: str
    cost: float
    number: str
    wait: int
    brings: Mapping[str, tuple[float, float]]

    def covers(self, location: str) -> bool:
        """Whether it fits at a place: a part for one side fits at that side's places."""
        return not self.for_ or valve_kind(location) == self.for_ or f"-{self.for_}" in f"-{location}"


@dataclass(frozen=True, slots=True)
class Stock:
    """Sizes that exist [mm], rising, with the texts they were written as; what lies on the shelf."""

    sizes: tuple[float, ...]
    texts: tuple[str, ...]
    unit: str
    cost: float
    on_hand: Mapping[float, int]
    most: float | None
    tolerance: float | None
    wait: int


@dataclass(frozen=True, slots=True)
class Prices:
    """A price list as the user wrote it, with the hash of its text."""

    name: str
    date: str
    invented: bool
    currency: str
    work: Mapping[str, WorkPrice]
    parts: tuple[PartPrice, ...]
    stock: Mapping[str, Stock]
    one_time: Mapping[str, float]
    hash: str = field(default="", compare=False)


def read_prices(text: str, name: str, catalogue: Catalogue) -> Prices:
    """The list in a text; `text.Faulty` tells every fault."""
    from witnessmark.plan import prices_model as model

    reader = Reader(read(text, name))
    outline = _shaped(reader, model.Outline, reader.document.data, ())
    if outline is None:
        raise Faulty(_sorted(reader.faults))
    header = _shaped(reader, model.Header, outline.sheet, ("sheet",))
    work = dict(_work(reader, outline, catalogue))
    parts = tuple(_parts(reader, outline, catalogue))
    stock = dict(_stock(reader, outline, catalogue))
    one_time = dict(_one_time(reader, outline, catalogue))
    if reader.faults or header is None:
        raise Faulty(_sorted(reader.faults))
    return Prices(header.name, header.date or "", header.invented == "yes", header.currency, work, parts, stock,
                  one_time, sha256(text.encode()).hexdigest())  # fmt: skip


def json_schema(catalogue: Catalogue) -> dict[str, Any]:
    """The published JSON Schema of a price list (draft 2020-12); numbers may stand for their texts."""
    from witnessmark.limits.schema import DRAFT, loosened
    from witnessmark.plan.prices_model import File

    schema = loosened(File.model_json_schema(by_alias=True))
    for key in ("work", "stock"):
        schema["properties"][key]["propertyNames"] = {"enum": list(catalogue.operations)}
    return {"$schema": DRAFT, "title": "Witnessmark price list", **schema}


def _sorted(faults: list[Fault]) -> list[Fault]:
    return sorted(dict.fromkeys(faults), key=lambda fault: (fault.line, fault.column, fault.path))


def _shaped(reader: Reader, shape: "type[Shape]", data: Any, path: Path) -> "Shape | None":
    from pydantic import ValidationError

    try:
        return shape.model_validate(data)
    except ValidationError as error:
        found = [_worded({**each, "loc": (*path, *each["loc"])}) for each in error.errors(include_url=False)]
        reader.faults += from_validation(found, reader.document, _keys)
        return None


def _worded(error: dict[str, Any]) -> dict[str, Any]:
    """A complaint about the form of a text, with what to write in place of the pattern."""
    if error["type"] != "string_pattern_mismatch":
        return error
    text, key = str(error["input"])[:40], str(error["loc"][-1])
    if key == "cost":
        words = _no_money(text)
    elif key == "currency":
        words = f"'{text}' names no money; write its three capital letters, such as EUR"
    elif key == "minutes":
        words = f"'{text}' is no time in minutes; write digits such as 20, or 0 for none"
    else:
        words = f"'{text}' is no count; write a whole number such as 3, or 0 for none"
    return {**error, "type": "value_error", "ctx": {"error": words}}


def _no_money(text: str) -> str:
    if re.fullmatch(r"-[0-9.]+", text):
        return f"{text} is below nothing; write what is paid, such as 18 or 4.20, and 0 for what costs nothing"
    return f"'{text}' is no sum of money; write digits with at most two decimals, such as 18 or 4.20"


def _keys(path: Path) -> tuple[str, ...]:
    """The keys that may stand at a path, so that a slip finds its near word."""
    from witnessmark.plan import prices_model as model

    shapes: dict[tuple[str, int], Any] = {("work", 2): model.Work, ("parts", 2): model.Part, ("stock", 2): model.Stock}
    shape = model.File if not path else model.Header if path == ("sheet",) else shapes.get((str(path[0]), len(path)))
    return tuple(each.alias or key for key, each in shape.model_fields.items()) if shape else ("value", "u", "unit")


def _known(reader: Reader, name: str, catalogue: Catalogue, path: Path, *, at_key: bool) -> bool:
    if name in catalogue.operations:
        return True
    near = did_you_mean(name, catalogue.operations) or "; `witnessmark catalogue` lists what is done"
    reader.fault(f"no operation is called '{name}'{near}", path, at_key=at_key)
    return False


def _work(reader: Reader, outline: "model.Outline", catalogue: Catalogue) -> Iterator[tuple[str, WorkPrice]]:
    from witnessmark.plan.prices_model import Work

    for name, data in outline.work.items():
        path: Path = ("work", name)
        known = _known(reader, name, catalogue, path, at_key=True)
        found = _shaped(reader, Work, data, path)
        if found is None or not known:
            continue
        least, most, step, tolerance = (
            _length(reader, getattr(found, key), found.unit, (*path, key))
            for key in ("least", "most", "step", "tolerance")
        )
        if least is not None and most is not None and least > most:
            reader.fault(f"least {found.least} is above most {found.most}; exchange the two", (*path, "least"))
        if step == 0:
            reader.fault("a machine whose step is nothing sets nothing; leave `step` out", (*path, "step"))
        yield name, WorkPrice(float(found.cost), float(found.minutes), least, most, step,
                              None if tolerance is None else tolerance / COVERAGE, int(found.wait))  # fmt: skip


def _length(reader: Reader, text: str | None, name: str | None, path: Path) -> float | None:
    if text is None:
        return None
    if name is None:
        reader.fault(f"'{text}' needs its unit; add unit: mm or unit: in to this entry", path)
        return None
    found = _value(reader, text, name, "length", path)
    if found is not None and found.value < 0:
        reader.fault(f"{text} is below nothing; write what comes off or is put in as it is", path)
    return float(found.inside) if found else None


def _value(reader: Reader, text: str, name: str, dimension: str, path: Path) -> Amount | None:
    wanted = reader.unit_of(name, dimension, "what stands here", path)
    return reader.value(text, wanted, None, path) if wanted else None


def _parts(reader: Reader, outline: "model.Outline", catalogue: Catalogue) -> Iterator[PartPrice]:
    from witnessmark.plan.prices_model import Part

    seen: set[str] = set()
    for n, data in enumerate(outline.parts):
        path: Path = ("parts", n)
        found = _shaped(reader, Part, data, path)
        if found is None:
            continue
        if found.id in seen:
            reader.fault(f"the part '{found.id}' stands here for the second time; give this one another id", path)
        seen.add(found.id)
        if _known(reader, found.fits, catalogue, (*path, "fits"), at_key=False):
            brings = dict(_brings(reader, found, path))
            yield PartPrice(found.id, found.fits, found.for_ or "", float(found.cost), found.number or "",
                            int(found.wait), brings)  # fmt: skip


def _brings(reader: Reader, part: "model.Part", path: Path) -> Iterator[tuple[str, tuple[float, float]]]:
    for name, one in part.brings.items():
        here: Path = (*path, "brings", name)
        known = BROUGHT.get(name)
        if known is None:
            near = did_you_mean(name, BROUGHT) or f"; a part may bring {', '.join(BROUGHT)}"
            reader.fault(f"no new part brings '{name}'{near}", here, at_key=True)
            continue
        spelled = one.unit or part.unit
        if spelled is None:
            reader.fault(f"'{one.value}' needs its unit; add unit: to it, or to the part", here)
            continue
        value = _value(reader, one.value, spelled, known.dimension, (*here, "value"))
        u = _value(reader, one.u, spelled, known.dimension, (*here, "u")) if one.u is not None else None
        if u is not None and u.value < 0:
            reader.fault(f"a doubt of {one.u} is below nothing", (*here, "u"))
        if value is not None:
            yield name, (float(value.inside), float(u.inside) if u else 0.0)


def _stock(reader: Reader, outline: "model.Outline", catalogue: Catalogue) -> Iterator[tuple[str, Stock]]:
    from witnessmark.plan.prices_model import Stock as Shape

    for name, data in outline.stock.items():
        path: Path = ("stock", name)
        known = _known(reader, name, catalogue, path, at_key=True)
        found = _shaped(reader, Shape, data, path)
        if found is None or not known:
            continue
        wanted = reader.unit_of(found.unit, "length", "the size of a shim or gasket", (*path, "unit"))
        if wanted is None:
            continue
        texts = _texts(reader, found, path)
        sizes = {text: _value(reader, text, found.unit, "length", (*path, "sizes")) for text in texts}
        for text, size in sizes.items():
            if size is not None and size.value <= 0:
                reader.fault(f"a size of {text} does not exist; sizes are above nothing", (*path, "sizes"))
        held = {text: _value(reader, text, found.unit, "length", (*path, "on_hand", text)) for text in found.on_hand}
        _held(reader, held, (*path, "on_hand"))
        most, tolerance = (_length(reader, getattr(found, key), found.unit, (*path, key))
                           for key in ("most", "tolerance"))  # fmt: skip
        rising = sorted((float(size.inside), text) for text, size in sizes.items() if size is not None)
        for (one, text), (other, again) in pairwise(rising):
            if abs(one - other) < SAME_SIZE:
                reader.fault(f"{text} and {again} are one size; take one of them out", (*path, "sizes"))
        yield name, Stock(
            tuple(size for size, _ in rising), tuple(text for _, text in rising), wanted.name, float(found.cost),
            {float(size.inside): int(found.on_hand[text]) for text, size in held.items() if size is not None},
            most, None if tolerance is None else tolerance / COVERAGE, int(found.wait),
        )  # fmt: skip


def _held(reader: Reader, held: Mapping[str, Amount | None], path: Path) -> None:
    """Every size on the shelf once, and above nothing."""
    seen: dict[int, str] = {}
    for text, size in held.items():
        if size is None:
            continue
        if size.value <= 0:
            reader.fault(f"a size of {text} does not exist; sizes are above nothing", (*path, text), at_key=True)
        twin = seen.setdefault(round(float(size.inside) / SAME_SIZE), text)
        if twin != text:
            reader.fault(f"{twin} and {text} are one size; write it once, with all of them", (*path, text), at_key=True)


def _texts(reader: Reader, found: "model.Stock", path: Path) -> list[str]:
    """The sizes as texts: listed, or counted from one to another in exact decimals."""
    if found.sizes is not None:
        if found.from_ or found.to or found.step:
            reader.fault("sizes are listed already; take from, to and step out", path)
        twice = [text for text, count in Counter(found.sizes).items() if count > 1]
        if twice:
            reader.fault(f"the size {', '.join(twice)} stands here more than once; take it out", (*path, "sizes"))
        return list(dict.fromkeys(found.sizes))
    if not (found.from_ and found.to and found.step):
        reader.fault("no size stands here; write sizes: [2.00, 2.02], or from, to and step", path)
        return []
    written = [text.replace(",", ".") for text in (found.from_, found.to, found.step)]
    if not all(re.fullmatch(r"[0-9]+([.][0-9]+)?", text) for text in written):
        reader.fault("from, to and step are decimals, such as from: 2.00, to: 3.00, step: 0.02; "
                     "write fractions one by one as sizes: [1/64, 1/32]", path)  # fmt: skip
        return []
    low, high, step = (Fraction(text) for text in written)
    if step == 0:
        reader.fault("sizes cannot rise by a step of nothing; write what lies between two sizes", (*path, "step"))
        return []
    count = (high - low) / step
    if count < 0 or count > MOST_SIZES:
        reader.fault(f"from {found.from_} to {found.to} by {found.step} gives no size, or more than {MOST_SIZES}; "
                     "write the smaller as from, and a wider step", path)  # fmt: skip
        return []
    places = max(len(text.partition(".")[2]) for text in (written[0], written[2]))
    return [f"{float(low + n * step):.{places}f}" for n in range(int(count) + 1)]


def _one_time(reader: Reader, outline: "model.Outline", catalogue: Catalogue) -> Iterator[tuple[str, float]]:
    for name, text in outline.one_time.items():
        if name not in catalogue.consumables:
            near = did_you_mean(name, catalogue.consumables) or f"; write one of {', '.join(catalogue.consumables)}"
            reader.fault(f"no part that is used once is called '{name}'{near}", ("one_time", name), at_key=True)
        elif not isinstance(text, str) or not re.fullmatch(MONEY, text):
            reader.fault(_no_money(str(text)[:40]), ("one_time", name))
        else:
            yield name, float(text)
