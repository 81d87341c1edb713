"""Budgets against the GUM's own examples, scipy's Student t and the `uncertainties` library."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import t as student
from uncertainties import ufloat, umath

from brimline.physics.uncertainty import (
    Budget,
    Input,
    arcsine,
    combine,
    coverage_factor,
    freedom_of_guess,
    propagate,
    rectangular,
    triangular,
)


def end_gauge() -> Budget:
    """JCGM 100:2008, H.1, as transcribed in the worked examples of the GTC package: nm and K."""
    inputs = (
        Input("standard", 50_000_623.0, 25.0, 18),
        Input("d0", 215.0, 5.8, 24),
        Input("d1", 0.0, 3.9, 5),
        Input("d2", 0.0, 6.7, 8),
        Input("expansion", 11.5e-6, rectangular(2e-6)),
        Input("expansion_difference", 0.0, rectangular(1e-6), 50),
        Input("mean_temperature", -0.1, 0.2),
        Input("cycling", 0.0, arcsine(0.5)),
        Input("temperature_difference", 0.0, rectangular(0.05), 2),
    )

    def length(
        standard: float, d0: float, d1: float, d2: float, expansion: float, *more: float
    ) -> float:
        apart, mean, cycling, difference = more
        return (
            standard + d0 + d1 + d2 - standard * (apart * (mean + cycling) + expansion * difference)
        )

    return propagate(length, inputs)


def test_the_end_gauge_of_the_gum() -> None:
    budget = end_gauge()
    # H.1: 50 000 838 nm, u_c 32 nm, 16 degrees of freedom, U99 = 93 nm; to four digits 31.66,
    # 16.75 and 92.5 from GTC, uncertainties and metrolopy alike.
    assert budget.estimate == pytest.approx(50_000_838.0, abs=0.5)
    assert budget.combined == pytest.approx(31.66, abs=5e-3)
    assert budget.freedom == pytest.approx(16.75, abs=5e-3)
    assert budget.coverage(0.99) == pytest.approx(2.92, abs=5e-3)
    assert budget.expanded(0.99) == pytest.approx(92.5, abs=0.05)


def test_the_rows_of_the_end_gauge() -> None:
    rows = {row.source.name: row for row in end_gauge().rows}
    # H.1.4 and the same package, nm
    wanted = {
        "standard": 25.0, "temperature_difference": 16.599, "d2": 6.7, "d0": 5.8, "d1": 3.9,
        "expansion_difference": 2.887, "expansion": 0.0, "mean_temperature": 0.0, "cycling": 0.0,
    }  # fmt: skip
    for name, standard in wanted.items():
        assert rows[name].standard == pytest.approx(standard, abs=5e-4), name
    assert sum(row.share for row in rows.values()) == pytest.approx(1.0)
    assert rows["standard"].share == pytest.approx((25 / 31.6639) ** 2, abs=1e-4)


def test_the_thermometer_of_the_gum() -> None:
    """H.3: its correction at 30 °C, written about the middle of the data, where the mean and the
    slope of a fitted line are not correlated."""
    t = np.array([21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010,
                  26.511])  # fmt: skip
    b = np.array([-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161,
                  -0.160])  # fmt: skip
    off = t - t.mean()
    slope = float((off * b).sum() / (off**2).sum())
    s = math.sqrt(((b - b.mean() - slope * off) ** 2).sum() / 9)
    inputs = (
        Input("mean", float(b.mean()), s / math.sqrt(11), 9),
        Input("slope", slope, s / math.sqrt((off**2).sum()), 9),
    )
    budget = propagate(lambda mean, rise: mean + rise * (30 - t.mean()), inputs)
    # H.3.4: b(30 °C) = -0.1494 °C with u = 0.0041 °C
    assert budget.estimate == pytest.approx(-0.149376813, abs=1e-8)
    assert budget.combined == pytest.approx(0.004138596, abs=1e-8)
    assert inputs[1].standard == pytest.approx(0.000667939, abs=1e-8)


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 6, 9, 16, 17, 50, 199, 200, 201, 1000, 10**7])
@pytest.mark.parametrize("confidence", [0.5, 0.6827, 0.9, 0.95, 0.9545, 0.99, 0.9973, 0.9999])
def test_coverage_factors_are_those_of_scipy(freedom: int, confidence: float) -> None:
    wanted = student.ppf((1 + confidence) / 2, freedom)
    assert coverage_factor(freedom, confidence) == pytest.approx(wanted, rel=1e-9)


@pytest.mark.parametrize(
    ("freedom", "k95", "k99"),
    # JCGM 100:2008, table G.2 (from memory)
    [(1, 12.71, 63.66), (2, 4.30, 9.92), (5, 2.57, 4.03), (10, 2.23, 3.17), (20, 2.09, 2.85),
     (50, 2.01, 2.68), (100, 1.984, 2.626), (math.inf, 1.960, 2.576)],
)  # fmt: skip
def test_coverage_factors_of_the_table(freedom: float, k95: float, k99: float) -> None:
    assert coverage_factor(freedom, 0.95) == pytest.approx(k95, abs=6e-3)
    assert coverage_factor(freedom, 0.99) == pytest.approx(k99, abs=6e-3)


@given(st.floats(0.1, 1e6), st.floats(0.01, 0.999))
def test_degrees_of_freedom_are_cut_never_raised(freedom: float, confidence: float) -> None:
    k = coverage_factor(freedom, confidence)
    assert k == coverage_factor(max(1, math.floor(freedom)), confidence)
    assert k >= coverage_factor(freedom + 1, confidence) >= coverage_factor(math.inf, confidence)


FUNCTIONS: list[tuple[Callable[..., Any], Callable[..., Any]]] = [
    (lambda a, b, c: a * b / c, lambda a, b, c: a * b / c),
    (lambda a, b, c: a**2 + 3 * b - c, lambda a, b, c: a**2 + 3 * b - c),
    (lambda a, b, c: math.exp(a / 5) * b + c**3, lambda a, b, c: umath.exp(a / 5) * b + c**3),
    (
        lambda a, b, c: math.sqrt(a * b) - math.log(c),
        lambda a, b, c: umath.sqrt(a * b) - umath.log(c),
    ),
    (
        lambda a, b, c: a * math.sin(b) + math.atan(c),
        lambda a, b, c: a * umath.sin(b) + umath.atan(c),
    ),
]
VALUE = st.tuples(st.floats(0.5, 5.0), st.floats(1e-4, 0.05))


@given(st.sampled_from(FUNCTIONS), st.tuples(VALUE, VALUE, VALUE))
def test_propagation_agrees_with_the_uncertainties_library(
    both: tuple[Callable[..., Any], Callable[..., Any]], values: tuple[tuple[float, float], ...]
) -> None:
    ours, theirs = both
    budget = propagate(ours, [Input("x", value, u) for value, u in values])
    independent = theirs(*(ufloat(value, u) for value, u in values))
    assert budget.estimate == pytest.approx(independent.nominal_value, rel=1e-9)
    assert budget.combined == pytest.approx(independent.std_dev, rel=1e-5)


@given(st.lists(st.tuples(st.floats(-5, 5), st.floats(0, 3), st.floats(1, 50)), min_size=1))
def test_shares_make_a_whole_and_freedom_lies_between(
    given_rows: list[tuple[float, float, float]],
) -> None:
    inputs = [Input("x", 0.0, u, freedom) for _, u, freedom in given_rows]
    budget = combine(0.0, inputs, [c for c, _, _ in given_rows])
    if budget.combined > 1e-100:
        assert sum(row.share for row in budget.rows) == pytest.approx(1.0)
        # G.4.1: the least of them at the least, all of them together at the most
        assert budget.freedom >= min(freedom for *_, freedom in given_rows) * (1 - 1e-9)
        assert budget.freedom <= sum(freedom for *_, freedom in given_rows) * (1 + 1e-9)


def test_half_widths_against_drawn_values() -> None:
    draw = np.random.default_rng(20).uniform
    flat = draw(-3, 3, 400_000)
    assert rectangular(3.0) == pytest.approx(flat.std(), rel=5e-3)
    assert triangular(3.0) == pytest.approx(((flat + draw(-3, 3, 400_000)) / 2).std(), rel=5e-3)
    assert arcsine(3.0) == pytest.approx((3 * np.sin(math.pi * flat)).std(), rel=5e-3)


def test_a_guess_good_to_a_quarter_counts_eight() -> None:
    assert freedom_of_guess(0.25) == 8  # G.4.2


def test_an_exact_input_adds_nothing() -> None:
    inputs = (Input("known", 4.0, 0.0, 1), Input("measured", 2.0, 0.5))
    budget = propagate(lambda a, b: a * b, inputs)
    assert budget.combined == pytest.approx(2.0)
    assert [row.share for row in budget.rows] == pytest.approx([0.0, 1.0])
    assert budget.coverage() == pytest.approx(1.959964, abs=1e-6)
    assert combine(1.0, (), ()).combined == 0.0


@pytest.mark.parametrize(
    "make",
    [
        lambda: Input("x", math.nan, 1.0),
        lambda: Input("x", 1.0, -0.1),
        lambda: Input("x", 1.0, math.inf),
        lambda: Input("x", 1.0, 1.0, 0.0),
        lambda: rectangular(-1.0),
        lambda: triangular(math.inf),
        lambda: arcsine(math.nan),
        lambda: freedom_of_guess(0.0),
        lambda: combine(0.0, [Input("x", 1.0, 1.0)], []),
        lambda: combine(0.0, [Input("x", 1.0, 1.0)], [math.nan]),
        lambda: coverage_factor(0.0, 0.95),
        lambda: coverage_factor(5, 1.0),
        lambda: coverage_factor(math.nan, 0.95),
    ],
)
def test_senseless_budgets_are_refused(make: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match=r"number|above|each input"):
        make()
