"""Chance of a range: greatest less least of m noisy readings, with and without a display that rounds them.

    P(R ≤ w) = Σ over stations i of ∫ f_i(a) Π over j ≠ i of [F_j(a + w) − F_j(a)] da

A display of step q shows ranges of whole steps only, and stations that are alike are rounded alike, so rounding is no
noise that could be added to σ. Over the place of the part between two graduations, exactly (derived):

    P(shown ≤ r) = 1/q ∫ from r to r + q of P(R ≤ w) dw = [G(r + q) − G(r)] / q,   G(w) = ∫ Π [F_i(a + w) − F_i(a)] da

Both integrands are smooth and die away, for which the plain sum over even steps is nearly exact.

Shapes  Everything broadcasts. `ends` = stations at the low end, at the high end, midway.
Source  Distribution of the range: Tippett 1925 (value from memory; d2 in the tests). The display: derived.
"""

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from witnessmark.metrology.source import Floats

REACH = 8.5  # in σ: the normal tail beyond is 1e-17
DENSITY_NODES = 72  # spacing 0.24 σ at worst: right to 1e-9 up to 16 stations
WINDOW_NODES = 96  # spacing 0.5 σ at worst, where σ is a twentieth of the step
LEAST_NOISE = 0.05  # in steps: less noise than this is taken as this, which moves no verdict towards certainty
Ends = tuple[int, int, int]


def chance_of_range(r: ArrayLike, true_range: ArrayLike, ends: Ends) -> Floats:
    """Chance of a range at most `r` over stations whose noise is 1: both lengths in σ."""
    from scipy.special import ndtr

    r, true_range = np.broadcast_arrays(np.asarray(r, float), np.asarray(true_range, float))
    held = _held(true_range, ends)
    first = np.maximum(_top(held) - r - REACH, -REACH)
    width = np.maximum(REACH - first, 0.0)
    a = first[..., None] + width[..., None] * np.linspace(0, 1, DENSITY_NODES)
    inside = [ndtr(a + r[..., None] - centre) - ndtr(a - centre) for centre, _ in held]
    rise = np.zeros(a.shape)
    for i, (centre, count) in enumerate(held):
        least = count * np.exp(-0.5 * (a - centre) ** 2) / np.sqrt(2 * np.pi)
        for j, (_, others) in enumerate(held):
            power = others - (i == j)
            if power:
                least *= inside[j] ** power
        rise += least
    total = rise.sum(-1) * width / (DENSITY_NODES - 1)
    chance: Floats = np.where(r > 0, np.clip(total, 0.0, 1.0), 0.0)
    return chance


def chance_shown(r: ArrayLike, true_range: ArrayLike, sigma: ArrayLike, step: ArrayLike, ends: Ends) -> Floats:
    """Chance that a display of `step` shows a range at most `r`; all in mm, `sigma` the scatter before rounding."""
    r, true_range, sigma, step = np.broadcast_arrays(*(np.asarray(a, float) for a in (r, true_range, sigma, step)))
    s = np.maximum(sigma, LEAST_NOISE * step)
    far = r - true_range > 1.5 * REACH * s
    near = np.where(far, true_range, r)
    rise = _window(near + step, true_range, s, ends) - _window(near, true_range, s, ends)
    chance: Floats = np.where(far, 1.0, np.clip(rise / step, 0.0, 1.0))
    return chance


def _window(w: Floats, true_range: Floats, s: Floats, ends: Ends) -> Floats:
    """G(w): length of the places a at which all stations fall into [a, a + w], weighted by the chance that they do."""
    from scipy.special import ndtr

    held = _held(true_range, ends)
    first, last = _top(held) - w - REACH * s, REACH * s
    width = np.maximum(last - first, 0.0)
    a = first[..., None] + width[..., None] * np.linspace(0, 1, WINDOW_NODES)
    product = np.ones(a.shape)
    for centre, count in held:
        product = (
            product * (ndtr((a + w[..., None] - centre) / s[..., None]) - ndtr((a - centre) / s[..., None])) ** count
        )
    found: Floats = np.where(w > 0, product.sum(-1) * width / (WINDOW_NODES - 1), 0.0)
    return found


def _held(true_range: Floats, ends: Ends) -> list[tuple[Floats, int]]:
    low, high, midway = ends
    places = [(0.0, low), (1.0, high), (0.5, midway)]
    return [(part * true_range[..., None], count) for part, count in places if count]


def _top(held: list[tuple[Floats, int]]) -> Floats:
    """Place of the highest stations."""
    top: Floats = np.maximum.reduce([centre[..., 0] for centre, _ in held])
    return top


@lru_cache(maxsize=256)
def mean_range(stations: int) -> float:
    """d2: mean range of `stations` standard normal readings, ∫ 1 − Φ^m − (1 − Φ)^m dx."""
    from scipy.special import ndtr

    if stations < 2:
        raise ValueError(f"a range over {stations} stations does not exist; it needs 2 at least")
    x = np.linspace(-REACH, REACH, 400)
    chance = ndtr(x)
    return float((1 - chance**stations - (1 - chance) ** stations).sum() * (x[1] - x[0]))
