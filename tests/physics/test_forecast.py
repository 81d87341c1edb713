"""The forecast as a whole: what always holds, and known curves whose truth is at hand."""

from __future__ import annotations

import math
import warnings

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import curve_fit

from brimline.physics.blocks import LONGEST_S
from brimline.physics.forecast import ENOUGH_S, GAP_S, Forecaster, Regime
from brimline.physics.passage import HORIZON_S, Passage
from brimline.physics.relaxation import Array
from brimline.physics.warm_up_prior import StatedWarmUp, prior

STEPS = st.one_of(st.floats(0.05, 5.0), st.floats(100.0, 260.0), st.just(GAP_S + 50.0))
JUMPS = st.floats(-4.0, 4.0) | st.just(0.0)
SEQUENCES = st.lists(
    st.tuples(STEPS, JUMPS, st.sampled_from([None] * 12 + list(Regime))), max_size=40
)


def told(*readings: tuple[float, float]) -> Forecaster:
    made = Forecaster()
    for t, celsius in readings:
        made.observe(t, celsius)
    return made


def exponential(times: Array, tau: float = 900.0, end: float = 90.0, start: float = 20.0) -> Array:
    return end - (end - start) * np.exp(-times / tau)


def warmed_up(seconds: int, *, offset: float = 0.0, shift: float = 0.0) -> Forecaster:
    times = np.arange(0.0, seconds + 1.0)
    readings = np.round(exponential(times), 1) + offset
    return told(*zip((times + shift).tolist(), readings.tolist(), strict=True))


def makes_sense(found: Passage) -> bool:
    low = 0.0 if found.low is None else found.low
    median = low if found.median is None else found.median
    return 0.0 <= low <= median <= found.high and 0.0 <= found.never <= 1.0


@settings(max_examples=150, deadline=None)
@given(st.floats(-30.0, 120.0), SEQUENCES, st.floats(-40.0, 150.0), st.booleans())
def test_any_plausible_readings_get_an_answer_that_makes_sense(
    start: float, sequence: list[tuple[float, float, Regime | None]], level: float, special: bool
) -> None:
    made = Forecaster(prior(start) if special else None)
    t, celsius = 0.0, start
    made.observe(t, celsius)
    for step, jump, regime in sequence:
        t, celsius = t + step, min(max(celsius + jump, -40.0), 150.0)
        if regime is not None:
            made.change(regime)
        made.observe(t, celsius)
    for asked in (level, celsius, made.celsius):
        assert makes_sense(made.passage(asked))
        assert makes_sense(made.leaving(asked - 5.0, asked + 5.0))
    assert makes_sense(made.leaving(None, level))
    drawn = made.course(np.array((0.0, 60.0, 1800.0)), np.array((0.1, 0.5, 0.9)))
    assert np.isfinite(drawn).all()
    assert (np.diff(drawn, axis=0) > 0).all()
    assert -60.0 < made.celsius < 170.0


def test_without_a_reading_there_is_no_answer() -> None:
    empty = Forecaster()
    empty.change(Regime.STOPPED)
    for ask in (
        lambda: empty.passage(50.0),
        lambda: empty.leaving(40.0, 50.0),
        lambda: empty.course(np.zeros(1), np.array([0.5])),
        lambda: empty.celsius,
    ):
        with pytest.raises(ValueError, match="no reading yet"):
            ask()


@pytest.mark.parametrize("celsius", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_left_out(celsius: float) -> None:
    spoilt, clean = told((0.0, celsius)), Forecaster()
    for k in range(90):
        clean.observe(float(k), 20.0 + 0.05 * k)
        spoilt.observe(float(k), 20.0 + 0.05 * k)
        spoilt.observe(k + 0.5, celsius)
        spoilt.observe(celsius, 20.0)
    assert spoilt.passage(50.0) == clean.passage(50.0)


@given(st.integers(1, 89), st.floats(0.0, 50.0), st.floats(-40.0, 150.0))
def test_a_reading_that_is_not_later_is_ignored(k: int, back: float, celsius: float) -> None:
    readings = [(float(i), 20.0 + 0.05 * i) for i in range(90)]
    with_old = [*readings[: k + 1], (k - back, celsius), *readings[k + 1 :]]
    assert told(*with_old).passage(50.0) == told(*readings).passage(50.0)


def test_it_is_too_early_before_half_a_minute() -> None:
    made = Forecaster()
    for k in range(int(ENOUGH_S)):
        made.observe(float(k), 20.0 + 0.05 * k)
        assert not made.passage(22.0).known
    made.observe(ENOUGH_S, 21.5)
    assert made.passage(22.0).known


def test_with_a_given_prior_something_is_said_at_once_but_not_after_a_change() -> None:
    made = Forecaster(prior(20.0, stated=StatedWarmUp(20.0, 60.0, 900.0)))
    for k in range(40):
        made.observe(float(k), round(20.0 + 0.05 * k, 1))
        assert made.passage(60.0).known
    made.change(Regime.OTHER)
    for k in range(40, 39 + int(ENOUGH_S)):
        made.observe(float(k), round(20.0 + 0.05 * k, 1))
        assert not made.passage(23.6).known
    made.observe(70.0, 23.5)
    assert made.passage(23.6).known


@pytest.mark.parametrize("seconds", [40, 200, 700])
def test_a_higher_level_is_passed_later(seconds: int) -> None:
    # Up to 85 °C. That a band is reached by design is taken for each level by itself, so that far
    # above what a box reaches the order may be lost by a few seconds.
    made = warmed_up(seconds)
    found = [made.passage(level) for level in np.arange(math.ceil(made.celsius) + 1.0, 86.0)]
    medians = [math.inf if one.median is None else one.median for one in found]
    assert medians == sorted(medians)
    assert medians[0] < medians[-1]


@pytest.mark.parametrize("shift", [4096.0, -512.0, 1e6])
def test_the_clock_s_zero_does_not_matter(shift: float) -> None:
    assert warmed_up(300, shift=shift).passage(60.0) == warmed_up(300).passage(60.0)


@pytest.mark.parametrize("offset", [-10.0, -5.0, 5.0, 10.0])
def test_an_offset_of_readings_and_level_matters_the_less_the_more_was_read(offset: float) -> None:
    # Absolute temperatures count in the prior alone: nearly all boxes end between 45 and 125 °C.
    for seconds, most in ((400, 0.04), (600, 0.02)):
        plain = warmed_up(seconds).passage(60.0).median
        moved = warmed_up(seconds, offset=offset).passage(60.0 + offset).median
        assert plain is not None
        assert moved == pytest.approx(plain, rel=most)


def test_a_known_curve_is_met_the_closer_the_nearer() -> None:
    # T = 90 - 65 exp(-t / 600) reaches 50 °C after 600 ln(65/40) = 291.30 s.
    truth = 600 * math.log(65 / 40)
    assert truth == pytest.approx(291.30, abs=0.01)
    off: dict[float, list[float]] = {0.5: [], 0.7: [], 0.9: []}
    held = 0
    for seed in range(12):
        noise = np.random.default_rng(seed)
        made, k = Forecaster(), 0
        for share, gathered in off.items():
            while k <= share * truth:
                made.observe(float(k), 90 - 65 * math.exp(-k / 600) + noise.normal(0.0, 0.5))
                k += 1
            found = made.passage(50.0)
            assert found.known
            assert found.median is not None
            assert found.low is not None
            gathered.append(abs(k - 1 + found.median - truth) / truth)
            held += found.low <= truth - (k - 1) <= found.high
    # Of the whole time; the prior, made for two masses, expects a sharper bend.
    assert np.median(off[0.5]) < 0.15
    assert np.median(off[0.7]) < 0.05
    assert np.median(off[0.9]) < 0.02
    assert held >= 0.72 * 36


Box = tuple[float, float, float, float]
BOXES: list[Box] = [
    (80.0, 2.0, 1500.0, 90.0), (150.0, 1.5, 1500.0, 85.0), (60.0, 2.5, 2000.0, 95.0),
    (100.0, 1.0, 1200.0, 80.0), (120.0, 2.0, 1800.0, 100.0),
]  # fmt: skip
"""Mixing time (s), case over fluid, time constant of the whole (s), steady temperature (°C)."""


def two_masses(box: Box, times: Array) -> Array:
    mixing, ratio, whole, steady = box
    exchange, loss = ratio / (1 + ratio) / mixing, (1 + ratio) / whole
    heat = (steady - 18.0) / (1 / exchange + 1 / loss)

    def slopes(_t: float, now: Array) -> list[float]:
        passed = exchange * (now[0] - now[1])
        return [heat - passed, (passed - loss * (now[1] - 18.0)) / ratio]

    span = (0.0, float(times[-1]))
    return solve_ivp(slopes, span, [20.0, 20.0], t_eval=times, rtol=1e-8, atol=1e-8).y[0]


def by_exponential(times: Array, readings: Array, level: float) -> float:
    def curve(t: Array, end: float, start: float, tau: float) -> Array:
        return end - (end - start) * np.exp(-t / tau)

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            (end, start, tau), _ = curve_fit(curve, times, readings, (90, 20, 600), maxfev=4000)
        except RuntimeError:
            return HORIZON_S
    if end <= level or tau <= 0:
        return HORIZON_S
    return min(HORIZON_S, float(-tau * math.log((end - level) / (end - start)) - times[-1]))


def by_line(times: Array, readings: Array, level: float) -> float:
    late = times > times[-1] - 120.0
    slope, height = np.polyfit(times[late] - times[-1], readings[late], 1)
    return min(HORIZON_S, float((level - height) / slope)) if slope > 0 else HORIZON_S


def test_the_settling_of_two_masses_is_no_trap() -> None:
    # At first the fluid alone warms up, then it drags the case along: one exponential takes the
    # bend for the end, a line takes no bend for granted.
    off: dict[str, list[float]] = {"ours": [], "exponential": [], "line": []}
    times = np.arange(0.0, 4000.0)
    for box in BOXES:
        true = two_masses(box, times)
        for level in (50.0, 65.0):
            entry = int(np.argmax(true >= level - 0.5))  # when whole degrees show it
            read = times <= entry // 2
            readings = np.round(true[read])
            made = told(*zip(times[read].tolist(), readings.tolist(), strict=True))
            found = made.passage(level).median
            left = entry - times[read][-1]
            off["ours"].append(abs((HORIZON_S if found is None else found) - left) / left)
            one = by_exponential(times[read], readings, level - 0.5)
            off["exponential"].append(abs(one - left) / left)
            off["line"].append(abs(by_line(times[read], readings, level - 0.5) - left) / left)
    assert np.median(off["ours"]) < 0.6 * np.median(off["line"])
    assert np.median(off["ours"]) < 0.2 * np.median(off["exponential"])
    assert max(off["ours"]) < 0.4


def test_plateaus_of_whole_degrees_do_not_look_like_never() -> None:
    # Real readings of 1 K steps hold one value for 68 to 85 s.
    made = Forecaster()
    for k in range(1200):
        made.observe(float(k), 20.0 + k // 80)
        if k >= ENOUGH_S:
            found = made.passage(60.0)
            assert not (found.known and found.likely_never)
            assert k < 400 or found.never < 0.5


@pytest.mark.parametrize("level", [50.0, 60.0, 70.0])
def test_the_course_and_the_passage_say_the_same(level: float) -> None:
    # Where one in ten has passed a level, nine in ten of the course lie below it, and so on; a
    # tenth of a degree shows half of it early. Of leaving, as no design is counted upon there.
    made = warmed_up(400)
    found = made.leaving(None, level)
    for when, share in ((found.low, 0.9), (found.median, 0.5), (found.high, 0.1)):
        assert when is not None
        drawn = made.course(np.array([0.0, when]), np.array([share]))
        assert drawn[0, 1] == pytest.approx(level - 0.05, abs=0.25)


def test_a_course_is_drawn_as_finely_near_as_far() -> None:
    made = warmed_up(400)
    shares = np.array([0.1, 0.5, 0.9])
    both = made.course(np.array([0.0, 7200.0]), shares)
    assert made.course(np.array([0.0]), shares) == pytest.approx(both[:, :1], abs=0.01)
    assert both[:, 0] == pytest.approx(np.full(3, exponential(np.array(400.0))), abs=0.3)
    assert made.course(np.empty(0), shares).shape == (3, 0)


def test_the_work_for_a_reading_does_not_grow() -> None:
    made = Forecaster()
    most = 0
    for k in range(18_000):  # half an hour at 10 Hz; blocks are at their longest after 18 min
        made.observe(0.1 * k, round(20.0 + 0.002 * k, 1))
        most = max(most, len(made._blocks._gathered))
    assert most <= 10 * LONGEST_S + 1
    assert made.passage(60.0).known
