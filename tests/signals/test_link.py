"""A bus that goes and comes back: when it is tried again, and what is told meanwhile."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from itertools import pairwise

import can
import pytest
from live_bench import drain, virtual_buses

from brimline.errors import BusError
from brimline.reading import Reading
from brimline.signals.bus import VIRTUAL, open_bus
from brimline.signals.link import (
    DEAF_S,
    FIRST_PAUSE_S,
    LONGEST_PAUSE_S,
    ReopeningSource,
    ThreadedAttempt,
    close_quietly,
)
from brimline.specsheet.signal_map import SignalMap, UdsSignal

SIGNALS = SignalMap(
    fluid_temperature=UdsSignal(kind="uds", identifier=0x1234, request_id=0x7E1, response_id=0x7E9)
)
STEP_S = 0.1


class AtOnce:
    """An attempt without a thread."""

    def __init__(self, opener: Callable[[], can.BusABC], old: can.BusABC | None) -> None:
        close_quietly(old)
        try:
            self._result: can.BusABC | BusError = opener()
        except BusError as error:
            self._result = error

    def result(self) -> can.BusABC | BusError:
        return self._result

    def abandon(self) -> None:
        if isinstance(self._result, can.BusABC):
            close_quietly(self._result)


class Fragile(can.BusABC):
    """A bus that passes frames on until its cable is cut."""

    def __init__(self, inner: can.BusABC) -> None:
        self.cut = False
        self.inner = inner
        super().__init__(channel="fragile")

    def _recv_internal(self, timeout: float | None) -> tuple[can.Message | None, bool]:
        if self.cut:
            raise can.CanOperationError("gone")
        return self.inner.recv(timeout=timeout), False

    def send(self, msg: can.Message, timeout: float | None = None) -> None:
        if self.cut:
            raise OSError("gone")
        self.inner.send(msg, timeout)

    def shutdown(self) -> None:
        super().shutdown()
        self.inner.shutdown()
        if self.cut:
            raise OSError("cannot say good-bye")


class Rig:
    """The source under test, the vehicle's end in the test's hands, and a clock."""

    def __init__(self, channel: str, far: can.BusABC) -> None:
        self.channel, self.far = channel, far
        self.tried: list[float] = []
        self.away = False
        self.now = 0.0
        self.buses: list[Fragile] = []
        self.value = 0x64
        self.source = ReopeningSource(self.open(), SIGNALS, self.open, attempt=AtOnce)
        self.tried.clear()

    def open(self) -> can.BusABC:
        self.tried.append(self.now)
        if self.away:
            raise BusError("not there")
        self.buses.append(Fragile(open_bus(VIRTUAL, self.channel)))
        return self.buses[-1]

    def cut(self) -> None:
        self.away = self.buses[-1].cut = True

    def run(self, seconds: float, *, answers: bool = True) -> list[Reading]:
        readings = []
        for _ in range(round(seconds / STEP_S)):
            self.now += STEP_S
            readings += self.source.pump(self.now)
            for _request in drain(self.far):
                if answers:
                    data = bytes([4, 0x62, 0x12, 0x34, self.value])
                    self.far.send(
                        can.Message(arbitration_id=0x7E9, is_extended_id=False, data=data)
                    )
        return readings


@pytest.fixture
def rig() -> Iterator[Rig]:
    with virtual_buses(1) as (far,):
        made = Rig(str(far.channel_id), far)
        yield made
        made.source.close()


def test_readings_come_and_the_link_says_nothing(rig: Rig) -> None:
    assert len(rig.run(10)) >= 9
    assert rig.source.lost == ""
    assert rig.source.losses == 0
    assert rig.source.declared == {"fluid_temperature"}
    assert rig.source.description.startswith("live from the vehicle's bus: ")


def test_a_lost_bus_is_tried_again_with_growing_pauses_and_comes_back(rig: Rig) -> None:
    rig.run(5)
    rig.cut()
    assert rig.run(60) == []
    assert "tried again by itself" in rig.source.lost
    pauses = [later - sooner for sooner, later in pairwise(rig.tried)]
    assert pauses[0] == pytest.approx(2 * FIRST_PAUSE_S, abs=0.3)
    assert pauses == sorted(pauses)
    assert pauses[-1] == pytest.approx(LONGEST_PAUSE_S, abs=0.3)
    rig.away = False
    heard = rig.run(LONGEST_PAUSE_S + 5)
    assert rig.source.lost == ""
    assert len(heard) >= 4
    assert rig.source.losses == 1


def test_after_it_was_heard_the_pauses_begin_anew(rig: Rig) -> None:
    for loss in (1, 2, 3):
        rig.run(5)
        rig.cut()
        cut_at = rig.now
        rig.run(1)
        rig.away = False
        rig.run(3)
        assert rig.source.lost == ""
        assert rig.source.losses == loss
        assert next(t for t in rig.tried if t > cut_at) - cut_at <= FIRST_PAUSE_S + 0.3


def test_a_bus_that_opens_and_dies_at_once_is_not_tried_in_a_rush(rig: Rig) -> None:
    rig.run(5)
    rig.cut()
    rig.away = False
    for _ in range(600):
        rig.run(STEP_S, answers=False)
        rig.buses[-1].cut = True
    assert len(rig.tried) <= 12
    assert rig.source.losses <= 13


def test_counters_survive_the_loss(rig: Rig) -> None:
    rig.run(5)
    before = rig.source.counts
    assert before["sent"] >= 5
    rig.cut()
    rig.run(1)
    assert rig.source.counts["sent"] >= before["sent"]
    rig.away = False
    rig.run(5)
    assert rig.source.counts["sent"] > before["sent"]
    assert rig.source.counts["frames"] > before["frames"]


def test_what_waited_in_the_adapter_is_thrown_away(rig: Rig) -> None:
    rig.run(5)
    rig.cut()
    rig.run(0.2)
    rig.away = False
    original = rig.open
    old = can.Message(arbitration_id=0x7E9, is_extended_id=False, data=b"\4\x62\x12\x34\x30")

    def open_with_old_frames() -> can.BusABC:
        bus = original()
        rig.far.send(old)
        return bus

    rig.source._opener = open_with_old_frames
    values = {reading.value for reading in rig.run(5)}
    assert values == {100.0}


def test_a_bus_that_falls_silent_is_opened_once_more(rig: Rig) -> None:
    rig.run(5)
    rig.run(3 * DEAF_S, answers=False)
    assert rig.source.losses == 1  # a sleeping vehicle is not opened again and again
    assert rig.source.lost == ""
    assert len(rig.run(10)) >= 5


def test_a_closed_source_is_silent(rig: Rig) -> None:
    rig.source.close()
    rig.source.close()
    assert rig.run(2) == []


def test_opening_does_not_hold_up_the_pump_and_leaves_no_thread() -> None:
    gate, opened = threading.Event(), []
    with virtual_buses(1) as (far,):

        def slow() -> can.BusABC:
            gate.wait(10)
            opened.append(open_bus(VIRTUAL, str(far.channel_id)))
            return opened[-1]

        first = Fragile(open_bus(VIRTUAL, str(far.channel_id)))
        source = ReopeningSource(first, SIGNALS, slow)
        source.pump(0.0)
        first.cut = True
        for tick in range(1, 50):
            source.pump(tick * 0.1)  # returns although the opener waits
        assert source.lost
        gate.set()
        source.close()
        assert len(opened) == 1
        assert opened[0]._is_shutdown


def test_an_attempt_turns_whatever_a_driver_raises_into_an_error() -> None:
    def broken() -> can.BusABC:
        raise RuntimeError("driver")

    attempt = ThreadedAttempt(broken, None)
    attempt._thread.join(10)
    result = attempt.result()
    assert isinstance(result, BusError)
    assert "driver" in result.detail
