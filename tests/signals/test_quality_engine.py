"""What the engine's state does to the limits of a step."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from brimline.reading import Quality, Reading, SignalName
from brimline.signals.library import find_recording, open_source
from brimline.signals.quality import AGREEING_AT_REST_S, QualityAssessor
from brimline.specsheet.signal_map import ObdSignal, SignalMap

GOOD, STEP = Quality.GOOD, Quality.IMPLAUSIBLE_STEP


def fluid(t: float, value: float) -> Reading:
    return Reading(t, SignalName.FLUID_TEMPERATURE, value)


def speed(t: float, rpm: float | None) -> Reading:
    quality = GOOD if rpm is not None else Quality.NOT_AVAILABLE
    return Reading(t, SignalName.ENGINE_SPEED, rpm, quality)


class Bus:
    """Both signals at a pace, one step after the other."""

    def __init__(self, period: float) -> None:
        self.period, self.t = period, 0.0
        self.assessor = QualityAssessor()

    def send(self, celsius: float, rpm: float | None) -> Quality:
        self.assessor.assess(speed(self.t, rpm))
        quality = self.assessor.assess(fluid(self.t + self.period / 2, celsius)).quality
        self.t += self.period
        return quality

    def ramp(
        self, start: float, per_second: float, seconds: float, rpm: float | None
    ) -> list[Quality]:
        steps = round(seconds / self.period)
        return [self.send(start + per_second * n * self.period, rpm) for n in range(steps)]


@pytest.mark.parametrize("period", [0.1, 0.5, 1.0])
def test_an_engine_that_is_off_does_not_heat_at_3_kelvin_a_second(period: float) -> None:
    bus = Bus(period)
    assert set(bus.ramp(80, 0, 5, 0)) == {GOOD}
    ramp = bus.ramp(80, 3, 20, 0)
    # what soaks through and two steps of the sensor are allowed; from there on none is believed
    doubted = ramp.index(STEP)
    assert 3 * doubted * period <= 20 + 2
    assert set(ramp[doubted:]) == {STEP}


@pytest.mark.parametrize("rpm", [700.0, None])
def test_with_an_engine_that_runs_or_is_not_known_it_does(rpm: float | None) -> None:
    bus = Bus(0.1)
    assert set(bus.ramp(80, 0, 5, rpm)) == {GOOD}
    assert set(bus.ramp(80, 3, 20, rpm)) == {GOOD}


@pytest.mark.parametrize("period", [0.1, 1.0])
def test_heat_that_soaks_through_after_a_stop_is_believed(period: float) -> None:
    bus = Bus(period)
    assert set(bus.ramp(80, 0.2, 30, 700)) == {GOOD}
    assert set(bus.ramp(86, 0.3, 40, 0)) == {GOOD}
    assert set(bus.ramp(98, -0.3, 60, 0)) == {GOOD}


def test_stall_heating_up_to_the_stop_is_believed() -> None:
    bus = Bus(0.5)
    assert set(bus.ramp(60, 5.5, 10, 2400)) == {GOOD}
    assert set(bus.ramp(115, 0, 10, 0)) == {GOOD}


def test_cold_fluid_pumped_in_while_the_engine_is_off_is_believed() -> None:
    bus = Bus(1.0)
    assert set(bus.ramp(80, 0, 5, 0)) == {GOOD}
    assert set(bus.ramp(80, -1.2, 20, 0)) == {GOOD}


def test_with_the_engine_off_a_sensor_that_jumps_is_believed_after_five_seconds() -> None:
    bus = Bus(0.5)
    assert set(bus.ramp(80, 0, 5, 0)) == {GOOD}
    jumped = bus.ramp(120, 0, 20, 0)
    assert jumped.index(GOOD) * 0.5 == AGREEING_AT_REST_S
    assert set(jumped[jumped.index(GOOD) :]) == {GOOD}


def test_one_zero_among_the_speeds_is_no_stop() -> None:
    bus = Bus(0.5)
    assert set(bus.ramp(60, 5, 5, 2400)) == {GOOD}
    bus.assessor.assess(speed(bus.t, 0.0))
    assert bus.assessor.assess(fluid(bus.t + 0.1, 84.5)).quality is GOOD
    assert bus.assessor.assess(fluid(bus.t + 0.6, 89.0)).quality is GOOD


def test_a_start_widens_the_limits_again() -> None:
    bus = Bus(0.5)
    assert set(bus.ramp(20, 0, 10, 0)) == {GOOD}
    assert set(bus.ramp(20, 5.5, 15, 2400)) == {GOOD}


def test_over_a_start_the_widest_limits_hold() -> None:
    bus = Bus(0.5)
    assert set(bus.ramp(20, 0, 10, 0)) == {GOOD}
    for n in range(1, 5):
        bus.assessor.assess(speed(10 + n / 2, 2400.0))
    assert bus.assessor.assess(fluid(12.1, 31.0)).quality is GOOD


def test_after_a_second_stop_heat_soak_counts_from_there() -> None:
    bus = Bus(0.1)
    assert set(bus.ramp(80, 0, 5, 0)) == {GOOD}
    assert set(bus.ramp(80, 0, 5, 700)) == {GOOD}
    assert set(bus.ramp(80, 0, 5, 0)) == {GOOD}
    ramp = bus.ramp(80, 3, 20, 0)
    assert 3 * ramp.index(STEP) * 0.1 <= 20 + 2
    assert set(ramp[ramp.index(STEP) :]) == {STEP}


def test_an_engine_speed_that_is_no_longer_sent_narrows_nothing() -> None:
    assessor = QualityAssessor()
    for n in range(10):
        assessor.assess(speed(n / 2, 0.0))
        assessor.assess(fluid(n / 2, 60.0))
    assert assessor.assess(fluid(60.0, 150.0)).quality is GOOD


def test_a_long_silence_does_not_make_everything_possible() -> None:
    # the engine known to stand through an hour without a temperature
    assessor = QualityAssessor()
    assessor.assess(speed(0.0, 0.0))
    assessor.assess(speed(0.5, 0.0))
    assert assessor.assess(fluid(1.0, 70.0)).quality is GOOD
    for second in range(1, 3600):
        assessor.assess(speed(float(second), 0.0))
    assert assessor.assess(fluid(3600.0, 95.0)).quality is STEP
    assert assessor.assess(fluid(3600.5, 71.0)).quality is GOOD


@given(
    st.lists(
        st.tuples(st.floats(0.05, 5), st.floats(-1.0, 0.9), st.sampled_from([0.0, 700.0, None])),
        max_size=60,
    )
)
def test_what_fluid_can_do_whatever_the_engine_does_is_believed(
    steps: list[tuple[float, float, float | None]],
) -> None:
    assessor, t, celsius, stopped_at = QualityAssessor(), 0.0, 40.0, 40.0
    for pause, rate, rpm in steps:
        t += pause
        if rpm != 0:
            stopped_at = celsius
        warmer = min(celsius + rate * pause, stopped_at + 20, 200)
        celsius = max(-50.0, warmer)
        assessor.assess(speed(t, rpm))
        assert assessor.assess(fluid(t, celsius)).quality is GOOD


def curve() -> Iterator[Reading]:
    signals = SignalMap(fluid_temperature=ObdSignal(kind="obd", pid=0x05))
    return iter(open_source(find_recording("family-car-curve"), signals).readings())


def test_the_shipped_curve_is_believed_throughout() -> None:
    assessor = QualityAssessor()
    qualities = [assessor.assess(reading).quality for reading in curve()]
    assert len(qualities) > 1000
    assert set(qualities) == {GOOD}


def test_the_shipped_curve_with_an_engine_taken_to_run_is_believed_throughout() -> None:
    assessor, qualities = QualityAssessor(), []
    for reading in curve():
        assessor.assess(speed(reading.t, 700.0))
        qualities.append(assessor.assess(reading).quality)
    assert set(qualities) == {GOOD}


@pytest.mark.parametrize(
    ("hertz", "kelvin_a_second", "good"),
    [(10.0, 25.0, False), (1.0, 7.5, False), (10.0, 5.0, True), (1.0, 5.0, True)],
)
def test_a_ramp_steeper_than_stall_heating_is_refused_at_any_rate(
    hertz: float, kelvin_a_second: float, good: bool
) -> None:
    # Stall heating: 10 °F each second, 5.6 K/s (common practice, no source).
    assessor = QualityAssessor()
    judged = []
    for number in range(int(8 * hertz)):
        t = number / hertz
        assessor.assess(Reading(t, SignalName.ENGINE_SPEED, 700.0))
        celsius = 20.0 + kelvin_a_second * t
        judged.append(assessor.assess(Reading(t, SignalName.FLUID_TEMPERATURE, celsius)).quality)
    late = judged[int(4 * hertz) :]
    assert (set(late) == {Quality.GOOD}) is good
    assert good or late.count(Quality.GOOD) < len(late) / 4
