"""The claim in little: a few cells at the limit, seeded, through the public judging function on whole simulated heads.

Both ends are held. Too many false verdicts break the claim; far too few would mean that the doubt is stated too great,
and then half of the shop's parts are called too close for nothing. `benchmarks` holds every cell with more heads.
"""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import pytest
from benchmarks import heads
from benchmarks.cells import OUT, WITHIN, Cell
from benchmarks.claim import Count, simulate, tempted
from benchmarks.heads import Tool

from witnessmark.judge.judge import judge

MICROMETER = Tool("micrometer", 0.001, 0.0012, U=0.003)
INCH = Tool("micrometer", 0.0001, 0.00005, U=0.00012, unit="in")
NOISY = Tool("micrometer", 0.001, 0.003, U=0.001)
BORE = Tool("dial_bore", 0.002, 0.0015, permissible=0.001)
LEAVES = Tool("leaves", 0.02, 0.0, leaves=(0.16, 0.18, 0.20, 0.22, 0.24), leaf_error=0.0005)

SINGLE = (
    Cell("micrometer", "lash_shim", 2.6, MICROMETER, side="low"),
    Cell("micrometer, inch", "base_circle", 32.0, INCH),
    Cell("caliper", "spring_free_length", 47.5, Tool("caliper", 0.02, 0.015, U=0.03)),
    Cell("s from 10 repeats", "margin", 1.2, Tool("micrometer", 0.001, 0.0012, U=0.003, n=10)),
    Cell("wide limits", "spring_solid_height", 24.0, Tool("caliper", 0.02, 0.015, U=0.03), side=5.0),
)
SEVERAL = (
    Cell("worst of 6", "stem_diameter", 5.94, NOISY, "worst", "low", tempts=OUT),
    Cell("mean of 6", "guide_bore", 6.03, MICROMETER, "mean"),
    Cell("lift, one micrometer", "lobe_height", 9.4, Tool("micrometer", 0.001, 0.0012, U=0.006), side="low",
         judged="lobe_lift", partner=("base_circle", 30.0, Tool("micrometer", 0.001, 0.0012, U=0.006))),
)  # fmt: skip


@lru_cache(maxsize=4)
def counted(kind: str) -> dict[str, tuple[Cell, Count]]:
    cells: Sequence[Cell] = SINGLE if kind == "single" else SEVERAL
    counts = simulate(cells, 150 if kind == "single" else 80, seed=1, workers=1)
    return {cell.name: (cell, count) for cell, count in zip(cells, counts, strict=True)}


NAMES = [("single", cell.name) for cell in SINGLE] + [("several", cell.name) for cell in SEVERAL]


@pytest.mark.parametrize(("kind", "name"), NAMES)
def test_at_the_limit_one_verdict_in_twenty_is_false_at_most(kind, name):
    cell, count = counted(kind)[name]
    for which in tempted(cell):
        rate, error = count.rate(which)
        assert rate <= 0.05 + 3.5 * error, f"{name}: false {which} {rate:.1%} ± {error:.1%}"


@pytest.mark.parametrize(("kind", "name"), NAMES)
def test_nor_is_the_doubt_stated_far_too_great(kind, name):
    cell, count = counted(kind)[name]
    for which in tempted(cell):
        rate, error = count.rate(which)
        assert rate >= 0.025 - 2.5 * error, f"{name}: false {which} only {rate:.2%} ± {error:.2%}"
        assert rate > 0, f"{name}: no {which} at all, so no limit was ever near"


def test_a_set_bore_gauge_carries_the_error_of_the_micrometer_that_set_it():
    """Its clearance is judged at the limit with a micrometer so coarse that whoever forgets what is shared is timid."""
    coarse = Tool("micrometer", 0.001, 0.0005, U=0.020)
    cell = Cell("clearance", "guide_bore", 0.05, BORE, judged="stem_guide_clearance",
                partner=("stem_diameter", 5.95, coarse))  # fmt: skip
    (count,) = simulate([cell], 60, seed=2, workers=1)
    for which in (WITHIN, OUT):
        rate, error = count.rate(which)
        assert 0.0 < rate <= 0.05 + 3.5 * error, f"false {which} {rate:.2%} ± {error:.2%}"
        assert rate >= 0.025 - 2.5 * error


@pytest.mark.parametrize(("gap", "at_most", "at_least"), [(0.199, "within", "out"), (0.201, "out", "within")])
def test_the_shops_rule_settles_a_limit_that_is_itself_a_leaf(gap, at_most, at_least):
    """The 0.20 leaf refused is within "most 0.20" and out of "least 0.20"; entering, the other way round."""
    places = heads.places("valve_lash")
    held = heads.taken_up(LEAVES, "L-05", np.random.default_rng(3))
    job = heads.job([held], heads.gaps(held, "valve_lash", places, np.full(len(places), gap)))
    for low, high, word in ((None, 0.20, at_most), (0.20, None, at_least)):
        sheet = heads.sheet([heads.limit("valve_lash", low, high, "each")])
        results = judge(job, sheet, heads.engine(), heads.catalogue()).results
        assert {result.verdict for result in results} == {word}
