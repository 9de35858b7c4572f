"""The same work at the same price, made surer: only the amounts move, to where least is likely to break.

The chance that a row breaks falls ever more slowly with its room, so the sum of those chances is convex while every
room is above nothing, and a few tangents from below describe it well enough for a linear programme:

    least sum p    with p >= Phi(-k) - phi(k) (room / u - k) at some k, and every row still as sure as it must be
"""

from collections.abc import Callable
from contextlib import AbstractContextManager

import numpy as np

from witnessmark.plan.margins import Offer
from witnessmark.plan.problem import Floats, Geometry

TANGENTS = (1.0, 1.4, 1.8, 2.2, 2.6, 3.0, 3.4, 3.8)
FAR = 4.5  # standard uncertainties: a row with more room than this need not be watched
REACH = 25  # steps of the machine by which an amount may move at once
TIE = 1e-7  # of two equally sure the one that takes less


def surer(
    geometry: Geometry, offers: tuple[Offer, ...], amounts: Floats, rooms: Floats, u: Floats, kappa: Floats,
    held: frozenset[int], seconds: float, quiet: Callable[[], AbstractContextManager[object]],
) -> Floats:  # fmt: skip
    """Amounts (choices,) of the same choices with the least sum of chances to break, by slopes taken here.

    rooms, u, kappa   (m,) at `amounts`; `held` are choices whose amount may not move.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    free = [int(n) for n in np.flatnonzero(amounts) if offers[n].step and not offers[n].cost_each and n not in held]
    if not free:
        return amounts
    steps = np.array([offers[n].step for n in free], float)
    least, most = _reach(offers, free, amounts, steps)
    slopes = _slopes(geometry, offers, free, amounts, steps)
    watched = np.flatnonzero(np.any(np.abs(slopes) > 1e-9, axis=1) & ~np.isnan(rooms) & (u > 0))
    if not len(watched):
        return amounts
    matrix, low = _rows(slopes[watched], (rooms / np.where(u > 0, u, 1.0))[watched], u[watched], kappa[watched])
    p = len(watched)
    with quiet():
        found = milp(
            np.concatenate([TIE * steps, np.ones(p)]), integrality=np.concatenate([np.ones(len(free)), np.zeros(p)]),
            bounds=Bounds(np.concatenate([least, np.zeros(p)]), np.concatenate([most, np.ones(p)])),
            constraints=LinearConstraint(csr_array(matrix), low, np.inf),
            options={"time_limit": seconds, "mip_rel_gap": 1e-3},
        )  # fmt: skip
    if found.x is None:
        return amounts
    moved = amounts.copy()
    moved[free] += steps * np.round(found.x[: len(free)])
    return moved


def _reach(offers: tuple[Offer, ...], free: list[int], amounts: Floats, steps: Floats) -> tuple[Floats, Floats]:
    """By how many whole steps each amount may fall and rise."""
    down = np.array([offers[n].least - amounts[n] for n in free]) / steps
    up = np.array([offers[n].most - amounts[n] for n in free]) / steps
    return np.clip(np.ceil(down - 1e-9), -REACH, 0), np.clip(np.floor(up + 1e-9), 0, REACH)


def _slopes(geometry: Geometry, offers: tuple[Offer, ...], free: list[int], amounts: Floats, steps: Floats) -> Floats:
    """What one step of each free amount moves (m, free): from both sides, as far as the range goes."""
    tries = np.tile(amounts, (2 * len(free), 1))
    for at, (n, step) in enumerate(zip(free, steps, strict=True)):
        tries[2 * at, n] = max(amounts[n] - 3 * step, offers[n].least)
        tries[2 * at + 1, n] = min(amounts[n] + 3 * step, offers[n].most)
    rooms = geometry.values(tries)
    span = np.array([tries[2 * at + 1, n] - tries[2 * at, n] for at, n in enumerate(free)])
    moved = np.nan_to_num(rooms[1::2] - rooms[::2]).T
    return np.asarray(moved / np.maximum(span, 1e-12) * steps)


def _rows(slopes: Floats, sure: Floats, u: Floats, kappa: Floats) -> tuple[Floats, Floats]:
    """Matrix and low ends: every row keeps its kappa, and p of each row lies above every tangent."""
    by = slopes / u[:, None]
    unit = np.eye(len(u))
    keep = np.concatenate([by, np.zeros((len(u), len(u)))], axis=1)
    blocks, lows = [keep], [np.minimum(kappa - sure, 0.0)]
    for k in TANGENTS:
        height, slope = _tail(k), np.exp(-k * k / 2) / np.sqrt(2 * np.pi)
        blocks.append(np.concatenate([slope * by, unit], axis=1))
        lows.append(np.where(sure > FAR + 20, -np.inf, height - slope * (sure - k)))
    return np.concatenate(blocks), np.concatenate(lows)


def _tail(k: float) -> float:
    from math import erfc, sqrt

    return erfc(k / sqrt(2)) / 2
