"""The program's side of a live bus, against a control unit that the test plays by hand."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import can
import pytest
from hypothesis import given
from hypothesis import strategies as st
from live_bench import bench, drain, virtual_buses

from brimline.errors import BusError
from brimline.reading import Quality, Reading, SignalName
from brimline.signals.live import (
    LONGEST_PAUSE_S,
    MOST_FRAMES,
    PENDING_S,
    QUICK_RETRIES,
    RETRY_S,
    TIMEOUT_S,
    BusSource,
)
from brimline.signals.requests import physical_request_id
from brimline.simulator.vehicle import make_vehicle
from brimline.specsheet.signal_map import CsvSignal, J1939Signal, ObdSignal, SignalMap, UdsSignal


def temperature(**layout: Any) -> SignalMap:
    common: dict[str, Any] = {"identifier": 0x1234, "request_id": 0x7E1, "response_id": 0x7E9}
    return SignalMap(fluid_temperature=UdsSignal(kind="uds", **common | layout))


def speed(**other: Any) -> SignalMap:
    return SignalMap(engine_speed=ObdSignal(kind="obd", pid=0x0C, **other))


class Bay:
    """The program's side, and the other end of the bus in the test's hands."""

    def __init__(self, near: can.BusABC, far: can.BusABC, signals: SignalMap, **options: Any):
        self.far = far
        self.near = near
        self.source = BusSource(near, signals, **options)

    def pump(self, now: float, *answers: tuple[int, str]) -> list[Reading]:
        """Put frames on the bus, then let the program's side work."""
        for can_id, data in answers:
            extended = can_id > 0x7FF
            frame = can.Message(
                arbitration_id=can_id, is_extended_id=extended, data=bytes.fromhex(data)
            )
            self.far.send(frame)
        return self.source.pump(now)

    def said(self) -> list[tuple[int, str]]:
        """Return what the program's side has sent since the last call, padding left out."""
        return [(f.arbitration_id, bytes(f.data).rstrip(b"\x55").hex()) for f in drain(self.far)]


@pytest.fixture
def ends() -> Iterator[list[can.BusABC]]:
    with virtual_buses(2) as buses:
        yield buses


def test_it_asks_in_the_published_bytes_and_reads_the_answers(ends: list[can.BusABC]) -> None:
    signals = SignalMap(
        fluid_temperature=UdsSignal(
            kind="uds", identifier=0x1234, request_id=0x7E1, response_id=0x7E9, offset=-50
        ),
        engine_speed=ObdSignal(kind="obd", pid=0x0C),
    )
    bay = Bay(*ends, signals)
    assert bay.pump(0.0) == []
    assert bay.pump(0.1) == []
    # a request for 22 F1 90 and for 01 0C looks like this in published examples
    assert sorted(bay.said()) == [(0x7DF, "02010c"), (0x7E1, "03221234")]
    # 41 0C 1A F8 is 1726 rpm in a published example
    readings = bay.pump(0.2, (0x7E8, "04410c1af8"), (0x7E9, "0462123464"))
    assert {(r.signal, r.value, r.t) for r in readings} == {
        (SignalName.ENGINE_SPEED, 1726.0, 0.2),
        (SignalName.FLUID_TEMPERATURE, 50.0, 0.2),
    }
    assert bay.source.declared == set(signals.model_fields_set)
    assert bay.source.description.startswith("live from the vehicle's bus: ")
    assert "UDS identifier 1234 in replies 7E9" in bay.source.description


@pytest.mark.parametrize(("step", "tolerance"), [(0.02, 1), (0.1, 1)])
def test_each_signal_has_its_own_rate(step: float, tolerance: int) -> None:
    counts: dict[SignalName, int] = {}
    with bench(make_vehicle("K7")) as whole:
        for tick in range(round(60 / step)):
            whole.units.pump(tick * step)
            for reading in whole.source.pump(tick * step):
                counts[reading.signal] = counts.get(reading.signal, 0) + 1
    assert counts[SignalName.FLUID_TEMPERATURE] == pytest.approx(60, abs=tolerance)
    for signal in (SignalName.ENGINE_SPEED, SignalName.RANGE, SignalName.VEHICLE_SPEED):
        assert counts[signal] == pytest.approx(120, abs=tolerance)


def test_other_rates_on_request(ends: list[can.BusABC]) -> None:
    bay = Bay(*ends, speed(), rates={SignalName.ENGINE_SPEED: 5.0})
    for tick in range(200):
        bay.pump(tick * 0.05, (0x7E8, "04410c1af8"))
    assert len(bay.said()) == pytest.approx(50, abs=1)


@given(
    thinking=st.lists(st.floats(0.0, 2.0), min_size=1, max_size=8),
    steps=st.lists(st.floats(0.001, 0.3), min_size=20, max_size=60),
)
def test_no_unit_ever_has_two_requests_at_a_time(thinking: list[float], steps: list[float]) -> None:
    vehicle = make_vehicle("K7")
    open_since: dict[int, float] = {}
    answer_id = {0x7DF: 0x7E8, 0x7E1: 0x7E9}
    due: list[tuple[float, int, str]] = []
    now, turn, last_request = 0.0, 0, -1.0
    with virtual_buses(2) as (near, far):
        bay = Bay(near, far, vehicle.sheet.signals)
        for step in steps:
            now += step
            ready = [(can_id, data) for at, can_id, data in due if at <= now]
            due = [each for each in due if each[0] > now]
            answered = {can_id for can_id, _ in ready}
            open_since = {i: t for i, t in open_since.items() if i not in answered}
            bay.pump(now, *ready)
            for can_id, data in bay.said():
                response = answer_id[can_id]
                assert now - open_since.get(response, -9.0) >= TIMEOUT_S
                assert now - last_request >= 0.01 - 1e-9
                open_since[response] = last_request = now
                body = {"02010c": "04410c0a28", "02010d": "03410d00"}.get(data)
                body = body or ("056231a00200" if data == "032231a0" else "046231a401")
                due.append((now + thinking[turn % len(thinking)], response, body))
                turn += 1


def test_silence_is_counted_and_asked_after_ever_more_rarely(ends: list[can.BusABC]) -> None:
    bay = Bay(*ends, temperature())
    asked: list[float] = []
    for tick in range(1200):
        bay.pump(tick * 0.05)
        asked += [tick * 0.05] * len(bay.said())
    pauses = [later - earlier for earlier, later in pairwise(asked)]
    assert all(later > earlier - 0.06 for earlier, later in pairwise(pauses))
    assert pauses[0] == pytest.approx(TIMEOUT_S + RETRY_S, abs=0.06)
    assert pauses[QUICK_RETRIES] >= 1
    assert pauses[-1] == pytest.approx(LONGEST_PAUSE_S + TIMEOUT_S, abs=0.1)
    assert bay.source.timeouts == len(asked)
    assert not bay.source.lost  # a sleeping unit is no lost bus
    # and when it wakes, it is asked at the old rate again
    answered = []
    for tick in range(1200, 1600):
        answers = [(0x7E9, "0462123464")] * len(bay.said())
        answered += bay.pump(tick * 0.05, *answers)
    assert len(answered) >= 20 - LONGEST_PAUSE_S - 1


def test_one_lost_answer_does_not_make_a_signal_stale(ends: list[can.BusABC]) -> None:
    bay = Bay(*ends, temperature())
    times, count = [], 0
    for tick in range(400):
        answers = []
        for _ in bay.said():
            count += 1
            if count != 5:
                answers.append((0x7E9, "0462123464"))
        times += [r.t for r in bay.pump(tick * 0.05, *answers)]
    assert bay.source.timeouts == 1
    assert max(b - a for a, b in pairwise(times)) < 4


def test_a_unit_may_ask_for_patience(ends: list[can.BusABC]) -> None:
    bay = Bay(*ends, temperature())
    bay.pump(0.0)
    bay.pump(0.1, (0x7E9, "037f2278"))  # response pending
    bay.pump(2.5)
    assert bay.pump(PENDING_S, (0x7E9, "0462123464"))[0].value == 100.0
    assert bay.source.timeouts == bay.source.refusals == 0


def test_refusals_are_counted_and_end_the_request(ends: list[can.BusABC]) -> None:
    bay = Bay(*ends, temperature())
    for tick in range(600):
        answers = [(0x7E9, "037f2231")] * len(bay.said())
        assert bay.pump(tick * 0.1, *answers) == []
    assert bay.source.timeouts == 0
    assert 10 <= bay.source.refusals <= 20


def test_a_long_answer_is_let_go_on(ends: list[can.BusABC]) -> None:
    bay = Bay(*ends, temperature(first_byte=12, length=1))
    bay.pump(0.0)
    assert bay.said() == [(0x7E1, "03221234")]
    bay.pump(0.1, (0x7E9, "1010621234000102"))
    # flow control as ISO 15765-2 has it: go on, no blocks, no pauses
    assert bay.said() == [(0x7E1, "300000")]
    readings = bay.pump(0.2, (0x7E9, "2103040506070809"), (0x7E9, "220a0b3c"))
    assert [(r.value, r.quality) for r in readings] == [(60.0, Quality.GOOD)]
    assert bay.source.timeouts == 0


def test_flow_control_goes_to_the_unit_alone_though_all_were_asked(
    ends: list[can.BusABC],
) -> None:
    bay = Bay(*ends, temperature(request_id=0x7DF, first_byte=12))
    bay.pump(0.0)
    bay.pump(0.1, (0x7E9, "1010621234000102"))
    assert bay.said() == [(0x7DF, "03221234"), (0x7E1, "300000")]


def test_a_long_answer_that_breaks_off_is_given_up(ends: list[can.BusABC]) -> None:
    bay = Bay(*ends, temperature(first_byte=12))
    bay.pump(0.0)
    bay.pump(0.1, (0x7E9, "1010621234000102"))
    bay.pump(0.7)
    assert bay.source.timeouts == 1
    bay.said()
    for tick in range(50):
        bay.pump(1 + tick * 0.1)
    assert (0x7E1, "03221234") in bay.said()
    bay.pump(6.1, (0x7E9, "1010621234000102"))
    readings = bay.pump(6.2, (0x7E9, "2103040506070809"), (0x7E9, "220a0b3c"))
    assert [r.value for r in readings] == [60.0]


def test_another_testers_conversation_gets_no_flow_control(ends: list[can.BusABC]) -> None:
    bay = Bay(*ends, temperature(first_byte=12))
    bay.pump(0.0)
    bay.said()
    bay.pump(0.1, (0x7E9, "037f2231"))  # nothing is outstanding now
    bay.pump(0.2, (0x7E9, "1010621234000102"))
    assert bay.said() == []


def test_other_frames_are_passed_over(ends: list[can.BusABC]) -> None:
    bay = Bay(*ends, temperature())
    bay.pump(0.0)
    bay.far.send(can.Message(arbitration_id=0x7E9, is_extended_id=False, is_remote_frame=True))
    bay.far.send(can.Message(arbitration_id=0x7E9, is_extended_id=True, data=b"\4\x62\x12\x34d"))
    assert bay.pump(0.1, (0x7E9, ""), (0x7E9, "0441051234"), (0x123, "0462123464")) == []
    assert len(bay.pump(0.2, (0x7E9, "0462123464"))) == 1


def test_pids_of_one_unit_and_29_bit_ids(ends: list[can.BusABC]) -> None:
    alone = Bay(*ends, speed(), obd_physical=True)
    alone.pump(0.0)
    assert alone.said() == [(0x7E0, "02010c")]
    extended = Bay(*ends, speed(response_id=0x18DAF110))
    extended.pump(0.0)
    assert extended.said() == [(0x18DB33F1, "02010c")]
    assert len(extended.pump(0.1, (0x18DAF110, "04410c1af8"))) == 1
    odd = Bay(*ends, speed(response_id=0x123), obd_physical=True)
    odd.pump(0.0)
    assert odd.said() == [(0x7DF, "02010c")]
    assert physical_request_id(0x18DAF1AB) == 0x18DAABF1


def test_listening_only_sends_nothing_and_promises_broadcasts_alone(
    ends: list[can.BusABC],
) -> None:
    signals = SignalMap(
        fluid_temperature=J1939Signal(kind="j1939", spn=177, source_address=3),
        engine_speed=ObdSignal(kind="obd", pid=0x0C),
    )
    bay = Bay(*ends, signals, listen_only=True)
    for tick in range(100):
        bay.pump(tick * 0.1)
    assert bay.said() == []
    assert bay.source.sent == 0
    assert bay.source.declared == {SignalName.FLUID_TEMPERATURE}
    readings = bay.pump(10.0, (0x18FEF803, "FFFFFFFF2028FFFF"))  # published scale: 48 °C
    assert [r.value for r in readings] == [48.0]


def test_broadcasts_are_thinned_out_but_changes_come_at_once(ends: list[can.BusABC]) -> None:
    signals = SignalMap(
        engine_speed=J1939Signal(kind="j1939", spn=190, source_address=0),
        range=J1939Signal(kind="j1939", spn=523, source_address=3),
    )
    bay = Bay(*ends, signals)
    park, reverse = (0x18F00503, "FFFFFFFBFFFFFFFF"), (0x18F00503, "FFFFFF7CFFFFFFFF")
    rpm, faulty = (0x0CF00400, "FFFFFF8A03FFFFFF"), (0x0CF00400, "FFFFFFFFFEFFFFFF")
    readings = [r for tick in range(500) for r in bay.pump(tick * 0.02, park, rpm)]
    counts = [sum(r.signal is name for r in readings) for name in bay.source.declared]
    assert all(20 <= count <= 41 for count in counts)
    assert [r.value for r in bay.pump(10.0, reverse)] == ["R"]
    assert [r.value for r in bay.pump(10.01, reverse, park)] == ["P"]
    assert [r.quality for r in bay.pump(10.02, faulty)] == [Quality.ERROR]


def test_columns_of_a_table_are_not_on_the_bus(ends: list[can.BusABC]) -> None:
    bay = Bay(*ends, SignalMap(fluid_temperature=CsvSignal(kind="csv", column="oil")))
    assert bay.pump(0.0) == []
    assert bay.source.declared == frozenset()
    assert bay.source.description.endswith(": no signal")


def test_a_lost_bus_is_said_in_one_sentence_and_stays_lost(ends: list[can.BusABC]) -> None:
    bay = Bay(*ends, temperature())
    bay.pump(0.0)
    bay.near.shutdown()
    assert bay.pump(0.1) == []
    assert bay.source.lost.startswith("The connection to the vehicle's bus is lost: check the")
    assert bay.pump(0.2) == []


class Noise(can.BusABC):
    """A serial adapter at the wrong speed: what it receives is no frame."""

    channel_info = "noise"

    def __init__(self, lines: list[Exception | None]) -> None:
        super().__init__(channel=None)
        self._lines = lines

    def _recv_internal(self, timeout: float | None) -> tuple[can.Message | None, bool]:
        line = self._lines.pop(0) if self._lines else None
        if line is not None:
            raise line
        return None, False

    def send(self, msg: can.Message, timeout: float | None = None) -> None:
        pass


def test_noise_is_counted_and_much_of_it_is_a_lost_bus() -> None:
    bus = Noise([ValueError("x"), IndexError("y"), None, None])
    source = BusSource(bus, temperature())
    source.pump(0.0)
    assert source.garbled == 2
    assert not source.lost
    bus._lines = [ValueError("x")] * 60
    source.pump(0.1)
    assert source.lost
    bus.shutdown()


def test_one_call_reads_so_many_frames_and_no_more(ends: list[can.BusABC]) -> None:
    bay = Bay(*ends, temperature())
    frame = can.Message(arbitration_id=0x123, is_extended_id=False, data=b"\0")
    for _ in range(MOST_FRAMES + 5):
        bay.far.send(frame)
    bay.pump(0.0)
    assert len(drain(bay.near)) == 5


@pytest.mark.parametrize(
    "layout", [{"request_id": 0x7E9}, {"request_id": 0x7DF, "response_id": 0x7DF}]
)
def test_a_sheet_that_asks_with_the_id_of_the_answer_is_refused(
    ends: list[can.BusABC], layout: dict[str, int]
) -> None:
    with pytest.raises(BusError, match="asks for the fluid temperature with the id of the answer"):
        BusSource(ends[0], temperature(**layout))
