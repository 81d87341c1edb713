from __future__ import annotations

from collections import deque
from pathlib import Path
from typing import Any

import can
import cantools
import isotp
import pytest
from cantools.database.can import Database
from hypothesis import given
from hypothesis import strategies as st
from isotp.protocol import TransportLayerLogic
from udsoncan.Response import Response
from udsoncan.services.ReadDataByIdentifier import ReadDataByIdentifier

from brimline.reading import Quality, Reading, SignalName
from brimline.signals import can_uds
from brimline.signals.can_uds import LONGEST_GAP_S, Reassembler
from brimline.signals.decoder import FrameDecoder
from brimline.specsheet.signal_map import ObdSignal, SignalMap, UdsSignal

# The reply that carries an identification number which many public test suites use: the frames that
# can-isotp 2.0.7 puts on the wire for the payload 49 02 01 and its 17 characters. A first frame of
# this form was also read in a public question about a real car's traffic.
VIN_PAYLOAD = bytes.fromhex("490201") + b"1M8GDM9AXKP042788"
VIN_FRAMES = ("1014490201314D38", "2147444D3941584B", "2250303432373838")


def car(**other: Any) -> SignalMap:
    signals: dict[str, Any] = {
        "fluid_temperature": ObdSignal(kind="obd", pid=0x05),
        "engine_speed": ObdSignal(kind="obd", pid=0x0C),
        "vehicle_speed": ObdSignal(kind="obd", pid=0x0D),
    }
    return SignalMap(**signals | other)


def uds(**layout: Any) -> SignalMap:
    common: dict[str, Any] = {"identifier": 0x1234, "request_id": 0x7E1, "response_id": 0x7E9}
    return SignalMap(fluid_temperature=UdsSignal(kind="uds", **common | layout))


def frame(can_id: int, data: bytes | str, t: float = 0.0) -> can.Message:
    content = bytes.fromhex(data) if isinstance(data, str) else data
    extended = can_id > 0x7FF
    return can.Message(timestamp=t, arbitration_id=can_id, is_extended_id=extended, data=content)


def decode(signals: SignalMap, *frames: can.Message) -> list[Reading]:
    decoder = FrameDecoder(signals)
    return [reading for each in frames for reading in decoder.decode(each.timestamp, each)]


def on_the_wire(payload: bytes, response_id: int = 0x7E9) -> list[can.Message]:
    """Let two real ISO-TP stacks exchange a message; return all that passed on the bus."""
    bus: list[can.Message] = []
    inboxes: dict[int, deque[isotp.CanMessage]] = {response_id: deque(), 0x7E1: deque()}

    def stack(sends: int, hears: int) -> TransportLayerLogic:
        def transmit(message: isotp.CanMessage) -> None:
            bus.append(frame(sends, bytes(message.data), len(bus) * 0.002))
            inboxes[sends].append(message)

        inbox = inboxes[hears]
        return TransportLayerLogic(
            rxfn=lambda _timeout: inbox.popleft() if inbox else None,
            txfn=transmit,
            address=isotp.Address(isotp.AddressingMode.Normal_11bits, rxid=hears, txid=sends),
            params={"stmin": 0, "tx_padding": 0xAA},
        )

    ecu, tester = stack(response_id, 0x7E1), stack(0x7E1, response_id)
    ecu.send(payload)
    for _ in range(1000):
        ecu.process()
        tester.process()
        if received := tester.recv():
            assert bytes(received) == payload
            return bus
    raise AssertionError("the message did not arrive")


# ── service 01 ───────────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("data", "signal", "value"),
    [
        # a worked example in public documentation, confirmed with cantools 45.1.0 and the
        # published DBC of OBD2 parameters (tests/data/README.md)
        ("04410C026A", SignalName.ENGINE_SPEED, 154.5),
        # the following with cantools and that DBC
        ("04410C1AF8", SignalName.ENGINE_SPEED, 1726.0),
        ("0341057B", SignalName.FLUID_TEMPERATURE, 83.0),
        ("03410550", SignalName.FLUID_TEMPERATURE, 40.0),
    ],
)
def test_published_replies(data: str, signal: SignalName, value: float) -> None:
    (reading,) = decode(car(), frame(0x7E8, data))
    assert (reading.signal, reading.value, reading.quality) == (signal, value, Quality.GOOD)


@pytest.fixture(scope="module")
def published() -> Database:
    database = cantools.database.load_file(Path(__file__).parents[1] / "data" / "published.dbc")
    assert isinstance(database, Database)
    return database


@given(a=st.integers(0, 255), b=st.integers(0, 255), pid=st.sampled_from([0x05, 0x0C, 0x0D]))
def test_scaling_equals_cantools(published: Database, a: int, b: int, pid: int) -> None:
    length = 4 if pid == 0x0C else 3
    data = bytes([length, 0x41, pid, a, b, 0, 0, 0])
    decoded = published.decode_message(0x7E8, data)
    assert isinstance(decoded, dict)
    name = {0x05: "CoolantTemperature", 0x0C: "EngineSpeed", 0x0D: "VehicleSpeed"}[pid]
    expected = decoded[name]
    assert isinstance(expected, int | float)
    (reading,) = decode(car(), frame(0x7E8, data))
    assert reading.value == pytest.approx(expected, abs=1e-9)
    limits = {0x05: (-50, 200), 0x0C: (0, 10_000), 0x0D: (0, 250)}[pid]
    assert (reading.quality is Quality.GOOD) == (limits[0] <= expected <= limits[1])


@pytest.mark.parametrize(
    ("data", "value"), [("034105FF", 215.0), ("04410CFFFF", 16383.75), ("03410DFF", 255.0)]
)
def test_filler_bytes_are_out_of_range(data: str, value: float) -> None:
    (reading,) = decode(car(), frame(0x7E8, data))
    assert (reading.value, reading.quality) == (value, Quality.OUT_OF_RANGE)


def test_one_reply_may_answer_several_pids() -> None:
    # SAE J1979 lets a request on CAN ask for up to six (from memory): eight bytes, two frames
    frames = on_the_wire(bytes.fromhex("41057B0C1AF80D32"), 0x7E8)
    values = {reading.signal: reading.value for reading in decode(car(), *frames)}
    assert values == {
        SignalName.FLUID_TEMPERATURE: 83.0,
        SignalName.ENGINE_SPEED: 1726.0,
        SignalName.VEHICLE_SPEED: 50.0,
    }


def test_behind_a_pid_of_unknown_length_nothing_is_read() -> None:
    # where the next PID starts is not known: 05 could as well be data of 7E
    assert decode(car(), frame(0x7E8, "06417E00057B00")) == []


@pytest.mark.parametrize(
    "data",
    [
        "037F0112",  # negative reply to service 01
        "0201057B",  # the request itself, echoed
        "024105",  # no data
        "03410C1A",  # half of the data
        "0342057B",  # service 02, freeze frame
        "0341057B"[:6],  # the frame is shorter than it says
        "00",
        "",
    ],
)
def test_what_is_no_reply_with_the_value_gives_nothing(data: str) -> None:
    assert decode(car(), frame(0x7E8, data)) == []


def test_requests_and_other_senders_are_ignored() -> None:
    assert decode(car(), frame(0x7DF, "0201050000000000")) == []
    assert decode(car(), frame(0x7E0, "0201050000000000")) == []
    assert decode(car(), frame(0x7E9, "0341057B00000000")) == []
    # the same number as a 29-bit identifier is somebody else
    somebody = can.Message(
        arbitration_id=0x7E8, is_extended_id=True, data=bytes.fromhex("0341057B")
    )
    assert decode(car(), somebody) == []


def test_replies_with_29_bit_identifiers() -> None:
    # 18DAF110: from control unit 10 to the tester F1 (ISO 15765-4; from memory)
    signals = car(fluid_temperature=ObdSignal(kind="obd", pid=0x05, response_id=0x18DAF110))
    (reading,) = decode(signals, frame(0x18DAF110, "0341057B55555555"))
    assert reading.value == 83.0
    assert reading.source == "obd 18DAF110 pid 05"


# ── ReadDataByIdentifier ─────────────────────────────────────────────────────


def reply(data: bytes) -> bytes:
    """Let udsoncan, as the server, put a positive reply together."""
    payload: bytes = Response(ReadDataByIdentifier, code=0, data=data).get_payload()
    return payload


def test_a_reply_in_several_frames_from_a_transmitting_stack() -> None:
    data = bytes.fromhex("1234") + bytes(range(30)) + bytes.fromhex("0393") + bytes(20)
    frames = on_the_wire(reply(data))
    assert len(frames) > 8  # with the tester's flow control among them
    signals = uds(first_byte=30, length=2, scale=0.1, offset=-40)
    (reading,) = decode(signals, *frames)
    assert reading.value == pytest.approx(0x0393 * 0.1 - 40)
    assert reading.quality is Quality.GOOD
    assert reading.t == frames[-1].timestamp
    assert reading.source == "uds 7E9 did 1234"


@given(
    before=st.binary(max_size=40),
    field=st.binary(min_size=1, max_size=4),
    behind=st.binary(max_size=40),
    signed=st.booleans(),
)
def test_any_layout(before: bytes, field: bytes, behind: bytes, *, signed: bool) -> None:
    frames = on_the_wire(reply(bytes.fromhex("1234") + before + field + behind))
    signals = uds(first_byte=len(before), length=len(field), signed=signed, scale=0.5, offset=-10.0)
    (reading,) = decode(signals, *frames)
    raw = int.from_bytes(field, "big", signed=signed)
    assert reading.value == raw * 0.5 - 10
    assert (reading.quality is Quality.GOOD) == (-50 <= raw * 0.5 - 10 <= 200)


@pytest.mark.parametrize(
    ("layout", "data", "value", "quality"),
    [
        ({"offset": -40}, "6E", 70.0, Quality.GOOD),
        ({"offset": -40, "not_available": [255]}, "FF", None, Quality.NOT_AVAILABLE),
        # FF is a number unless the sheet says otherwise; the physical limits refuse it
        ({"offset": -40}, "FF", 215.0, Quality.OUT_OF_RANGE),
        ({"signed": True}, "F6", -10.0, Quality.GOOD),
        ({"signed": True, "not_available": [-128]}, "80", None, Quality.NOT_AVAILABLE),
        ({"signed": True, "not_available": [0x80]}, "80", None, Quality.NOT_AVAILABLE),
        ({"scale": 1e308, "offset": 1e308}, "01", None, Quality.OUT_OF_RANGE),
    ],
)
def test_raw_values(
    layout: dict[str, Any], data: str, value: float | None, quality: Quality
) -> None:
    (reading,) = decode(uds(**layout), frame(0x7E9, f"04621234{data}"))
    assert (reading.value, reading.quality) == (value, quality)


def test_range_names() -> None:
    signals = SignalMap(
        range=UdsSignal(
            kind="uds",
            identifier=0xABCD,
            request_id=0x7E1,
            response_id=0x7E9,
            names={"1": "P", "2": "R"},
            not_available=(0,),
        )
    )
    frames = [frame(0x7E9, f"0462ABCD0{raw}") for raw in (1, 2, 0, 7)]
    got = [(reading.value, reading.quality) for reading in decode(signals, *frames)]
    assert got == [
        ("P", Quality.GOOD),
        ("R", Quality.GOOD),
        (None, Quality.NOT_AVAILABLE),
        ("7", Quality.OUT_OF_RANGE),  # the raw value, for whoever mends the sheet
    ]


@pytest.mark.parametrize(
    "data",
    [
        "037F2231",  # RequestOutOfRange, as udsoncan 1.26.1 reads it
        "037F2278",  # ResponsePending
        "067F223112346E",  # negative, with what looks like an answer behind it
        "03221234",  # the request
        "0462123563",  # another identifier
        "03621234",  # no data
        "0262AB",  # half an identifier
        "0162",
        "046E123463",  # the reply to WriteDataByIdentifier
    ],
)
def test_no_value_in_these_replies(data: str) -> None:
    assert decode(uds(), frame(0x7E9, data)) == []


def test_two_signals_from_one_reply() -> None:
    mapped: dict[str, Any] = {"identifier": 0x1234, "request_id": 0x7E1, "response_id": 0x7E9}
    signals = SignalMap(
        fluid_temperature=UdsSignal(kind="uds", offset=-40, **mapped),
        engine_speed=UdsSignal(kind="uds", first_byte=1, length=2, scale=0.25, **mapped),
    )
    readings = decode(signals, frame(0x7E9, "066212346E0A28"))
    assert {r.signal: r.value for r in readings} == {
        SignalName.FLUID_TEMPERATURE: 70.0,
        SignalName.ENGINE_SPEED: 650.0,
    }


# ── putting frames together ──────────────────────────────────────────────────


def feed(times: list[float], frames: tuple[str, ...] = VIN_FRAMES) -> tuple[list[bytes], int]:
    reassembler = Reassembler(0x7E8)
    messages = [
        message
        for t, data in zip(times, frames, strict=True)
        if (message := reassembler.feed(t, bytes.fromhex(data))) is not None
    ]
    return messages, reassembler.faults


def test_published_frame_sequence() -> None:
    assert feed([0.0, 0.01, 0.02]) == ([VIN_PAYLOAD], 0)


def test_published_frame_sequence_is_what_a_transmitting_stack_sends() -> None:
    sent = [each for each in on_the_wire(VIN_PAYLOAD) if each.arbitration_id == 0x7E9]
    assert tuple(each.data.hex().upper() for each in sent) == VIN_FRAMES


def test_listening_sends_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    sent: list[isotp.CanMessage] = []

    class Watched(TransportLayerLogic):
        def __init__(self, **options: Any) -> None:
            super().__init__(**options | {"txfn": sent.append})

    monkeypatch.setattr(can_uds, "TransportLayerLogic", Watched)
    # a receiver that took part would answer the first frame with a flow control
    assert feed([0.0, 0.01, 0.02]) == ([VIN_PAYLOAD], 0)
    assert sent == []


def test_a_gap_in_recording_time_drops_the_message() -> None:
    assert feed([0.0, LONGEST_GAP_S, 2 * LONGEST_GAP_S]) == ([VIN_PAYLOAD], 0)
    assert feed([0.0, 0.01, 0.02 + LONGEST_GAP_S]) == ([], 1)
    assert feed([0.0, 0.01 + LONGEST_GAP_S, 0.02 + LONGEST_GAP_S])[0] == []


def test_a_missing_or_repeated_frame_drops_the_message() -> None:
    first, second, third = VIN_FRAMES
    assert feed([0.0, 0.1], (first, third)) == ([], 1)
    assert feed([0.0, 0.1, 0.2, 0.3], (first, second, second, third))[0] == []
    assert feed([0.0, 0.1], (second, third)) == ([], 2)


def test_the_next_message_is_read_after_a_dropped_one() -> None:
    first, second, third = VIN_FRAMES
    messages, _ = feed([0.0, 0.1, 9.0, 9.1, 9.2], (first, third, first, second, third))
    assert messages == [VIN_PAYLOAD]


def test_a_first_frame_that_fits_one_frame_is_a_fault() -> None:
    # a length below 8 never needs a first frame (ISO 15765-2, from memory); can-isotp takes it
    assert feed([0.0, 0.1], ("100341057B", "21")) == ([], 2)


def test_a_message_too_long_is_a_fault() -> None:
    # beyond 4095 bytes the length stands in an escape sequence; no reading needs so much
    assert feed([0.0, 0.1], ("1000FFFFFFFF6212", "2112345678")) == ([], 2)


@given(
    frames=st.lists(
        st.tuples(
            st.floats(0, 2),
            st.one_of(
                st.binary(max_size=8),
                st.sampled_from([bytes.fromhex(each) for each in VIN_FRAMES]),
            ),
        ),
        max_size=30,
    )
)
def test_garbage_never_raises(frames: list[tuple[float, bytes]]) -> None:
    reassembler = Reassembler(0x7E8)
    t = 0.0
    for pause, data in frames:
        t += pause
        message = reassembler.feed(t, data)
        assert message is None or len(message) > 0
