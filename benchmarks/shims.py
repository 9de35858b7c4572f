"""Speed of the shims: a V8 of 32 valves against 2,000 shims in stock, beside two general solvers on the same heads."""

from collections import Counter
from statistics import median
from typing import Any

import numpy as np

from benchmarks.table import Paper
from benchmarks.timing import shown, timed
from witnessmark.fit.lash import BOUGHT, STAYS, Assignment, assign

VALVES, STOCK, HALF = 32, 2000, 0.05
LADDER = tuple(round(2.0 + 0.02 * n, 2) for n in range(51))
WEIGHTS = (1e8, 1e4)  # a bought shim, a moved one, against micrometres off
Asked = dict[str, Any]


def run(paper: Paper, quick: bool) -> None:
    """Times of three kinds of stock, the answers of two general solvers on the same heads, and growth."""
    paper.heading("Shims for a whole head")
    runs = 5 if quick else 25
    worst, rows = 0.0, []
    for name, asked in heads().items():
        ours = timed(lambda asked=asked: assign(**asked), runs)
        whole = timed(lambda asked=asked: plain(asked), 1 if quick else 5)
        mixed = timed(lambda asked=asked: integer(asked), 1 if quick else 3)
        found = figures(assign(**asked))
        same = found == plain(asked) == integer(asked)
        worst = max(worst, *ours)
        rows.append((name, shown(ours), shown(whole), f"{median(whole) / median(ours):.0f} x", shown(mixed),
                     f"{median(mixed) / median(ours):.0f} x", ", ".join(map(str, found))))  # fmt: skip
        paper.goal(f"as good as both general solvers, {name}", "the same" if same else "another", "the same", same)
    paper.table(("stock", "least / median / most", "scipy linear_sum_assignment on every shim", "ratio",
                 "scipy milp on every shim", "ratio", "bought, moved, off in um"), rows)  # fmt: skip
    paper.goal(f"shims of {VALVES} valves against {STOCK} in stock, slowest", f"{1000 * worst:.1f} ms", "under 50 ms",
               worst < 0.050)  # fmt: skip
    paper.table(("valves", "least / median / most"), [
        (n, shown(timed(lambda n=n: assign(**head(n, stock("as micrometers read them", 5))), runs)))
        for n in (4, 8, 16, 32, 64)
    ])  # fmt: skip


def heads() -> dict[str, Asked]:
    """One worn head for each kind of stock."""
    kinds = ("sizes of the ladder, 40 of each", "as micrometers read them", "nothing near: much is bought")
    return {name: head(VALVES, stock(name, 5)) for name in kinds}


def stock(kind: str, seed: int) -> dict[float, int]:
    """2,000 shims: many of few sizes, or used ones each with its own size."""
    stream = np.random.default_rng(seed)
    if kind.startswith("sizes"):
        return dict.fromkeys(LADDER[:50], STOCK // 50)
    low, high = (2.0, 3.0) if kind.startswith("as") else (2.8, 3.0)
    return dict(Counter(float(size) for size in np.round(stream.uniform(low, high, STOCK), 3)))


def head(valves: int, shelf: dict[float, int], seed: int = 7) -> Asked:
    """A head that has been cut: what each valve has, and what it needs now."""
    stream = np.random.default_rng(seed)
    own = np.round(stream.uniform(2.3, 2.8, valves), 3)
    needed = np.round(own - stream.choice([0.0, 0.03, 0.12, 0.27], valves) + stream.normal(0, 0.02, valves), 3)
    return {"places": [f"v{n}" for n in range(valves)], "needed": needed.tolist(), "low": (needed - HALF).tolist(),
            "high": (needed + HALF).tolist(), "on_engine": own.tolist(), "shelf": shelf,
            "sizes": list(LADDER)}  # fmt: skip


def figures(found: Assignment) -> tuple[int, int, int]:
    """What the wishes count: bought, moved, micrometres off."""
    sources = [one.source for one in found.given]
    off = sum(round(1000 * abs(one.size - one.needed)) for one in found.given)
    return sources.count(BOUGHT), len(sources) - sources.count(STAYS), off


def plain(asked: Asked) -> tuple[int, int, int]:
    """The whole table of every valve against every single shim, by the general assignment of scipy."""
    from scipy.optimize import linear_sum_assignment

    cost = table(asked)
    row, column = linear_sum_assignment(cost)
    return parted(float(cost[row, column].sum()))


def integer(asked: Asked) -> tuple[int, int, int]:
    """The same as an integer program, by scipy's milp: one yes or no for every shim that fits a valve."""
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import coo_array

    cost = table(asked)
    row, column = np.nonzero(np.isfinite(cost))
    ones, k = np.ones(len(row)), np.arange(len(row))
    each = LinearConstraint(coo_array((ones, (row, k)), shape=(len(cost), len(k))).tocsr(), 1, 1)
    once = LinearConstraint(coo_array((ones, (column, k)), shape=(cost.shape[1], len(k))).tocsr(), 0, 1)
    done = milp(cost[row, column], constraints=[each, once], integrality=ones, bounds=Bounds(0, 1),
                options={"mip_rel_gap": 0})  # fmt: skip
    return parted(float(done.fun))


def parted(price: float) -> tuple[int, int, int]:
    """A price taken apart again."""
    bought, rest = divmod(round(price), int(WEIGHTS[0]))
    moved, off = divmod(rest, int(WEIGHTS[1]))
    return bought, moved, off


def table(asked: Asked) -> np.ndarray:
    """The price of every valve with every single shim, inf where it does not fit."""
    valves = len(asked["places"])
    shelf = [size for size, count in asked["shelf"].items() for _ in range(count)]
    bought = [size for size in asked["sizes"] for _ in range(valves)]
    size = np.array([*asked["on_engine"], *shelf, *bought])
    owner = np.array([*range(valves), *[-1] * len(shelf), *[-2] * len(bought)])
    needed, low, high = (np.array(asked[name])[:, None] for name in ("needed", "low", "high"))
    off = np.rint(1000 * np.abs(size - needed))
    price = off + WEIGHTS[1] * (owner != np.arange(valves)[:, None]) + WEIGHTS[0] * (owner == -2)
    return np.where((size >= low - 1e-6) & (size <= high + 1e-6), price, np.inf)
