from __future__ import annotations

from collections.abc import Iterable

from hypothesis import given
from hypothesis import strategies as st

from brimline.reading import Quality, Reading, SignalName, Way
from brimline.signals.quality import QualityAssessor

GOOD, STEP, FROZEN = Quality.GOOD, Quality.IMPLAUSIBLE_STEP, Quality.FROZEN


def fluid(t: float, value: float | None, quality: Quality = GOOD, way: Way = Way.BUS) -> Reading:
    return Reading(t, SignalName.FLUID_TEMPERATURE, value, quality, way)


def engine(t: float, rpm: float | None, quality: Quality = GOOD) -> Reading:
    return Reading(t, SignalName.ENGINE_SPEED, rpm, quality)


def qualities(readings: Iterable[Reading]) -> list[Quality]:
    """Return what becomes of the temperatures among some readings."""
    assessor = QualityAssessor()
    assessed = [assessor.assess(reading) for reading in readings]
    return [r.quality for r in assessed if r.signal is SignalName.FLUID_TEMPERATURE]


def each_second(*values: float | None) -> list[Quality]:
    return qualities(fluid(float(t), value) for t, value in enumerate(values))


# ── steps ────────────────────────────────────────────────────────────────────


def test_stall_heating_is_not_a_step() -> None:
    # 10 °F each second, 100 °F in 10 s (common practice, no source), counted in whole °C and with
    # as much jitter as a truck's sensor showed
    assert set(each_second(*(round(20 + n * 50 / 9) for n in range(11)))) == {GOOD}
    assert set(each_second(*(20 + n * 50 / 9 + 0.5 * (-1) ** n for n in range(11)))) == {GOOD}


def test_the_limit_is_ten_fahrenheit_a_second_and_two_degrees() -> None:
    limit = 50 / 9 + 2
    assert each_second(40, 40 + limit - 0.01) == [GOOD, GOOD]
    assert each_second(40, 40 + limit + 0.01) == [GOOD, STEP]
    assert each_second(40, 40 - limit - 0.01) == [GOOD, STEP]
    assert qualities([fluid(0, 40), fluid(10, 40 + 500 / 9 + 1.9)]) == [GOOD, GOOD]
    assert qualities([fluid(0, 40), fluid(0, 42.1)]) == [GOOD, STEP]


def test_a_single_spike_is_left_out() -> None:
    assert each_second(40, 95, 40.5, 41) == [GOOD, STEP, GOOD, GOOD]


def test_a_sensor_that_jumps_and_stays_is_believed_at_the_third_reading() -> None:
    assert each_second(40, 95, 95.5, 95, 96) == [GOOD, STEP, STEP, GOOD, GOOD]


def test_readings_that_do_not_agree_are_not_believed() -> None:
    # fed every 0.1 s, so that time does not widen the limit
    values = [40, 95, 70, 95, 70, 95, 70, 95]
    got = qualities(fluid(n / 10, value) for n, value in enumerate(values))
    assert got == [GOOD, *[STEP] * 7]


def test_a_believed_reading_breaks_the_row_of_three() -> None:
    values = [40, 95, 95, 40, 95, 95, 40]
    got = qualities(fluid(n / 10, value) for n, value in enumerate(values))
    assert got == [GOOD, STEP, STEP, GOOD, STEP, STEP, GOOD]


def test_a_missing_reading_breaks_the_row_of_three() -> None:
    readings = [fluid(n / 10, v) for n, v in enumerate([40, 95, 95])]
    readings += [fluid(0.3, None, Quality.NOT_AVAILABLE)]
    readings += [fluid(0.4 + n / 10, 95) for n in range(3)]
    assert qualities(readings) == [
        GOOD, STEP, STEP, Quality.NOT_AVAILABLE, STEP, STEP, GOOD,
    ]  # fmt: skip


def test_a_first_reading_that_was_wrong_does_no_lasting_harm() -> None:
    got = qualities(fluid(n / 10, value) for n, value in enumerate([150, 40, 40, 40, 40]))
    assert got == [GOOD, STEP, STEP, GOOD, GOOD]


def test_the_value_of_a_step_is_kept_for_the_record() -> None:
    assessor = QualityAssessor()
    assessor.assess(fluid(0, 40))
    assessed = assessor.assess(fluid(1, 95))
    assert (assessed.value, assessed.number) == (95, None)


# ── what is not judged ───────────────────────────────────────────────────────


def test_keyed_readings_are_a_persons_word() -> None:
    keyed = [fluid(t, 60.0, way=Way.KEYED) for t in (1, 2, 600)]
    readings = [engine(0, 650), fluid(0.5, 20.0), *keyed, fluid(601, 21.0)]
    assert set(qualities(readings)) == {GOOD}


@given(
    value=st.one_of(st.none(), st.floats(-60, 250)),
    quality=st.sampled_from([q for q in Quality if q is not GOOD]),
)
def test_readings_that_are_not_good_stay_as_they_are(value: float | None, quality: Quality) -> None:
    assessor = QualityAssessor()
    assessor.assess(fluid(0, 40))
    reading = fluid(1, value, quality)
    assert assessor.assess(reading) is reading


@given(
    steps=st.lists(
        st.tuples(st.floats(0, 300), st.sampled_from(list(SignalName)), st.floats(-50, 200)),
        max_size=60,
    )
)
def test_only_the_quality_of_good_temperatures_ever_changes(
    steps: list[tuple[float, SignalName, float]],
) -> None:
    assessor, t = QualityAssessor(), 0.0
    for pause, signal, value in steps:
        t += pause
        reading = Reading(t, signal, value)
        assessed = assessor.assess(reading)
        if signal is not SignalName.FLUID_TEMPERATURE:
            assert assessed is reading
        assert assessed.quality in (GOOD, STEP, FROZEN)
        assert (assessed.t, assessed.value) == (t, value)
