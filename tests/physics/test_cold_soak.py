from __future__ import annotations

import math

import pytest
import uncertainties
from hypothesis import given
from hypothesis import strategies as st

from brimline.physics import cold_soak
from brimline.physics.cold_soak import SoakVerdict, judge_soak, left_over, rest_needed

HOUR = 3600.0
NIGHT = 12 * HOUR


def test_a_night_is_long_enough_and_a_morning_is_not() -> None:
    # eight hours count as cold (common practice, no source)
    assert 5 * HOUR < rest_needed() < 8 * HOUR
    assert judge_soak(21.0, 21.0, None, 8 * HOUR).verdict is SoakVerdict.AGREES
    assert judge_soak(21.0, 21.0, None, 4 * HOUR).verdict is SoakVerdict.TOO_SHORT


def test_what_is_left_halves_in_the_half_life() -> None:
    # the half-life of a decay with time constant τ is τ·ln 2
    tau = (1000.0, 5000.0)
    assert left_over(5000 * math.log(2), tau) == pytest.approx(cold_soak.START_EXCESS_K / 2)
    assert left_over(0.0, tau) == cold_soak.START_EXCESS_K


def test_nothing_more_than_allowed_is_left_after_the_rest_that_is_needed() -> None:
    for tau in (cold_soak.FLUID_TAU_S, cold_soak.COOLANT_TAU_S):
        assert left_over(rest_needed(), tau) <= cold_soak.LEFT_OVER_K * (1 + 1e-12)
    assert left_over(rest_needed() * 0.99, cold_soak.FLUID_TAU_S) > cold_soak.LEFT_OVER_K


@pytest.mark.parametrize(
    ("fluid", "coolant", "verdict"),
    [
        (22.0, 21.5, SoakVerdict.AGREES),
        (30.0, 21.5, SoakVerdict.BIASED),
        (12.0, None, SoakVerdict.BIASED),
        (22.0, 30.0, SoakVerdict.NOT_CONCLUSIVE),  # coolant and hall say different things
        (30.0, 30.0, SoakVerdict.NOT_CONCLUSIVE),
    ],
)
def test_verdicts_after_a_night(fluid: float, coolant: float | None, verdict: SoakVerdict) -> None:
    assert judge_soak(fluid, 21.0, coolant, NIGHT).verdict is verdict


@given(st.floats(0, 5), st.floats(0, 5), st.floats(rest_needed(), 48 * HOUR))
def test_bias_and_uncertainty_are_those_of_a_weighted_mean(
    ambient: float, coolant_off: float, rest: float
) -> None:
    # by the package uncertainties, with standard uncertainties as stated in the module
    hall = uncertainties.ufloat(20 + ambient, cold_soak.AMBIENT_U_K)
    coolant = uncertainties.ufloat(20 + coolant_off, cold_soak.COOLANT_U_K)
    sensor = uncertainties.ufloat(29.0, cold_soak.READING_U_K)
    rest_left = uncertainties.ufloat(0.0, left_over(rest, cold_soak.FLUID_TAU_S) / math.sqrt(3))
    weights = [u.std_dev**-2 for u in (hall, coolant)]
    mean = (hall * weights[0] + coolant * weights[1]) / sum(weights)
    expected = sensor - mean + rest_left
    judged = judge_soak(29.0, 20 + ambient, 20 + coolant_off, rest)
    if judged.verdict is SoakVerdict.NOT_CONCLUSIVE:
        assert abs(ambient - coolant_off) > 4
        return
    assert judged.bias == pytest.approx(expected.nominal_value)
    assert judged.uncertainty == pytest.approx(2 * expected.std_dev)


@given(st.floats(-40, 60), st.floats(-40, 60), st.one_of(st.none(), st.floats(0, 1e6)))
def test_a_bias_is_claimed_only_beyond_its_uncertainty(
    fluid: float, ambient: float, rest: float | None
) -> None:
    judged = judge_soak(fluid, ambient, None, rest)
    assert (judged.left_over is None) == (rest is None)
    if rest is None or rest < rest_needed():
        assert judged.bias is None
        assert judged.verdict in (SoakVerdict.TOO_SHORT, SoakVerdict.NOT_CONCLUSIVE)
        return
    assert judged.bias == fluid - ambient
    assert judged.uncertainty is not None
    assert (judged.verdict is SoakVerdict.BIASED) == (abs(judged.bias) > judged.uncertainty)


def test_a_rest_that_nobody_knows_says_nothing() -> None:
    assert judge_soak(30.0, 21.0, None, None).verdict is SoakVerdict.NOT_CONCLUSIVE


@pytest.mark.parametrize("rest", [-1.0, math.nan])
def test_a_rest_that_cannot_be_is_refused(rest: float) -> None:
    with pytest.raises(ValueError, match="rest"):
        judge_soak(21.0, 21.0, None, rest)


@pytest.mark.parametrize("tau", [(0.0, 1.0), (2.0, 1.0)])
def test_time_constants_that_cannot_be_are_refused(tau: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="time constants"):
        left_over(1.0, tau)


@pytest.mark.parametrize("bad", [(300.0, 20.0, None), (20.0, math.nan, None), (20.0, 20.0, -70.0)])
def test_temperatures_that_cannot_be_are_refused(bad: tuple[float, float, float | None]) -> None:
    with pytest.raises(ValueError, match="temperatures"):
        judge_soak(*bad, NIGHT)
