from __future__ import annotations

from collections.abc import Callable
from statistics import mean, pstdev

import pytest

from brimline.condition.rules import shows_coolant
from brimline.errors import SimulationError
from brimline.reading import Quality, Reading, SignalName
from brimline.signals.quality import DEAD_AFTER_S, QualityAssessor
from brimline.simulator.families import FAMILIES
from brimline.simulator.faults import FAULTS
from brimline.simulator.vehicle import Vehicle, make_vehicle
from brimline.specsheet.model import NORMAL_DUTY, Approval

FAMILY_NAMES = sorted(FAMILIES)


def opened(family: str, fault: str | None) -> Vehicle:
    vehicle = make_vehicle(family, fault)
    low = vehicle.sheet.bands[NORMAL_DUTY].low or 0.0
    vehicle.start_engine()
    while vehicle.heat.fluid < low + 2:
        vehicle.step(5)
    vehicle.raise_lift()
    vehicle.plug_out()
    vehicle.step(1)
    return vehicle


def test_every_fault_is_tested_here() -> None:
    assert {f"test_{name.replace('-', '_')}" for name in FAULTS} <= set(globals())


def test_a_sound_vehicle_shows_no_fault() -> None:
    for family in FAMILY_NAMES:
        vehicle = opened(family, None)
        assert vehicle.view().flow == "runs"
        assert not vehicle.view().wet_elsewhere
        assert not shows_coolant(vehicle.view().findings)
        fluid = vehicle.sheet.fluid(vehicle.fluid_in_hand)
        assert fluid is not None
        assert fluid.approval is Approval.APPROVED


@pytest.mark.parametrize("family", FAMILY_NAMES)
def test_overfilled(family: str) -> None:
    vehicle = opened(family, "overfilled")
    vehicle.step(vehicle.sheet.level.max_run_off_time)
    assert vehicle.view().caught > vehicle.sheet.level.max_run_off
    assert vehicle.view().findings.clarity == "foamy"


@pytest.mark.parametrize("family", FAMILY_NAMES)
def test_low(family: str) -> None:
    vehicle = opened(family, "low")
    assert vehicle.view().flow == "nothing"
    assert -vehicle.sheet.level.max_top_up < vehicle.over_rim < -vehicle.sheet.level.acceptance


@pytest.mark.parametrize("family", FAMILY_NAMES)
def test_hot_arrival(family: str) -> None:
    vehicle = make_vehicle(family, "hot-arrival")
    band = vehicle.sheet.bands[NORMAL_DUTY]
    assert vehicle.signals().sensor > band.limit + 5
    vehicle.start_engine()
    vehicle.step(60)
    assert vehicle.heat.fluid > band.limit  # idling does not cool it
    vehicle.stop_engine()
    vehicle.fan(True)
    vehicle.step(1200)
    assert vehicle.heat.fluid < band.limit


@pytest.mark.parametrize("family", FAMILY_NAMES)
def test_leaking(family: str) -> None:
    vehicle = opened(family, "leaking")
    assert vehicle.view().wet_elsewhere
    assert vehicle.view().flow == "nothing"
    vehicle.pump_on(0.05)
    vehicle.step(vehicle.sheet.level.max_top_up / 0.05)
    vehicle.pump_off()
    vehicle.step(vehicle.sheet.level.settle_time + 120)
    assert vehicle.view().flow == "nothing"
    lost = vehicle.fluid.leaked
    vehicle.stop_engine()
    vehicle.step(60)
    assert vehicle.fluid.leaked == pytest.approx(lost, abs=1e-9)


@pytest.mark.parametrize("family", FAMILY_NAMES)
def test_coolant(family: str) -> None:
    vehicle = opened(family, "coolant")
    findings = vehicle.view().findings
    assert shows_coolant(findings)
    assert (findings.colour, findings.clarity, findings.odour) == ("pink", "milky", "sweet")


def sensor_errors(vehicle: Vehicle) -> list[float]:
    errors = []
    for _ in range(600):
        vehicle.step(0.1)
        errors.append(vehicle.signals().sensor - vehicle.heat.fluid)
    return errors


def test_sensor_offset() -> None:
    sound, offset = make_vehicle("K7"), make_vehicle("K7", "sensor-offset")
    assert mean(sensor_errors(sound)) == pytest.approx(0, abs=0.05)
    assert mean(sensor_errors(offset)) == pytest.approx(9, abs=0.05)


def test_a_sound_sensor_jitters_and_lags_as_stated() -> None:
    # sd 0.2 K, which the encoding of 0.1 K hardly widens
    assert pstdev(sensor_errors(make_vehicle("K7"))) == pytest.approx(0.2, abs=0.03)
    vehicle = make_vehicle("K7")
    vehicle.start_engine()
    vehicle.select_range("D")
    vehicle.step(60)
    assert -1 < mean(sensor_errors(vehicle)) < 0


def test_sensor_frozen() -> None:
    vehicle = make_vehicle("K7", "sensor-frozen")
    assessor = QualityAssessor()
    vehicle.start_engine()
    qualities, values = [], []
    for second in range(240):
        vehicle.step(1)
        signals = vehicle.signals()
        speed = Reading(float(second), SignalName.ENGINE_SPEED, signals.engine_speed)
        warmth = Reading(float(second), SignalName.FLUID_TEMPERATURE, signals.sensor)
        assessor.assess(speed)
        qualities.append(assessor.assess(warmth).quality)
        values.append(signals.sensor)
    assert len(set(values[:80])) > 5
    assert len(set(values[100:])) == 1
    assert vehicle.heat.fluid > values[-1] + 2
    assert set(qualities[:140]) == {Quality.GOOD}
    # its jitter ceases at 90 s
    assert qualities.index(Quality.FROZEN) == pytest.approx(90 + DEAD_AFTER_S, abs=3)
    assert set(qualities[160:]) == {Quality.FROZEN}


@pytest.mark.parametrize("family", FAMILY_NAMES)
def test_wrong_fluid(family: str) -> None:
    vehicle = make_vehicle(family, "wrong-fluid")
    fluid = vehicle.sheet.fluid(vehicle.fluid_in_hand)
    assert fluid is not None
    assert fluid.approval is Approval.REFUSED


@pytest.mark.parametrize("family", FAMILY_NAMES)
def test_engine_stall(family: str) -> None:
    vehicle = opened(family, "engine-stall")
    vehicle.step(25)
    assert vehicle.view().lamps.engine_runs
    caught = vehicle.view().caught
    vehicle.step(10)
    assert not vehicle.view().lamps.engine_runs
    assert vehicle.signals().engine_speed == 0
    vehicle.step(60)
    # what drains back from converter and clutches runs out as well
    assert vehicle.view().caught > caught + 0.25
    vehicle.start_engine()  # once only: somebody may start it again
    vehicle.step(60)
    assert vehicle.view().lamps.engine_runs


@pytest.mark.parametrize(
    ("refused", "words"),
    [
        (lambda: make_vehicle("K6"), "no simulated family “K6”; there are K5, K7, K9"),
        (lambda: make_vehicle("K7", "haunted"), "no simulated fault “haunted”"),
        (lambda: make_vehicle("K7", arrival=121), "arrives at 0 to 120 °C"),
        (lambda: make_vehicle("K7", arrival=float("nan")), "arrives at 0 to 120 °C"),
        (lambda: make_vehicle("K7").select_range("S"), "no range “S”; it has P, R, N, D"),
        (lambda: make_vehicle("K7").pump_on(0.0), "at most 0.2 L/s"),
        (lambda: make_vehicle("K7").pump_on(0.21), "at most 0.2 L/s"),
        (lambda: make_vehicle("K7").pump_on(float("nan")), "at most 0.2 L/s"),
        (lambda: make_vehicle("K7").raise_lift(5.1), "within 5° of level"),
        (lambda: make_vehicle("K7").raise_lift(0.0, float("nan")), "within 5° of level"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(
    refused: Callable[[], object], words: str
) -> None:
    with pytest.raises(SimulationError, match=words.replace(".", r"\.")) as caught:
        refused()
    assert caught.value.sentence.count("\n") == 0
