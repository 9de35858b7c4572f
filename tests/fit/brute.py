"""Lash shims by trying everything: every valve gets each shim that fits it in turn, or none.

Nothing of the product's method is used: no matrix, no weights, the wishes are compared one after the other.
"""

from math import inf

NEAR = 1e-6


def best(places, needed, low, high, on_engine, shelf, sizes):
    """The least (valves without, bought, moved, grains off, taken from the shelf) over all ways."""
    singles = [(size, n) for n, size in enumerate(on_engine) if size is not None]
    singles += [(size, "shelf") for size, count in shelf.items() for _ in range(count)]
    ways = [
        [(size, owner, k) for k, (size, owner) in enumerate(singles) if low[n] - NEAR <= size <= high[n] + NEAR]
        + [(size, "buy", None) for size in sizes if low[n] - NEAR <= size <= high[n] + NEAR]
        for n in range(len(places))
    ]
    found = [(inf,)]

    def go(n, used, score):
        if n == len(places):
            found[0] = min(found[0], score)
            return
        without, bought, moved, off, taken = score
        go(n + 1, used, (without + 1, bought, moved, off, taken))
        for size, owner, k in ways[n]:
            if k is None or k not in used:
                next_score = (without, bought + (owner == "buy"), moved + (owner != n),
                              off + round(abs(size - needed[n]) / NEAR), taken + (owner == "shelf"))  # fmt: skip
                go(n + 1, used if k is None else used | {k}, next_score)

    go(0, frozenset(), (0, 0, 0, 0, 0))
    return found[0]


def score(found):
    """The same five figures of an answer of the product."""
    sources = [one.source for one in found.given]
    return (len(found.unfit), sources.count("bought"), len(sources) - sources.count("stays"),
            sum(round(abs(one.size - one.needed) / NEAR) for one in found.given), sources.count("shelf"))  # fmt: skip
