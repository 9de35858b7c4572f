"""Rows judged: the chances, the verdict and the guard of each mark, with numpy over all marks at once.

Values   each station has its chances below and above its limits; the mark is the worst of its m stations.
Leaves   the same with the chances of an interval.
Form     largest less smallest against the most it may be; shared errors cancel (metrology.range_form).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import inf, isnan, nan

import numpy as np

from witnessmark.judge.cells import Cell
from witnessmark.judge.rows import Row
from witnessmark.judge.taken import Interval, Taken
from witnessmark.metrology import leaves
from witnessmark.metrology.batch import Batch
from witnessmark.metrology.conform import CONFIDENCE, VERDICTS, chances, verdicts
from witnessmark.metrology.doubt import Doubt, take
from witnessmark.metrology.gauge import STEP
from witnessmark.metrology.guard import guards
from witnessmark.metrology.propagate import Derived, combine
from witnessmark.metrology.range_form import bounds, judge_range
from witnessmark.metrology.source import Floats
from witnessmark.metrology.worst import out_confidence, worst_of_chances


@dataclass(frozen=True, slots=True)
class Part:
    """One station of a mark: its cell or interval and its chances."""

    place: str
    cell: Cell | None
    interval: Interval | None
    below: float
    above: float
    row: int  # in `Judged.derived`, −1 for an interval

    @property
    def p_within(self) -> float:
        """Chance of lying within both limits; nan where it is not known."""
        return min(max(1 - self.below - self.above, 0.0), 1.0) if not isnan(self.below + self.above) else nan

    @property
    def verdict(self) -> str:
        """The verdict that this station would have by itself (the rule of metrology.conform, for one value)."""
        if self.p_within >= CONFIDENCE:
            return "within"
        return "out" if abs(self.below - self.above) >= CONFIDENCE else "too close to call"


@dataclass(frozen=True, slots=True)
class Mark:
    """One judged row. `deciding` is its worst station."""

    row: Row
    parts: tuple[Part, ...]
    deciding: Part
    verdict: str
    p_within: float | None
    guard_within: float | None
    guard_out: float | None


@dataclass(frozen=True, slots=True)
class FormMark:
    """One judged form or spread: the set of places with the greatest range, and what its noise lets it prove."""

    row: Row
    places: tuple[str, ...]
    value: float
    sigma: float
    verdict: str
    p_if_at_limit: tuple[float, float] | None
    floor: float
    perfect_passes: float | None
    most_within: float | None
    least_out: float | None


def combined(cells: Sequence[Cell], batch: Batch | None) -> Derived | None:
    """The budget of every cell, in one go."""
    if batch is None or not cells:
        return None
    row = [n for n, cell in enumerate(cells) for _ in cell.terms]
    item = [item for cell in cells for item, _ in cell.terms]
    coefficient = [c for cell in cells for _, c in cell.terms]
    return combine(batch, row, item, coefficient, len(cells), value=[cell.value for cell in cells])


def mean_cell(row: Row) -> Cell:
    """The mean over the stations of a row, as a cell of its own."""
    share = 1 / len(row.cells)
    terms: dict[int, float] = {}
    for cell in row.cells:
        for item, c in cell.terms:
            terms[item] = terms.get(item, 0.0) + c * share
    return Cell(row.entry.id, row.location, sum(cell.value for cell in row.cells) * share, tuple(terms.items()))


def value_marks(found: Sequence[Row], derived: Derived | None, first: Sequence[int]) -> list[Mark]:
    """Marks of rows over values and leaves; `first[n]` is where the cells of row n begin in `derived`."""
    low, high = _limits(found, [len(row.cells) for row in found])
    below, above = chances(derived.doubt, low, high) if derived else (np.zeros(0), np.zeros(0))
    leaf_chances = _leaf_chances(found)
    parted = [
        _parts(row, at, below, above, leaf_chances[n]) for n, (row, at) in enumerate(zip(found, first, strict=True))
    ]
    deciding = [_worst(row, parts) for row, parts in zip(found, parted, strict=True)]
    m = np.array([max(len(row.planned), 1) if row.rule == "worst" else 1 for row in found])
    judged = worst_of_chances(
        [part.below for parts in parted for part in parts],
        [part.above for parts in parted for part in parts],
        [n for n, parts in enumerate(parted) for _ in parts],
        len(parted),
        planned=m,
    )
    codes, p = judged.verdict, judged.p_within
    within, out = _guards(derived, deciding, found, m)
    return [
        Mark(
            row,
            parts,
            one,
            VERDICTS[code] if row.limit else "",
            _known(chance) if row.limit else None,
            _known(g),
            _known(h),
        )
        for row, parts, one, code, chance, g, h in zip(found, parted, deciding, codes, p, within, out, strict=True)
    ]


def _limits(found: Sequence[Row], counts: Sequence[int]) -> tuple[Floats, Floats]:
    low = np.repeat([_or_nan(row.limit.low) if row.limit else nan for row in found], counts)
    high = np.repeat([_or_nan(row.limit.high) if row.limit else nan for row in found], counts)
    return low.astype(float), high.astype(float)


def _leaf_chances(found: Sequence[Row]) -> list[list[tuple[float, float]]]:
    """Chances of every interval of every row, judged together."""
    flat = [(n, gap) for n, row in enumerate(found) for gap in row.intervals]
    answer: list[list[tuple[float, float]]] = [[] for _ in found]
    if not flat:
        return answer
    low = [_or_nan(limit.low if (limit := found[n].limit) else None) for n, _ in flat]
    high = [_or_nan(limit.high if (limit := found[n].limit) else None) for n, _ in flat]
    below, above = leaves.chances(
        [gap.enters for _, gap in flat], [inf if gap.stops is None else gap.stops for _, gap in flat],
        low, high, [gap.leaf_error for _, gap in flat],
    )  # fmt: skip
    for (n, _), b, a in zip(flat, below, above, strict=True):
        answer[n].append((float(b), float(a)))
    return answer


def _parts(row: Row, at: int, below: Floats, above: Floats, leaf: Sequence[tuple[float, float]]) -> tuple[Part, ...]:
    of_cells = [
        Part(cell.place, cell, None, float(below[at + n]), float(above[at + n]), at + n)
        for n, cell in enumerate(row.cells)
    ]
    of_leaves = [
        Part(place, None, gap, b, a, -1)
        for place, gap, (b, a) in zip(row.interval_places, row.intervals, leaf, strict=True)
    ]
    return (*of_cells, *of_leaves)


def _worst(row: Row, parts: Sequence[Part]) -> Part:
    """The station that decides: least chance of lying within, and among equals the one nearest to a limit."""
    return min(parts, key=lambda part: (round(0.0 if isnan(part.p_within) else part.p_within, 6), _margin(row, part)))


def _margin(row: Row, part: Part) -> float:
    if part.interval is not None:
        ends = (part.interval.enters, inf if part.interval.stops is None else part.interval.stops)
    else:
        value = part.cell.value if part.cell else nan
        ends = (value, value)
    if row.limit is None:
        return {"least": ends[0], "most": -ends[0]}.get(row.entry.extreme, -ends[0])
    low = ends[0] - row.limit.low if row.limit.low is not None else inf
    high = row.limit.high - ends[1] if row.limit.high is not None else inf
    return min(low, high)


def _guards(
    derived: Derived | None, deciding: Sequence[Part], found: Sequence[Row], m: Floats
) -> tuple[Floats, Floats]:
    within, out = np.full(len(found), nan), np.full(len(found), nan)
    at = [n for n, part in enumerate(deciding) if part.row >= 0 and found[n].limit]
    if derived is None or not at:
        return within, out
    known: Doubt = take(derived.doubt, [deciding[n].row for n in at])
    low, high = _limits([found[n] for n in at], [1] * len(at))
    found_guards = guards(known, low, high, np.asarray(m)[at])
    within[at], out[at] = found_guards.within, found_guards.out
    return within, out


@dataclass(frozen=True, slots=True)
class _Range:
    """The greatest range of a row, before it is judged."""

    row: Row
    value: float
    places: tuple[str, ...]
    planned: int
    sets: int
    sigma: float
    dof: float
    step: float


def form_marks(found: Sequence[Row], taken: Taken) -> list[FormMark]:
    """Marks of forms and spreads, judged together. A row of several sets shows the one with the greatest range."""
    ranges = [one for row in found if (one := _range(row, taken)) is not None]
    judged = [one for one in ranges if one.row.limit and one.row.limit.high is not None and one.sigma > 0]
    plain = [_unjudged(one) for one in ranges if one not in judged]
    return [*_judged(judged), *plain]


def _range(row: Row, taken: Taken) -> _Range | None:
    by_place = {cell.place: cell for cell in row.cells}
    ranges = [
        (max(values) - min(values), places)
        for group in row.sets
        if len(places := tuple(place for place in group if place in by_place)) > 1
        for values in [[by_place[place].value for place in places]]
    ]
    if not ranges:
        return None
    value, places = max(ranges, key=lambda one: one[0])
    planned = max(len(group) for group in row.sets)
    return _Range(row, value, places, planned, len(ranges), *_noise([by_place[place] for place in places], taken))


def _judged(ranges: Sequence[_Range]) -> list[FormMark]:
    """With several sets the worst decides: each must be within, and `out` asks what the worst of so many asks."""
    if not ranges:
        return []
    limit = [one.row.limit.high for one in ranges if one.row.limit and one.row.limit.high is not None]
    sigma, m = [one.sigma for one in ranges], [one.planned for one in ranges]
    noise = {"dof": [one.dof for one in ranges], "step": [one.step for one in ranges]}
    mark = judge_range([one.value for one in ranges], limit, sigma, m, **noise)
    most, least = _bounds(tuple(zip(limit, sigma, m, noise["dof"], noise["step"], strict=True)))
    below_limit = np.where(
        [one.value <= top for one, top in zip(ranges, limit, strict=True)], mark.p_at_limit_within, nan
    )
    codes = verdicts(below_limit, 1 - mark.p_at_limit_out, out_confidence([one.sets for one in ranges]))
    return [
        FormMark(
            one.row, one.places, one.value, one.sigma, VERDICTS[codes[n]],
            (float(mark.p_at_limit_within[n]), float(mark.p_at_limit_out[n])), float(mark.floor[n]),
            float(mark.perfect_passes[n]), _known(most[n]), _known(least[n]),
        )
        for n, one in enumerate(ranges)
    ]  # fmt: skip


@lru_cache(maxsize=64)
def _bounds(ranges: tuple[tuple[float, float, int, float, float], ...]) -> tuple[Floats, Floats]:
    """Remembered, since a bench judges the same gauges against the same limits after every reading."""
    limit, sigma, m, dof, step = zip(*ranges, strict=True)
    return bounds(limit, sigma, m, dof=dof, step=step)


def _unjudged(one: _Range) -> FormMark:
    """Without a limit there is a value only; without noise a range is compared as it stands."""
    verdict, chance = "", None
    if one.row.limit is not None and one.row.limit.high is not None:
        verdict = "within" if one.value <= one.row.limit.high else "out"
        chance = (1.0, 1.0) if verdict == "within" else (0.0, 0.0)
    return FormMark(one.row, one.places, one.value, one.sigma, verdict, chance, 0.0, None, None, None)


def _noise(cells: Sequence[Cell], taken: Taken) -> tuple[float, float, float]:
    """Noise of one station, its degrees of freedom, and the display step of plain readings (0 for derived values).

    Shared errors cancel; what remains is own scatter and step.

    What the stations do not share (another gauge for one of them) counts as noise, by its spread over the stations.
    """
    batch = taken.batch
    assert batch is not None
    shared = np.zeros((len(cells), len(batch.sources.rows) + 1))
    variance, known = np.zeros(len(cells)), np.zeros(len(cells))
    for n, cell in enumerate(cells):
        for item, c in cell.terms:
            variance[n] += (c * float(batch.scatter[item])) ** 2 + (c * float(batch.step[item])) ** 2
            known[n] += (c * float(batch.estimated[item])) ** 4 / float(batch.pool_dof[batch.pool[item]])
            shared[n, batch.source[item]] += c * batch.contribution[item]
    own = float(variance.mean()) + float(shared[:, :-1].var(axis=0, ddof=1).sum())
    dof = own**2 / float(known.mean()) if known.any() else inf
    plain = all(len(cell.terms) == 1 and len(taken.groups[cell.terms[0][0]].values) == 1 for cell in cells)
    steps = {float(batch.step[cell.terms[0][0]]) * STEP for cell in cells} if plain else set()
    return float(np.sqrt(own)), dof, steps.pop() if len(steps) == 1 else 0.0


def _or_nan(limit: float | None) -> float:
    return nan if limit is None else limit


def _known(value: float) -> float | None:
    return None if isnan(value) else float(value)
