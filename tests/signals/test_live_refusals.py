"""What control units say besides answers: refusals by name, busy, several at once, too late."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import can
import pytest
from live_bench import drain, virtual_buses

from brimline.reading import SignalName
from brimline.signals.live import BUSY_PAUSE_S, MOST_BUSY, OLD_S, BusSource
from brimline.signals.requests import refusal_name
from brimline.simulator.ecus import SECOND_RESPONSE_11, VehicleOnBus
from brimline.simulator.line_faults import LineFaults, Manners
from brimline.simulator.vehicle import make_vehicle
from brimline.specsheet.signal_map import ObdSignal, SignalMap, UdsSignal

STEP_S = 0.05


def temperature(**more: Any) -> SignalMap:
    mapped = UdsSignal(kind="uds", identifier=0x1234, request_id=0x7E1, response_id=0x7E9)
    return SignalMap(fluid_temperature=mapped, **more)


@pytest.fixture
def ends() -> Iterator[list[can.BusABC]]:
    with virtual_buses(2) as buses:
        yield buses


def answer(bus: can.BusABC, can_id: int, data: str) -> None:
    bus.send(can.Message(arbitration_id=can_id, is_extended_id=False, data=bytes.fromhex(data)))


@pytest.mark.parametrize(
    ("code", "name"),
    [
        # names of ISO 14229-1, as udsoncan lists them
        (0x11, "service not supported"),
        (0x21, "busy repeat request"),
        (0x31, "request out of range"),
        (0x33, "security access denied"),
        (0x78, "request correctly received response pending"),
    ],
)
def test_refusals_have_their_names(code: int, name: str) -> None:
    assert refusal_name(code) == name


def test_every_code_whatever_has_words() -> None:
    words = [refusal_name(code) for code in range(0x100)]
    assert all((word and word == word.lower()) or word.startswith("code ") for word in words)
    assert refusal_name(0x02) == "code 02"


def test_a_refusal_is_told_in_words_and_counted_by_name(ends: list[can.BusABC]) -> None:
    near, far = ends
    source = BusSource(near, temperature())
    source.pump(0.0)
    answer(far, 0x7E9, "037f2231")
    source.pump(0.1)
    assert source.refused == {"request out of range": 1}
    assert source.refusals == 1
    assert source.last_refusal == (
        "Control unit 7E9 refused identifier 1234: request out of range (code 31)."
    )


def test_a_busy_unit_is_asked_again_soon_but_not_for_ever(ends: list[can.BusABC]) -> None:
    near, far = ends
    source = BusSource(near, temperature())
    asked = []
    for tick in range(200):
        now = tick * STEP_S
        source.pump(now)
        if drain(far):
            asked.append(now)
            answer(far, 0x7E9, "037f2221")
    gaps = [later - sooner for sooner, later in pairwise(asked)]
    assert max(gaps[:MOST_BUSY]) <= BUSY_PAUSE_S + 2 * STEP_S
    assert gaps[-1] >= 1.0  # then it is left in peace like any other that fails
    assert source.timeouts == 0


def test_a_simulated_unit_that_is_often_busy_keeps_its_signals_fresh() -> None:
    vehicle = make_vehicle("K7")
    times = []
    with virtual_buses(2) as (near, far):
        units = VehicleOnBus(vehicle, vehicle.sheet, far, manners=Manners(LineFaults(busy=0.3)))
        source = BusSource(near, vehicle.sheet.signals)
        for tick in range(6000):
            now = tick * STEP_S
            vehicle.step(STEP_S)
            units.pump(now)
            found = source.pump(now)
            times += [r.t for r in found if r.signal is SignalName.FLUID_TEMPERATURE]
    gaps = [later - sooner for sooner, later in pairwise(times)]
    assert source.refused["busy repeat request"] > 100
    assert max(gaps) < 5.0  # the sheet's signals go stale after 5 s


def test_of_several_units_that_answer_all_the_sheets_own_counts() -> None:
    """The second unit says FF: 16383.75 rpm and 255 km/h, by the published scaling."""
    vehicle = make_vehicle("K7")
    vehicle.start_engine()
    readings = []
    with virtual_buses(2) as (near, far):
        units = VehicleOnBus(vehicle, vehicle.sheet, far, second_unit=True)
        source = BusSource(near, vehicle.sheet.signals)
        for tick in range(600):
            vehicle.step(STEP_S)
            units.pump(tick * STEP_S)
            readings += source.pump(tick * STEP_S)
    speeds = [r.number for r in readings if r.signal is SignalName.ENGINE_SPEED]
    assert len(speeds) > 50
    assert all(speed is not None and speed < 2000 for speed in speeds)
    assert source.strangers > 50
    assert all(f"{SECOND_RESPONSE_11:X}" not in r.source for r in readings)


def test_frames_of_unknown_age_are_thrown_away_and_asked_for_anew(
    ends: list[can.BusABC],
) -> None:
    near, far = ends
    source = BusSource(near, temperature())
    source.pump(0.0)
    drain(far)
    answer(far, 0x7E9, "0462123464")
    assert source.pump(OLD_S + 0.1) == []  # nobody looked for longer than that
    assert source.outdated == 1
    assert len(drain(far)) == 1
    answer(far, 0x7E9, "0462123464")
    assert [r.value for r in source.pump(OLD_S + 0.2)] == [100.0]


def test_units_are_kept_awake_where_the_sheet_asks(ends: list[can.BusABC]) -> None:
    near, far = ends
    source = BusSource(near, temperature(tester_present="2 s"))
    told = []
    for tick in range(201):
        now = tick * STEP_S
        source.pump(now)
        for frame in drain(far):
            if frame.data[1] == 0x3E:
                told.append(now)
                assert (frame.arbitration_id, frame.data[:3].hex()) == (0x7E1, "023e80")
    assert told == pytest.approx([0, 2, 4, 6, 8, 10], abs=2 * STEP_S)
    silent = BusSource(near, temperature(tester_present="2 s"), listen_only=True)
    for tick in range(100):
        silent.pump(tick * STEP_S)
    assert drain(far) == []


def test_flow_control_and_pids_of_a_sheet_without_it_never_tell_presence() -> None:
    signals = SignalMap(engine_speed=ObdSignal(kind="obd", pid=0x0C))
    with virtual_buses(2) as (near, far):
        source = BusSource(near, signals)
        for tick in range(400):
            source.pump(tick * STEP_S)
        assert {bytes(frame.data)[1] for frame in drain(far)} == {0x01}
