from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from brimline.physics.viscosity import kinematic_viscosity, walther_constants


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
    at_100=st.floats(2.0, 15.0),
    ratio=st.floats(1.5, 9.0),
    celsius=st.floats(-40.0, 140.0),
    step=st.floats(0.1, 10.0),
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
    [(-61, 32, 5.4), (201, 32, 5.4), (50, 5.4, 5.4), (50, 5.4, 32), (50, 32, 1.9)],
)
def test_it_refuses_what_it_does_not_hold_for(celsius: float, at_40: float, at_100: float) -> None:
    with pytest.raises(ValueError, match="must"):
        kinematic_viscosity(celsius, at_40, at_100)


def test_the_constants_need_viscosities_with_a_double_logarithm() -> None:
    with pytest.raises(ValueError, match=r"above 0\.3"):
        walther_constants(32, 0.3)
