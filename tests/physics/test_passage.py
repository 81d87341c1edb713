"""What a distribution over the time that is left says in short."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import expon, norm

from brimline.physics.passage import (
    GRID_S,
    HORIZON_S,
    SURELY_NEVER,
    WIDEST,
    Passage,
    from_distribution,
)

ASCENDING = st.lists(st.floats(0.0, 1.0), min_size=len(GRID_S), max_size=len(GRID_S)).map(
    lambda given: np.sort(np.array(given))
)


def test_the_grid_reaches_from_now_to_the_horizon() -> None:
    assert GRID_S[0] == 0.0
    assert GRID_S[-1] == HORIZON_S
    assert np.diff(GRID_S).min() > 0


@pytest.mark.parametrize("scale", [30.0, 200.0, 900.0])
def test_quantiles_are_those_of_an_exponential_distribution(scale: float) -> None:
    # Between points of the grid, a tenth apart, a straight line stands for the distribution.
    found = from_distribution(expon.cdf(GRID_S, scale=scale), enough=True)
    assert found.low == pytest.approx(expon.ppf(0.1, scale=scale), rel=0.02, abs=0.5)
    assert found.median == pytest.approx(expon.ppf(0.5, scale=scale), rel=0.02)
    assert found.high == pytest.approx(expon.ppf(0.9, scale=scale), rel=0.02)
    assert found.never == pytest.approx(expon.sf(HORIZON_S, scale=scale), abs=1e-12)
    assert not found.known  # ln 9 is 3.17 times ln 2: an interval of more than WIDEST medians


@given(st.floats(40.0, 4000.0), st.floats(0.15, 0.4))
def test_quantiles_are_those_of_a_normal_distribution(middle: float, share: float) -> None:
    spread = share * middle
    found = from_distribution(norm.cdf(GRID_S, middle, spread), enough=True)
    assert found.median == pytest.approx(middle, rel=0.02)
    assert found.high == pytest.approx(middle + 1.2816 * spread, rel=0.03)  # z of 0.9
    assert found.low == pytest.approx(middle - 1.2816 * spread, rel=0.03, abs=0.03 * middle)


@given(ASCENDING, st.booleans())
def test_any_distribution_makes_sense(passed: np.ndarray, enough: bool) -> None:
    found = from_distribution(passed, enough=enough)
    assert 0.0 <= found.never <= 1.0
    assert (found.low is None) == (passed[-1] < 0.1)
    assert (found.median is None) == (passed[-1] < 0.5)
    assert math.isinf(found.high) == (passed[-1] < 0.9)
    low = 0.0 if found.low is None else found.low
    assert 0.0 <= low <= (low if found.median is None else found.median) <= found.high
    assert enough or not found.known
    assert found.likely_never == (found.never >= SURELY_NEVER)


def test_a_later_distribution_has_later_quantiles() -> None:
    sooner = from_distribution(expon.cdf(GRID_S, scale=300.0), enough=True)
    later = from_distribution(expon.cdf(GRID_S, scale=330.0), enough=True)
    assert sooner.low is not None
    assert later.low is not None
    assert sooner.low < later.low
    assert sooner.high < later.high


def test_weights_that_add_up_to_a_little_more_than_one_leave_no_negative_never() -> None:
    passed = np.full(len(GRID_S), 1.0 + 1e-15)
    found = from_distribution(passed, enough=True)
    assert found == Passage(0.0, 0.0, 0.0, 0.0, known=True)


def reached_by(share: float, low: float, high: float) -> np.ndarray:
    """A share of cases passes between two times, evenly; the others never do."""
    return share * np.clip((GRID_S - low) / (high - low), 0.0, 1.0)


@pytest.mark.parametrize(
    ("passed", "known", "never"),
    [
        (reached_by(1.0, 500.0, 700.0), True, False),
        (reached_by(1.0, 1.0, 7000.0), True, False),  # 0.8 of 7000 s is less than thrice 3500 s
        (np.interp(GRID_S, [0, 100, 101, 4000], [0, 0.5, 0.5, 1.0]), False, False),
        (reached_by(0.6, 500.0, 700.0), True, False),  # when at all, then soon
        (reached_by(0.4, 500.0, 700.0), False, False),  # more likely never, but not surely
        (reached_by(0.15, 500.0, 700.0), True, True),
        (reached_by(1.0, 0.0, 60.0), True, False),
    ],
)
def test_what_is_too_wide_is_not_told(passed: np.ndarray, known: bool, never: bool) -> None:
    found = from_distribution(passed, enough=True)
    assert (found.known, found.likely_never) == (known, never)
    assert not from_distribution(passed, enough=False).known


def test_the_widest_interval_that_is_told() -> None:
    for factor, told in ((0.9, True), (1.1, False)):
        median = 400.0
        high = 0.5 * median + factor * WIDEST * median
        points = (0.0, 0.5 * median, median, high, 1.02 * high)
        passed = np.interp(GRID_S, points, (0.0, 0.1, 0.5, 0.9, 1.0))
        assert from_distribution(passed, enough=True).known is told
