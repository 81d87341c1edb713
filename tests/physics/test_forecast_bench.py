"""The bench that judges the forecast: its truth, its errors, its coverage, on constructed cases."""

from __future__ import annotations

import math
import statistics
import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.linalg import expm
from warm_up_curves import (
    FRACTIONS,
    HORIZON_S,
    Array,
    Curve,
    Target,
    asked_at,
    centred_median,
    driven_car_curves,
    first_passage,
    recorded_curve,
    recorded_entry,
)
from warm_up_simulations import A, B, Vehicles, relative_viscosity, simulate, simulated_curves

from brimline.paths import resources

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "benchmarks"))

from forecast_baselines import Answer, SingleExponential, StraightLine
from forecast_scores import Case, ask, better, by_place, duel, score
from forecast_verdicts import evaluate, verdicts


def line_curve(name: str = "line", per_s: float = 0.05, group: str = "A") -> Curve:
    """20 °C at 100 s, then a straight rise, read once in 7 s; 50 °C is reached, 500 °C is not."""
    times = np.arange(100.0, 1000.0, 7.0)
    entry = 100.0 + 30.0 / per_s
    targets = (Target(50.0, entry, asked_at(100.0, entry)), Target(500.0, None, (400.0,) * 4))
    return Curve(name, group, times, 20 + per_s * (times - 100.0), targets)


class Told:
    """Answers what a function makes of the last reading's time and the level."""

    def __init__(self, say: Callable[[float, float], Answer]) -> None:
        self.say, self.seen = say, [math.nan]

    def observe(self, t_s: float, celsius: float) -> None:
        del celsius
        self.seen.append(t_s)

    def passage(self, level_c: float) -> Answer:
        return self.say(self.seen[-1], level_c)


def oracle(t: float, level: float) -> Answer:
    if level > 100:
        return Answer(never=1.0, known=True)
    left = 700.0 - t
    return Answer(left, left, left, known=True)


def asked(say: Callable[[float, float], Answer], *curves: Curve) -> list[Case]:
    return [case for curve in curves or (line_curve(),) for case in ask(curve, lambda: Told(say))]


def reached(cases: list[Case]) -> list[Case]:
    return [case for case in cases if case.left is not None]


def test_an_oracle_is_never_off_and_always_covered() -> None:
    cases = asked(oracle)
    found = score(reached(cases))
    assert (found.median, found.ninetieth, found.relative, found.missing_median) == (0, 0, 0, 0)
    assert (found.given, found.too_early, found.never, found.coverage, found.width) == (
        1,
        0,
        0,
        1,
        0,
    )
    never = score([case for case in cases if case.left is None])
    assert (never.never, never.given) == (1, 0)
    assert math.isnan(never.coverage)


def test_questions_are_asked_on_the_way_and_counted_from_the_last_reading() -> None:
    cases = reached(asked(oracle))
    # 600 s from first reading to entry; readings at 100 + 7 n, so the last before 280 is 275.
    assert [case.fraction for case in cases] == list(FRACTIONS)
    assert [case.left for case in cases] == [700 - 275, 700 - 394, 700 - 520, 700 - 639]


def test_no_reading_after_the_question_is_shown() -> None:
    seen: list[float] = []
    asked(lambda t, _: seen.append(t) or Answer())  # type: ignore[func-returns-value]
    assert seen == sorted(seen)
    assert all(
        t <= at for t, at in zip(seen, (280, 400, 400, 400, 400, 400, 520, 640), strict=True)
    )


def test_an_error_is_what_it_says() -> None:
    def late(t: float, _: float) -> Answer:
        return Answer(700.0 - t + 30.0, 0.0, 10.0, known=True)

    found = score(reached(asked(late)))
    assert found.median == pytest.approx(30)
    assert found.ninetieth == pytest.approx(30)
    # 30 s of 425, 306, 180 and 61 s: the median of four lies between the middle two.
    assert found.relative == pytest.approx((30 / 306 + 30 / 180) / 2)
    assert (found.coverage, found.width) == (0, 10)


@pytest.mark.parametrize(("scale", "low", "high"), [(1.0, 0.77, 0.83), (0.2, 0.1, 0.3)])
def test_coverage_tells_the_calibrated_from_the_overconfident(
    scale: float, low: float, high: float
) -> None:
    # The answer is off by a normal error; an interval of its 10th and 90th percentile covers 80 %
    # by the meaning of percentile, one a fifth as wide covers 1 - 2 (1 - Phi(0.256)) = 20 %.
    rng = np.random.default_rng(5)

    def guess(t: float, _: float) -> Answer:
        median, half = 700.0 - t + rng.normal(0.0, 10.0), scale * 12.8155
        return Answer(median, median - half, median + half, known=True)

    curves = [line_curve(f"{number}") for number in range(700)]
    assert low < score(reached(asked(guess, *curves))).coverage < high


def test_an_interval_without_end_covers_and_is_cut_at_two_hours() -> None:
    found = score(reached(asked(lambda *_: Answer(None, 10.0, math.inf, 0.6, known=True))))
    assert (found.coverage, found.width) == (1, HORIZON_S - 10)
    assert (found.given, found.never, found.too_early) == (0, 1, 0)


def test_no_number_costs_two_hours() -> None:
    found = score(reached(asked(lambda *_: Answer())))
    assert math.isnan(found.coverage)
    assert (found.given, found.too_early, found.never) == (0, 1, 0)
    assert math.isnan(found.median)
    assert found.missing_median == HORIZON_S - (306 + 180) / 2


def test_a_number_held_back_as_too_early_is_judged_all_the_same() -> None:
    held = score(reached(asked(lambda *_: Answer(5.0, 0.0, 9e9, 0.1, known=False))))
    told = score(reached(asked(lambda *_: Answer(5.0, 0.0, 9e9, 0.1, known=True))))
    assert (held.given, held.too_early, told.too_early) == (1, 1, 0)
    assert (held.median, held.coverage) == (told.median, told.coverage)


def test_an_answer_that_says_never_covers_nothing_that_came() -> None:
    assert score(reached(asked(lambda *_: Answer(never=0.95, known=True)))).coverage == 0


def off_by(seconds: float | None) -> Callable[[float, float], Answer]:
    def say(t: float, level: float) -> Answer:
        del level
        return Answer() if seconds is None else Answer(700.0 - t + seconds, known=True)

    return say


def test_duels_count_common_questions_and_silence() -> None:
    ours, theirs = reached(asked(off_by(20))), reached(asked(off_by(50)))
    met = duel(ours, theirs)
    assert (met.common, met.ours, met.theirs) == (4, pytest.approx(20), pytest.approx(50))
    assert met.within(0.5)
    assert not met.within(0.3)
    assert met.within(0.3, 25.0)
    silent = duel(reached(asked(off_by(None))), theirs)
    assert silent.common == 0
    assert not silent.within(0.5)
    with pytest.raises(ValueError, match="different questions"):
        duel(ours, reached(asked(off_by(50), line_curve("other"))))


def test_the_better_baseline_is_not_one_that_hardly_ever_answers() -> None:
    mute, slow = reached(asked(off_by(None))), reached(asked(off_by(50)))
    assert better({"mute": mute, "slow": slow}) == "slow"
    assert better({"mute": mute, "slow": slow, "good": reached(asked(off_by(-5)))}) == "good"


@pytest.mark.parametrize(
    ("error", "expected"), [(24.0, [True, True, True]), (26.0, [False, False, True]),
                            (51.0, [False, False, False])],
)  # fmt: skip
def test_verdicts_hold_the_forecast_to_the_target(error: float, expected: list[bool]) -> None:
    car = line_curve(group="car")
    _, duels = evaluate({
        "forecast": asked(off_by(error), car),
        "line": asked(off_by(50), car),
        "exponential": asked(off_by(None), car),
    })  # fmt: skip
    judged = [met for met, _ in verdicts(duels, 0.8) if met is not None]
    assert judged == [*expected, True]
    assert [met for met, _ in verdicts(duels, 0.9)][-1] is False


def test_levels_that_are_never_reached_stand_apart() -> None:
    assert {group for group, _ in by_place(asked(oracle))} == {"A", "A never"}


# The truth


def test_first_passage_lies_between_points() -> None:
    times, values = np.array([0.0, 10.0, 20.0]), np.array([20.0, 30.0, 25.0])
    assert first_passage(times, values, 24.0) == pytest.approx(4.0)
    assert first_passage(times, values, 20.0) == 0.0
    assert first_passage(times, values, 30.5) is None


def test_a_spike_is_no_entry() -> None:
    times = np.arange(0.0, 100.0)
    values = np.where(times < 60, 30.0, 41.0)
    values[20:24] = 45.0
    assert recorded_entry(times, centred_median(times, values), 40.0) == 60.0
    assert recorded_entry(times, centred_median(times, values), 42.0) is None


@given(st.lists(st.tuples(st.floats(0.1, 9.0), st.floats(-20, 90)), min_size=1, max_size=30))
def test_the_centred_median_is_that_of_the_standard_library(
    rows: list[tuple[float, float]],
) -> None:
    times = np.cumsum([step for step, _ in rows])
    values = np.array([value for _, value in rows])
    expected = [
        statistics.median(v for u, v in zip(times, values, strict=True) if t - 5 <= u <= t + 5)
        for t in times
    ]
    assert centred_median(times, values) == pytest.approx(expected)


def test_a_recording_is_asked_about_every_level_above_its_start() -> None:
    times = np.arange(0.0, 9000.0)
    values = 22 + np.floor(30 * (1 - np.exp(-times / 300)))
    curve = recorded_curve(("x", "car"), times, values, 5.0, (2.0,))
    assert [target.level for target in curve.targets] == [35.0, 40.0, 45.0, 50.0, 53.0]
    # 50 °C is shown from 28 K of 30 on: tau ln 15.
    assert curve.targets[3].entry == pytest.approx(300 * math.log(15), abs=1.0)
    assert curve.targets[-1].entry is None


def test_the_shipped_recordings_warm_up() -> None:
    first, second = driven_car_curves(resources() / "recordings")
    assert (len(first.times), len(second.times)) == (2390, 2843)
    assert (first.targets[0].level, second.targets[0].level) == (35.0, 40.0)
    for curve in (first, second):
        entries = [target.entry for target in curve.targets]
        assert entries == sorted(entries, key=lambda entry: entry or 0.0)
        for target in curve.targets:
            assert target.entry is not None
            shown = curve.readings[np.searchsorted(curve.times, target.entry)]
            assert shown == pytest.approx(target.level, abs=1.0)


# The simulation


def vehicles(**changed: float) -> Vehicles:
    usual = {
        "start": 20.0, "case_start": 15.0, "air": 10.0, "heat": 0.08, "power": 0.0,
        "exchange": 0.01, "loss": 0.002, "ratio": 1.5, "cooler": 0.0, "opens_at": 70.0,
        "flare": 0.0, "flare_s": 100.0, "change_at": math.inf, "heat_after": 1.0, "loss_after": 1.0,
    }  # fmt: skip
    return Vehicles(**{name: np.array([value]) for name, value in {**usual, **changed}.items()})


def test_two_masses_follow_the_matrix_exponential() -> None:
    # Without viscosity, cooler and change the equations are linear; their exact solution by scipy.
    times, fluid = simulate(vehicles(), length=3000.0)
    system = np.array([[-0.01, 0.01], [0.01 / 1.5, -0.012 / 1.5]])
    steady = np.linalg.solve(system, -np.array([0.08, 0.0]))
    away = np.array([10.0, 5.0]) - steady
    exact = [10.0 + (steady + expm(system * t) @ away)[0] for t in times[::100]]
    assert fluid[0, ::100] == pytest.approx(exact, abs=1e-6)


@pytest.mark.parametrize(("changed", "warmer"), [
    ({"cooler": 0.01, "opens_at": 30.0}, False), ({"power": 0.2}, True),
    ({"flare": 0.5}, True), ({"change_at": 300.0, "heat_after": 1.5}, True),
    ({"change_at": 300.0, "loss_after": 3.0}, False),
])  # fmt: skip
def test_what_heats_and_what_cools(changed: dict[str, float], warmer: bool) -> None:
    plain = simulate(vehicles(), length=600.0)[1][0]
    other = simulate(vehicles(**changed), length=600.0)[1][0]
    assert (other[-1] > plain[-1] + 0.1) if warmer else (other[-1] < plain[-1] - 0.1)


def test_viscosity_is_that_of_the_two_points_it_was_made_of() -> None:
    # 35 mm²/s at 40 °C and 7.3 at 100 °C define the constants.
    assert relative_viscosity(np.array([40.0, 100.0])) == pytest.approx([1, 7.3 / 35], rel=1e-4)


def test_the_same_curves_every_time_and_other_ranges_in_b() -> None:
    one, two = simulated_curves(A, "A", 12), simulated_curves(A, "A", 12)
    for a, b in zip(one, two, strict=True):
        assert a.targets == b.targets
        assert np.array_equal(a.times, b.times)
        assert np.array_equal(a.readings, b.readings)
    for name in ("time_constant", "mixing", "case_ratio"):
        ((low, high),) = getattr(A, name)
        assert all(to <= low or of >= high for of, to in getattr(B, name))


def test_simulated_curves_are_sampled_as_sensors_do() -> None:
    curves = simulated_curves(B, "B", 60)
    for curve in curves:
        target = curve.targets[0]
        assert target.entry is not None
        assert 60 <= target.entry <= 5400
        assert (np.diff(curve.times) > 0).all()
        assert curve.times[-1] <= max(t.asked[-1] for t in curve.targets)
    steps = [float(np.median(np.diff(c.times))) for c in curves if len(c.times) > 9]
    assert min(steps) < 0.3
    assert max(steps) > 100
    assert sum(len(curve.targets) > 1 for curve in curves) > 10


# The baselines


def fed(method: StraightLine | SingleExponential, times: Array, values: Array) -> Answer:
    for t, value in zip(times.tolist(), values.tolist(), strict=True):
        method.observe(t, value)
    return method.passage(60.0)


def test_the_line_looks_back_two_minutes_and_no_further() -> None:
    times = np.arange(0.0, 601.0, 5.0)
    bent = np.where(times < 470, 20.0, 20 + 0.1 * (times - 470))
    answer = fed(StraightLine(), times, bent)
    assert answer.median == pytest.approx((60 - 33) / 0.1)
    assert fed(StraightLine(), np.arange(4) * 180.0, np.array([20.0, 30, 40, 50])).median == (
        pytest.approx(180.0)
    )


def test_the_exponential_says_when_and_when_never() -> None:
    times = np.arange(0.0, 300.0, 2.0)
    answer = fed(SingleExponential(), times, 80 - 60 * np.exp(-times / 400))
    assert answer.median == pytest.approx(400 * math.log(3) - times[-1], rel=1e-4)
    low = fed(SingleExponential(), times, 50 - 30 * np.exp(-times / 400))
    assert (low.median, low.never, low.known) == (None, pytest.approx(1.0), True)


@pytest.mark.parametrize("method", [StraightLine, SingleExponential])
def test_baselines_keep_silent_about_nothing(
    method: type[StraightLine] | type[SingleExponential],
) -> None:
    assert not fed(method(), np.array([0.0, 1.0]), np.array([20.0, 21.0])).known
    assert not fed(method(), np.arange(30.0), np.full(30, 24.0)).known


def test_the_baselines_intervals_hold_where_their_model_is_right() -> None:
    # White noise on the very curve that is fitted: then 80 % means 80 %; of 200 draws 3 sigma is
    # 8.5 %, and the small sample makes normal intervals a little narrow.
    rng = np.random.default_rng(3)
    straight, bent = np.arange(0.0, 100.0, 2.0), np.arange(0.0, 300.0, 3.0)
    held = {"line": 0, "exponential": 0}
    for _ in range(200):
        rising = 20 + 0.1 * straight + rng.normal(0, 0.3, straight.size)
        line = fed(StraightLine(), straight, rising)
        saturating = 80 - 60 * np.exp(-bent / 400) + rng.normal(0, 0.1, bent.size)
        exponential = fed(SingleExponential(), bent, saturating)
        truths = 400 - straight[-1], 400 * math.log(3) - bent[-1]
        for name, answer, truth in zip(held, (line, exponential), truths, strict=True):
            assert answer.low is not None
            assert answer.high is not None
            held[name] += answer.low <= truth <= answer.high
    assert all(0.70 <= count / 200 <= 0.89 for count in held.values())
