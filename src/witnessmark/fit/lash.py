"""Lash shims for a whole head: which goes where, what is swapped, what must be bought.

Every valve has a window of thickness in which its lash lies inside the limit. A shim may stay, come from another valve,
from the shelf, or be bought. First the fewest are bought, then the fewest are moved, then the windows' middles are met
best: one assignment with costs that never mix, so the answer is exact.

Lengths in mm, shapes (n,) over valves.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from witnessmark.fit.fault import FitFault

STAYS, SWAPPED, SHELF, BOUGHT = "stays", "other place", "shelf", "bought"
SAME = 1e-6  # mm: two sizes nearer than this are one
SCALE = 1e-5  # mm: residuals are counted in these


@dataclass(frozen=True, slots=True)
class Given:
    """One valve and the shim it gets. `came_from` is the place that had it, "" off the shelf or bought."""

    place: str
    needed: float
    size: float
    source: str
    came_from: str
    left: float  # lash after it less the middle of its window, positive where the shim is thin


@dataclass(frozen=True, slots=True)
class Unfit:
    """A valve for which no size exists: by how much the thinnest is too thick, or the thickest too thin."""

    place: str
    needed: float
    too_thick: float  # above 0: grind the tip by as much, or cut less
    too_thin: float  # above 0: a cap or a longer valve


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


@dataclass(frozen=True, slots=True, eq=False)
class _Shims:
    """Every single shim that could be used: its size, where it is, what it costs in steps of the three wishes."""

    size: np.ndarray
    place: tuple[int, ...]  # index of its valve, -1 on the shelf, -2 to buy


def assign(
    places: Sequence[str], needed: Sequence[float], low: Sequence[float], high: Sequence[float],
    on_engine: Sequence[float | None], shelf: Mapping[float, int], sizes: Sequence[float],
) -> Assignment:  # fmt: skip
    """The best use of shims. `low` and `high` are the windows of thickness about `needed`; `sizes` can be bought.

    A shim whose size is not known (None) stays out of the exchange. Raises FitFault for what makes no sense.
    """
    _check(places, needed, low, high, shelf, sizes)
    fits = [n for n in range(len(places)) if _any(low[n], high[n], on_engine, shelf, sizes)]
    unfit = tuple(_unfit(places[n], needed[n], low[n], high[n], sizes) for n in range(len(places)) if n not in fits)
    shims = _shims(fits, low, high, on_engine, shelf, sizes)
    chosen = _matched(fits, needed, low, high, shims)
    given = tuple(_given(places, needed, n, shims, chosen[n]) for n in fits if n in chosen)
    lost = tuple(_unfit(places[n], needed[n], low[n], high[n], sizes) for n in fits if n not in chosen)
    bought: dict[float, int] = {}
    for one in given:
        if one.source == BOUGHT:
            bought[one.size] = bought.get(one.size, 0) + 1
    return Assignment(given, unfit + lost, dict(sorted(bought.items())), _chains(given))


def _check(
    places: Sequence[str], needed: Sequence[float], low: Sequence[float], high: Sequence[float],
    shelf: Mapping[float, int], sizes: Sequence[float],
) -> None:  # fmt: skip
    if not len(places) == len(needed) == len(low) == len(high):
        raise FitFault("each valve needs its place, its need and its window: the lists differ in length")
    twice = sorted({place for place in places if list(places).count(place) > 1})
    if twice:
        raise FitFault(f"{', '.join(twice)} stands here twice; name each valve once")
    if not sizes and not shelf:
        raise FitFault("no size can be bought and none lies on the shelf: enter the sizes that exist")
    wrong = [size for size in (*sizes, *shelf) if not size > 0]
    if wrong:
        raise FitFault(f"a shim of {wrong[0]:g} mm does not exist; sizes are above nothing")
    for place, least, most in zip(places, low, high, strict=True):
        if least > most:
            raise FitFault(f"{place}: the window from {least:g} to {most:g} mm holds nothing; check the lash limits")


def _any(
    low: float, high: float, on_engine: Sequence[float | None], shelf: Mapping[float, int], sizes: Sequence[float]
) -> bool:
    known = (size for size in (*on_engine, *shelf, *sizes) if size is not None)
    return any(low - SAME <= size <= high + SAME for size in known)


def _unfit(place: str, needed: float, low: float, high: float, sizes: Sequence[float]) -> Unfit:
    least, most = (min(sizes), max(sizes)) if sizes else (needed, needed)
    return Unfit(place, needed, max(least - high, 0.0), max(low - most, 0.0))


def _shims(
    fits: Sequence[int], low: Sequence[float], high: Sequence[float], on_engine: Sequence[float | None],
    shelf: Mapping[float, int], sizes: Sequence[float],
) -> _Shims:  # fmt: skip
    """Single shims, as many of each size as could be wanted: of a stock of thousands only what fits somewhere."""
    size: list[float] = []
    place: list[int] = []
    for n, own in enumerate(on_engine):
        if own is not None:
            size.append(own)
            place.append(n)
    for held, count in sorted(shelf.items()):
        wanted = sum(low[n] - SAME <= held <= high[n] + SAME for n in fits)
        size += [held] * min(count, wanted)
        place += [-1] * min(count, wanted)
    for each in sorted(sizes):
        wanted = sum(low[n] - SAME <= each <= high[n] + SAME for n in fits)
        size += [each] * wanted
        place += [-2] * wanted
    return _Shims(np.array(size), tuple(place))


def _matched(
    fits: Sequence[int], needed: Sequence[float], low: Sequence[float], high: Sequence[float], shims: _Shims
) -> dict[int, int]:
    """Valve -> shim, exact in the order bought, moved, residual; a valve that no shim is left for stays without."""
    from scipy.optimize import linear_sum_assignment

    count = len(fits)
    if not count:
        return {}
    rows = np.array(fits)
    need, least, most = (np.asarray(each, float)[rows, None] for each in (needed, low, high))
    place = np.array(shims.place)[None, :]
    inside = (shims.size >= least - SAME) & (shims.size <= most + SAME)
    residual = np.rint(np.abs(shims.size - need) / SCALE)
    widest = float(residual[inside].max(initial=0.0)) + 1
    moved = (place != rows[:, None]).astype(float)
    price = residual + widest * count * moved + widest * count * (count + 1) * (place == -2)
    none = widest * count * (count + 1) * (count + 1)
    cost = np.concatenate([np.where(inside, price, none * 4), np.full((count, count), none)], axis=1)
    row, column = linear_sum_assignment(cost)
    pairs = ((int(r), int(c)) for r, c in zip(row, column, strict=True))
    return {fits[r]: c for r, c in pairs if c < len(shims.size) and inside[r, c]}


def _given(places: Sequence[str], needed: Sequence[float], n: int, shims: _Shims, at: int) -> Given:
    where, size = shims.place[at], float(shims.size[at])
    source = STAYS if where == n else SWAPPED if where >= 0 else SHELF if where == -1 else BOUGHT
    return Given(places[n], needed[n], size, source, places[where] if source == SWAPPED else "", needed[n] - size)


def _chains(given: Sequence[Given]) -> tuple[tuple[str, ...], ...]:
    """Moves as a hand makes them: each place gives its shim to the next; a ring ends where it began."""
    gives = {one.came_from: one.place for one in given if one.source == SWAPPED}
    starts = [place for place in gives if place not in gives.values()]
    chains = [_follow(gives, start) for start in starts]
    left = [place for place in gives if not any(place in chain for chain in chains)]
    while left:
        ring = _follow(gives, left[0])
        chains.append(ring)
        left = [place for place in left if place not in ring]
    return tuple(chains)


def _follow(gives: Mapping[str, str], start: str) -> tuple[str, ...]:
    chain = [start]
    while chain[-1] in gives:
        chain.append(gives[chain[-1]])
        if chain[-1] == start:
            break
    return tuple(chain)


def cover(needed: float, u: float, kappa: float, sizes: Sequence[float]) -> tuple[float, ...]:
    """The sizes that cover needed ± kappa u: what to have at hand before the lash is measured again.

    The nearest to either end and all between them; () where the range lies off what exists.
    """
    if not sizes:
        raise FitFault("no size can be bought: enter the sizes that exist")
    rising = sorted(sizes)
    low, high = needed - kappa * u, needed + kappa * u
    if low > rising[-1] + (rising[-1] - rising[0]) or high < rising[0] - (rising[-1] - rising[0]):
        return ()
    nearest = [min(rising, key=lambda size: (abs(size - end), size)) for end in (low, high)]
    return tuple(size for size in rising if nearest[0] - SAME <= size <= nearest[1] + SAME)


def step_of(sizes: Sequence[float]) -> float:
    """The widest step between neighbouring sizes; nothing where there is but one."""
    rising = sorted(sizes)
    return max((b - a for a, b in pairwise(rising)), default=0.0)
