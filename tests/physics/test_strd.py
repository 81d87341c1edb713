"""The baselines' fitting code against certified values of NIST's Statistical Reference Datasets.

Data and certified values: NIST/ITL StRD, files Misra1a.dat (Misra, D., NIST, 1978), BoxBOD.dat
(Box, Hunter and Hunter, 1978) and Norris.dat (Norris, J., NIST), https://www.itl.nist.gov/div898/strd.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "benchmarks"))

from forecast_baselines import (
    Array,
    DidNotConverge,
    Fit,
    fit_curve,
    fit_exponential,
    fit_line,
    saturating,
)

MISRA1A = np.array([
    (77.6, 10.07), (114.9, 14.73), (141.1, 17.94), (190.8, 23.93), (239.9, 29.61), (289.0, 35.18),
    (332.8, 40.02), (378.4, 44.82), (434.8, 50.76), (477.3, 55.05), (536.8, 61.01), (593.1, 66.40),
    (689.1, 75.47), (760.0, 81.78),
]).T  # fmt: skip
BOXBOD = np.array([(1.0, 109), (2, 149), (3, 149), (5, 191), (7, 213), (10, 224)]).T
NORRIS = np.array([
    (0.2, 0.1), (337.4, 338.8), (118.2, 118.1), (884.6, 888.0), (10.1, 9.2), (226.5, 228.1),
    (666.3, 668.5), (996.3, 998.5), (448.6, 449.1), (777.0, 778.9), (558.2, 559.2), (0.4, 0.3),
    (0.6, 0.1), (775.5, 778.1), (666.9, 668.8), (338.0, 339.3), (447.5, 448.9), (11.6, 10.8),
    (556.0, 557.7), (228.1, 228.3), (995.8, 998.0), (887.6, 888.8), (120.2, 119.6), (0.3, 0.3),
    (0.3, 0.6), (556.8, 557.6), (339.1, 339.3), (887.2, 888.0), (999.0, 998.5), (779.0, 778.9),
    (11.1, 10.2), (118.3, 117.6), (229.2, 228.9), (669.1, 668.4), (448.9, 449.2), (0.5, 0.2),
]).T  # fmt: skip


def growth(x: Array, b1: float, b2: float) -> Array:
    return b1 * (1 - np.exp(-b2 * x))


def fitted(table: Array, start: tuple[float, float]) -> Fit:
    x, y = table
    return fit_curve(growth, (x, y, np.ones_like(x)), np.array(start))


@pytest.mark.parametrize("start", [(500, 1e-4), (250, 5e-4)])
def test_misra1a_from_both_published_starts(start: tuple[float, float]) -> None:
    fit = fitted(MISRA1A, start)
    assert fit.values == pytest.approx([2.3894212918e2, 5.5015643181e-4], rel=1e-7)
    sd = np.sqrt(np.diag(fit.covariance))
    assert sd == pytest.approx([2.7070075241, 7.2668688436e-6], rel=1e-5)
    assert fit.residual == pytest.approx(1.2455138894e-1, rel=1e-7)


def test_boxbod_from_the_start_that_works() -> None:
    fit = fitted(BOXBOD, (100, 0.75))
    assert fit.values == pytest.approx([2.1380940889e2, 5.4723748542e-1], rel=1e-7)
    sd = np.sqrt(np.diag(fit.covariance))
    assert sd == pytest.approx([1.2354515176e1, 1.0455993237e-1], rel=1e-5)
    assert fit.residual == pytest.approx(1.1680088766e3, rel=1e-7)


def test_boxbod_from_the_start_that_leads_astray_says_so() -> None:
    with pytest.raises(DidNotConverge):
        fitted(BOXBOD, (1, 1))


def test_norris_by_the_straight_line() -> None:
    fit = fit_line(*NORRIS)
    assert fit.values == pytest.approx([-0.262323073774029, 1.00211681802045], rel=1e-9)
    sd = np.sqrt(np.diag(fit.covariance))
    assert sd == pytest.approx([0.232818234301152, 0.429796848199937e-3], rel=1e-9)
    assert np.sqrt(fit.residual / 34) == pytest.approx(0.884796396144373, rel=1e-9)


def test_the_line_s_covariance_is_symmetric_and_that_of_the_normal_equations() -> None:
    x, _ = NORRIS
    fit = fit_line(*NORRIS)
    design = np.stack([np.ones_like(x), x], axis=1)
    expected = np.linalg.inv(design.T @ design) * fit.residual / 34
    assert fit.covariance == pytest.approx(expected, rel=1e-8)


@pytest.mark.parametrize(("tau", "count"), [(60.0, 40), (600.0, 290), (600.0, 4000)])
def test_the_exponential_finds_its_own_starts(tau: float, count: int) -> None:
    # Without noise the fit must return what made the data, averaged or not.
    times = np.linspace(50.0, 50.0 + 2 * tau, count)
    fit = fit_exponential(times, saturating(times - 50.0, 90.0, 65.0, tau))
    assert fit.values == pytest.approx([90.0, 65.0, tau], rel=1e-4)


def test_its_deviations_are_the_cramer_rao_bound() -> None:
    # T_inf 90, T_0 25 °C, tau 600 s, sigma 0.5 K, 41 points over 1200 s: the information matrix,
    # built here with derivatives by hand; with known sigma it bounds any unbiased estimate.
    times = np.linspace(0.0, 1200.0, 41)
    decay = np.exp(-times / 600)
    slopes = np.stack([1 - decay, decay, -65 * decay * times / 600**2], axis=1)
    bound = np.sqrt(np.diag(np.linalg.inv(slopes.T @ slopes))) * 0.5
    rng = np.random.default_rng(1)
    found = []
    for _ in range(300):
        final, drop, tau = fit_exponential(
            times, saturating(times, 90.0, 65.0, 600.0) + rng.normal(0, 0.5, 41)
        ).values
        found.append((final, final - drop, tau))
    # The standard deviation of 300 draws is itself uncertain by 4 %; three times that.
    assert np.std(found, axis=0) == pytest.approx(bound, rel=0.13)


@pytest.mark.parametrize("readings", [
    [24.0] * 40,                                        # nothing has moved yet
    [20 + 0.05 * i for i in range(40)],                 # a straight line: tau runs to its bound
    [20 + 0.001 * i**2 for i in range(40)],             # bends the wrong way
    [20.0, 21.0, 22.0],                                 # three readings for three values
])  # fmt: skip
def test_data_that_determine_no_exponential_are_refused(readings: list[float]) -> None:
    with pytest.raises(DidNotConverge):
        fit_exponential(np.arange(len(readings)) * 10.0, np.array(readings))


def test_values_that_the_data_say_nothing_about_are_refused() -> None:
    # All points lie on the flat part, so any great b2 fits: its deviation is finite and absurd.
    flat = np.array([(1.0, 100.0), (2, 101), (3, 99), (4, 100), (5, 101), (6, 99)]).T
    with pytest.raises(DidNotConverge, match="covariance is not usable"):
        fitted(flat, (100, 8))
