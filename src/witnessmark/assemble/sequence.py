"""The order in which bolts are turned, from where they lie: from the middle outwards, so that the ends can give.

The order of the document in hand always goes before one of these. Loosening is the reverse, cold, all a little first.
Sources: the principles are common practice, no source; which bolt follows which is derived from the places alone.
"""

from collections.abc import Iterable, Sequence
from math import atan2, cos

from witnessmark.assemble.pattern import Bolt, apart, columns, middle, rings

FEW = 4  # bolts up to which a joint has no inside: opposite ones follow each other


def usual(bolts: Sequence[Bolt]) -> tuple[str, ...]:
    """The order that fits a pattern: criss-cross for few bolts about one hole, else a spiral."""
    return criss_cross(bolts) if len(bolts) <= FEW else spiral(bolts)


def spiral(bolts: Sequence[Bolt]) -> tuple[str, ...]:
    """From the middle outwards in a spiral: each column is entered on the side where the last one was left.

    The columns of a ring follow each other, the rear one first; the first bolt is one of the nearest to the middle.
    """
    if not bolts:
        return ()
    across = columns(bolts)
    half, odd = len(across) // 2, len(across) % 2
    order: list[Bolt] = list(_from_the_middle(across[half], middle(bolts)[1])) if odd else []
    for n in range(half):
        for column in (across[half + n + odd], across[half - 1 - n]):
            order += _entered(column, order[-1] if order else None)
    return tuple(one.name for one in order)


def _from_the_middle(column: Sequence[Bolt], y: float) -> list[Bolt]:
    """A middle column from its middle outwards; of two that are as near the inlet side goes first."""
    return sorted(column, key=lambda one: (round(abs(one.y - y), 9), -one.y))


def _entered(column: Sequence[Bolt], last: Bolt | None) -> list[Bolt]:
    """A column along its length, from the end that is nearer to the last bolt; from the inlet side where none is."""
    down = sorted(column, key=lambda one: -one.y)
    if last is None or abs(down[0].y - last.y) <= abs(down[-1].y - last.y):
        return down
    return down[::-1]


def criss_cross(bolts: Sequence[Bolt]) -> tuple[str, ...]:
    """From the middle outwards ring by ring, each bolt as nearly opposite to the last as the ring still has one.

    The first is the one on the inlet side nearest to the front, of those of the innermost ring.
    """
    order: list[Bolt] = []
    centre = middle(bolts) if bolts else (0.0, 0.0)
    for ring in rings(bolts):
        left = sorted(ring, key=lambda one: (-one.y, one.x))
        while left:
            chosen = _opposite(left, order[-1], centre) if order else left[0]
            left.remove(chosen)
            order.append(chosen)
    return tuple(one.name for one in order)


def _opposite(left: Sequence[Bolt], last: Bolt, centre: tuple[float, float]) -> Bolt:
    def across(one: Bolt) -> float:
        """Cosine of the angle between two bolts as seen from the middle; -1 is opposite."""
        ways = [atan2(bolt.y - centre[1], bolt.x - centre[0]) for bolt in (one, last)]
        return round(cos(ways[0] - ways[1]), 9)

    return min(left, key=lambda one: (across(one), -round(apart(one, last), 9), -one.y, one.x))


def loosening(order: Iterable[str]) -> tuple[str, ...]:
    """The order in which a joint is loosened: the reverse, from the ends inwards. Common practice, no source."""
    return tuple(reversed(tuple(order)))


def balance(bolts: Sequence[Bolt], order: Sequence[str]) -> tuple[float, ...]:
    """How far the middle of the tight bolts lies off that of the joint after each bolt, as a share of its length.

    0 is in the middle; an order that begins at one end comes near a half.
    """
    by_name = {one.name: one for one in bolts}
    centre = middle(bolts)[0]
    length = max(one.x for one in bolts) - min(one.x for one in bolts)
    found, sum_x = [], 0.0
    for n, name in enumerate(order, 1):
        sum_x += by_name[name].x
        found.append(abs(sum_x / n - centre) / length if length else 0.0)
    return tuple(found)
