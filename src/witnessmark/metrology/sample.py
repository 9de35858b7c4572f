"""Samples for laws with a kink (a least over angles, a clearance that closes), where slopes tell too little.

The same budget as in `propagate`, drawn instead of combined (JCGM 101:2008, 6 and 7). Chance comes in as a generator
that the caller has seeded, so the same job gives the same figures.
"""

import numpy as np
from numpy.typing import ArrayLike

from witnessmark.metrology.batch import Batch
from witnessmark.metrology.conform import high_limit, low_limit
from witnessmark.metrology.doubt import Doubt, doubt
from witnessmark.metrology.source import UNIFORM, Floats

TRIALS = 2000


def errors(batch: Batch, item: ArrayLike, generator: np.random.Generator, trials: int = TRIALS) -> Floats:
    """Errors (trials, items) of some readings, correlated by their shared sources, in mm."""
    item = np.asarray(item)
    table = batch.sources
    drawn = generator.standard_normal((trials, len(table.rows)))
    uniform = generator.uniform(-UNIFORM, UNIFORM, (trials, int(table.uniform.sum())))
    drawn[:, table.uniform] = uniform
    drawn = np.concatenate([drawn, np.zeros((trials, 1))], 1)  # the last stands for the padding, −1
    shared = np.einsum("tik,ik->ti", drawn[:, batch.source[item]], batch.contribution[item])
    scatter = generator.standard_normal((trials, len(item))) * batch.scatter[item]
    step = generator.uniform(-UNIFORM, UNIFORM, (trials, len(item))) * batch.step[item]
    found: Floats = shared + scatter + step
    return found


def doubt_of_samples(samples: ArrayLike, value: ArrayLike) -> Doubt:
    """Doubt of values (n,) from samples (trials, n) of them; nan, a sample outside the law, is left out of u."""
    samples = np.asarray(samples, float)
    return doubt(value, np.nanstd(samples, axis=0, ddof=1))


def chances_of_samples(samples: ArrayLike, low: ArrayLike, high: ArrayLike) -> tuple[Floats, Floats, Floats]:
    """Share of samples (trials, n) within the limits, below the low one, above the high one.

    A nan is none of the three: what cannot be computed proves neither verdict.
    """
    samples = np.asarray(samples, float)
    below, above = samples < low_limit(low), samples > high_limit(high)
    within = ~below & ~above & ~np.isnan(samples)
    return within.mean(0), below.mean(0), above.mean(0)
