"""What the live path hears of a bus on which nearly every frame concerns somebody else."""

from __future__ import annotations

import can
import pytest
from hypothesis import given
from hypothesis import strategies as st
from j1939_warmup import TRANSMISSION, TRF1, frame
from test_decoder import FRAMES, MIXED, TRUCK

from brimline.reading import SignalName
from brimline.signals.decoder import FrameDecoder
from brimline.signals.live import BusSource
from brimline.specsheet.signal_map import ObdSignal, SignalMap

SPEED = SignalMap(engine_speed=ObdSignal(kind="obd", pid=0x0C))
OWN, FOREIGN = 0x7E8, 0x123
ANSWER, GOES_ON = "04410c1af8", "21410c1af8"
GARBLED = ValueError("no frame")


class Adapter:
    """Hands over what the test lays down, frames, silences and lines that are none."""

    def __init__(self, *lines: can.Message | ValueError | None) -> None:
        self.lines = list(lines)

    def recv(self, timeout: float | None = None) -> can.Message | None:
        line = self.lines.pop(0) if self.lines else None
        if isinstance(line, ValueError):
            raise line
        return line

    def send(self, _message: can.Message, timeout: float | None = None) -> None:
        pass


def message(can_id: int, data: str = ANSWER, *, extended: bool = False) -> can.Message:
    return can.Message(arbitration_id=can_id, is_extended_id=extended, data=bytes.fromhex(data))


def strangers(now: float, *frames: can.Message) -> int:
    """Return how many strangers were counted, when all units had been asked at 0 s."""
    adapter = Adapter()
    source = BusSource(adapter, SPEED)  # type: ignore[arg-type] # what it needs of a bus
    source.pump(0.0)
    adapter.lines = list(frames)
    source.pump(now)
    return source.strangers


def test_every_frame_is_counted_and_overheard_whether_it_concerns_anybody_or_not() -> None:
    frames = [
        message(FOREIGN),
        message(OWN),
        can.Message(arbitration_id=FOREIGN, is_error_frame=True),
        can.Message(arbitration_id=OWN, is_extended_id=False, is_error_frame=True),
        can.Message(arbitration_id=FOREIGN, is_extended_id=False, is_remote_frame=True),
        message(TRF1 | TRANSMISSION, extended=True),
    ]
    heard: list[tuple[float, can.Message]] = []
    adapter = Adapter(*frames)
    source = BusSource(
        adapter,  # type: ignore[arg-type] # what it needs of a bus
        SPEED,
        listen_only=True,
        overhear=lambda t, each: heard.append((t, each)),
    )
    readings = source.pump(3.0)
    assert heard == [(3.0, each) for each in frames]
    assert (source.frames, source.error_frames) == (6, 2)
    assert [reading.value for reading in readings] == [1726.0]  # as in a published example


@given(messages=st.lists(FRAMES, max_size=40), signals=st.sampled_from([TRUCK, MIXED]))
def test_it_reads_all_that_the_decoder_reads(
    messages: list[can.Message], signals: SignalMap
) -> None:
    decoder = FrameDecoder(signals)
    source = BusSource(
        Adapter(*messages),  # type: ignore[arg-type] # what it needs of a bus
        signals,
        rates=dict.fromkeys(SignalName, float("inf")),  # so nothing is thinned out
        listen_only=True,
    )
    expected = [each for message in messages for each in decoder.decode(5.0, message)]
    assert source.pump(5.0) == expected
    assert source.frames == len(messages)


@pytest.mark.parametrize("priority", range(8))
def test_the_priority_does_not_tell_what_a_broadcast_is(priority: int) -> None:
    can_id = priority << 26 | (TRF1 | TRANSMISSION) & 0x3FFFFFF
    broadcast = frame(0.0, can_id, bytes.fromhex("FFFFFFFF2028FFFF"))
    source = BusSource(Adapter(broadcast), TRUCK)  # type: ignore[arg-type] # as above
    assert [reading.value for reading in source.pump(0.0)] == [48.0]  # published scale


def test_exactly_the_answers_of_other_units_are_strangers() -> None:
    # ISO 15765-4, from memory: 7E8 to 7EF answer, and 18DAF1xx with priority 6
    assert strangers(0.1, *map(message, range(0x800))) == 7  # one of eight is the sheet's own
    around = range(0x18DAF000, 0x18DAF300)
    assert strangers(0.1, *(message(each, extended=True) for each in around)) == 256
    other_priorities = [0x0CDAF110, 0x1CDAF110, 0x00DAF110]
    assert strangers(0.1, *(message(each, extended=True) for each in other_priorities)) == 0
    assert strangers(0.1, *(message(each, extended=True) for each in range(0x7E8, 0x7F0))) == 0


def test_strangers_are_counted_once_an_answer_and_only_while_all_are_asked() -> None:
    assert strangers(0.1, message(0x7EA, "1014410c1af80000"), message(0x7EA, GOES_ON)) == 1
    remote = can.Message(arbitration_id=0x7EA, is_extended_id=False, is_remote_frame=True)
    broken = can.Message(arbitration_id=0x7EA, is_extended_id=False, is_error_frame=True)
    assert strangers(0.1, remote, broken, message(0x7EA, "")) == 0
    assert strangers(0.6, message(0x7EA)) == 0


def test_one_silence_hides_no_frame_but_two_end_the_call() -> None:
    adapter = Adapter(None, message(FOREIGN), None, message(FOREIGN), None, None, message(FOREIGN))
    source = BusSource(adapter, SPEED, listen_only=True)  # type: ignore[arg-type] # as above
    source.pump(0.0)
    assert source.frames == 2
    source.pump(0.1)
    assert source.frames == 3


def test_noise_between_frames_is_counted_but_is_no_lost_bus() -> None:
    some = [GARBLED] * 49
    adapter = Adapter(*some, message(FOREIGN), *some, message(FOREIGN), *some)
    source = BusSource(adapter, SPEED, listen_only=True)  # type: ignore[arg-type] # as above
    source.pump(0.0)
    assert (source.garbled, source.frames, source.lost) == (147, 2, "")
    adapter.lines = [*some, GARBLED, message(FOREIGN)]
    source.pump(0.1)
    assert source.lost
    assert source.frames == 2
