"""Viscosity and temperature by ASTM D341, in its form for thin fluids too."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from brimline.physics.viscosity import (
    LOWEST,
    from_z,
    kinematic_viscosity,
    to_z,
    walther_constants,
)


def test_the_worked_example_of_a_public_worksheet() -> None:
    # 32 mm²/s at 40 °C and 5.4 at 100 °C give 8.5 at 80 °C: a public worksheet on ASTM D341
    assert kinematic_viscosity(80, 32, 5.4) == pytest.approx(8.5, abs=0.05)


@pytest.mark.parametrize(
    ("at_40", "at_100", "celsius", "expected"),
    [
        # computed from the same equation by an independent script with T = t + 273.15
        (32, 5.4, 20, 86.278),
        (32, 5.4, 80, 8.5332),
        (35, 7.3, 0, 233.151),
        (35, 7.3, 20, 79.482),
        (35, 7.3, 60, 18.452),
        (35, 7.3, 80, 11.069),
        (30, 5.23, 50, 20.314),
    ],
)
def test_values_of_an_independent_script(
    at_40: float, at_100: float, celsius: float, expected: float
) -> None:
    assert kinematic_viscosity(celsius, at_40, at_100) == pytest.approx(expected, rel=1e-4)


def test_the_constants_of_the_same_script() -> None:
    assert walther_constants(35, 7.3) == pytest.approx((7.90632, 3.09135), abs=5e-6)
    assert walther_constants(32, 5.4) == pytest.approx((9.53082, 3.74658), abs=5e-6)


@given(
    at_100=st.floats(0.3, 15.0),
    ratio=st.floats(1.5, 9.0),
    celsius=st.floats(-40.0, 95.0),
    step=st.floats(0.1, 5.0),
)
def test_it_meets_the_data_sheet_and_thins_with_heat(
    at_100: float, ratio: float, celsius: float, step: float
) -> None:
    at_40 = at_100 * ratio
    assert kinematic_viscosity(40, at_40, at_100) == pytest.approx(at_40, rel=1e-9)
    assert kinematic_viscosity(100, at_40, at_100) == pytest.approx(at_100, rel=1e-9)
    warmer = kinematic_viscosity(celsius + step, at_40, at_100)
    assert warmer < kinematic_viscosity(celsius, at_40, at_100)


@pytest.mark.parametrize(
    ("celsius", "at_40", "at_100"),
    [(-61, 32, 5.4), (201, 32, 5.4), (50, 5.4, 5.4), (50, 5.4, 32), (50, 32, 0.2)],
)
def test_it_refuses_what_it_does_not_hold_for(celsius: float, at_40: float, at_100: float) -> None:
    with pytest.raises(ValueError, match="must"):
        kinematic_viscosity(celsius, at_40, at_100)


def test_the_constants_need_viscosities_that_the_equation_covers() -> None:
    with pytest.raises(ValueError, match=r"at least 0\.21"):
        walther_constants(32, 0.2)
    with pytest.raises(ValueError, match=r"at least 0\.21"):
        walther_constants(math.nan, 5.4)


def published_inverse(z: float) -> float:
    over = z - 0.7
    return over - math.exp(-0.7487 - 3.295 * over + 0.6119 * over**2 - 0.3193 * over**3)


@given(st.floats(LOWEST, 1e5))
def test_z_and_back(viscosity: float) -> None:
    z = to_z(viscosity)
    assert from_z(z) == pytest.approx(viscosity, rel=1e-12)
    # the inverse that ASTM D341 publishes beside it, as read in public pages and code
    if viscosity < 10:  # its cubic is meant for thin fluids
        assert published_inverse(z) == pytest.approx(viscosity, rel=3.5e-4)
    # the root that scipy finds by itself
    assert brentq(lambda v: to_z(v) - z, 0, 2e5, xtol=1e-13) == pytest.approx(viscosity, rel=1e-9)


@given(st.floats(LOWEST, 3.0))
def test_the_older_long_form_says_the_same(viscosity: float) -> None:
    # Z = ν + 0.7 + C - D + E - F + G - H of the earlier editions, its constants from memory
    terms = (
        (1, -1.14883, 2.65868), (-1, -0.0038138, 12.5645), (1, 5.46491, 37.6289),
        (-1, 13.0458, 74.6851), (1, 37.4619, 192.643), (-1, 80.4945, 400.468),
    )  # fmt: skip
    older = viscosity + 0.7 + sum(s * math.exp(a - b * viscosity) for s, a, b in terms)
    assert to_z(viscosity) == pytest.approx(older, rel=5e-3)


def test_below_two_the_short_form_is_wrong_and_above_it_is_not() -> None:
    def short(celsius: float, at_40: float, at_100: float) -> float:
        y40, y100 = (math.log10(math.log10(v + 0.7)) for v in (at_40, at_100))
        part = math.log10((celsius + 273.15) / 313.15) / math.log10(373.15 / 313.15)
        return float(10.0 ** (10.0 ** (y40 + (y100 - y40) * part)) - 0.7)

    assert kinematic_viscosity(60, 28.5, 5.9) == pytest.approx(short(60, 28.5, 5.9), rel=1e-6)
    thin = kinematic_viscosity(150, 1.5, 0.7)
    assert thin == pytest.approx(short(150, 1.5, 0.7), rel=0.2)
    assert abs(thin / short(150, 1.5, 0.7) - 1) > 0.02


def test_z_too_small_for_any_viscosity() -> None:
    with pytest.raises(ValueError, match="no viscosity"):
        from_z(0.9)
    assert from_z(to_z(0.0)) == pytest.approx(0.0, abs=1e-12)
