"""The forecast when the heat changes, told or not: a box of two masses, read at 10 Hz in 0.1 K."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
import pytest
from scipy.linalg import expm

from brimline.physics.forecast import Forecaster, Regime
from brimline.physics.relaxation import Array

STEP_S, STEP_K = 0.1, 0.1
EXCHANGE, LOSS, RATIO, AIR, START = 0.01, 0.0016, 1.8, 18.0, 20.0
HEAT = 0.09  # K/s of the fluid's own capacity: idling ends at 83 °C


def onwards(heat: float) -> Array:
    """One step of the two masses, exact; acts upon (fluid, case, 1)."""
    system = np.array(
        [
            [-EXCHANGE, EXCHANGE, heat],
            [EXCHANGE / RATIO, -(EXCHANGE + LOSS) / RATIO, LOSS * AIR / RATIO],
            [0.0, 0.0, 0.0],
        ]
    )
    return expm(system * STEP_S)


@lru_cache(maxsize=16)
def box(changed_at: float, heat_after: float) -> tuple[Array, Array]:
    """Times (s) and the fluid (°C) until two hours after the change."""
    changed = math.ceil(changed_at / STEP_S)
    warming = courses(onwards(HEAT), np.array([START, START, 1.0]), changed)
    then = courses(
        onwards(heat_after), warming[-1], round((changed_at + 7300.0) / STEP_S) - changed
    )
    fluid = np.concatenate((warming[:, 0], then[1:, 0]))
    return np.arange(len(fluid)) * STEP_S, fluid


def courses(step: Array, start: Array, count: int) -> Array:
    """The states at 0 to ``count`` steps, (count + 1, 3), at once by the eigenvectors of one."""
    growth, vectors = np.linalg.eig(step)
    parts = np.linalg.solve(vectors, start)
    return (growth ** np.arange(count + 1)[:, None] * parts) @ vectors.T


def followed(
    changed_at: float, heat_after: float, regime: Regime | None, seconds: float
) -> Forecaster:
    times, fluid = box(changed_at, heat_after)
    made = Forecaster()
    changed, end = round(changed_at / STEP_S), round((changed_at + seconds) / STEP_S)
    for k, (t, true) in enumerate(zip(times.tolist(), fluid[: end + 1].tolist(), strict=False)):
        if regime is not None and k == changed + 1:
            made.change(regime)
        made.observe(t, round(true / STEP_K) * STEP_K)
    return made


def left(changed_at: float, heat_after: float, seconds: float, level: float) -> float:
    times, fluid = box(changed_at, heat_after)
    ahead = times > changed_at + seconds
    here = fluid[ahead][0]
    passed = np.flatnonzero((fluid[ahead] >= level) if level > here else (fluid[ahead] <= level))
    return float(times[ahead][passed[0]] - changed_at - seconds) if passed.size else math.inf


CHANGES = [
    (0.0, Regime.STOPPED), (2 * HEAT, Regime.OTHER), (1.4 * HEAT, Regime.OTHER),
    (0.0, None), (2 * HEAT, None),
]  # fmt: skip


@pytest.mark.parametrize(("heat_after", "regime"), CHANGES)
@pytest.mark.parametrize("changed_at", [300.0, 1800.0])
def test_after_twenty_seconds_nothing_wrong_is_said_any_more(
    changed_at: float, heat_after: float, regime: Regime | None
) -> None:
    made = followed(changed_at, heat_after, regime, 20.0)
    for off in (-5.0, 5.0, 15.0):
        level = made.celsius + off
        truth = left(changed_at, heat_after, 20.0, level)
        found = made.passage(level)
        if found.known:
            assert found.high >= truth
            assert found.low is None or found.low <= truth
            assert not (found.likely_never and truth < math.inf)


@pytest.mark.parametrize(("heat_after", "regime"), CHANGES)
def test_the_old_heat_is_given_up_within_twenty_seconds(
    heat_after: float, regime: Regime | None
) -> None:
    # Not merely silent: what is foretold has moved towards the truth by more than half.
    unaware = followed(600.0, HEAT, None, 20.0)
    made = followed(600.0, heat_after, regime, 20.0)
    times, fluid = box(600.0, heat_after)
    later = np.array([60.0])
    truth = float(np.interp(680.0, times, fluid))
    stale = float(unaware.course(later, np.array([0.5]))[0, 0])
    assert abs(float(made.course(later, np.array([0.5]))[0, 0]) - truth) < 0.5 * abs(stale - truth)


@pytest.mark.parametrize(("heat_after", "regime"), CHANGES)
def test_after_two_minutes_the_forecast_is_good_again(
    heat_after: float, regime: Regime | None
) -> None:
    made = followed(600.0, heat_after, regime, 120.0)
    level = made.celsius + (10.0 if heat_after else -3.0)
    truth = left(600.0, heat_after, 120.0, level)
    found = made.passage(level)
    assert found.low is not None
    assert found.low <= truth <= found.high
    # How a stopped box cools down is hardly known before it does: that may stay too early to tell.
    assert found.known or not heat_after
    if found.known:
        assert found.median == pytest.approx(truth, rel=0.3)


@pytest.mark.parametrize("regime", [Regime.STOPPED, Regime.OTHER, Regime.IDLING])
def test_a_told_change_leaves_the_temperature_where_it_is(regime: Regime) -> None:
    # Blocks are 50 s long by then; the fluid has moved on since the middle of the latest.
    made = followed(600.0, HEAT, None, 0.0)
    before = made.celsius
    assert before == pytest.approx(box(600.0, HEAT)[1][6000], abs=0.15)
    made.change(regime)
    assert made.celsius == pytest.approx(before, abs=0.05)


def test_a_stopped_box_is_expected_to_cool_down_and_a_restarted_one_to_warm_up() -> None:
    hour, middle = np.array([3600.0]), np.array([0.5])
    stopped, restarted = (followed(900.0, HEAT, None, 0.0) for _ in range(2))
    stopped.change(Regime.STOPPED)
    restarted.change(Regime.IDLING)
    assert stopped.course(hour, middle)[0, 0] < stopped.celsius - 8.0
    assert restarted.course(hour, middle)[0, 0] > restarted.celsius + 8.0
    assert stopped.passage(stopped.celsius + 15.0).likely_never


@pytest.mark.parametrize("regime", [None, Regime.OTHER, Regime.STOPPED])
def test_after_a_change_it_is_too_early_for_a_while(regime: Regime | None) -> None:
    heat = 0.0 if regime is Regime.STOPPED else 2 * HEAT
    made = followed(1800.0, heat, regime, 20.0)
    assert not made.passage(made.celsius + 5.0).known


def test_a_steady_warm_up_is_no_change() -> None:
    # Two masses settle, a cooler does not open: nothing is loosened, so half-way it can be told.
    made = followed(900.0, HEAT, None, 0.0)
    found = made.passage(60.0)
    assert found.known
    assert found.low is not None
    assert found.low <= left(900.0, HEAT, 0.0, 60.0) <= found.high
    assert found.high - found.low < 1500.0


def test_after_a_long_gap_the_heat_is_unknown_again() -> None:
    times, fluid = box(600.0, HEAT)
    widths = []
    for gap in (500.0, 700.0):
        made = followed(600.0, HEAT, None, 0.0)
        at = int(np.searchsorted(times, 600.0 + gap))
        made.observe(float(times[at]), float(fluid[at]))
        found = made.passage(float(fluid[at]) + 10.0)
        assert found.low is not None
        widths.append(min(found.high, 7200.0) - found.low)
    assert widths[1] > 1.3 * widths[0]


@pytest.mark.parametrize("period", [120.0, 240.0])
def test_keyed_degrees_minutes_apart_are_enough(period: float) -> None:
    times, fluid = box(600.0, HEAT)
    made = Forecaster()
    for t in np.arange(0.0, 721.0, period):
        made.observe(float(t), float(round(float(np.interp(t, times, fluid)))))
    found = made.passage(60.0)
    truth = left(600.0, HEAT, 120.0, 59.5)
    assert found.known
    assert found.low is not None
    assert found.low <= truth <= found.high


def test_a_band_that_is_left_at_either_end() -> None:
    made = followed(600.0, HEAT, None, 0.0)
    here = made.celsius
    out, up = made.leaving(here - 8.0, here + 6.0), made.leaving(None, here + 6.0)
    assert out.median == pytest.approx(up.median, rel=0.02)
    assert out.never <= up.never
    assert made.leaving(here + 1.0, here + 9.0).median == 0.0
    cooled = followed(600.0, 0.0, Regime.STOPPED, 120.0)
    down = cooled.leaving(cooled.celsius - 3.0, cooled.celsius + 15.0)
    assert down.low is not None
    assert down.low <= left(600.0, 0.0, 120.0, cooled.celsius - 3.0) <= down.high
