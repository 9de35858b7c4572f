"""False verdicts with the truth exactly at the limit, for budgets as the bench makes them.

Every gauge, setting and temperature is drawn afresh from its stated doubt, the display rounds, and the place of the
part between two graduations is drawn too. What is drawn follows the model of the budget; what is tested is all that
stands between it and the verdict: places, slopes, settings, shapes, rounding.
"""

import numpy as np
import pytest

from witnessmark.metrology.batch import budget, readings, set_with
from witnessmark.metrology.conform import OUT, WITHIN, judge
from witnessmark.metrology.doubt import Doubt
from witnessmark.metrology.gauge import Calibration, Gauge, Repeatability
from witnessmark.metrology.propagate import combine
from witnessmark.metrology.source import UNIFORM, bounded

TRIALS = 40_000
NOISE = 0.0035  # three standard errors of 5 % in so many trials
INCH = 25.4

MIC = Gauge("M-07", "micrometer", "mm", 0.001, Calibration(0.002), None, Repeatability(0.0012))
TENTH = Gauge("M-11", "micrometer", "in", 1e-4 * INCH, Calibration(1.5e-4 * INCH), None, Repeatability(4e-5 * INCH))
BORE = Gauge("B-02", "dial_bore", "mm", 0.002, None, 0.004, Repeatability(0.001))
CALIPER = Gauge("C-01", "caliper", "mm", 0.01, None, 0.03, Repeatability(0.004))
COARSE = Gauge("M-25", "micrometer", "mm", 0.01, Calibration(0.004), None, Repeatability(0.002))
SET_ON_MIC = set_with("s1", BORE, MIC)
BENCH = bounded("temperature", "bench", 2.0)


def drawn(batch, gauges, taken, rng):
    """True values and what the gauges show of them, each (trials, readings)."""
    table, n = batch.sources, len(taken.value)
    shared = rng.standard_normal((TRIALS, len(table.rows)))
    shared[:, table.uniform] = rng.uniform(-UNIFORM, UNIFORM, (TRIALS, int(table.uniform.sum())))
    shared = np.concatenate([shared, np.zeros((TRIALS, 1))], 1)
    true, shown = rng.uniform(0, 1, (TRIALS, n)), np.empty((TRIALS, n))
    for i in range(n):
        gauge = gauges[taken.gauge[i]]
        error = shared[:, batch.source[i]] @ batch.contribution[i]
        noise = gauge.s * rng.standard_normal((TRIALS, taken.repeats[i]))
        shown[:, i] = (gauge.resolution * np.round(((true[:, i] + error)[:, None] + noise) / gauge.resolution)).mean(1)
    return true, shown


@pytest.mark.parametrize(
    ("name", "gauges", "taken", "slopes"),
    [
        ("stem by a micrometer", [MIC], readings([0.0]), [1]),
        ("stem by an inch micrometer", [TENTH], readings([0.0]), [1]),
        ("stem by a coarse micrometer", [COARSE], readings([0.0]), [1]),
        ("length by a caliper, its bound the most of it", [CALIPER], readings([0.0]), [1]),
        ("difference by one caliper", [CALIPER], readings([0.0, 0.0]), [1, -1]),
        ("difference over two size groups", [CALIPER], readings([0.0, 0.0], size_group=[0, 1]), [1, -1]),
        ("step by a coarse micrometer", [COARSE], readings([0.0, 0.0]), [1, -1]),
        ("clearance, bore set on the micrometer", [MIC, BORE], readings([0.0, 0.0], [1, 0], setting=[0, -1]), [1, -1]),
        ("sum of two warm lengths", [MIC, TENTH], readings([0.0, 0.0], [0, 1], temperature=0, nominal=60.0), [1, 1]),
    ],
)
def test_one_verdict_in_twenty_is_wrong_at_the_limit(name, gauges, taken, slopes):
    rng = np.random.default_rng(len(name))
    batch = budget(taken, gauges, [SET_ON_MIC], [BENCH])
    known = combine(batch, 0, range(len(slopes)), slopes, 1).doubt
    true, shown = drawn(batch, gauges, taken, rng)
    limit, value = true @ slopes, shown @ slopes
    each = (np.broadcast_to(field, TRIALS) for field in (known.u, known.dof, known.widest, known.repeat))
    code, _ = judge(Doubt(value, *each), np.nan, limit)
    assert (code == WITHIN).mean() == pytest.approx(0.05, abs=NOISE), name
    assert (code == OUT).mean() == pytest.approx(0.05, abs=NOISE), name


def test_a_mean_of_three_on_a_coarse_step_is_judged_wrongly_less_often():
    """Repeats leave the rounding whole, so a mean is doubted too much rather than too little: some 2 in 100."""
    taken = readings([0.0], repeats=3)
    batch = budget(taken, [COARSE])
    known = combine(batch, 0, 0, 1.0, 1).doubt
    true, shown = drawn(batch, [COARSE], taken, np.random.default_rng(9))
    each = (np.broadcast_to(field, TRIALS) for field in (known.u, known.dof, known.widest, known.repeat))
    code, _ = judge(Doubt(shown[:, 0], *each), np.nan, true[:, 0])
    assert (code == OUT).mean() < 0.03
