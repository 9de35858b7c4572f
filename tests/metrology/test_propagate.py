"""Doubt of derived values, against the Guide's examples and two libraries that do the same job in other ways."""

import numpy as np
import pytest
import uncertainties
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.metrology.batch import budget, readings
from witnessmark.metrology.coverage import coverage_factor
from witnessmark.metrology.gauge import Calibration, Gauge, Repeatability
from witnessmark.metrology.propagate import combine, covariance, lines, of_readings
from witnessmark.metrology.source import Source, bounded


def one_each(batch_of, us, dofs):
    """Readings that each have one error of their own."""
    sources = [Source("input", str(i), u, dof) for i, (u, dof) in enumerate(zip(us, dofs, strict=True))]
    return batch_of(np.zeros(len(us)), sources, range(len(us)), us)


@pytest.mark.truth("JCGM 100:2008, H.1: end gauge, 25, 9.7, 2.9 and 16.6 nm, u 32 nm, ν 16.7, U99 93 nm")
def test_the_end_gauge(batch_of):
    length, theta, alpha = 50_000_623.0, -0.1, 11.5e-6
    sources = [
        Source("standard", "l_s", 25.0, 18),
        Source("comparator", "repeat", 5.8, 24),
        Source("comparator", "random", 3.9, 5),
        Source("comparator", "systematic", 6.7, 8),
        Source("expansion", "difference", 1e-6 / np.sqrt(3), 50),
        Source("temperature", "difference", 0.05 / np.sqrt(3), 2),
    ]
    place = [[0, -1, -1], [1, 2, 3], [4, -1, -1], [5, -1, -1]]
    own = [[25, 0, 0], [5.8, 3.9, 6.7], [sources[4].u, 0, 0], [sources[5].u, 0, 0]]
    batch = batch_of([length, 215, 0, 0], sources, place, own)
    slopes = [1, 1, -length * theta, -length * alpha]
    gauge = combine(batch, 0, range(4), slopes, 1)
    found = gauge.doubt
    assert found.value == pytest.approx([50_000_838])
    assert found.u == pytest.approx([32], abs=0.5)
    assert found.dof == pytest.approx([16.7], abs=0.06)  # 16.75, printed cut
    parts = {line.kind: abs(line.contribution) for line in lines(gauge, 0) if line.kind != "comparator"}
    assert parts["standard"] == 25
    assert parts["expansion"] == pytest.approx(2.9, abs=0.05)
    assert parts["temperature"] == pytest.approx(16.6, abs=0.05)
    d = combine(batch, 0, 1, 1.0, 1).doubt
    assert d.u == pytest.approx([9.7], abs=0.05)
    assert d.dof == pytest.approx([25.6], abs=0.2)  # the Guide rounds 9.7 first; 25.4 unrounded
    assert coverage_factor(0.99, 16) * 32 == pytest.approx(93, abs=0.5)


@pytest.mark.truth("JCGM 100:2008, H.2, Tables H.2 to H.4: resistance, reactance, impedance and their correlations")
def test_resistance_and_reactance_from_correlated_readings(batch_of, truth):
    data = truth("voltage-current-phase")
    taken = np.array(data["readings"])
    v, i, phi = taken.mean(0)
    i /= 1000
    spread = np.cov(taken.T / np.array([[1], [1000], [1]])) / len(taken)
    root = np.linalg.cholesky(spread)
    sources = [Source("common", str(k), 1.0) for k in range(3)]
    batch = batch_of([v, i, phi], sources, [[0, 1, 2]] * 3, root)
    z = v / i
    slopes = [
        [np.cos(phi) / i, -z * np.cos(phi) / i, -z * np.sin(phi)],
        [np.sin(phi) / i, -z * np.sin(phi) / i, z * np.cos(phi)],
        [1 / i, -z / i, 0.0],
    ]
    values = [z * np.cos(phi), z * np.sin(phi), z]
    found = combine(batch, np.repeat(range(3), 3), np.tile(range(3), 3), np.ravel(slopes), 3, value=values)
    expected, u = data["expected"], found.doubt.u
    assert values == pytest.approx([expected["R_ohm"], expected["X_ohm"], expected["Z_ohm"]], abs=0.0005)
    assert u[[0, 2]] == pytest.approx([expected["u_R"], expected["u_Z"]], abs=0.0005)
    assert u[1] == pytest.approx(expected["u_X"], abs=0.001)  # 0.2956; 0.2955 when worked out set by set
    r = covariance(found) / np.outer(u, u)
    printed = [expected["r_R_X"], expected["r_R_Z"], expected["r_X_Z"]]
    assert [r[0, 1], r[0, 2], r[1, 2]] == pytest.approx(printed, abs=0.0006)


@pytest.mark.truth(
    "JCGM 100:2008, 5.2.2, EXAMPLE: ten 1000 ohm resistors against one standard, u of the sum 1 ohm, not 0.32"
)
def test_a_shared_calibration_adds_in_a_sum_and_cancels_in_a_difference(batch_of):
    batch = batch_of(np.full(10, 1000.0), [Source("calibration", "standard", 0.1)], [0] * 10, [0.1] * 10)
    row = [0] * 10 + [1, 1]
    found = combine(batch, row, [*range(10), 0, 1], [1.0] * 11 + [-1.0], 2).doubt
    assert found.value.tolist() == [10_000, 0]
    assert found.u == pytest.approx([1.0, 0.0], abs=1e-12)
    apart = one_each(batch_of, [0.1] * 10, [np.inf] * 10)
    assert combine(apart, 0, range(10), 1.0, 1).doubt.u == pytest.approx([0.32], abs=0.005)


@pytest.mark.truth(
    "JCGM 100:2008, G.4.1, EXAMPLE: 0.25, 0.57, 0.82 % from 10, 5, 15 readings: 1.03 %, ν 19.0, U95 2.2 %"
)
def test_a_product_in_relative_terms(batch_of):
    found = combine(one_each(batch_of, [0.25, 0.57, 0.82], [9, 4, 14]), 0, range(3), 1.0, 1).doubt
    assert found.u == pytest.approx([1.03], abs=0.005)
    assert found.dof == pytest.approx([19.0], abs=0.05)
    assert coverage_factor(0.95, 19) == pytest.approx(2.09, abs=0.005)
    assert coverage_factor(0.95, found.dof) * found.u == pytest.approx([2.2], abs=0.05)


@pytest.mark.truth(
    "a university course: inch micrometer on a gauge block, limits 10, 46.79, 6.93, 25 microinch, whole 54.43"
)
def test_an_inch_micrometer_on_a_gauge_block(batch_of):
    parts = [1.0e-5, 4.679444678e-5, 6.92820323e-6, 2.5e-5]
    assert combine(one_each(batch_of, parts, [np.inf] * 4), 0, range(4), 1.0, 1).doubt.u == pytest.approx(
        [5.44308e-5],
        abs=1e-10,  # printed cut
    )


def random_budget(rng):
    """Sources, places, slopes, own noise and a few derived rows, drawn at random."""
    n, s = int(rng.integers(2, 9)), int(rng.integers(1, 7))
    sources = [
        Source("shared", str(k), float(rng.uniform(0.2, 2)), float(rng.choice([np.inf, rng.uniform(2, 40)])))
        for k in range(s)
    ]
    k = int(rng.integers(1, min(s, 4) + 1))
    place = np.array([rng.permutation(s)[:k] for _ in range(n)])
    place[rng.random(place.shape) < 0.2] = -1
    contribution = np.where(place >= 0, rng.normal(size=place.shape), 0.0)
    own = {
        "scatter": rng.uniform(0.5, 2, n),
        "step": rng.uniform(0, 0.3, n),
        "dof": rng.choice([np.inf, 4.0, 9.5, 19.0], n),
    }
    rows = [rng.permutation(n)[: rng.integers(1, n + 1)] for _ in range(4)]
    slopes = [rng.normal(size=len(row)) for row in rows]
    return sources, place, contribution, own, rows, slopes


@pytest.mark.truth("uncertainties 3.2 (E. O. Lebigot) for u, GTC 1.5 (MSL New Zealand) for u and ν: 220 random budgets")
def test_random_budgets_with_shared_gauges_agree_with_two_libraries(batch_of):
    import GTC

    rng = np.random.default_rng(20240302)
    finite = 0
    for _ in range(220):
        sources, place, contribution, own, rows, slopes = random_budget(rng)
        batch = batch_of(np.zeros(len(place)), sources, place, contribution, **own)
        row = np.repeat(range(len(rows)), [len(r) for r in rows])
        found = combine(batch, row, np.concatenate(rows), np.concatenate(slopes), len(rows)).doubt
        for lib, check_dof in ((uncertainties_of, False), (gtc_of(GTC), True)):
            values = lib(sources, place, contribution, own)
            for i, (items, c) in enumerate(zip(rows, slopes, strict=True)):
                y = sum(float(b) * values[j] for b, j in zip(c, items, strict=True))
                u, dof = (GTC.uncertainty(y), GTC.dof(y)) if check_dof else (y.s, None)
                assert found.u[i] == pytest.approx(u, rel=1e-9)
                if check_dof and (dof < 1e6 or found.dof[i] < 1e6):
                    assert found.dof[i] == pytest.approx(dof, rel=1e-6)
                    finite += 1
    assert finite > 400


def uncertainties_of(sources, place, contribution, own):
    shared = [uncertainties.ufloat(0, 1) for _ in sources]
    return [
        sum((float(c) * shared[k] for k, c in zip(place[i], contribution[i], strict=True) if k >= 0), 0.0)
        + uncertainties.ufloat(0, own["scatter"][i])
        + uncertainties.ufloat(0, own["step"][i])
        for i in range(len(place))
    ]


def gtc_of(gtc):
    def make(sources, place, contribution, own):
        shared = [gtc.ureal(0, 1, source.dof) for source in sources]
        seen = np.hypot(own["scatter"], own["step"])
        left = (
            own["dof"] * (own["scatter"] / seen) ** 4
        )  # degrees of freedom left to the scatter when the step is taken off
        return [
            sum((float(c) * shared[k] for k, c in zip(place[i], contribution[i], strict=True) if k >= 0), 0.0)
            + gtc.ureal(0, own["scatter"][i], left[i])
            + gtc.ureal(0, own["step"][i])
            for i in range(len(place))
        ]

    return make


def test_one_estimate_of_scatter_does_not_grow_by_being_used_twice():
    """Two readings of one gauge lean on one s from five readings: four degrees of freedom, not eight."""
    gauge = Gauge("M-07", "micrometer", "mm", 1e-9, None, None, Repeatability(0.001, 5))
    taper = combine(budget(readings([5.95, 5.94]), [gauge]), [0, 0], [0, 1], [1, -1], 1).doubt
    assert taper.dof == pytest.approx([4])
    other = Gauge("M-08", "micrometer", "mm", 1e-9, None, None, Repeatability(0.001, 5))
    apart = combine(budget(readings([5.95, 5.94], [0, 1]), [gauge, other]), [0, 0], [0, 1], [1, -1], 1).doubt
    assert apart.dof == pytest.approx([8])


def test_a_reading_by_itself_is_a_derived_value_of_one():
    gauges = [
        Gauge("M", "m", "mm", 0.001, Calibration(0.002), None, Repeatability(0.0012, 20)),
        Gauge("B", "b", "mm", 0.002, None, 0.004, Repeatability(0.001, 10)),
        Gauge("C", "c", "in", 0.0254, Calibration(0.02), 0.03),
    ]
    warm = [bounded("temperature", "t", 2.0)]
    batch = budget(
        readings(np.linspace(5, 6, 9), np.arange(9) % 3, temperature=0, nominal=6.0, repeats=[1, 2, 3] * 3),
        gauges,
        (),
        warm,
    )
    alone, derived = of_readings(batch), combine(batch, range(9), range(9), 1.0, 9).doubt
    for a, b in zip(fields(alone), fields(derived), strict=True):
        assert a == pytest.approx(b)


def fields(known):
    return known.value, known.u, known.dof, known.widest, known.repeat


@given(st.permutations(range(6)), st.floats(0.1, 30))
def test_order_of_terms_and_unit_of_length_do_not_matter(order, inch):
    gauge = Gauge("M", "m", "mm", 0.001, Calibration(0.002), None, Repeatability(0.0012, 20))
    large = Gauge("M", "m", "mm", 0.001 * inch, Calibration(0.002 * inch), None, Repeatability(0.0012 * inch, 20))
    row, item, c = np.array([0, 0, 1, 1, 1, 2]), np.array([0, 1, 1, 2, 1, 0]), np.array([1, -1, 2, 1, 0.5, 1.0])
    at = np.array(order)
    a = combine(budget(readings([1.0, 2, 3]), [gauge]), row, item, c, 3).doubt
    b = combine(budget(readings(np.array([1.0, 2, 3]) * inch), [large]), row[at], item[at], c[at], 3).doubt
    assert a.value * inch == pytest.approx(b.value)
    assert a.u * inch == pytest.approx(b.u)
    assert a.dof == pytest.approx(b.dof)


def test_the_widest_uniform_error_is_found_among_shared_and_own():
    gauge = Gauge("C", "c", "mm", 0.01, None, 0.03)
    batch = budget(readings([5.0]), [gauge])
    assert of_readings(batch).widest == pytest.approx([0.03])
    assert combine(batch, [0], [0], [2.0], 1).doubt.widest == pytest.approx([0.06])
