"""Volume correction against the worked examples of API MPMS chapter 11.1.

The examples (section 11.1.6.1 of the standard of 2004) were read in a public transcription. None
of them is a lubricating oil and they use the newer base of 60 °F, so the newer formula is written
out here as the witness; the program's metric formula of 1980 is then held against it.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from brimline.physics.volume import at_reference, correction_factor, expansion_at_15

D60 = 0.01374979547  # shift between the scales of 1968 and 1990 at 60 °F, in the standard
T60 = 60.0068749


def ctl_2004(t68: float, density_60: float, k0: float, k1: float, k2: float) -> float:
    """CTL by the standard of 2004, from a temperature on the 1968 scale in °F."""
    alpha = k0 / density_60**2 + k1 / density_60 + k2
    dt = t68 - T60
    return math.exp(-alpha * dt * (1 + 0.8 * alpha * (dt + D60)))


@pytest.mark.parametrize(
    ("t68", "density", "constants", "ctl"),
    [
        (-27.712499233089, 946.921215770785, (341.0957, 0, 0), 1.033011591958),
        (301.993163042978, 1163.46509372, (341.0957, 0, 0), 0.938051116886),
        (48.043878159606, 936.787006219757, (103.872, 0.2701, 0), 1.004858068990),
        (85.013358222928, 793.521270459968, (330.301, 0, 0), 0.986832406683),
        (27.298898616759, 657.303689061482, (192.4571, 0.2438, 0), 1.026475833518),
    ],
)
def test_the_witness_reproduces_the_worked_examples(
    t68: float, density: float, constants: tuple[float, float, float], ctl: float
) -> None:
    assert ctl_2004(t68, density, *constants) == pytest.approx(ctl, abs=1e-11)


def _lube_2004_at_15(density_15: float, celsius: float) -> float:
    """The newer formula for lubricating oils, rebased to 15 °C: volume at 15 °C / at t."""
    density_60 = density_15
    for _ in range(20):  # density at 60 °F that gives this density at 15 °C
        density_60 = density_15 / ctl_2004(59.0, density_60, 0, 0.34878, 0)
    fahrenheit = celsius * 9 / 5 + 32
    return ctl_2004(fahrenheit, density_60, 0, 0.34878, 0) / ctl_2004(
        59.0, density_60, 0, 0.34878, 0
    )


@given(st.floats(805, 1000), st.floats(-20, 140))
def test_the_metric_formula_agrees_with_the_newer_one(density: float, celsius: float) -> None:
    ours = correction_factor(expansion_at_15(density), celsius)
    # The difference of the temperature scales (up to 0.04 K here) is left out of the witness.
    assert ours == pytest.approx(_lube_2004_at_15(density, celsius), abs=6e-5)


def test_no_change_at_the_reference_and_hotter_fluid_takes_more_room() -> None:
    alpha = expansion_at_15(850)
    assert correction_factor(alpha, 15.0) == 1.0
    assert at_reference(8.0, 50.0, alpha) < 8.0 < at_reference(8.0, 0.0, alpha)
    # 8 L of density 850 kg/m³ grow by 0.0614 L from 40 to 50 °C (by the same formula).
    grown = 8 * correction_factor(alpha, 40) / correction_factor(alpha, 50) - 8
    assert grown == pytest.approx(0.0614, abs=5e-5)


@pytest.mark.parametrize("density", [799.9, 1164.1, float("nan")])
def test_densities_outside_the_table_are_refused(density: float) -> None:
    with pytest.raises(ValueError, match="density"):
        expansion_at_15(density)


@pytest.mark.parametrize("celsius", [-51.0, 151.0])
def test_temperatures_outside_the_table_are_refused(celsius: float) -> None:
    with pytest.raises(ValueError, match="temperature"):
        correction_factor(7e-4, celsius)
