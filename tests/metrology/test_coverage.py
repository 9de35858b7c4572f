"""Coverage: Student factors, a uniform part with a normal or Student part, against print and simulation."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from witnessmark.metrology.coverage import (
    coverage_factor,
    error_cdf,
    error_quantile,
    student_cdf,
    student_quantile,
    trapezoid_factor,
)


@pytest.mark.truth("NIST TN 1297 (1994), Table B.1 = JCGM 100:2008, Table G.2")
def test_student_factors_are_those_of_the_table(truth):
    table = truth("student-factors")
    exact = {68.27: 0.682689492137086, 95.45: 0.954499736103642, 99.73: 0.997300203936740}
    p = np.array([exact.get(p, p / 100) for p in table["p_percent"]])
    for row in table["rows"]:
        dof, printed = row[0], np.array(row[1:], float)
        half_unit = np.full(len(printed), 0.0005 if dof >= 100 else 0.005)
        if dof == 35:
            half_unit[1] = 0.0105  # misprint, told in the file
        assert (np.abs(coverage_factor(p, float(dof)) - printed) <= half_unit + 1e-9).all(), dof


@pytest.mark.truth("JCGM 100:2008, H.1.6: t99(16) = 2.92")
def test_student_factor_of_the_end_gauge():
    assert coverage_factor(0.99, 16.0) == pytest.approx(2.92, abs=0.005)


@pytest.mark.truth("EA-4/02 M:2022, S10: caliper, beta 0.33, k = 1.83, U = 0.06 mm (values from memory)")
def test_a_hand_caliper_is_covered_by_a_trapezoid():
    resolution, mechanical = 0.025, 0.05
    exact = [0.00046, 0.002, resolution / np.sqrt(3), mechanical / np.sqrt(3)]
    assert exact == pytest.approx([0.00046, 0.002, 0.015, 0.029], abs=0.0006)  # the print has 0.015 for 0.0144
    parts = [0.00046, 0.002, 0.015, 0.029]
    u = np.linalg.norm(parts)
    beta = (mechanical - resolution) / (mechanical + resolution)
    k = trapezoid_factor(0.95, beta)
    assert u == pytest.approx(0.033, abs=0.0005)
    assert beta == pytest.approx(0.33, abs=0.005)
    assert k == pytest.approx(1.83, abs=0.005)
    assert k * u == pytest.approx(0.06, abs=0.005)


def test_a_trapezoid_that_is_nearly_a_box_is_refused():
    with pytest.raises(ValueError, match="slope of the trapezoid"):
        trapezoid_factor(0.95, 0.99)


@pytest.mark.parametrize("dof", [1.0, 1.5, 2.0, 4.3, 20.0, np.inf])
@pytest.mark.parametrize("s", [0.02, 0.3, 1.0])
def test_uniform_and_student_together_are_their_convolution(s, dof):
    """Held against numerical integration over the uniform part."""
    part = stats.norm() if np.isinf(dof) else stats.t(dof)
    for x in (-1.4, -0.9, 0.0, 0.35, 1.0, 1.1, 2.5):
        whole, _ = integrate.quad(
            lambda v, x=x: part.cdf((x - v) / s) / 2, -1, 1, points=[x] if abs(x) < 1 else None, limit=200
        )
        assert error_cdf(x, s, 1.0, dof) == pytest.approx(whole, abs=2e-8)


def test_without_a_normal_part_the_ramp_is_left():
    assert error_cdf([-1.5, -1, -0.5, 0, 0.5, 1, 1.5], 0.0, 1.0) == pytest.approx(
        [0, 0, 0.25, 0.5, 0.75, 1, 1], abs=1e-9
    )


def test_without_a_uniform_part_the_student_part_is_left():
    assert error_cdf([1.0, -np.inf, np.inf], 0.5, 0.0, [3.0, 3.0, np.inf]) == pytest.approx([stats.t(3).cdf(2), 0, 1])


@pytest.mark.truth("JCGM 101:2008, 6.4.2 and 6.4.7: a rectangular and a Gaussian error drawn 10^6 times")
def test_uniform_and_normal_agree_with_simulation():
    rng = np.random.default_rng(20240301)
    drawn = rng.uniform(-1, 1, 1_000_000) + 0.3 * rng.standard_normal(1_000_000)
    for x in (-1.2, -0.6, 0.1, 0.95, 1.3):
        assert error_cdf(x, 0.3, 1.0) == pytest.approx((drawn <= x).mean(), abs=0.0016)  # 3 standard errors


@pytest.mark.truth("a plain normal in its place errs by up to 0.057 (known figure, derived by maximising)")
def test_a_plain_normal_would_err():
    x = np.linspace(-3, 3, 2001) / np.sqrt(3)
    wrong = np.abs(error_cdf(x, 0.0, 1.0) - error_cdf(x, 1 / np.sqrt(3), 0.0)).max()
    assert wrong == pytest.approx(0.057, abs=0.0005)


@given(
    p=st.floats(0.51, 0.9999),
    s=st.floats(1e-3, 10),
    half=st.floats(0, 10),
    dof=st.sampled_from([1.0, 2.5, 19.0, np.inf]),
)
def test_a_quantile_leads_back_to_its_chance(p, s, half, dof):
    assert error_cdf(error_quantile(p, s, half, dof), s, half, dof) == pytest.approx(p, abs=1e-7)


@given(s=st.floats(1e-6, 10), half=st.floats(0, 10), dof=st.sampled_from([1.0, 2.5, 19.0, np.inf]))
def test_chances_rise_and_are_symmetric(s, half, dof):
    x = np.linspace(0, half + 6 * s, 40)
    up, down = error_cdf(x, s, half, dof), error_cdf(-x, s, half, dof)
    assert (np.diff(up) >= -1e-9).all()
    assert up + down == pytest.approx(np.ones(40), abs=1e-7)


def test_mixed_degrees_of_freedom_are_each_taken_as_they_are():
    assert student_cdf([1.0, 1.0], [3.0, np.inf]) == pytest.approx([stats.t(3).cdf(1), stats.norm.cdf(1)])
    assert student_quantile(0.95) == pytest.approx(1.6448536269514722)


@pytest.mark.truth(
    "JCGM 101:2008, 9.2.3: four equal rectangulars, shortest 95 % interval ± 3.88, exactly 2√3 (2 − (3/5)^¼)"
)
def test_two_of_four_rectangulars_taken_together_and_two_drawn():
    """The sum of four is simulated in closed pairs: a uniform part given two draws, averaged over them."""
    rng = np.random.default_rng(7)
    a, b, c = rng.uniform(-np.sqrt(3), np.sqrt(3), (3, 400_000))
    edge = 2 * np.sqrt(3) * (2 - 0.6**0.25)
    assert edge == pytest.approx(3.88, abs=0.005)
    assert error_cdf(edge - a - b - c, 0.0, np.sqrt(3)).mean() == pytest.approx(0.975, abs=0.001)


@pytest.mark.truth("JCGM 101:2008, 9.2.2, Table 2: four standard normals, u = 2.0, 95 % interval ± 3.92")
def test_four_normals():
    assert error_quantile(0.975, 2.0) == pytest.approx(3.92, abs=0.005)
