"""Chance of a range: greatest less least of m noisy readings, with and without a display that rounds them.

    P(R ≤ w) = Σ over stations i of ∫ f_i(x) Π over j ≠ i of [F_j(x + w) − F_j(x)] dx

A display of step q shows ranges of whole steps only, and stations that are alike are rounded alike, so rounding is no
noise that could be added to σ. Over the place of the part between two graduations, exactly (derived):

    P(shown ≤ r) = 1/q ∫ from r to r + q of P(R ≤ w) dw = [G(r + q) − G(r)] / q,   G(w) = ∫ Π [F_i(a + w) − F_i(a)] da

Both integrands are smooth and die away, for which the plain sum over even steps is exact to ten digits at a spacing of
0.8 σ.

Shapes  Everything broadcasts. `ends` = stations at the low end, at the high end, midway.
Source  Distribution of the range: Tippett 1925 (value from memory; d2 in the tests). The display: derived.
"""

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from witnessmark.metrology.source import Floats

REACH = 8.5  # in σ: the normal tail beyond is 1e-17
SPACING = 0.5  # in σ, for the density; the plain sum is then exact in double precision
WINDOW_NODES = 96  # spacing 0.74 σ at worst, where σ is a twentieth of the step
LEAST_NOISE = 0.05  # in steps: less noise than this is taken as this, which moves no verdict towards certainty
Ends = tuple[int, int, int]


def chance_of_range(r: ArrayLike, true_range: ArrayLike, ends: Ends) -> Floats:
    """Chance of a range at most `r` over stations whose noise is 1: both lengths in σ."""
    from scipy.special import ndtr

    r, true_range = np.broadcast_arrays(np.asarray(r, float), np.asarray(true_range, float))
    nodes, weights = _density()
    total = np.zeros(r.shape)
    held = _held(true_range, ends)
    for i, (centre, count) in enumerate(held):
        x = centre + nodes
        product = np.full(x.shape, float(count))
        for j, (other, others) in enumerate(held):
            power = others - (i == j)
            if power:
                product = product * (ndtr(x + r[..., None] - other) - ndtr(x - other)) ** power
        total += product @ weights
    chance: Floats = np.where(r > 0, np.clip(total, 0.0, 1.0), 0.0)
    return chance


def chance_shown(r: ArrayLike, true_range: ArrayLike, sigma: ArrayLike, step: ArrayLike, ends: Ends) -> Floats:
    """Chance that a display of `step` shows a range at most `r`; all in mm, `sigma` the scatter before rounding."""
    r, true_range, sigma, step = np.broadcast_arrays(*(np.asarray(a, float) for a in (r, true_range, sigma, step)))
    s = np.maximum(sigma, LEAST_NOISE * step)
    far = r - true_range > 4 * REACH * s
    near = np.where(far, true_range, r)
    rise = _window(near + step, true_range, s, ends) - _window(near, true_range, s, ends)
    chance: Floats = np.where(far, 1.0, np.clip(rise / step, 0.0, 1.0))
    return chance


def _window(w: Floats, true_range: Floats, s: Floats, ends: Ends) -> Floats:
    """G(w): length of the places a at which all stations fall into [a, a + w], weighted by the chance that they do."""
    from scipy.special import ndtr

    first, last = true_range - w - REACH * s, REACH * s
    width = np.maximum(last - first, 0.0)
    a = first[..., None] + width[..., None] * np.linspace(0, 1, WINDOW_NODES)
    product = np.ones(a.shape)
    for centre, count in _held(true_range, ends):
        product = (
            product * (ndtr((a + w[..., None] - centre) / s[..., None]) - ndtr((a - centre) / s[..., None])) ** count
        )
    found: Floats = np.where(w > 0, product.sum(-1) * width / (WINDOW_NODES - 1), 0.0)
    return found


def _held(true_range: Floats, ends: Ends) -> list[tuple[Floats, int]]:
    low, high, midway = ends
    places = [(0.0, low), (1.0, high), (0.5, midway)]
    return [(part * true_range[..., None], count) for part, count in places if count]


@lru_cache(maxsize=1)
def _density() -> tuple[Floats, Floats]:
    nodes = np.arange(-REACH, REACH + SPACING / 2, SPACING)
    return nodes, SPACING * np.exp(-0.5 * nodes * nodes) / np.sqrt(2 * np.pi)


@lru_cache(maxsize=256)
def mean_range(stations: int) -> float:
    """d2: mean range of `stations` standard normal readings, ∫ 1 − Φ^m − (1 − Φ)^m dx."""
    from scipy.special import ndtr

    if stations < 2:
        raise ValueError(f"a range over {stations} stations does not exist; it needs 2 at least")
    x = np.linspace(-REACH, REACH, 400)
    chance = ndtr(x)
    return float((1 - chance**stations - (1 - chance) ** stations).sum() * (x[1] - x[0]))
