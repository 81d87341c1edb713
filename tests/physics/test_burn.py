"""The figures against the published table, other published lists and the damage integral."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import cumulative_trapezoid
from scipy.special import erf

from brimline.physics.burn import (
    HIGHEST_C,
    LOWEST_C,
    SECOND_DEGREE,
    BurnKind,
    BurnTime,
    burn_time,
    interpolated,
)

# Times for flowing hot water to a burn of the second degree, from a public page on scalding
PUBLISHED = {45: 7200, 47: 1200, 48: 900, 49: 480, 51: 120, 55: 17, 60: 3}

# Henriques and Moritz's integral: rate 3.1e98/s times exp(-ΔE/(R·T)); both constants were read in
# public code, neither in the paper of 1947
SAFE_K, UNSAFE_K = 75_000.0, 6.28e8 / 8314.0


def integral_time(celsius: float, activation: float) -> float:
    """s until the damage is 1 at the basal layer, 80 µm under skin whose surface has the fluid's
    temperature from 0 s on; 34 °C before, diffusivity 1e-7 m²/s (assumptions of this test).
    """
    t = np.geomspace(1e-4, 3e5, 60_000)
    basal = celsius + (34.0 - celsius) * erf(80e-6 / (2 * np.sqrt(1e-7 * t)))
    rate = np.exp(math.log(3.1e98) - activation / (basal + 273.15))
    damage = cumulative_trapezoid(rate, t, initial=0.0)
    return float(t[np.searchsorted(damage, 1.0)])


def test_the_table_is_the_published_one() -> None:
    assert dict(SECOND_DEGREE) == PUBLISHED


def test_the_integral_of_this_test_is_that_of_an_independent_script() -> None:
    expected = {45: 7930, 47: 1880, 48: 935, 49: 473, 51: 129, 55: 14.3, 60: 2.18}
    for celsius, seconds in expected.items():
        assert integral_time(celsius, SAFE_K) == pytest.approx(seconds, rel=0.02)


def test_no_figure_is_much_longer_than_the_integral() -> None:
    # by no more than a quarter: other skin than this test assumes moves it by tens of per cent
    for celsius in range(45, 61):
        told = burn_time(float(celsius)).seconds
        assert told is not None
        assert told <= 1.25 * integral_time(celsius, SAFE_K), celsius


def test_the_other_constant_in_circulation_is_unsafe() -> None:
    for celsius, published in PUBLISHED.items():
        told = burn_time(float(celsius)).seconds
        assert told is not None
        unsafe = integral_time(celsius, UNSAFE_K)
        assert unsafe > 1.6 * published, celsius
        assert unsafe > 2 * told


@pytest.mark.parametrize(
    ("fahrenheit", "seconds"),
    # a children's hospital's list: 120 °F more than 5 min, 125 °F 1.5 to 2 min, 130 °F about 30 s,
    # 135 °F about 10 s, 140 °F less than 5 s
    [(120, 300), (125, 90), (130, 30), (135, 10), (140, 5)],
)
def test_no_figure_is_longer_than_another_published_list(fahrenheit: float, seconds: float) -> None:
    told = burn_time((fahrenheit - 32) / 1.8).seconds
    assert told is not None
    assert told <= seconds


@pytest.mark.parametrize("celsius", PUBLISHED)
def test_at_its_entries_the_table_is_met(celsius: int) -> None:
    assert interpolated(float(celsius)) == PUBLISHED[celsius]


@given(st.floats(LOWEST_C, HIGHEST_C))
def test_figures_are_rounded_down_and_never_up(celsius: float) -> None:
    told = burn_time(celsius)
    assert told.kind is BurnKind.WITHIN
    assert told.seconds is not None
    assert 1 <= told.seconds <= interpolated(celsius)


@given(st.floats(40, 70), st.floats(0, 5))
def test_hotter_is_never_slower(celsius: float, more: float) -> None:
    def seconds(t: float) -> float:
        told = burn_time(t)
        if told.kind is BurnKind.NOT_CLAIMED:
            return math.inf
        return 0.0 if told.seconds is None else told.seconds

    assert seconds(celsius + more) <= seconds(celsius)


@given(st.floats(min_value=60, exclude_min=True, allow_nan=False))
def test_above_60_it_is_immediate(celsius: float) -> None:
    assert burn_time(celsius) == BurnTime(BurnKind.IMMEDIATE)


@given(st.floats(max_value=45, exclude_max=True, allow_nan=False))
def test_below_the_table_nothing_is_claimed(celsius: float) -> None:
    assert burn_time(celsius) == BurnTime(BurnKind.NOT_CLAIMED)


def test_between_two_entries_the_logarithm_is_linear() -> None:
    # half-way between 15 min and 8 min lies their geometric mean
    assert interpolated(48.5) == pytest.approx(math.sqrt(900 * 480))


def test_what_is_no_temperature_of_the_table_is_refused() -> None:
    with pytest.raises(ValueError, match="number"):
        burn_time(math.nan)
    for celsius in (44.9, 60.1, math.nan):
        with pytest.raises(ValueError, match="45 and 60"):
            interpolated(celsius)
