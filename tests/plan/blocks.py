"""Heads of many valves as straight lines: what a cut moves is in proportion, and one deck couples all of them."""

from dataclasses import dataclass

import numpy as np

from plan.toys import COST, offer, problem
from witnessmark.plan.problem import Rule

CHOICES = ("seat_cut", "face_grind", "tip_grind", "valve_replace")
RANGE = {"seat_cut": (0.03, 0.60, 0.01), "face_grind": (0.03, 0.30, 0.01), "tip_grind": (0.02, 0.25, 0.01)}


@dataclass(frozen=True)
class Straight:
    """rooms = rest + jump z + slope x; variance = before + added z."""

    rest: np.ndarray
    jump: np.ndarray  # (m, choices)
    slope: np.ndarray
    before: np.ndarray
    added: np.ndarray

    def values(self, amounts):
        return self.rest + (amounts > 0) @ self.jump.T + amounts @ self.slope.T

    def variances(self):
        return self.before, self.added

    def u(self, amounts):
        return np.sqrt(self.before + self.added @ (amounts > 0))

    def sample(self, amounts, count, seed):
        stream = np.random.default_rng(seed)
        return self.values(amounts[None, :]) + self.u(amounts) * stream.standard_normal((count, len(self.rest)))


def blocks(seed, valves):
    """An invented head of straight lines with its problem; nearly always one that can be mended."""
    stream = np.random.default_rng(seed)
    offers, rules, m = [], [], 4 * valves + 1
    size = len(CHOICES) * valves + 1
    rest, jump, slope = np.zeros(m), np.zeros((m, size)), np.zeros((m, size))
    added = np.zeros((m, size))
    for v in range(valves):
        rows, first = np.arange(4 * v, 4 * v + 4), len(offers)
        stem = stream.uniform(43.70, 44.40)
        rest[rows] = stem - 43.75, 44.25 - stem, stream.uniform(-0.05, 0.5), stream.uniform(-0.1, 0.5)
        for name in CHOICES:
            offers.append(offer(name, f"v{v}", v, *RANGE.get(name, (1.0, 1.0, None)),
                                round(COST[name] * stream.uniform(0.8, 1.2), 2)))  # fmt: skip
        seat, face, tip, new = range(first, first + 4)
        slope[rows[0], [seat, face, tip]] = 1.0, 1.414, -1.0
        slope[rows[1]] = -slope[rows[0]]
        slope[rows[2], [seat, face]] = 0.9, -0.7  # room for the piston, margin of the head of the valve
        slope[rows[3], seat] = 0.5
        jump[rows, new] = 43.98 - stem, stem - 43.98, 0.4, 0.2
        jump[rows[3], face] = 0.25
        slope[-1, seat] = -0.02
        added[rows[0], [seat, face, tip]] = added[rows[1], [seat, face, tip]] = 2.5e-5
        rules += [Rule((face, new)), Rule((tip, new))]
    offers.append(offer("skim", "head", 0, 0.03, 0.20, 0.01, 85.0))
    slope[2:-1:4, -1] = -1.0
    rest[-1], jump[-1, -1] = stream.uniform(-0.03, 0.05), 0.06
    made = Straight(rest, jump, slope, np.full(m, 1e-4), added)
    return problem(offers, rules, made, m)
