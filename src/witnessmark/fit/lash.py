"""Lash shims for a whole head: which goes where, what is swapped, what must be bought.

Every valve has a window of thickness in which its lash lies inside the limit. A shim may stay, come from another valve,
from the shelf, or be bought. First the most valves are served, then the fewest shims are bought, then the fewest are
moved, then the wanted thicknesses are met best, then what is on the engine is used before the shelf: one assignment
with costs that never mix, so the answer is exact. Valves and shims are put into an order of their own first, so the
order in which they were listed changes nothing.

Lengths in mm, shapes (n,) over valves.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from witnessmark.fit.fault import MOST_SIZE, SAME, FitFault, check_ends, check_length, check_size, check_sizes

STAYS, SWAPPED, SHELF, BOUGHT = "stays", "other place", "shelf", "bought"
TOO_THICK, TOO_THIN = "even the thinnest is too thick", "even the thickest is too thin"
BETWEEN, TAKEN = "no size lies between the limits", "what would fit serves another valve"
ON_SHELF, TO_BUY = -1, -2
EXACT = 2.0**52  # beyond this, whole numbers in floating point lose their last digit


@dataclass(frozen=True, slots=True)
class Given:
    """One valve and the shim it gets. `came_from` is the place that had it, "" off the shelf or bought."""

    place: str
    needed: float
    size: float
    source: str
    came_from: str
    left: float  # lash after it less the lash aimed at, positive where the shim is thin


@dataclass(frozen=True, slots=True)
class Unfit:
    """A valve that no shim is there for: why, by how much the thinnest is too thick or the thickest too thin."""

    place: str
    needed: float
    too_thick: float  # above 0: grind the tip by as much, or cut less
    too_thin: float  # above 0: a cap or a longer valve
    why: str  # TOO_THICK | TOO_THIN | BETWEEN | TAKEN
    below: float | None  # the nearest size under the window, where there is one
    above: float | None  # the nearest size over it


@dataclass(frozen=True, slots=True)
class Assignment:
    """What goes where; what is bought (size -> how many); chains of moves, each place giving to the next."""

    given: tuple[Given, ...]
    unfit: tuple[Unfit, ...]
    bought: Mapping[float, int]
    chains: tuple[tuple[str, ...], ...]

    @property
    def moved(self) -> int:
        """How many shims leave their place."""
        return sum(one.source != STAYS for one in self.given)


@dataclass(frozen=True, slots=True)
class _Valve:
    """What one valve needs and has."""

    place: str
    needed: float
    low: float
    high: float
    own: float | None

    def key(self) -> tuple[float, ...]:
        """What it needs in whole grains: alike for a list in inch and in mm, whatever floating point makes of it."""
        own = -1.0 if self.own is None else self.own
        return tuple(round(each / SAME) for each in (self.needed, self.low, self.high, own))


@dataclass(frozen=True, slots=True, eq=False)
class _Shims:
    """Every single shim that could be used: its size, and whose it is: a valve's index, ON_SHELF or TO_BUY.

    `fits` (valves, shims) says where it may go, `off` how many grains it lies from what is wanted there.
    """

    size: np.ndarray
    owner: np.ndarray
    fits: np.ndarray
    off: np.ndarray


def assign(
    places: Sequence[str], needed: Sequence[float], low: Sequence[float], high: Sequence[float],
    on_engine: Sequence[float | None], shelf: Mapping[float, int], sizes: Sequence[float],
) -> Assignment:  # fmt: skip
    """The best use of shims. `low` and `high` are the windows of thickness about `needed`; `sizes` can be bought.

    A shim whose size is not known (None) stays out of the exchange. Raises FitFault for what makes no sense.
    """
    if not len(places) == len(needed) == len(low) == len(high) == len(on_engine):
        raise FitFault(
            f"{len(places)} valves are named, and {len(needed)} needs, {len(low)} and {len(high)} ends of windows and "
            f"{len(on_engine)} shims on the engine are given; give each valve one of each, None for a shim not read"
        )
    listed = [_Valve(*each) for each in zip(places, needed, low, high, on_engine, strict=True)]
    _check(listed, shelf, sizes)
    valves = sorted(listed, key=lambda valve: (valve.key(), valve.place))
    shims = _shims(valves, _merged(shelf), sorted(sizes))
    chosen = _matched(shims)
    given = {valves[n].place: _given(valves, n, shims, at) for n, at in chosen.items()}
    known = sorted({*sizes, *shelf, *(valve.own for valve in valves if valve.own is not None)})
    bought: dict[float, int] = {}
    for one in sorted(given.values(), key=lambda one: one.size):
        if one.source == BOUGHT:
            bought[one.size] = bought.get(one.size, 0) + 1
    return Assignment(
        tuple(given[place] for place in places if place in given),
        tuple(_unfit(valve, known) for valve in listed if valve.place not in given),
        bought, _chains(given.values()),
    )  # fmt: skip


def _check(valves: Sequence[_Valve], shelf: Mapping[float, int], sizes: Sequence[float]) -> None:
    names = [valve.place for valve in valves]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise FitFault(f"{', '.join(twice)} stands here twice; name each valve once")
    if not sizes and not any(shelf.values()):
        raise FitFault("no size can be bought and none lies on the shelf: enter the sizes that exist")
    check_sizes(sizes, "sizes that can be bought")
    for size, count in shelf.items():
        check_size(size, "shelf")
        if count < 0 or not float(count).is_integer():
            raise FitFault(f"shelf: {count:g} shims of {size:g} mm cannot lie there; write a whole number, 0 for none")
    for valve in valves:
        check_length(valve.needed, valve.place, "the thickness needed", MOST_SIZE)
        check_ends(valve.low, valve.high, valve.place, "the window of thickness", MOST_SIZE)
        if valve.own is not None:
            check_size(valve.own, f"{valve.place}, on the engine")


def _merged(shelf: Mapping[float, int]) -> dict[float, int]:
    """The shelf, rising; sizes that are one are counted together."""
    found: dict[float, int] = {}
    last = -MOST_SIZE
    for size in sorted(size for size, count in shelf.items() if count):
        if size - last >= SAME:
            last = size
        found[last] = found.get(last, 0) + int(shelf[size])
    return found


def _shims(valves: Sequence[_Valve], shelf: Mapping[float, int], sizes: Sequence[float]) -> _Shims:
    """Single shims, the engine's, then the shelf's, then one to buy for each valve."""
    n = len(valves)
    own = [k for k, valve in enumerate(valves) if valve.own is not None]
    engine = np.array([valves[k].own for k in own], float)
    held, best = np.array(list(shelf), float), np.array(sizes, float)
    kept = _nearest(valves, held, n)
    copies = np.minimum(np.array(list(shelf.values()), int), kept.sum(0))
    row, at = np.nonzero(_nearest(valves, best, 1))
    size = np.concatenate([engine, np.repeat(held, copies), best[at]])
    owner = np.concatenate([np.array(own, int), np.full(copies.sum(), ON_SHELF), np.full(len(at), TO_BUY)])
    fits, off = _held(valves, size)
    mine = np.full((n, len(size)), True)
    mine[:, len(size) - len(at) :] = np.arange(n)[:, None] == row  # what is bought is bought for one valve
    return _Shims(size, owner, fits & mine, off)


def _held(valves: Sequence[_Valve], size: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(valves, sizes): whether it lies in the window, and how many grains from the need."""
    needed, low, high = (
        np.array([getattr(valve, name) for valve in valves], float).reshape(-1, 1) for name in ("needed", "low", "high")
    )
    return (size >= low - SAME) & (size <= high + SAME), np.rint(np.abs(size - needed) / SAME)


def _nearest(valves: Sequence[_Valve], size: np.ndarray, count: int) -> np.ndarray:
    """(valves, sizes): the `count` nearest to each need that fit, of two as near the thinner.

    Of a shelf no more are wanted: with as many sizes as valves one is always left when the others have chosen.
    """
    fits, off = _held(valves, size)
    rank = np.argsort(np.argsort(np.where(fits, off, np.inf), axis=1, kind="stable"), axis=1, kind="stable")
    return fits & (rank < count)


def _matched(shims: _Shims) -> dict[int, int]:
    """Valve -> shim, exact in the order of the wishes; a valve that no shim is left for is not there."""
    from scipy.optimize import linear_sum_assignment

    n = len(shims.fits)
    if not n:
        return {}
    widest = float(shims.off[shims.fits].max(initial=0.0)) + 1
    coarse = max(1.0, np.ceil(widest * (n + 1) ** 5 / EXACT))
    near = np.rint(shims.off / coarse) * (n + 1) + (shims.owner == ON_SHELF)
    move = (np.ceil(widest / coarse) + 1) * (n + 1) * n
    buy = move * (n + 1)
    none = buy * (n + 2)
    price = near + move * (shims.owner != np.arange(n)[:, None]) + buy * (shims.owner == TO_BUY)
    cost = np.concatenate([np.where(shims.fits, price, 2 * none), np.full((n, n), none)], axis=1)
    pairs = zip(*linear_sum_assignment(cost), strict=True)
    return {int(row): int(at) for row, at in pairs if at < len(shims.size)}


def _given(valves: Sequence[_Valve], n: int, shims: _Shims, at: int) -> Given:
    owner, size, valve = int(shims.owner[at]), float(shims.size[at]), valves[n]
    source = STAYS if owner == n else SHELF if owner == ON_SHELF else BOUGHT if owner == TO_BUY else SWAPPED
    came_from = valves[owner].place if source == SWAPPED else ""
    return Given(valve.place, valve.needed, size, source, came_from, valve.needed - size)


def _unfit(valve: _Valve, known: Sequence[float]) -> Unfit:
    """Why a valve stays without, told by all sizes there are."""
    below = [size for size in known if size < valve.low - SAME]
    above = [size for size in known if size > valve.high + SAME]
    fits = len(known) - len(below) - len(above)
    why = TAKEN if fits else BETWEEN if below and above else TOO_THICK if above else TOO_THIN
    return Unfit(valve.place, valve.needed, max(known[0] - valve.high, 0.0) if why == TOO_THICK else 0.0,
                 max(valve.low - known[-1], 0.0) if why == TOO_THIN else 0.0, why,
                 max(below, default=None), min(above, default=None))  # fmt: skip


def _chains(given: Iterable[Given]) -> tuple[tuple[str, ...], ...]:
    """Moves as a hand makes them: each place gives its shim to the next; a ring ends where it began."""
    gives = {one.came_from: one.place for one in sorted(given, key=lambda one: one.came_from) if one.came_from}
    chains = [_follow(gives, start) for start in gives if start not in gives.values()]
    for place in gives:
        if not any(place in chain for chain in chains):
            chains.append(_follow(gives, place))
    return tuple(chains)


def _follow(gives: Mapping[str, str], start: str) -> tuple[str, ...]:
    chain = [start]
    while chain[-1] in gives:
        chain.append(gives[chain[-1]])
        if chain[-1] == start:
            break
    return tuple(chain)
