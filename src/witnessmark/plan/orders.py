"""What a plan comes to on paper: work in order for the shop, parts to buy, one-time-use parts that follow."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from witnessmark.catalogue.entry import Catalogue, Consumable
from witnessmark.engine.shape import Layout
from witnessmark.engine.walk import locations
from witnessmark.fit.stack import MOST_STACK, stack
from witnessmark.plan.prices import PartPrice, Prices, Stock
from witnessmark.plan.result import Item

SHOP, BENCH = "shop", "bench"
SAME = 1e-6  # mm
ONE_PIECE = ("gasket", "lash_shim", "pushrod_replace")  # the amount is the size of one thing; all else is stacked
BY_SIZE = ("shim", "gasket")  # kinds of work that put in something of a size
NO_LIST = "sizes were not entered"
NO_STACK = "no sizes on the list make it"
SINGLE_USE = "single use, by the sheet"
CALLS = {"head_off": "head off", "drive_off": "drive off", "injectors_out": "injectors out"}
DRIVEN = ("drive_replace", "cam_replace", "line_bore", "time_cam")  # work for which the cam drive comes off


@dataclass(frozen=True, slots=True)
class Group:
    """One kind of work with all its places, and the gates that stand before it for the first time."""

    operation: str
    items: tuple[Item, ...]
    gates: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PartLine:
    """One line of a parts order. `each` is None where nobody has a price for it.

    A `size` that nothing on the list makes is named as it is needed, and `why` says so: NO_LIST or NO_STACK.
    """

    id: str
    term: str
    number: str
    quantity: int
    each: float | None
    why: str  # operation, or one of CALLS, SINGLE_USE, NO_LIST, NO_STACK
    wait: int
    size: float | None = None  # of a shim or gasket, in mm

    @property
    def cost(self) -> float | None:
        """Of all of them."""
        return None if self.each is None else self.each * self.quantity


def groups(items: Sequence[Item], catalogue: Catalogue) -> tuple[Group, ...]:
    """Items in working order, one group for each operation; a gate stands before the first that asks for it."""
    ordered = sorted(items, key=lambda one: (catalogue.operations[one.operation].order, one.operation))
    told: set[str] = set()
    found = []
    for operation, several in groupby(ordered, key=lambda one: one.operation):
        fresh = tuple(name for name in catalogue.operations[operation].gates if name not in told)
        told |= set(fresh)
        found.append(Group(operation, tuple(several), fresh))
    return tuple(found)


def parts(
    items: Sequence[Item], layout: Layout, prices: Prices | None, catalogue: Catalogue, single_use: Collection[str] = ()
) -> tuple[PartLine, ...]:
    """Everything to buy: what the work puts in, shims and gaskets by size, and what is used once.

    `single_use` are consumables that the service information calls so, whatever the work is, such as head_bolt.
    """
    lines = [*_put_in(items, prices, catalogue), *_sizes(items, prices, catalogue)]
    return (*lines, *_once(items, layout, prices, catalogue, single_use))


def _put_in(items: Sequence[Item], prices: Prices | None, catalogue: Catalogue) -> Iterable[PartLine]:
    counted: dict[tuple[str, str], int] = {}
    known: dict[str, PartPrice] = {}
    for item in items:
        if item.amount is not None and _sized(item, prices, catalogue):
            continue
        listed = prices.parts if prices else ()
        fits = [one for one in listed if one.fits == item.operation and one.covers(item.location)]
        part = min(fits, key=lambda one: one.cost, default=None)
        if part is None and not _new(item, catalogue):
            continue
        name = part.id if part else item.operation
        if part:
            known[name] = part
        counted[name, item.operation] = counted.get((name, item.operation), 0) + 1
    for (name, why), quantity in counted.items():
        found = known.get(name)
        if found is None:  # nobody has a price for it, and it must be bought all the same
            yield PartLine(name, catalogue.operations[why].term, "", quantity, None, why, 0)
        else:
            yield PartLine(name, name.replace("-", " "), found.number, quantity, found.cost, why, found.wait)


def _new(item: Item, catalogue: Catalogue) -> bool:
    """Whether it puts in something to be bought; a one-time-use part stands among those."""
    operation = catalogue.operations[item.operation]
    return operation.kind in ("part", *BY_SIZE) and not operation.uses


def _sized(item: Item, prices: Prices | None, catalogue: Catalogue) -> bool:
    """Whether what it puts in is bought by size."""
    listed = prices is not None and item.operation in prices.stock
    return listed or catalogue.operations[item.operation].kind in BY_SIZE


def _sizes(items: Sequence[Item], prices: Prices | None, catalogue: Catalogue) -> Iterable[PartLine]:
    """Shims that are bought and a gasket of another size: what costs nothing lies on the shelf or on the engine."""
    counted: dict[tuple[str, float, str], int] = {}
    for item in items:
        if item.amount is None or not _sized(item, prices, catalogue):
            continue
        if item.operation == "lash_shim" and item.cost == 0:
            continue
        stock = prices.stock.get(item.operation) if prices else None
        pieces = _pieces(item.operation, item.amount, stock) if stock else ()
        why = item.operation if pieces else NO_STACK if stock else NO_LIST
        for size in pieces or (item.amount,):
            counted[item.operation, size, why] = counted.get((item.operation, size, why), 0) + 1
    for (operation, size, why), quantity in sorted(counted.items()):
        term = catalogue.operations[operation].term
        stock = prices.stock[operation] if prices and why == operation else None
        each, wait = (stock.cost, stock.wait) if stock else (None, 0)
        yield PartLine(operation, term, "", quantity, each, why, wait, size)


def _pieces(operation: str, amount: float, stock: Stock) -> tuple[float, ...]:
    """The sizes that make an amount, the fewest of a stack; none where nothing on the list does."""
    if operation in ONE_PIECE:
        return tuple(size for size in stock.sizes if abs(size - amount) < SAME)
    if not 0 < amount <= MOST_STACK:
        return ()
    found = stack(amount, 0.0, 0.0, 0.0, stock.sizes, MOST_STACK)
    return found.pieces if found else ()


def _once(
    items: Sequence[Item], layout: Layout, prices: Prices | None, catalogue: Catalogue, single_use: Collection[str]
) -> Iterable[PartLine]:
    """What is never used again: as head or drive have been off, an operation takes it, or the book says so."""
    done = sorted({item.operation for item in items}, key=lambda name: (catalogue.operations[name].order, name))
    driven = not set(DRIVEN).isdisjoint(done) or not layout.cam_in_block  # with the camshaft in the head it is off
    gaskets = sum(item.operation == "gasket" for item in items)
    for one in catalogue.consumables.values():
        used = [name for name in done if one.id in catalogue.operations[name].uses]
        single = one.id in single_use
        if one.when == "used" and not single and (not used or _bought(used, prices)):
            continue
        if (one.when == "drive_off" and not driven) or not _has(layout, one):
            continue
        quantity = _quantity(one, layout, items, () if single else used)
        quantity -= gaskets if one.id == "head_gasket" else 0
        if quantity <= 0:
            continue
        each = prices.one_time.get(one.id) if prices else None
        why = SINGLE_USE if single else used[0] if one.when == "used" else CALLS[one.when]
        yield PartLine(one.id, one.term, "", quantity, each, why, 0)


def _has(layout: Layout, one: Consumable) -> bool:
    """Whether the engine has such a thing at all, by what was said of it."""
    if one.when == "injectors_out":
        return layout.fuel == "diesel"
    lacking = {"coolant": layout.cooling == "air", "stem_seal": layout.seal == "none"}
    return not lacking.get(one.id, False)


def _bought(used: Sequence[str], prices: Prices | None) -> bool:
    """Whether it stands among the parts that the work puts in."""
    return prices is not None and any(part.fits in used for part in prices.parts)


def _quantity(one: Consumable, layout: Layout, items: Sequence[Item], used: Sequence[str]) -> int:
    heads = len(layout.banks)
    count = {
        "head": heads, "valve": len(locations(layout, "valve")), "bolt": layout.head_bolts * heads,
        "chamber": layout.cylinders, "cam": len(locations(layout, "cam")), "engine": 1,
    }[one.per]  # fmt: skip
    if used and one.per == "bolt":
        banks = {item.location for item in items if item.operation in used}
        return layout.head_bolts * max(len(banks), 1)
    return count
