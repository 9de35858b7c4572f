"""What may be done: every operation that this engine, the book, the shop's prices and the user's word leave open.

The book speaks first: what it forbids is not planned. What it does not mention is planned only where it puts in a new
part or sets what is meant to be set; metal off is asked for, and the question says what it would open. A price list
that does not name an operation closes it too, and says so: work without a price cannot be compared.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from witnessmark.catalogue.entry import Catalogue
from witnessmark.engine.model import Model
from witnessmark.engine.operation import Working
from witnessmark.limits.limit import Allowed
from witnessmark.limits.sheet import Sheet
from witnessmark.plan.margins import Offer
from witnessmark.plan.prices import PartPrice, Prices, Stock, WorkPrice

ASKED_FIRST = ("metal", "gasket", "repair", "shim")  # kinds that need the book's yes
SET_LATER = ("lash_shim", "lash_adjust")  # chosen after re-measuring, never by the plan
PLAIN_TOLERANCE = 0.005  # mm: half of a hundredth, where the list says nothing of the machine
USUAL_MOST = 0.60  # mm: no single cut of a plan is deeper, where nobody says more
USUAL_LEAST = 0.03  # mm: what a cutter takes to clean up
USUAL_STEP = 0.01
MOST_HEIGHTS = 200  # of stacks of shims: beyond, more pieces give no other height that a bench can tell

Note = tuple[str, Mapping[str, Any]]


@dataclass(frozen=True, slots=True)
class Open:
    """What a plan may choose from; what it must ask the book; what is closed and why."""

    offers: tuple[Offer, ...]
    questions: tuple[Note, ...]
    closed: tuple[Note, ...]


@dataclass(frozen=True, slots=True)
class Wish:
    """What the user says to the plan: pinned cuts (operation, location, amount), forbidden ones ("" is everywhere)."""

    pins: tuple[tuple[str, str, float], ...] = ()
    forbid: tuple[tuple[str, str], ...] = ()


def open_work(
    model: Model, sheet: Sheet | None, prices: Prices | None, catalogue: Catalogue, wish: Wish,
    removed: Mapping[tuple[str, str], float] | None = None, *, ask_nothing: bool = False,
) -> Open:  # fmt: skip
    """All offers of an engine. `removed` is what was taken off before (operation, location), in mm.

    `ask_nothing` opens what the book forbids or does not mention, to find out what would do.
    """
    offers: list[Offer] = []
    questions: list[Note] = []
    closed: list[Note] = []
    for name, working in model.operations.items():
        if name in SET_LATER or name not in catalogue.operations:
            continue
        said = sheet.allowed.get(name) if sheet else None
        word = permission(said, _kind(name, catalogue), name, sheet)
        if word != "open" and not ask_nothing:
            note = word, {"operation": name, "page": said.page if said else ""}
            (questions if word == "ask" else closed).append(note)
            continue
        priced = _priced(name, prices)
        if priced is None:
            closed.append(("no price", {"operation": name}))
            continue
        offers += _each(model, working, said, prices, catalogue, wish, removed or {})
    return Open(tuple(offers), tuple(questions), tuple(closed))


def _kind(name: str, catalogue: Catalogue) -> str:
    return catalogue.operations[name].kind


def permission(said: Allowed | None, kind: str, name: str, sheet: Sheet | None) -> str:
    """open | ask | the book says no."""
    if said is not None and said.allowed == "no":
        return "the book says no"
    if said is not None and said.allowed in ("yes", "up to"):
        return "open"
    if name in ("relief_top", "relief_bottom"):  # narrowing a band is part of cutting its seat
        cut = sheet.allowed.get("seat_cut") if sheet else None
        return permission(cut, "metal", "seat_cut", sheet)
    return "ask" if kind in ASKED_FIRST or said is not None else "open"


def _priced(name: str, prices: Prices | None) -> WorkPrice | None:
    """The shop's entry; without any list every operation counts one, so that the fewest are chosen."""
    if prices is None:
        return WorkPrice(cost=1.0, minutes=0.0)
    return prices.work.get(name)


def _each(
    model: Model, working: Working, said: Allowed | None, prices: Prices | None, catalogue: Catalogue, wish: Wish,
    removed: Mapping[tuple[str, str], float],
) -> Iterator[Offer]:  # fmt: skip
    """The offers of one operation, place by place."""
    price = _priced(working.id, prices)
    assert price is not None
    kind = _kind(working.id, catalogue)
    for element, location in enumerate(model.axes.locations[working.axis]):
        if (working.id, location) in wish.forbid or (working.id, "") in wish.forbid:
            continue
        for least, most, cost in _ranges(working, location, said, price, prices, removed):
            tolerance = 0.0 if working.switch else price.tolerance or PLAIN_TOLERANCE
            fixed = not working.switch and least == most
            size = f"={least:g}" if fixed else ""
            yield Offer(
                f"{working.id}@{location}{size}", working.id, location, element, least, most,
                None if working.switch or fixed else price.step or USUAL_STEP,
                price.cost + cost, price.minutes, kind, tolerance, price.wait,
            )  # fmt: skip


def _ranges(
    working: Working, location: str, said: Allowed | None, price: WorkPrice, prices: Prices | None,
    removed: Mapping[tuple[str, str], float],
) -> Iterable[tuple[float, float, float]]:  # fmt: skip
    """(least, most, cost of what is put in) of each way to do it here."""
    if working.switch:
        part = _part(prices, working.id, location)
        return [(1.0, 1.0, part.cost if part else 0.0)]
    stock = prices.stock.get(working.id) if prices else None
    if working.sets:
        return [(size, size, stock.cost) for size in stock.sizes] if stock else []
    most = price.most or (stock.most if stock else None) or USUAL_MOST
    if said is not None and said.most is not None:
        most = min(most, said.most - removed.get((working.id, location), 0.0))
    if stock is not None:  # shims: whole stacks of what there is
        return [(total, total, stock.cost * count) for total, count in _stacks(stock, min(most, stock.most or most))]
    least = price.least or USUAL_LEAST
    return [(least, most, 0.0)] if most >= least else []


def _stacks(stock: Stock, most: float) -> list[tuple[float, int]]:
    """Every height up to `most` that whole shims give, with the fewest pieces that give it."""
    found: dict[float, int] = {}
    reached, count = [0.0], 0
    while reached and len(found) < MOST_HEIGHTS:
        count += 1
        totals = {round(low + size, 6) for low in reached for size in stock.sizes}
        reached = sorted(total for total in totals if total <= most + 1e-9 and total not in found)
        found |= dict.fromkeys(reached, count)
    return sorted(found.items())


def _part(prices: Prices | None, operation: str, location: str) -> PartPrice | None:
    """The cheapest part of the list that fits here."""
    if prices is None:
        return None
    fits = [one for one in prices.parts if one.fits == operation and one.covers(location)]
    return min(fits, key=lambda one: one.cost, default=None)
