"""The prior of a warm-up: boxes against integrated equations, and what is learned from others."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.stats import invwishart

from brimline.physics import warm_up_prior as module
from brimline.physics.forecast import Forecaster
from brimline.physics.relaxation import MODES, TIME_CONSTANTS, Array
from brimline.physics.warm_up_prior import (
    IDLING,
    RESTARTED,
    SLACK_K,
    STOPPED,
    BoxRanges,
    PastWarmUp,
    Prior,
    StatedWarmUp,
    amplitudes_of,
    prior,
    sharpened,
)

TIMES = np.linspace(0.0, 5400.0, 120)


def fluid(of: dict[str, float], start: float, times: Array, heated: bool = True) -> Array:
    """The two masses by scipy's integrator, in units of the fluid's own heat capacity."""
    ratio, steady = of["case_ratio"], of["steady"]
    exchange = ratio / (1 + ratio) / of["mixing"]
    loss = (1 + ratio) / of["whole"]
    air = start - of["above_air"] if heated else steady
    heat = (steady - air) / (1 / exchange + 1 / loss)

    def slopes(_t: float, masses: Array) -> list[float]:
        passed = exchange * (masses[0] - masses[1])
        return [heat - passed, (passed - loss * (masses[1] - air)) / ratio]

    begin = [start, start - of["case_below"]]
    return solve_ivp(slopes, (0.0, times[-1]), begin, t_eval=times, rtol=1e-8, atol=1e-8).y[0]


def risen(amplitudes: Array, times: Array) -> Array:
    return (1 - np.exp(-times[:, None] / TIME_CONSTANTS)) @ amplitudes


BOX = {
    "steady": 85.0, "whole": 1500.0, "mixing": 100.0, "case_ratio": 1.8,
    "case_below": 1.0, "above_air": 4.0,
}  # fmt: skip
CHANGES: list[dict[str, float]] = [
    {}, {"whole": 5000.0, "steady": 110.0}, {"mixing": 300.0, "case_ratio": 4.0},
    {"case_ratio": 0.4, "whole": 600.0}, {"case_below": 12.0, "above_air": 30.0, "steady": 60.0},
]  # fmt: skip


@pytest.mark.parametrize("changed", CHANGES)
@pytest.mark.parametrize(("start", "heated"), [(20.0, True), (-30.0, True), (80.0, False)])
def test_a_box_does_what_its_equations_say(
    changed: dict[str, float], start: float, heated: bool
) -> None:
    of = BOX | changed | ({} if heated else {"steady": 15.0})
    narrow = {name: (value, value) for name, value in of.items()}
    found = prior(start, BoxRanges(**narrow, fast_idle=(-1.0, -1.0), heated=heated))
    # One and the same box four hundred times over: no spread but the slack.
    assert found.covariance == pytest.approx(SLACK_K**2 * np.eye(MODES), abs=1e-6)
    truth = fluid(of, start, TIMES, heated) - start
    # Two exponentials through the ladder, each within 0.06 of its part; nearly always closer.
    assert np.abs(risen(found.mean, TIMES) - truth).max() < 0.025 * np.ptp(truth) + 0.3


def test_a_cold_engine_s_fast_idle_warms_sooner_and_to_the_same_end() -> None:
    narrow = {name: (value, value) for name, value in BOX.items()}
    plain = prior(0.0, BoxRanges(**narrow, fast_idle=(0.0, 0.0))).mean
    fast = prior(0.0, BoxRanges(**narrow, fast_idle=(1.0, 1.0))).mean
    times = np.array((300.0, 40_000.0))
    gained = risen(fast, times) - risen(plain, times)
    # Twice the heat of 0.12 K/s for some 130 s, shared with a case of 1.8 times the capacity.
    assert 2.0 < gained[0] < 8.0
    assert abs(gained[1]) < 0.1


def test_a_stopped_box_at_the_air_s_temperature_stays_there() -> None:
    # Nothing heats it, and the case is as warm as the fluid.
    still = BoxRanges(
        steady=(20.0, 20.0), case_below=(0.0, 0.0), fast_idle=(-1.0, 0.0), heated=False
    )
    assert np.abs(prior(20.0, still).mean).max() < 1e-9


@pytest.mark.parametrize("start", [-30.0, 0.0, 20.0, 90.0, 120.0])
@pytest.mark.parametrize("ranges", [IDLING, RESTARTED, STOPPED])
def test_a_prior_is_a_distribution_from_any_start(start: float, ranges: BoxRanges) -> None:
    found = prior(start, ranges)
    assert found.mean.shape == (MODES,)
    assert found.covariance == pytest.approx(found.covariance.T, rel=1e-12)
    assert np.linalg.eigvalsh(found.covariance).min() > 0.9 * SLACK_K**2
    end = start + found.mean.sum()
    low, high = ranges.steady
    assert low < end < high


@lru_cache(maxsize=32)
def time_to(start: float, end: float, stated: StatedWarmUp | None) -> float:
    made = Forecaster(prior(start, stated=stated))
    made.observe(0.0, start)
    found = made.passage(end)
    assert found.known or stated is None
    assert found.median is not None
    return found.median


@pytest.mark.parametrize(
    ("start", "end", "duration"), [(20.0, 60.0, 900.0), (20.0, 50.0, 300.0), (0.0, 50.0, 600.0)]
)
def test_a_stated_warm_up_moves_the_forecast_to_the_stated_time(
    start: float, end: float, duration: float
) -> None:
    stated = StatedWarmUp(start, end, duration)
    assert time_to(start, end, stated) == pytest.approx(duration, rel=1 / 3)
    assert abs(np.log(time_to(start, end, stated) / duration)) < 0.6 * abs(
        np.log(time_to(start, end, None) / duration)
    )


FAMILY = BOX | {"whole": 800.0, "steady": 100.0}
"""Warms up sooner than most."""


def past_warm_ups(count: int, length: float = 1500.0, start: float = 20.0) -> list[PastWarmUp]:
    rng = np.random.default_rng(6)
    times = np.arange(0.0, length, 10.0)
    made = []
    for _ in range(count):
        begin = start + rng.uniform(-3.0, 3.0)
        of = FAMILY | {"steady": 100.0 + rng.normal(0.0, 2.0), "case_below": rng.uniform(0.0, 2.0)}
        made.append(PastWarmUp(times, np.round(fluid(of, begin, times), 1)))
    return made


def before_the_start(known: Prior, level: float) -> tuple[float, float]:
    made = Forecaster(known)
    made.observe(0.0, 20.0)
    found = made.passage(level)
    assert found.median is not None
    assert found.low is not None
    return found.median, min(found.high, 7200.0) - found.low


@pytest.mark.parametrize("level", [40.0, 60.0])
def test_earlier_warm_ups_of_the_family_sharpen_the_forecast(level: float) -> None:
    times = np.arange(0.0, 7200.0)
    truth = float(np.argmax(fluid(FAMILY, 20.0, times) >= level - 0.5))
    known = prior(20.0)
    blind, wide = before_the_start(known, level)
    told, narrow = before_the_start(sharpened(known, 20.0, past_warm_ups(15)), level)
    assert narrow < 0.4 * wide
    assert abs(told - truth) < 0.5 * abs(blind - truth)
    assert told == pytest.approx(truth, rel=0.15)


def test_warm_ups_that_began_elsewhere_hardly_count() -> None:
    known = prior(20.0)
    far = sharpened(known, 20.0, past_warm_ups(5, start=70.0))
    assert far.mean == pytest.approx(known.mean, abs=0.05 * np.abs(known.mean).max())
    assert far.covariance == pytest.approx(known.covariance, abs=0.05 * known.covariance.max())
    assert sharpened(known, -30.0, past_warm_ups(2, start=70.0)) == known
    assert sharpened(known, 20.0, []) is known
    assert sharpened(known, 20.0, [PastWarmUp(np.array([0.0, 9.0]), np.array([20.0, 21.0]))]) is (
        known
    )


def test_the_more_warm_ups_the_narrower_and_one_alone_does_not_widen() -> None:
    known = prior(20.0)
    spreads = [np.trace(known.covariance)] + [
        np.trace(sharpened(known, 20.0, past_warm_ups(count)).covariance)
        for count in (1, 3, 10, 30)
    ]
    assert spreads == sorted(spreads, reverse=True)
    assert spreads[-1] < 0.25 * spreads[0]


def test_warm_ups_too_short_to_tell_do_not_narrow() -> None:
    known = prior(20.0)
    moments = [PastWarmUp(np.array([0.0, 1.0, 2.0]), np.full(3, 20.0))] * 20
    found = sharpened(known, 20.0, moments)
    assert np.trace(found.covariance) == pytest.approx(np.trace(known.covariance), rel=0.1)


def test_many_warm_ups_outweigh_the_boxes() -> None:
    # Limits of the conjugate rule: mean and covariance of the sample.
    known, few = prior(20.0), past_warm_ups(4)
    found = sharpened(known, 20.0, few * 500)
    counts = np.exp(-(((np.array([one.celsius[0] for one in few]) - 20.0) / 15.0) ** 2) / 2)
    sample = np.array([amplitudes_of(known, one) for one in few])
    assert found.mean == pytest.approx(counts @ sample / counts.sum(), abs=0.1)


def test_the_rule_is_that_of_the_inverse_wishart_distribution(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # Boxes as one earlier warm-up (1 count, 10 degrees of freedom), then one exact warm-up more.
    known, amplitudes = prior(20.0), np.array((3.0, 5.0, 20.0, 25.0, 4.0))
    nothing_open = (amplitudes, np.zeros((MODES, MODES)))
    monkeypatch.setattr(module, "_regression", lambda *_: nothing_open)
    found = sharpened(known, 20.0, [PastWarmUp(np.arange(3.0), np.full(3, 20.0))])
    off = amplitudes - known.mean
    # Of the scale it is known that without data the next warm-up has the boxes' covariance,
    # which is the expected one times (1 + 1 / counts).
    scale = known.covariance / 2 * (10 - MODES - 1)
    expected = np.asarray(invwishart(11, scale + off[:, None] * off / 2).mean())
    assert found.mean == pytest.approx((known.mean + amplitudes) / 2)
    assert found.covariance == pytest.approx(expected * (1 + 1 / 2))


KNOWN = prior(20.0)


@given(st.floats(300.0, 3000.0), st.floats(45.0, 110.0), st.floats(15.0, 25.0))
def test_a_recorded_curve_gives_its_own_future(tau: float, end: float, start: float) -> None:
    # Twenty minutes are read, and the next ten are foretold by the amplitudes alone.
    times = np.arange(0.0, 1800.0, 5.0)
    celsius = end - (end - start) * np.exp(-times / tau)
    read = times < 1200.0
    found = amplitudes_of(KNOWN, PastWarmUp(times[read] + 77.0, celsius[read]))
    off = np.abs(start + risen(found, times) - celsius)
    assert off[read].max() < 0.5
    assert off.max() < 0.06 * (end - start)
