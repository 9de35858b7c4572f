"""Two lists of links laid beside each other: what was closed, and what stands there now.

    changed    something else stands at its place          put in    something stands there that was not
    missing    nothing stands at its place any more        exchanged, moved    the same links in another order
"""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

MOST = 20  # told at once: a record that was made anew differs everywhere


@dataclass(frozen=True, slots=True)
class Misfit:
    """One difference. `closed` is a position in what was closed, `found` are positions in what stands there now.

    between   of what is missing: the positions now of its neighbours, None at an end.
    """

    kind: str
    closed: int
    found: tuple[int, ...] = ()
    between: tuple[int | None, int | None] = (None, None)


def misfits(closed: Sequence[str], found: Sequence[str], before: int) -> list[Misfit]:
    """The differences, the first first, at most 20. Of `found` only the first `before` stood before the closing.

    What stands after the last link that was closed came later, and is no difference.
    """
    first: dict[str, int] = {}
    for at, link in enumerate(found):
        first.setdefault(link, at)
    order = [link for link in closed if link in first]
    now = sorted(order, key=lambda link: first[link])
    told = [*_order(closed, order, now, first), *_gaps(closed, found, first, before, paired=order == now)]
    return sorted(told, key=lambda one: one.found[0] if one.found else one.closed)[:MOST]


def _order(closed: Sequence[str], order: Sequence[str], now: Sequence[str], first: dict[str, int]) -> Iterator[Misfit]:
    """Links in another order: two that were exchanged, or each that moved."""
    differ = [at for at, (one, other) in enumerate(zip(order, now, strict=True)) if one != other]
    if not differ:
        return
    where = {link: at for at, link in enumerate(closed)}
    here, there = order[differ[0]], order[differ[-1]]
    if len(differ) == 2:
        yield Misfit("exchanged", where[here], tuple(sorted((first[here], first[there]))))
    elif order[differ[0] + 1:differ[-1] + 1] == now[differ[0]:differ[-1]]:  # one went towards the end
        yield Misfit("moved", where[here], (first[here],))
    elif order[differ[0]:differ[-1]] == now[differ[0] + 1:differ[-1] + 1]:  # one went towards the beginning
        yield Misfit("moved", where[there], (first[there],))
    else:
        for at in differ:
            yield Misfit("moved", where[order[at]], (first[order[at]],))


def _gaps(
    closed: Sequence[str], found: Sequence[str], first: dict[str, int], before: int, *, paired: bool
) -> Iterator[Misfit]:
    """What is missing and what is strange, gap by gap between links that still stand; a pair of both is a change."""
    strange = _strange(closed, found, first, before)
    standing = [at for at, link in enumerate(closed) if link in first]
    ends = [-1, *standing, len(closed)]
    for left, right in pairwise(ends):
        low = first[closed[left]] if left >= 0 else None
        high = first[closed[right]] if right < len(closed) else None
        lost = range(left + 1, right)
        ahead = bisect_left(strange, low + 1) if low is not None else 0
        new = strange[ahead:bisect_left(strange, high) if high is not None else None] if paired else []
        for gone, come in zip(lost, new, strict=False):
            yield Misfit("changed", gone, (come,))
        for gone in lost[len(new):]:
            yield Misfit("missing", gone, (), (low, high))
        if high is not None:
            for come in new[len(lost):]:
                yield Misfit("put in", left + 1, (come,))
    if not paired:
        last = max((first[link] for link in closed if link in first), default=-1)
        for at in strange:
            if at < last:
                yield Misfit("put in", at, (at,))


def _strange(closed: Sequence[str], found: Sequence[str], first: dict[str, int], before: int) -> list[int]:
    known = set(closed)
    return [at for at, link in enumerate(found[:before]) if first[link] != at or link not in known]
