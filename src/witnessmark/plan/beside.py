"""What the geometry does not reckon with and a plan must still answer: cracks, bolts, seals, camshafts, chains.

Each row that is out has its remedies in the catalogue, in the order in which the trade tries them. The cheapest one
that the book leaves open and the shop has a price for is taken; work that puts in a part counts for the row and for
every other row of the same place that it cures.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import Any

from witnessmark.catalogue.entry import Catalogue
from witnessmark.engine.model import Model
from witnessmark.engine.place import PlaceError, location
from witnessmark.engine.walk import locations, related
from witnessmark.judge.result import CLOSE, OUT, Result
from witnessmark.limits.sheet import Sheet
from witnessmark.plan.prices import Prices
from witnessmark.plan.result import Item

Note = tuple[str, Mapping[str, Any]]
ENGINE = "engine"
KIND = {"bank": "head", "cam": "cam", "chamber": "chamber", "valve": "valve"}
CASTING = "head_replace"
OF_THE_CASTING = frozenset(
    {"cam_bore", "cam_cap", "chamber", "gasket_face", "guide", "head", "manifold_face", "seat", "upper_face"}
)  # where what is read comes new with another casting
BEARS_ITSELF = "must be proven bad"


@dataclass(frozen=True, slots=True)
class Demand:
    """A row that is out and that one of some (operation, place) of the planner's own choices cures."""

    ways: tuple[tuple[str, str], ...]
    facts: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Beside:
    """Items for what is out beside the geometry, rows for which nothing is open, demands on the plan itself, and rows
    that are answered by what is done anyway."""

    items: tuple[Item, ...]
    open_rows: tuple[Note, ...]
    demands: tuple[Demand, ...] = ()
    cured: tuple[Mapping[str, Any], ...] = ()


def beside(
    results: Iterable[Result], model: Model, sheet: Sheet | None, prices: Prices | None, catalogue: Catalogue,
    forbid: Sequence[tuple[str, str]] = (), offered: Iterable[tuple[str, str]] = (),
    done: Iterable[tuple[str, str]] = (),
) -> Beside:  # fmt: skip
    """What to do for every result that is out, or too close where it must be proven good, and that no law moves.

    Where one of its remedies is `offered` to the planner (operation, place) anyway, the row is its demand; where one is
    `done` in any case, it is answered. What another casting brings along is answered by it as well.
    """
    known, sure = set(offered), set(done)
    cured: list[Mapping[str, Any]] = []
    demands: list[Demand] = []
    found: dict[tuple[str, str], list[Note]] = {}
    asked: list[Note] = []
    for one in results:
        if one.characteristic in model.laws or not _asks(one):
            continue
        facts = {"characteristic": one.characteristic, "location": one.location, "verdict": one.verdict}
        if demanded(one, model, catalogue, sure) or _cast(one, model, catalogue, sure):
            cured.append(facts)
            continue
        if one.verdict == CLOSE:
            asked.append(("measure better", facts))
            continue
        ways = demanded(one, model, catalogue, known)
        chosen = _remedy(one, model, sheet, prices, catalogue, (*forbid, *((name, "") for name, _ in known)))
        if ways and (chosen is None or _dear(chosen, prices) >= min(_dear(way, prices) for way in ways)):
            demands.append(Demand(ways, facts))
            continue
        if chosen is None:
            asked.append(("no remedy", facts))
        else:
            found.setdefault(chosen, []).append(("answers", facts))
    items = tuple(_item(operation, place, prices, tuple(reasons)) for (operation, place), reasons in found.items())
    return Beside(items, tuple(asked), tuple(demands), tuple(cured))


def _cast(one: Result, model: Model, catalogue: Catalogue, done: set[tuple[str, str]]) -> bool:
    """Whether a row belongs to a casting that is replaced."""
    if catalogue.characteristics[one.characteristic].at not in OF_THE_CASTING:
        return False
    return (CASTING, place_of(one.location, KIND["bank"], model)) in done


def demanded(
    one: Result, model: Model, catalogue: Catalogue, offered: set[tuple[str, str]]
) -> tuple[tuple[str, str], ...]:
    """The remedies of a row that the planner may choose from, each with its place."""
    ways = []
    for name in catalogue.characteristics[one.characteristic].remedies:
        operation = catalogue.operations.get(name)
        if operation is not None:
            way = name, place_of(one.location, _kind_of_place(model, name, operation.at), model)
            ways += [way] if way in offered else []
    return tuple(ways)


def _kind_of_place(model: Model, name: str, at: str) -> str:
    """Where the geometry does an operation: at the valve of a spring, at the head of a face."""
    working = model.operations.get(name)
    return ENGINE if working and working.axis == ENGINE else KIND[working.axis] if working else at


def _asks(one: Result) -> bool:
    if one.verdict == OUT:
        return True
    return one.verdict == CLOSE and (one.against is None or one.against.bearer != BEARS_ITSELF)


def _remedy(
    one: Result, model: Model, sheet: Sheet | None, prices: Prices | None, catalogue: Catalogue,
    forbid: Sequence[tuple[str, str]],
) -> tuple[str, str] | None:  # fmt: skip
    """(operation, place) of the cheapest remedy that is open; the catalogue's order decides between equals."""
    ways = []
    for rank, name in enumerate(catalogue.characteristics[one.characteristic].remedies):
        operation = catalogue.operations.get(name)
        if operation is None or _forbidden(name, sheet) or (name, "") in forbid:
            continue
        place = place_of(one.location, operation.at, model)
        cost = _cost(name, place, prices) if place else None
        if cost is not None and (name, place) not in forbid:
            ways.append((cost, rank, name, place))
    if not ways:
        return None
    _, _, name, place = min(ways)
    return name, place


def place_of(where: str, at: str, model: Model) -> str:
    """Where an operation is done for a row: the head of a face, the valve of a seat; "" where it has no such place."""
    if at == ENGINE:
        return ENGINE
    try:
        return related(where, at, model.layout)
    except PlaceError:
        here = location(where)
        return here if here in locations(model.layout, at) else ""


def _forbidden(name: str, sheet: Sheet | None) -> bool:
    said = sheet.allowed.get(name) if sheet else None
    return said is not None and said.allowed == "no"


def _cost(name: str, place: str, prices: Prices | None) -> float | None:
    """Of the work and of the cheapest part that fits there; None where the shop has no price for the work."""
    if prices is None:
        return 1.0
    work = prices.work.get(name)
    part = min((one.cost for one in prices.parts if one.fits == name and one.covers(place)), default=0.0)
    return None if work is None else work.cost + part


def _dear(way: tuple[str, str], prices: Prices | None) -> float:
    cost = _cost(*way, prices)
    return inf if cost is None else cost


def _item(name: str, place: str, prices: Prices | None, reasons: tuple[Note, ...]) -> Item:
    work = prices.work.get(name) if prices else None
    cost = _cost(name, place, prices)
    assert cost is not None  # it was chosen by its price
    return Item(name, place, None, None, None, cost, work.minutes if work else 0.0, reasons)
