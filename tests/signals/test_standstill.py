"""When a temperature that stands still is that of a dead sensor, and when it is not."""

from __future__ import annotations

import csv
import random
from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from j1939_warmup import frames, temperatures

from brimline.paths import resources
from brimline.physics.plausibility import longest_standstill
from brimline.reading import Quality, Reading, SignalName
from brimline.signals.decoder import FrameDecoder
from brimline.signals.library import find_recording, open_source
from brimline.signals.quality import DEAD_AFTER_S, QualityAssessor
from brimline.simulator.families import FAMILIES
from brimline.simulator.vehicle import make_vehicle
from brimline.specsheet.signal_map import J1939Signal, ObdSignal, SignalMap

GOOD, FROZEN = Quality.GOOD, Quality.FROZEN
DATA = Path(__file__).parents[1] / "data"
DRIVE = SignalMap(
    fluid_temperature=ObdSignal(kind="obd", pid=0x05),
    engine_speed=ObdSignal(kind="obd", pid=0x0C),
    vehicle_speed=ObdSignal(kind="obd", pid=0x0D),
)


def fluid(t: float, value: float | None) -> Reading:
    quality = GOOD if value is not None else Quality.NOT_AVAILABLE
    return Reading(t, SignalName.FLUID_TEMPERATURE, value, quality)


def engine(t: float, rpm: float | None) -> Reading:
    quality = GOOD if rpm is not None else Quality.NOT_AVAILABLE
    return Reading(t, SignalName.ENGINE_SPEED, rpm, quality)


def qualities(readings: Iterable[Reading]) -> list[Quality]:
    """Return what becomes of the temperatures among some readings."""
    assessor = QualityAssessor()
    assessed = [assessor.assess(reading) for reading in readings]
    return [r.quality for r in assessed if r.signal is SignalName.FLUID_TEMPERATURE]


def running(values: Sequence[float], hertz: float = 1.0, since: float = 0.0) -> list[Reading]:
    """Return readings with the engine running at idle."""
    at = [since + n / hertz for n in range(len(values))]
    return [r for t, v in zip(at, values, strict=True) for r in (engine(t, 650.0), fluid(t, v))]


def stands_for(values: Sequence[float], hertz: float = 1.0) -> float | None:
    """Return after how many s the last of these values counts as frozen, ``None`` for never."""
    got = qualities(running(values, hertz))
    first = max(n for n in range(len(values)) if n == 0 or values[n] != values[n - 1])
    assert FROZEN not in got[:first]
    return (got.index(FROZEN) - first) / hertz if FROZEN in got else None


# ── cold fluid must move ─────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("celsius", "seconds"),
    # 6000 s / (45 - t) for one degree; from 45 °C on for ever
    [(20.0, 240), (25.0, 300), (30.0, 400), (35.0, 600), (40.0, 1200), (45.0, None), (80.0, None)],
)
def test_a_whole_degree_may_stand_the_longer_the_warmer(
    celsius: float, seconds: int | None
) -> None:
    up_to = [float(degree) for degree in range(20, int(celsius))]
    assert stands_for([*up_to, *[celsius] * 4000]) == seconds


def test_in_a_cold_shop_fluid_may_be_held_colder() -> None:
    # A unit that idling lifts by 25 K stands at 20 °C in a shop of -5 °C.
    assert stands_for([-5.0 + t for t in range(25)] + [20.0] * 4000) is None
    assert stands_for([-5.0] * 4000) == 240


def test_a_sensor_that_counts_coarsely_has_longer() -> None:
    # Steps of 2 K, once one was seen: 2 · 6000 s / (45 - 30).
    assert stands_for([26.0, 28.0] + [30.0] * 4000) == 800
    # Finer steps than a degree say nothing: how a sender counts is not how its sensor does.
    assert stands_for([29.9] + [30.0] * 4000) == 400


def test_it_thaws_with_the_first_change() -> None:
    got = qualities(running([20.0] * 250 + [20.03125] * 2))
    assert got[-3:] == [FROZEN, GOOD, GOOD]


@pytest.mark.parametrize("rpm", [0.0, 300.0, None])
def test_nothing_freezes_without_an_engine_that_is_known_to_run(rpm: float | None) -> None:
    readings = [r for t in range(600) for r in (engine(t, rpm), fluid(t + 0.5, 20.0))]
    assert set(qualities(readings)) == {GOOD}
    assert set(qualities(fluid(t, 20.0) for t in range(2000))) == {GOOD}


def test_time_before_the_start_of_the_engine_does_not_count() -> None:
    cold = [r for t in range(1000) for r in (engine(t, 0), fluid(t, 20.0))]
    got = qualities(cold + running([20.0] * 300, since=1000.0))
    assert set(got[:1240]) == {GOOD}
    assert set(got[1240:]) == {FROZEN}


def test_an_engine_speed_that_is_no_longer_sent_says_nothing() -> None:
    readings = [*running([20.0] * 100), *(fluid(t + 0.5, 20.0) for t in range(100, 600))]
    assert set(qualities(readings)) == {GOOD}
    # and when it comes back, time counts from there
    got = qualities(readings + running([20.0] * 300, since=600.0))
    assert got.index(FROZEN) == 600 + 240


def test_a_first_reading_of_a_broken_wire_does_not_excuse_what_follows() -> None:
    # -40 °C once, then a value that stands: what came before a step says nothing.
    got = qualities(running([-40.0] + [22.0] * 400))
    assert got.index(FROZEN) == pytest.approx(3 + 6000 / (45 - 22), abs=1)


# ── jitter does not cease ────────────────────────────────────────────────────


def jittering(count: int, seed: int, sigma: float = 0.3, step: float = 1 / 32) -> list[float]:
    """Fluid at 70 °C as a truck's sensor shows it: 0.2 to 0.4 °C of jitter, in steps of 1/32 °C."""
    chance = random.Random(seed)
    return [round((70 + chance.gauss(0, sigma)) / step) * step for _ in range(count)]


@given(seed=st.integers(0, 1000), hertz=st.sampled_from([1.0, 2.0, 10.0]))
def test_a_jitter_that_ceases_is_noticed_after_a_minute_even_in_warm_fluid(
    seed: int, hertz: float
) -> None:
    values = jittering(60, seed)
    values += [values[-1] + 1 / 32] * 700
    assert stands_for(values, hertz) == DEAD_AFTER_S


def test_a_slow_sender_is_given_as_many_readings() -> None:
    # One reading in 4 s: 60 equal ones last from the first to the last for 236 s.
    values = jittering(60, 1)
    assert stands_for(values + [values[-1] + 1 / 32] * 200, 0.25) == 236


@given(
    seed=st.integers(0, 1000),
    sigma=st.floats(0.0, 0.4),
    step=st.sampled_from([1 / 32, 0.1, 0.2, 0.5, 1.0]),
    hertz=st.sampled_from([1.0, 10.0]),
)
@settings(max_examples=50)
def test_warm_fluid_that_is_held_may_jitter_or_stand(
    seed: int, sigma: float, step: float, hertz: float
) -> None:
    assert FROZEN not in qualities(running(jittering(1000, seed, sigma, step), hertz))


def test_whole_degrees_that_toggle_and_then_stand_are_no_jitter_that_ceased() -> None:
    # Fluid near the edge of two whole degrees, then held in the middle of one.
    values = [70.0, 71.0] * 100 + [71.0] * 1000
    assert stands_for(values, 10.0) is None


def test_a_slope_that_ends_is_no_jitter_that_ceased() -> None:
    assert stands_for([50 + n / 32 for n in range(200)] + [57.0] * 1000) is None


# ── simulated vehicles ───────────────────────────────────────────────────────


@cache
def warming(family: str, arrival: float, seconds: int) -> list[float]:
    """The fluid of a simulated vehicle that idles in park, in °C, each second."""
    vehicle = make_vehicle(family, arrival=arrival)
    vehicle.start_engine()
    true = []
    for _ in range(seconds):
        vehicle.step(1.0)
        true.append(vehicle.heat.fluid)
    return true


def held(family: str) -> list[float]:
    """Forty minutes of fluid that reaches its thermostat's temperature, and what that makes it."""
    return warming(family, FAMILIES[family].thermostat, 2400)


def sensed(true: Sequence[float], step: float, sigma: float, seed: int) -> list[float]:
    chance = random.Random(seed)
    return [round((t + chance.gauss(0, sigma)) / step) * step for t in true]


@given(
    family=st.sampled_from(sorted(FAMILIES)),
    arrival=st.sampled_from([18.0, 24.0, 30.0]),
    dies=st.integers(0, 300),
    step=st.sampled_from([1 / 32, 0.1, 0.5, 1.0]),
    sigma=st.sampled_from([0.0, 0.2, 0.3]),
    seed=st.integers(0, 100),
)
@settings(max_examples=60, deadline=None)
def test_a_sensor_that_dies_while_the_engine_heats_cold_fluid_is_caught(
    family: str, arrival: float, dies: int, step: float, sigma: float, seed: int
) -> None:
    values = sensed(warming(family, arrival, 301), step, sigma, seed)[: dies + 1]
    dead = values[-1]
    # A reading at most 1.5 K off what the fluid was at its coldest; the bound is of whole degrees.
    latest = longest_standstill(dead, min(values))
    got = qualities(running(values + [dead] * int(min(latest, 4000) + 1)))
    assert FROZEN not in got[: dies + 1]
    assert got[-1] is FROZEN or dead > 42


@given(
    family=st.sampled_from(sorted(FAMILIES)),
    step=st.sampled_from([0.1, 0.5, 1.0]),
    sigma=st.sampled_from([0.0, 0.05, 0.1, 0.2, 0.3]),
    seed=st.integers(0, 100),
)
@settings(max_examples=40, deadline=None)
def test_fluid_that_a_thermostat_holds_is_never_taken_for_frozen(
    family: str, step: float, sigma: float, seed: int
) -> None:
    values = sensed(held(family), step, sigma, seed)
    assert set(qualities(running(values))) == {GOOD}


def test_the_held_fluid_of_these_vehicles_does_stand_for_longer_than_cold_fluid_may() -> None:
    # So that the test above cannot pass because nothing stands.
    for family in sorted(FAMILIES):
        values = sensed(held(family), 1.0, 0.0, 0)
        assert longest(running(values)) > 600


# ── real and realistic data ──────────────────────────────────────────────────


def longest(readings: Iterable[Reading]) -> float:
    """Return the longest time in s from the first to the last of equal temperatures in a row."""
    most, first = 0.0, None
    for reading in readings:
        if reading.signal is not SignalName.FLUID_TEMPERATURE:
            continue
        if first is None or reading.value != first.value:
            first = reading
        most = max(most, reading.t - first.t)
    return most


def test_the_shipped_recording_stands_still_for_68_s_and_is_believed_throughout() -> None:
    source = open_source(find_recording("family-car-drive"), DRIVE)
    assert longest(source.readings()) == pytest.approx(68.0, abs=0.05)
    assert set(qualities(source.readings())) == {GOOD}


@pytest.mark.parametrize(
    ("name", "stands"), [("family-car-curve", 68.0), ("family-car-second-curve", 85.0)]
)
def test_both_drives_of_that_car_are_believed_with_an_engine_taken_to_run(
    name: str, stands: float
) -> None:
    signals = SignalMap(fluid_temperature=ObdSignal(kind="obd", pid=0x05))
    path = resources() / "recordings" / f"{name}.csv"
    drive = list(open_source(path, signals).readings())
    assert longest(drive) == pytest.approx(stands, abs=0.05)
    both = [r for reading in drive for r in (engine(reading.t, 650.0), reading)]
    assert set(qualities(both)) == {GOOD}


def test_the_publishers_own_decoding_of_it_is_believed() -> None:
    with (DATA / "family-car-drive.decoded.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    values = [float(row["coolant_C"]) for row in rows]
    assert len(values) > 2000
    assert set(qualities(running(values))) == {GOOD}


def test_the_jitter_of_a_truck_is_believed() -> None:
    signals = SignalMap(
        fluid_temperature=J1939Signal(kind="j1939", spn=177, source_address=0x03),
        engine_speed=J1939Signal(kind="j1939", spn=190, source_address=0x00),
    )
    decoder = FrameDecoder(signals)
    readings = [
        reading
        for message in frames(temperatures(1800))
        for reading in decoder.decode(message.timestamp, message)
    ]
    assert len(readings) == 3600
    assert set(qualities(readings)) == {GOOD}
