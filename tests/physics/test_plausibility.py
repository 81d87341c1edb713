from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from brimline.physics.plausibility import (
    COLDEST_C,
    HEAT_SOAK_K,
    HOTTEST_C,
    EngineState,
    fastest_fall,
    fastest_rise,
    is_possible,
    reachable,
    step_allowance,
)

RUNNING, OFF, UNKNOWN = EngineState.RUNNING, EngineState.OFF, EngineState.UNKNOWN
engines = st.sampled_from(list(EngineState))
temperatures = st.floats(-50, 200)


def test_stall_heating_is_the_fastest_rise() -> None:
    # 10 °F each second (common practice, no source)
    assert fastest_rise(RUNNING) == pytest.approx(10 / 1.8)
    # and more than the power of an engine in stall gives the fluid alone: 50 kW into 8 kg of
    # 2050 J/(kg·K), computed by an independent script, 3.05 K/s
    assert fastest_rise(RUNNING) > 3.05


def test_cooling_is_power_over_heat_capacity() -> None:
    # 30 kW out of 6 kg of 2000 J/(kg·K), computed by an independent script: 2.5 K/s; cold fluid
    # pumped in comes on top
    assert 2.5 < fastest_fall(RUNNING) < fastest_rise(RUNNING)
    assert fastest_fall(OFF) < fastest_fall(RUNNING)


def test_an_engine_that_is_off_does_not_heat_at_3_kelvin_a_second() -> None:
    assert fastest_rise(OFF) < 3
    assert not is_possible(80.0, 110.0, 10.0, OFF)
    assert is_possible(80.0, 110.0, 10.0, RUNNING)
    assert is_possible(80.0, 110.0, 10.0, UNKNOWN)


def test_heat_soak_is_possible_and_ends() -> None:
    assert is_possible(80.0, 80.0 + HEAT_SOAK_K, 60.0, OFF)
    assert not is_possible(80.0, 80.0 + HEAT_SOAK_K + 2.1, 1e6, OFF)
    assert is_possible(-20.0, 25.0, 3600.0, OFF)  # in from the frost, over an hour


@given(temperatures, engines)
def test_nothing_happens_in_no_time(celsius: float, engine: EngineState) -> None:
    assert reachable(celsius, 0.0, engine) == (celsius, celsius)


@given(temperatures, st.floats(0, 1e9), engines)
def test_no_gap_is_so_long_that_everything_is_possible(
    celsius: float, elapsed: float, engine: EngineState
) -> None:
    low, high = reachable(celsius, elapsed, engine)
    assert COLDEST_C <= low <= celsius <= high <= HOTTEST_C
    if engine is OFF:
        assert high <= max(celsius + HEAT_SOAK_K, 60.0)


@given(temperatures, st.floats(0, 1e5), st.floats(0, 1e5), engines)
def test_more_time_allows_no_less(
    celsius: float, short: float, more: float, engine: EngineState
) -> None:
    low, high = reachable(celsius, short, engine)
    later_low, later_high = reachable(celsius, short + more, engine)
    assert later_low <= low
    assert high <= later_high


@given(temperatures, st.floats(0, 1e5), st.sampled_from([RUNNING, OFF]))
def test_knowing_the_engine_only_narrows(
    celsius: float, elapsed: float, engine: EngineState
) -> None:
    low, high = reachable(celsius, elapsed, engine)
    wide_low, wide_high = reachable(celsius, elapsed, UNKNOWN)
    assert wide_low <= low
    assert high <= wide_high


@given(temperatures, temperatures, st.floats(0, 1e5), engines)
def test_possible_is_inside_what_can_be_reached(
    before: float, after: float, elapsed: float, engine: EngineState
) -> None:
    low, high = reachable(before, elapsed, engine)
    if low <= after <= high:
        assert is_possible(before, after, elapsed, engine, 0.0)
    else:
        assert not is_possible(before, after, elapsed, engine, 0.0)


def test_the_allowance_is_two_steps_of_the_sensor() -> None:
    assert step_allowance() == 2.0
    assert step_allowance(1 / 32) == 1 / 16
    assert is_possible(20.0, 22.0, 0.0, OFF)
    assert not is_possible(20.0, 22.01, 0.0, OFF)
    assert not is_possible(20.0, 17.99, 0.0, OFF)


@pytest.mark.parametrize("bad", [-0.1, math.nan])
def test_what_cannot_be_is_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="elapsed"):
        reachable(20.0, bad, RUNNING)
    with pytest.raises(ValueError, match="resolution"):
        step_allowance(bad)
