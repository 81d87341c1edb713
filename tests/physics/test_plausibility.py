from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from warm_up_simulations import Vehicles, simulate

from brimline.physics.plausibility import (
    COLDEST_C,
    HEAT_SOAK_K,
    HOTTEST_C,
    EngineState,
    fastest_fall,
    fastest_rise,
    is_possible,
    longest_standstill,
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


# ── standing still ───────────────────────────────────────────────────────────


def idling_boxes(start: float, count: int) -> Vehicles:
    """Two-mass boxes over the ranges that the forecast states for an idling engine."""
    rng = np.random.default_rng(5)

    def logarithmic(low: float, high: float) -> np.ndarray:
        return np.exp(rng.uniform(np.log(low), np.log(high), count))

    whole, mixing, ratio = logarithmic(300, 6000), logarithmic(10, 500), logarithmic(0.3, 6)
    above_air, none = rng.uniform(0, 15, count), np.zeros(count)
    exchange, loss = ratio / (1 + ratio) / mixing, (1 + ratio) / whole
    rise = rng.uniform(45, 250, count) - start + above_air
    return Vehicles(
        start=np.full(count, start), case_start=start - rng.uniform(-2, 5, count),
        air=start - above_air, heat=rise / (1 / exchange + 1 / loss), power=none,
        exchange=exchange, loss=loss, ratio=ratio, cooler=none, opens_at=none, flare=none,
        flare_s=none + 1, change_at=none + math.inf, heat_after=none + 1, loss_after=none + 1,
    )  # fmt: skip


@pytest.mark.parametrize("start", [-10.0, 5.0, 20.0, 30.0])
def test_no_box_of_the_forecasts_ranges_stands_for_longer(start: float) -> None:
    # By equations of their own; each whole degree that is shown, from when to when.
    times, fluids = simulate(idling_boxes(start, 1000), 5400.0)
    too_long = longest = 0.0
    for fluid in fluids:
        shown = np.round(fluid)
        changes = np.concatenate(([0], np.flatnonzero(np.diff(shown)) + 1, [len(shown) - 1]))
        for first, last in pairwise(changes):
            stood = times[last] - times[first]
            too_long += stood > longest_standstill(float(shown[first]), start)
            longest = max(longest, stood if shown[first] <= 40 else 0.0)
    # A box whose fluid first falls towards a colder case, and stands where it turns.
    assert too_long <= 1
    assert longest > 240  # and the bound is not idle


@given(temperatures, temperatures, st.floats(0.01, 10))
def test_the_longest_standstill_grows_with_warmth_and_step(
    celsius: float, coldest: float, step: float
) -> None:
    coldest = min(celsius, coldest)
    stands = longest_standstill(celsius, coldest, step)
    assert 240 <= stands <= longest_standstill(celsius + 1, coldest, step)
    assert stands <= longest_standstill(celsius, coldest, 2 * step)
    assert stands <= longest_standstill(celsius, coldest - 1, step)
    assert (stands == math.inf) == (celsius >= min(45.0, coldest + 25.0))
