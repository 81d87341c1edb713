"""Vehicle, control units, virtual bus, the program's side: what comes out is what went in."""

from __future__ import annotations

import time

import pytest
from live_bench import bench, drain

from brimline.paths import resources
from brimline.reading import Quality, Reading, SignalName
from brimline.simulator.families import FAMILIES
from brimline.simulator.vehicle import make_vehicle
from brimline.specsheet.library import SheetLibrary

# Half a step of each encoding: 1/4 rpm of PID 0C or 1/8 rpm of SPN 190
HALF_A_STEP_RPM = {"K5": 1 / 8, "K7": 1 / 8, "K9": 1 / 16}


@pytest.mark.parametrize("family", sorted(FAMILIES))
def test_readings_equal_what_the_vehicle_says(family: str) -> None:
    vehicle = make_vehicle(family, seed=5)
    seen: dict[SignalName, list[Reading]] = {}
    with bench(vehicle) as whole:
        vehicle.start_engine()
        for second in range(90):
            if second in (30, 40, 50, 60):
                vehicle.select_range(("R", "N", "D", "P")[second // 10 - 3])
            for _ in range(10):
                for reading in whole.run(0.1):
                    signals = vehicle.signals()
                    seen.setdefault(reading.signal, []).append(reading)
                    assert reading.t == pytest.approx(vehicle.time)
                    assert reading.quality is Quality.GOOD
                    if reading.signal is SignalName.FLUID_TEMPERATURE:
                        assert reading.value == signals.sensor
                    elif reading.signal is SignalName.RANGE:
                        assert reading.value == signals.range
                    elif reading.signal is SignalName.ENGINE_SPEED:
                        tolerance = HALF_A_STEP_RPM[family]
                        assert reading.value == pytest.approx(signals.engine_speed, abs=tolerance)
                    else:
                        assert reading.value == 0
        assert set(seen) == whole.source.declared
        assert whole.source.timeouts == whole.source.refusals == whole.source.garbled == 0
        assert not whole.source.lost
    ranges = [reading.value for reading in seen[SignalName.RANGE]]
    assert [a for a, b in zip(ranges, [None, *ranges], strict=False) if a != b] == list("PRNDP")
    assert 85 <= len(seen[SignalName.FLUID_TEMPERATURE]) <= 91
    assert 170 <= len(seen[SignalName.ENGINE_SPEED]) <= 360


def test_a_sheet_that_takes_coolant_for_fluid_is_served_too() -> None:
    sheet = SheetLibrary((resources() / "sheets",)).find("family-car-demo")
    vehicle = make_vehicle("K7", sheet=sheet, arrival=60.0)
    with bench(vehicle) as whole:
        readings = whole.run(10)
        warmth = [r.value for r in readings if r.signal is SignalName.FLUID_TEMPERATURE]
        assert set(warmth) == {60.0, 59.0} or set(warmth) == {60.0}
        assert whole.source.declared == {
            SignalName.FLUID_TEMPERATURE,
            SignalName.ENGINE_SPEED,
            SignalName.VEHICLE_SPEED,
        }


def test_everything_on_the_bus_is_a_read_request_or_its_answer() -> None:
    with bench(make_vehicle("K5")) as whole:
        whole.run(20)
        frames = drain(whole.witness)
    asked = {
        (f.arbitration_id, bytes(f.data)[:4].hex()) for f in frames if f.arbitration_id < 0x7E8
    }
    assert asked == {
        (0x7DF, "02010c55"),
        (0x7DF, "02010d55"),
        (0x7E1, "03222c14"),
        (0x7E1, "03222c20"),
    }
    answered = {f.arbitration_id for f in frames} - {can_id for can_id, _ in asked}
    assert answered == {0x7E8, 0x7E9}


def test_full_speed_is_far_above_real_time() -> None:
    # the vehicle's half hour of work for one check must not keep a demonstration waiting
    vehicle = make_vehicle("K7")
    with bench(vehicle) as whole:
        vehicle.start_engine()
        start = time.process_time()
        whole.run(120)
        assert time.process_time() - start < 12  # ten times real time on the slowest computer
