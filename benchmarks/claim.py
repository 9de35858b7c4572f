"""The claim, held at the limit through the public judging function on whole simulated heads.

    For every true value outside an entered limit the chance of `within` is at most 5 %, for every true value inside it
    the chance of `out` is at most 5 %, per verdict, over gauges drawn afresh from their stated doubt and over the place
    of the limit between graduations; worst at the limit.

Truth lies exactly at the limit, where both are likeliest. (Spread widely about the limit, even a doubt stated five
times too small would pass.) Verdicts of one head share their gauge, so the sampling error is clustered by head.
"""

import os
from collections.abc import Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field

import numpy as np

from benchmarks import cells, heads
from benchmarks.cells import BOTH, OUT, WITHIN, Cell
from witnessmark.judge.judge import judge

MOST = 0.05
ERRORS = 3.0  # sampling errors above 5 % at which a cell is red; over a hundred cells one by chance is at 2.3
SHARE = 25  # heads of one piece of work


@dataclass(slots=True)
class Count:
    """Verdicts of one cell, head by head."""

    judged: list[int] = field(default_factory=list)
    within: list[int] = field(default_factory=list)
    out: list[int] = field(default_factory=list)
    each: list[tuple[int, float, bool, str]] = field(default_factory=list)  # head, p, truth, verdict

    def rate(self, which: str) -> tuple[float, float]:
        """Share of a verdict and its sampling error, clustered by head."""
        return clustered(getattr(self, which), self.judged)

    def any_in_a_head(self, which: str) -> float:
        """Share of heads with at least one."""
        return float(np.mean(np.array(getattr(self, which)) > 0))

    def design_effect(self, which: str) -> float:
        """How many times the variance of independent verdicts the clustering costs."""
        rate, error = self.rate(which)
        alone = rate * (1 - rate) / max(sum(self.judged), 1)
        return error**2 / alone if alone > 0 else float("nan")


def clustered(hits: Sequence[int], of: Sequence[int]) -> tuple[float, float]:
    """A ratio over clusters and its standard error by linearisation (Cochran 1977, 6.3, value from memory)."""
    hit, n = np.asarray(hits, float), np.asarray(of, float)
    if n.sum() == 0:
        return float("nan"), float("nan")
    rate = hit.sum() / n.sum()
    count = len(n)
    spread = ((hit - rate * n) ** 2).sum() / max(count - 1, 1)
    return float(rate), float(np.sqrt(spread / count) / n.mean())


def simulate(wanted: Sequence[Cell], number: int, seed: int, workers: int | None = None) -> list[Count]:
    """Judge so many heads for every cell. Cells that need different characteristics share a head."""
    work = [
        (batch, [wanted[n] for n in batch], min(SHARE, number - start), (seed, group, start))
        for group, batch in enumerate(_packed(wanted))
        for start in range(0, number, SHARE)
    ]
    counts = [Count() for _ in wanted]
    for (batch, _, _, _), found in zip(work, _done(work, workers), strict=True):
        for place, count in zip(batch, found, strict=True):
            _add(counts[place], count)
    return counts


def _done(
    work: Sequence[tuple[list[int], list[Cell], int, tuple[int, ...]]], workers: int | None
) -> Iterable[list[Count]]:
    workers = os.cpu_count() or 1 if workers is None else workers
    if workers < 2:
        return [_heads(piece) for piece in work]
    with ProcessPoolExecutor(workers) as pool:
        return list(pool.map(_heads, work))


def _heads(piece: tuple[list[int], list[Cell], int, tuple[int, ...]]) -> list[Count]:
    """Some heads, each judged once for all of its cells."""
    _, batch, number, seed = piece
    rng = np.random.default_rng(seed)
    counts = [Count() for _ in batch]
    for head in range(number):
        made = [cells.made(cell, f"G{n}", rng) for n, cell in enumerate(batch)]
        job = heads.job([one for m in made for one in m.held], [one for m in made for one in m.readings])
        judged = judge(job, heads.sheet([m.limit for m in made]), heads.engine(), heads.catalogue())
        by_name: dict[str, list[object]] = {}
        for result in judged.results:
            by_name.setdefault(result.characteristic, []).append(result)
        for cell, m, count in zip(batch, made, counts, strict=True):
            _count(count, by_name[cell.limited], m, head)
    return counts


def _count(count: Count, results: Sequence[object], made: cells.Made, head: int) -> None:
    verdicts = [result.verdict for result in results]  # type: ignore[attr-defined]
    count.judged.append(len(verdicts))
    count.within.append(verdicts.count("within"))
    count.out.append(verdicts.count("out"))
    if made.truth is not None:
        count.each += [
            (head, r.p_within, made.truth[r.location], r.verdict)  # type: ignore[attr-defined]
            for r in results
        ]


def _add(total: Count, more: Count) -> None:
    shift = len(total.judged)
    total.judged += more.judged
    total.within += more.within
    total.out += more.out
    total.each += [(head + shift, *rest) for head, *rest in more.each]  # type: ignore[misc]


def _packed(wanted: Sequence[Cell]) -> list[list[int]]:
    """Cells by head: no two of one head need the same characteristic, nor (at 16 cells) too long a judgement."""
    batches: list[tuple[set[str], list[int]]] = []
    for n, cell in enumerate(wanted):
        needs = set(cell.claims)
        room = next((b for b in batches if not b[0] & needs), None)
        if room is None:
            room = (set(), [])
            batches.append(room)
        room[0].update(needs)
        room[1].append(n)
    return [batch for _, batch in batches]


def tempted(cell: Cell) -> tuple[str, ...]:
    """The false verdicts that a cell counts."""
    return (WITHIN, OUT) if cell.tempts == BOTH else (cell.tempts,)
