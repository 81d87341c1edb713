"""Faults on purpose: as often as asked, the same with the same seed, and nothing else touched."""

from __future__ import annotations

from collections.abc import Iterator

import can
import pytest
from live_bench import drain, virtual_buses

from brimline.errors import SimulationError
from brimline.reading import Quality, SignalName
from brimline.signals.can_uds import Reassembler
from brimline.signals.live import BusSource
from brimline.simulator.ecus import VehicleOnBus
from brimline.simulator.line_faults import FaultyBus, LineFaults, Manners, Outage
from brimline.simulator.vehicle import make_vehicle

STEP_S = 0.05
REQUEST = can.Message(arbitration_id=0x7E0, is_extended_id=False, data=b"\2\1\5".ljust(8, b"\x55"))


@pytest.fixture
def ends() -> Iterator[list[can.BusABC]]:
    with virtual_buses(2) as buses:
        yield buses


def lost_of_a_thousand(ends: list[can.BusABC], seed: int) -> list[int]:
    near, far = ends
    bus = FaultyBus(far, LineFaults(drop=0.05), seed)
    lost = []
    for number in range(1000):
        bus.send(REQUEST)
        if not drain(near):
            lost.append(number)
    bus.shutdown()
    return lost


def test_frames_are_lost_as_often_as_asked_and_the_same_with_the_same_seed(
    ends: list[can.BusABC],
) -> None:
    lost = lost_of_a_thousand(ends, 1)
    # the binomial distribution: 50 ± 4 standard deviations of 6.9
    assert 22 <= len(lost) <= 78
    assert lost_of_a_thousand(ends, 1) == lost
    assert lost_of_a_thousand(ends, 2) != lost


def test_frames_that_come_in_are_lost_too(ends: list[can.BusABC]) -> None:
    near, far = ends
    bus = FaultyBus(far, LineFaults(drop=0.5), 1)
    for _ in range(200):
        near.send(REQUEST)
    assert 70 <= len(drain(bus)) <= 130
    assert bus.dropped > 0
    bus.shutdown()


def test_off_the_bus_nothing_passes_and_afterwards_all_does(ends: list[can.BusABC]) -> None:
    near, far = ends
    bus = FaultyBus(far, LineFaults(bus_off=(Outage(5, 10),)))
    for now, passes in ((4.9, True), (5.0, False), (14.9, False), (15.0, True)):
        bus.now = now
        bus.send(REQUEST)
        near.send(REQUEST)
        assert (len(drain(near)) == 1) is passes
        assert (len(drain(bus)) == 1) is passes
    bus.shutdown()


def test_wrong_numbers_break_long_messages_and_no_others(ends: list[can.BusABC]) -> None:
    near, far = ends
    vehicle = make_vehicle("K7")
    bus = FaultyBus(far, LineFaults(wrong_sequence=1.0), 3)
    units = VehicleOnBus(vehicle, vehicle.sheet, bus)

    def ask(data: str) -> list[can.Message]:
        near.send(
            can.Message(
                arbitration_id=0x7E0, is_extended_id=False, data=bytes.fromhex(data).ljust(8)
            )
        )
        units.pump(0.0)
        return drain(near)

    (single,) = ask("020105")
    assert single.data[:3] == b"\3\x41\5"
    first = ask("020902")
    near.send(can.Message(arbitration_id=0x7E0, is_extended_id=False, data=b"\x30\0\0"))
    units.pump(0.1)
    rest = drain(near)
    assert [frame.data[0] >> 4 for frame in first + rest] == [1, 2, 2]
    assert bus.spoilt == 2
    reassembler = Reassembler(0x7E8)
    assert all(reassembler.feed(0.0, bytes(f.data)) is None for f in first + rest)
    bus.shutdown()


@pytest.mark.parametrize(
    ("faults", "expected"),
    [
        # 7F, the service, and the code: ISO 14229-1
        (LineFaults(busy=1.0), [(10.0, "7f2221")]),
        (LineFaults(pending=1.0), [(10.0, "7f2278"), (11.5, "621234")]),
        (LineFaults(late=1.0, late_by=3.0), [(13.0, "621234")]),
        (LineFaults(), [(10.0, "621234")]),
    ],
)
def test_manners(faults: LineFaults, expected: list[tuple[float, str]]) -> None:
    said = Manners(faults).replies(10.0, b"\x22\x12\x34", bytes.fromhex("621234"))
    assert [(t, data.hex()) for t, data in said] == expected


@pytest.mark.parametrize(
    "faults",
    [
        LineFaults(late=0.3, late_by=2.0),
        LineFaults(pending=0.3),
        LineFaults(busy=0.2),
        LineFaults(drop=0.05),
        LineFaults(drop=0.05, busy=0.05, pending=0.05, late=0.05, second_unit=True),
    ],
)
def test_readings_keep_coming_and_stay_true_under_each_fault(faults: LineFaults) -> None:
    vehicle = make_vehicle("K7", noise=0.0)
    vehicle.start_engine()
    accepted, told = [], []
    with virtual_buses(2) as (near, far):
        bus = FaultyBus(far, faults, 7)
        units = VehicleOnBus(
            vehicle,
            vehicle.sheet,
            bus,
            manners=Manners(faults),
            second_unit=faults.second_unit,
        )
        source = BusSource(near, vehicle.sheet.signals)
        for tick in range(6000):
            now = tick * STEP_S
            vehicle.step(STEP_S)
            bus.now = now
            units.pump(now)
            told.append(vehicle.signals().sensor)
            accepted += [(tick, r) for r in source.pump(now)]
        bus.shutdown()
    temperatures = [
        (tick, r.value)
        for tick, r in accepted
        if r.signal is SignalName.FLUID_TEMPERATURE and r.quality is Quality.GOOD
    ]
    assert len(temperatures) > 150
    for tick, value in temperatures:
        recent = told[max(0, tick - round(4.0 / STEP_S)) : tick + 1]
        assert min(recent) - 0.051 <= value <= max(recent) + 0.051


def test_a_sensor_may_be_coarse_or_noisy() -> None:
    def spread(**options: float) -> set[float]:
        vehicle = make_vehicle("K7", seed=5, **options)
        seen = set()
        for _ in range(600):
            vehicle.step(0.1)
            seen.add(round(vehicle.signals().sensor, 3))
        return seen

    assert all(value == round(value) for value in spread(sensor_step=1.0))
    still, noisy = spread(noise=0.0), spread(noise=0.3)
    assert max(still) - min(still) <= 0.2
    assert 1.0 <= max(noisy) - min(noisy) <= 1.7  # within 2.5 standard deviations either way


def test_faults_that_cannot_be_are_refused() -> None:
    with pytest.raises(SimulationError, match="share from 0 to 1"):
        LineFaults(drop=1.5)
    with pytest.raises(SimulationError, match="60 s late"):
        LineFaults(late_by=61)
    with pytest.raises(SimulationError, match="jitters"):
        make_vehicle("K7", noise=3.0)
