"""Geometries small enough to try every amount: nothing of an engine's model is used, only what a plan is given.

A bent head has n valves. A cut sinks a valve along a curve, the seat widens in a kink, the skim lowers the lot:

    stem   = stem0 + 0.9 seat + 0.15 seat^2 + 1.3 face         less tip          high and low end
    width  = width0 + 1.6 max(seat - 0.05, 0)                  less relief       high and low end
    piston = room0 + 0.8 (seat + face)  - skim                                   low end
    deck   = deck0 - skim - 0.04 sum seat                                        low end, one row for the head

Derived, as toys.
"""

from dataclasses import dataclass
from itertools import product

import numpy as np

from witnessmark.plan.margins import Offer
from witnessmark.plan.problem import Problem, Rule

NAMES = ("seat_cut", "face_grind", "tip_grind", "relief_top", "valve_replace")
COST = {"seat_cut": 18.0, "face_grind": 9.0, "tip_grind": 7.0, "relief_top": 6.0, "valve_replace": 31.0, "skim": 85.0}
KIND = {"valve_replace": "part"}


def offer(operation, location, element, least, most, step, cost, tolerance=0.005):
    """One choice with the usual rest."""
    return Offer(f"{operation}@{location}", operation, location, element, least, most, step, cost, 10.0,
                 KIND.get(operation, "metal"), tolerance)  # fmt: skip


@dataclass(frozen=True)
class Bent:
    """The bent head; `own` (valves, 3) are its stem, width and piston room, `deck` what is over; u0 of every room."""

    own: np.ndarray
    deck: float
    u0: float
    tolerance: float
    limits: tuple[float, float, float, float, float]  # stem low, stem high, width low, width high, piston low

    @property
    def valves(self):
        return len(self.own)

    def values(self, amounts):
        n = self.valves
        seat, face, tip, relief, new = (amounts[:, k * n : (k + 1) * n] for k in range(5))
        skim = amounts[:, 5 * n :]
        stem0 = np.where(new > 0, 44.0, self.own[:, 0])
        stem = stem0 + 0.9 * seat + 0.15 * seat**2 + 1.3 * face - tip
        width = self.own[:, 1] + 1.6 * np.maximum(seat - 0.05, 0.0) - relief
        piston = self.own[:, 2] + 0.8 * (seat + face) - skim
        low, high, thin, wide, near = self.limits
        deck = self.deck - skim - 0.04 * seat.sum(1, keepdims=True)
        flat = 0.02 * np.ones_like(skim) - np.where(skim > 0, 0.0, 0.06)
        return np.concatenate(
            [stem - low, high - stem, width - thin, wide - width, piston - near, deck, flat], axis=1
        )

    def variances(self):
        rows, choices = 5 * self.valves + 2, 5 * self.valves + 1
        added = np.zeros((rows, choices))
        for v in range(self.valves):
            mine = [k * self.valves + v for k in range(5)]
            for choice in mine[:4]:
                added[mine, choice] = self.tolerance**2
            added[mine[0], mine[4]] = added[mine[1], mine[4]] = -0.5 * self.u0**2
            added[mine[4], -1] = self.tolerance**2
            added[-2, mine[0]] = (0.04 * self.tolerance) ** 2
        added[-2, -1] = self.tolerance**2
        before = np.full(rows, self.u0**2)
        before[-1] = 0.0
        return before, added

    def u(self, amounts):
        before, added = self.variances()
        return np.sqrt(before + added @ (amounts > 0))

    def sample(self, amounts, count, seed):
        stream = np.random.default_rng(seed)
        return self.values(amounts[None, :]) + self.u(amounts) * stream.standard_normal((count, len(self.u(amounts))))


def bent(seed, valves, **ranges):
    """An invented bent head with its problem; `ranges` are (least, most, step) by operation."""
    stream = np.random.default_rng(seed)
    own = np.column_stack([stream.uniform(43.7, 44.6, valves), stream.uniform(1.1, 1.9, valves),
                           stream.uniform(1.5, 2.2, valves)])  # fmt: skip
    head = Bent(own, float(stream.uniform(0.05, 0.4)), 0.02, 0.01, (43.75, 44.25, 1.0, 1.6, 1.5))
    usual = {"seat_cut": (0.05, 0.60, 0.05), "face_grind": (0.05, 0.20, 0.05), "tip_grind": (0.05, 0.25, 0.05),
             "relief_top": (0.1, 0.6, 0.1), "skim": (0.05, 0.15, 0.05)} | ranges  # fmt: skip
    offers = [offer(name, f"v{v}", v, *usual.get(name, (1.0, 1.0, None)), COST[name] + 0.37 * v)
              for name in NAMES for v in range(valves)]  # fmt: skip
    offers.append(offer("skim", "head", 0, *usual["skim"], COST["skim"]))
    at = {(one.operation, one.element): n for n, one in enumerate(offers)}
    rules = []
    for v in range(valves):
        rules += [Rule((at["face_grind", v], at["valve_replace", v])), Rule((at["tip_grind", v], at["valve_replace", v])),
                  Rule((at["relief_top", v],), needs=(at["seat_cut", v],))]  # fmt: skip
    return problem(offers, rules, head, 5 * valves + 2)


def problem(offers, rules, geometry, rows, groups=None, scale=0.5):
    """A problem whose groups are the places of its offers."""
    places = {}
    for n, one in enumerate(offers):
        places.setdefault(one.location, []).append(n)
    return Problem(
        tuple(offers), tuple(rules), geometry, tuple(f"row@place{n} low" for n in range(rows)), np.full(rows, scale),
        np.zeros(rows, bool), groups or tuple(tuple(each) for each in places.values() if len(each) > 1),
    )  # fmt: skip


def grid(one):
    """Every amount of a choice, nothing first."""
    if one.step is None:
        return np.array([0.0, one.most])
    first, last = np.ceil(one.least / one.step - 1e-9), np.floor(one.most / one.step + 1e-9)
    return np.concatenate([[0.0], np.arange(first, last + 1) * one.step])


def cheapest(asked, kappa, chunk=20_000):
    """The least cost by trying every amount of every choice that the rules allow, the cheap first: (cost, amounts)."""
    places = {}
    for n, one in enumerate(asked.offers):
        places.setdefault(one.location, []).append(n)
    several = [_of_place(asked, mine) for mine in places.values()]
    order = np.array([n for mine in places.values() for n in mine])
    cost = np.array([one.cost for one in asked.offers])
    price = np.zeros(1)
    for rows, mine in zip(several, places.values(), strict=True):
        price = (price[:, None] + (rows > 0) @ cost[mine]).ravel()
    kinds = [len(rows) for rows in several]
    ranked = np.argsort(price, kind="stable")
    for begin in range(0, len(ranked), chunk):
        here = ranked[begin : begin + chunk]
        picked = np.unravel_index(here, kinds)
        block = np.zeros((len(here), len(asked.offers)))
        block[:, order] = np.concatenate([rows[at] for rows, at in zip(several, picked, strict=True)], axis=1)
        short = asked.geometry.values(block) - kappa * _doubts(asked.geometry, block)
        good = np.flatnonzero(np.all(short >= -1e-7, axis=1))
        if len(good):
            return float(price[here[good[0]]]), block[good[0]]
    return np.inf, None


def _doubts(geometry, rows):
    """Doubt rests on what is done and hardly on how much: worked out once for each pattern."""
    _, first, back = np.unique(rows > 0, axis=0, return_index=True, return_inverse=True)
    return np.array([geometry.u(rows[n]) for n in first])[np.ravel(back)]


def _of_place(asked, mine):
    rows = np.array(list(product(*(grid(asked.offers[n]) for n in mine))))
    full = np.zeros((len(rows), len(asked.offers)))
    full[:, mine] = rows
    for rule in asked.rules:
        if not set(rule.choices) <= set(mine):
            continue
        taken = (full[:, list(rule.choices)] > 0).sum(1)
        if rule.needs:
            full = full[(taken == 0) | (full[:, list(rule.needs)] > 0).any(1)]
        else:
            full = full[(taken <= rule.most) & (taken >= rule.least)]
    return full[:, mine]
