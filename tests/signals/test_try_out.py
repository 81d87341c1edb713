"""Trying a connection: what a person is told, against simulated vehicles and hand-made buses."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import can
import pytest
from live_bench import drain, virtual_buses

from brimline.config import Connection
from brimline.errors import BusError
from brimline.signals.bus import VIRTUAL, open_bus
from brimline.signals.requests import check_permitted
from brimline.signals.try_out import (
    NO_FLUID,
    TryResult,
    refuse_disturbed,
    try_connection,
)
from brimline.simulator.ecus import VehicleOnBus
from brimline.simulator.line_faults import LineFaults, Manners
from brimline.simulator.vehicle import make_vehicle


class Bench:
    """A vehicle on the other end; the pauses of the trial are what lets it live."""

    def __init__(self, channel: str, far: can.BusABC, witness: can.BusABC) -> None:
        self.channel, self.far, self.witness = channel, far, witness
        self.now = 0.0
        self.live: Callable[[float], None] = lambda _now: None
        self.opened: list[bool] = []
        self.sent: list[can.Message] = []

    def clock(self) -> float:
        return self.now

    def pause(self, seconds: float) -> None:
        self.now += seconds
        self.live(self.now)
        self.sent += drain(self.witness)

    def open(self, _connection: Connection, *, listen_only: bool) -> can.BusABC:
        self.opened.append(listen_only)
        return open_bus(VIRTUAL, self.channel)

    def run(self, connection: Connection | None = None, **options: Any) -> TryResult:
        chosen = connection or Connection(interface=VIRTUAL, channel=self.channel)
        return try_connection(
            chosen, open_it=self.open, clock=self.clock, pause=self.pause, **options
        )

    def serve(self, vehicle_name: str = "K7", **options: Any) -> None:
        vehicle = make_vehicle(vehicle_name)
        vehicle.start_engine()
        vehicle.step(10)
        units = VehicleOnBus(vehicle, vehicle.sheet, self.far, **options)

        def live(now: float) -> None:
            vehicle.step(0.01)
            units.pump(now)

        self.live = live


class LosingLine(can.BusABC):
    """The vehicle's end of a bus on which one of the requests to all units gets lost."""

    def __init__(self, port: can.BusABC, lost: int) -> None:
        self._port, self._lost = port, lost
        self.heard = 0
        super().__init__(channel=port.channel_info)

    def _recv_internal(self, timeout: float | None) -> tuple[can.Message | None, bool]:
        frame = self._port.recv(timeout=timeout)
        if frame is not None and frame.arbitration_id == 0x7DF:
            self.heard += 1
            if self.heard == self._lost + 1:
                frame = self._port.recv(timeout=timeout)
        return frame, False

    def send(self, msg: can.Message, timeout: float | None = None) -> None:
        self._port.send(msg, timeout)


@pytest.fixture
def bench():
    with virtual_buses(2) as (far, witness):
        yield Bench(str(far.channel_id), far, witness)


def requests(frames: list[can.Message]) -> list[str]:
    return [
        bytes(f.data[1 : 1 + f.data[0]]).hex()
        for f in frames
        if f.arbitration_id in (0x7DF, 0x18DB33F1)
    ]


def test_a_vehicle_that_answers_is_told_with_all_its_units(bench: Bench) -> None:
    bench.serve(second_unit=True)
    result = bench.run()
    assert result.works
    assert result.sentence == "It works: 2 control units answered."
    engine, other = result.units
    assert engine.response_id == 0x7E8
    assert engine.pids == (0x05, 0x0C, 0x0D)
    assert engine.coolant == pytest.approx(52, abs=2)
    assert engine.engine_speed == pytest.approx(660, abs=60)
    assert engine.vin == result.vin == "0THFC3K71RL104218"  # in three frames, so by flow control
    assert (other.response_id, other.coolant) == (0x7EA, 215.0)  # FF, by the published scaling
    assert other.vin == ""
    assert NO_FLUID in result.details
    # it listened first, and asked nothing but what generic OBD has
    assert bench.opened == [True, False]
    assert result.listened_only
    assert requests(bench.sent) == ["0100", "0105", "010c", "0902"]


def test_everything_it_sends_is_permitted(bench: Bench) -> None:
    bench.serve(second_unit=True)
    bench.run()
    for frame in bench.sent:
        if frame.arbitration_id in (0x7DF, 0x18DB33F1) or 0x7E0 <= frame.arbitration_id <= 0x7E7:
            check_permitted(bytes(frame.data))


def test_broadcasts_alone_are_heard(bench: Bench) -> None:
    bench.serve("K9")
    result = bench.run(seconds=3.0)
    assert result.frames > 100
    assert result.identifiers >= 3
    assert result.works
    assert result.sentence == "It hears the vehicle, but no control unit answers generic requests."


def test_without_leave_nothing_is_sent(bench: Bench) -> None:
    bench.serve("K9")
    result = bench.run(may_ask=False)
    assert result.sentence == "It hears the vehicle; nothing was asked."
    assert requests(bench.sent) == []
    assert bench.opened == [True]
    assert not result.asked


def test_a_silent_vehicle_is_asked_both_ways_twice(bench: Bench) -> None:
    result = bench.run()
    assert not result.works
    assert "the vehicle is silent: check ignition, plug and bit rate" in result.sentence
    asked = [frame.arbitration_id for frame in bench.sent]
    assert asked == [0x7DF, 0x18DB33F1] * 2
    assert bench.now < 6


@pytest.mark.parametrize("lost", range(4))
def test_a_question_that_gets_lost_is_asked_again(bench: Bench, lost: int) -> None:
    """Whichever of the four requests is lost on the line, the vehicle is told whole."""
    bench.far = line = LosingLine(bench.far, lost)
    bench.serve()
    result = bench.run()
    line.shutdown()
    assert line.heard > lost
    (unit,) = result.units
    assert unit.pids
    assert unit.coolant is not None
    assert unit.engine_speed is not None
    assert unit.vin == "0THFC3K71RL104218"
    assert len(requests(bench.sent)) == 5 + (lost == 0)  # asked the other way round in between


def test_29_bit_identifiers_are_asked_first_where_they_are_set(bench: Bench) -> None:
    bench.run(Connection(interface=VIRTUAL, channel=bench.channel, identifiers=29))
    assert [frame.arbitration_id for frame in bench.sent] == [0x18DB33F1, 0x7DF] * 2


def test_error_frames_alone_mean_the_wrong_bit_rate_and_nothing_is_sent(bench: Bench) -> None:
    def live(_now: float) -> None:
        bench.far.send(can.Message(is_error_frame=True))

    bench.live = live
    result = bench.run()
    assert result.error_frames > 100
    assert not result.works
    assert "disturbed at 500 kbit/s: probably the wrong bit rate; nothing was sent" in (
        result.sentence
    )
    assert bench.opened == [True]


def test_a_check_does_not_begin_on_a_disturbed_bus(bench: Bench) -> None:
    chosen = Connection(interface=VIRTUAL, channel=bench.channel)
    ways = {"open_it": bench.open, "clock": bench.clock, "pause": bench.pause}
    refuse_disturbed(chosen, **ways)  # a silent bus may be one whose units only answer
    bench.live = lambda _now: bench.far.send(can.Message(is_error_frame=True))
    with pytest.raises(BusError, match="probably the wrong bit rate"):
        refuse_disturbed(chosen, **ways)
    assert bench.opened == [True, True]
    refuse_disturbed(chosen.model_copy(update={"listen_only_first": False}), **ways)
    assert bench.opened == [True, True]
    assert requests(bench.sent) == []


def test_a_unit_that_asks_for_patience_is_waited_for(bench: Bench) -> None:
    bench.serve(manners=Manners(LineFaults(pending=1.0)))
    result = bench.run()
    assert result.units[0].coolant == pytest.approx(52, abs=2)
    assert result.vin


def test_refusals_are_told_by_name(bench: Bench) -> None:
    bench.serve(manners=Manners(LineFaults(busy=1.0)))
    result = bench.run()
    assert result.units[0].refusals[0] == "service 01 00: busy repeat request (code 21)"


def test_kinds_that_cannot_listen_only_say_so(bench: Bench) -> None:
    result = bench.run(Connection(interface="socketcan", channel="x"), may_ask=False)
    assert bench.opened == [False]
    assert any("acknowledged frames from the start" in detail for detail in result.details)


def test_an_adapter_that_cannot_be_opened_raises_its_sentence() -> None:
    with pytest.raises(BusError, match="No connection to a vehicle is set"):
        try_connection(Connection())


def test_a_connection_that_breaks_is_one_sentence(bench: Bench) -> None:
    class Broken(can.BusABC):
        def __init__(self) -> None:
            super().__init__("broken")

        def _recv_internal(self, timeout: float | None) -> tuple[can.Message | None, bool]:
            raise can.CanOperationError("gone")

        def send(self, msg: can.Message, timeout: float | None = None) -> None:
            raise AssertionError

    chosen = Connection(interface=VIRTUAL, channel="x")
    result = try_connection(chosen, open_it=lambda *_, **__: Broken())
    assert not result.works
    assert "the connection breaks: check the adapter and its cable" in result.sentence


@pytest.mark.parametrize("noise", [b"", b"\x7f", b"\x03\x7f\x01", b"\x10\xff\x41", b"\x21" * 8])
def test_no_answer_whatever_upsets_it(bench: Bench, noise: bytes) -> None:
    def live(_now: float) -> None:
        for can_id in (0x7E8, 0x7EF, 0x18DAF110):
            bench.far.send(
                can.Message(arbitration_id=can_id, is_extended_id=can_id > 0x7FF, data=noise)
            )

    bench.live = live
    result = bench.run(seconds=0.5)
    assert result.vin == ""
    assert bench.now < 60
