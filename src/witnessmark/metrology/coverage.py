"""Distributions of an error: normal, Student t, and a uniform part with a normal or t part on top of it.

Shapes  Everything broadcasts; the result has the common shape.
Import  scipy is imported inside, so that a command that judges nothing does not wait for it.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

from witnessmark.metrology.source import Flags, Floats

_SMALLEST = 1e-12  # smallest s that is told from 0, as a part of the uniform half-width
_STEPS = 48  # halvings in a search: 3e-15 of the first bracket
_ROOT_2_PI = np.sqrt(2 * np.pi)


def student_cdf(x: ArrayLike, dof: ArrayLike = np.inf) -> Floats:
    """Chance that a standard Student variable lies at or below x; normal where `dof` is infinite."""
    from scipy.special import ndtr, stdtr

    x, dof = np.broadcast_arrays(np.asarray(x, float), np.asarray(dof, float))
    finite = np.isfinite(dof)
    if not finite.any():
        return np.asarray(ndtr(x), float)
    if finite.all():
        return np.asarray(stdtr(dof, x), float)
    chance = np.asarray(ndtr(x), float)
    chance[finite] = stdtr(dof[finite], x[finite])
    return chance


def student_quantile(p: ArrayLike, dof: ArrayLike = np.inf) -> Floats:
    """The x below which a standard Student variable lies with chance p; scipy takes infinite `dof` as normal."""
    from scipy.special import stdtrit

    return np.asarray(stdtrit(np.asarray(dof, float), np.asarray(p, float)), float)


def coverage_factor(p: ArrayLike, dof: ArrayLike = np.inf) -> Floats:
    """k such that ± k u covers with probability p (JCGM 100:2008, G.3.2 and Table G.2)."""
    return student_quantile((1 + np.asarray(p, float)) / 2, dof)


def trapezoid_factor(p: float, beta: float) -> float:
    """k for a symmetric trapezoid whose top is `beta` of its base, while 1 − p < (1 − β) / (1 + β).

    Source: EA-4/02 M:2022, S10.13 (value from memory).
    """
    if not 0 <= beta <= 1 or 1 - p > (1 - beta) / (1 + beta):
        raise ValueError(f"beta {beta:g} and p {p:g} do not fit: the bound must lie on the slope of the trapezoid")
    return float((1 - np.sqrt((1 - p) * (1 - beta * beta))) / np.sqrt((1 + beta * beta) / 6))


def error_cdf(x: ArrayLike, s: ArrayLike, half: ArrayLike = 0.0, dof: ArrayLike = np.inf) -> Floats:
    """Chance that an error lies at or below x: uniform over ± `half`, plus a Student part of scale `s` and `dof`.

    F(x) = s/(2h)·[ψ((x+h)/s) − ψ((x−h)/s)] with ψ the integral of the Student distribution function: for the normal
    ψ(x) = x Φ(x) + φ(x); for ν > 1 the last term is (ν + x²)/(ν − 1)·f(x). With `half` 0 it is Student alone; with `s`
    0 it is the ramp of the uniform part alone. Derived; JCGM 101:2008, 6.4 for the parts.
    """
    x, s, half, dof = np.broadcast_arrays(*(np.asarray(a, float) for a in (x, s, half, dof)))
    mixed = half > 1e-6 * s
    if not mixed.any():
        return _scaled_cdf(x, s, dof)
    chance = np.empty(x.shape)
    chance[~mixed] = _scaled_cdf(x[~mixed], s[~mixed], dof[~mixed])
    chance[mixed] = _mixed_cdf(x[mixed], s[mixed], half[mixed], dof[mixed])
    return chance


def _scaled_cdf(x: Floats, s: Floats, dof: Floats) -> Floats:
    return student_cdf(x / np.maximum(s, 1e-300), dof)


def _mixed_cdf(x: Floats, s: Floats, half: Floats, dof: Floats) -> Floats:
    s = np.maximum(s, _SMALLEST * half)
    reach = np.clip(x, -half - 1e4 * s, half + 1e4 * s)  # beyond, the answer is 0 or 1 and the difference loses digits
    raised = _primitive((reach + half) / s, dof) - _primitive((reach - half) / s, dof)
    chance = np.clip(s / (2 * half) * raised, 0.0, 1.0)
    whole: Floats = np.where(x <= -half - 1e4 * s, 0.0, np.where(x >= half + 1e4 * s, 1.0, chance))
    return whole


def _primitive(x: Floats, dof: Floats) -> Floats:
    """Integral of the Student distribution function from −∞ (for ν > 1; for ν = 1 up to a constant, which cancels)."""
    finite = np.isfinite(dof)
    raised: Floats = x * student_cdf(x, dof)
    raised[~finite] += np.exp(-0.5 * x[~finite] ** 2) / _ROOT_2_PI
    if finite.any():
        raised[finite] += _student_tail(x[finite], dof[finite])
    return raised


def _student_tail(x: Floats, dof: Floats) -> Floats:
    from scipy.special import gammaln

    cauchy = dof < 1 + 1e-6  # two readings: the mean of the distribution does not exist, its integral is a logarithm
    many = np.where(cauchy, 2.0, dof)
    scale = np.exp(gammaln((many + 1) / 2) - gammaln(many / 2)) / np.sqrt(many * np.pi)
    density = scale * (1 + x * x / many) ** (-(many + 1) / 2)
    tail: Floats = np.where(cauchy, -np.log1p(x * x) / (2 * np.pi), (many + x * x) / (many - 1) * density)
    return tail


def error_quantile(p: ArrayLike, s: ArrayLike, half: ArrayLike = 0.0, dof: ArrayLike = np.inf) -> Floats:
    """The x for which `error_cdf` is p, for p above one half."""
    p, s, half, dof = np.broadcast_arrays(*(np.asarray(a, float) for a in (p, s, half, dof)))
    alone = s * student_quantile(p, dof)
    if not (half > 0).any():
        return alone
    found = bisect(lambda x: error_cdf(x, s, half, dof) < p, np.zeros(p.shape), half + alone)
    return np.where(half > 0, found, alone)


def bisect(short: Callable[[Floats], Flags], low: ArrayLike, high: ArrayLike) -> Floats:
    """Where `short` turns from true to false between `low` and `high`, elementwise, by halving."""
    low, high = np.broadcast_arrays(np.asarray(low, float), np.asarray(high, float))
    for _ in range(_STEPS):
        middle = (low + high) / 2
        below = short(middle)
        low, high = np.where(below, middle, low), np.where(below, high, middle)
    found: Floats = (low + high) / 2
    return found
