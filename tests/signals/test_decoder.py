from __future__ import annotations

from itertools import pairwise
from typing import Any

import can
from hypothesis import given
from hypothesis import strategies as st
from j1939_warmup import (
    BENCH_WITHOUT_SENSOR,
    OTHER_SENDER,
    TEST_TRAFFIC,
    TRANSMISSION,
    TRF1,
    frame,
    frames,
    temperatures,
)

from brimline.reading import Quality, Reading, SignalName
from brimline.signals.decoder import FrameDecoder
from brimline.signals.limits import LIMITS
from brimline.specsheet.signal_map import CsvSignal, J1939Signal, ObdSignal, SignalMap, UdsSignal

TRUCK = SignalMap(
    fluid_temperature=J1939Signal(kind="j1939", spn=177, source_address=0x03),
    engine_speed=J1939Signal(kind="j1939", spn=190, source_address=0x00),
    range=J1939Signal(kind="j1939", spn=523, source_address=0x03),
)
MIXED = SignalMap(
    fluid_temperature=UdsSignal(
        kind="uds", identifier=0x1234, request_id=0x7E1, response_id=0x7E9, length=2, signed=True
    ),
    engine_speed=ObdSignal(kind="obd", pid=0x0C),
    range=J1939Signal(kind="j1939", spn=523, source_address=0x03),
    vehicle_speed=ObdSignal(kind="obd", pid=0x0D, response_id=0x18DAF110),
)
IDS = [TRF1 | TRANSMISSION, 0x0CF00400, 0x18F00503, 0x7E8, 0x7E9, 0x18DAF110]


def test_warm_up_with_a_second_sender_and_edge_frames() -> None:
    """Every broadcast of the transmission is read right; nothing else becomes a temperature."""
    celsius = temperatures(900)
    edges = [frame(0.5, *edge) for edge in (BENCH_WITHOUT_SENSOR, OTHER_SENDER, TEST_TRAFFIC)]
    decoder = FrameDecoder(TRUCK)
    readings: list[Reading] = []
    for message in [*frames(celsius), *edges]:
        readings += decoder.decode(message.timestamp, message)
    fluid = [r for r in readings if r.signal is SignalName.FLUID_TEMPERATURE]
    good = [r for r in fluid if r.quality is Quality.GOOD]
    assert [(r.t, r.value) for r in good] == [(float(t), v) for t, v in enumerate(celsius)]
    # the bench frame has the mapped sender's address: kept for the record, not usable
    assert [r.value for r in fluid if r not in good] == [-50.03125]
    assert {r.value for r in readings if r.signal is SignalName.ENGINE_SPEED} == {650.0}
    assert {r.value for r in readings if r.signal is SignalName.RANGE} == {"P"}
    assert decoder.seen == 4 * 900 + 3
    assert decoder.decoded == 3 * 900 + 1


def test_the_synthetic_warm_up_has_the_jitter_of_real_trucks() -> None:
    # figures of j1939_warmup.py's docstring
    celsius = temperatures(900)
    steps = [abs(after - before) for before, after in pairwise(celsius)]
    assert max(steps) == 1.03125
    assert celsius[0] < 22
    assert 80 < celsius[-1] < 120


def test_signals_of_a_table_are_not_on_the_bus() -> None:
    signals = SignalMap(
        fluid_temperature=CsvSignal(kind="csv", column="fluid"),
        engine_speed=ObdSignal(kind="obd", pid=0x0C),
    )
    assert FrameDecoder(signals).where == {
        SignalName.ENGINE_SPEED: "OBD PID 0C in replies 7E8",
    }


def test_it_says_where_each_signal_is_looked_for() -> None:
    assert FrameDecoder(MIXED).where == {
        SignalName.FLUID_TEMPERATURE: "UDS identifier 1234 in replies 7E9",
        SignalName.ENGINE_SPEED: "OBD PID 0C in replies 7E8",
        SignalName.RANGE: "J1939 SPN 523 from source address 03",
        SignalName.VEHICLE_SPEED: "OBD PID 0D in replies 18DAF110",
    }


_DATA = st.one_of(
    st.binary(max_size=8),
    st.binary(max_size=5).map(lambda tail: bytes.fromhex("0562123400")[:4] + tail),
    st.binary(max_size=4).map(lambda tail: bytes.fromhex("04410C") + tail),
)
FRAMES = st.builds(
    can.Message,
    arbitration_id=st.one_of(st.sampled_from(IDS), st.integers(0, 0x1FFFFFFF)),
    is_extended_id=st.booleans(),
    is_remote_frame=st.sampled_from([False, False, False, True]),
    is_error_frame=st.sampled_from([False, False, False, True]),
    is_fd=st.sampled_from([False, False, False, True]),
    data=_DATA,
)


@given(messages=st.lists(FRAMES, max_size=40), signals=st.sampled_from([TRUCK, MIXED]))
def test_random_frames_never_raise_and_never_give_impossible_values(
    messages: list[can.Message], signals: SignalMap
) -> None:
    decoder = FrameDecoder(signals)
    for t, message in enumerate(messages):
        for reading in decoder.decode(float(t), message):
            assert reading.t == t
            assert not message.is_error_frame
            assert not message.is_remote_frame
            check_possible(reading)
    assert decoder.seen == len(messages)


@given(raw=st.binary(min_size=2, max_size=2), sender=st.sampled_from([0x00, 0x03, 0x31]))
def test_no_raw_temperature_is_good_outside_the_limits(raw: bytes, sender: int) -> None:
    message = frame(0.0, TRF1 | sender, b"\xff" * 4 + raw + b"\xff" * 2)
    for reading in FrameDecoder(TRUCK).decode(0.0, message):
        assert sender == 0x03
        check_possible(reading)


def check_possible(reading: Reading) -> None:
    if reading.quality is not Quality.GOOD:
        assert reading.number is None
        return
    if reading.signal is SignalName.RANGE:
        assert reading.value in ("P", "R", "N", "D")
        return
    low, high = LIMITS[reading.signal]
    number: Any = reading.value
    assert low <= number <= high
