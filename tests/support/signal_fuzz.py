"""Random and mutated frames through every decoder, and what must hold whatever comes.

Frames begin as ones that mean something (published ones, edge frames of test benches, answers in
one frame and in several) and are then damaged: bits, lengths, identifiers, kinds. A seed gives the
same frames again. What a reading may be is judged here from the bytes alone, by rules written
apart from the program: SAE J1939-71 has no value above FA in the highest byte of a parameter (FB is
park in a gear), and the UDS fields' “no value” codes would decode to numbers that are watched for.
"""

from __future__ import annotations

import itertools
import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

import can

from brimline.reading import Quality, Reading, SignalName
from brimline.signals.decoder import FrameDecoder
from brimline.signals.discovery import Survey
from brimline.signals.live import BusSource
from brimline.specsheet.signal_map import J1939Signal, ObdSignal, SignalMap, UdsSignal

TRUCK = SignalMap(
    fluid_temperature=J1939Signal(kind="j1939", spn=177, source_address=0x03),
    engine_speed=J1939Signal(kind="j1939", spn=190, source_address=0x00),
    range=J1939Signal(kind="j1939", spn=523, source_address=0x03),
    vehicle_speed=ObdSignal(kind="obd", pid=0x0D, response_id=0x18DAF110),
)
# Codes for “no value” that would be plausible temperatures if somebody scaled them.
NO_VALUE = (0x00, 0xFE, 0xFF)
SCALE, OFFSET = 0.5, -20.0
CAR = SignalMap(
    fluid_temperature=UdsSignal(
        kind="uds", identifier=0x1234, request_id=0x7E1, response_id=0x7E9, first_byte=12,
        scale=SCALE, offset=OFFSET, not_available=NO_VALUE,
    ),
    range=UdsSignal(
        kind="uds", identifier=0xABCD, request_id=0x7E1, response_id=0x7E9,
        names={"1": "P", "2": "R", "3": "N", "4": "D"}, not_available=(15,),
    ),
    engine_speed=ObdSignal(kind="obd", pid=0x0C),
    vehicle_speed=ObdSignal(kind="obd", pid=0x0D),
)  # fmt: skip

_LIMITS = {
    SignalName.FLUID_TEMPERATURE: (-50.0, 200.0),
    SignalName.ENGINE_SPEED: (0.0, 10_000.0),
    SignalName.VEHICLE_SPEED: (0.0, 250.0),
}

# Sequences that mean something; where each was published stands in the tests of its decoder.
_MEANT = [
    [(0x18FEF803, "FFFFFFFF2027FFFF")],
    [(0x18FEF803, "FFFFFFFFDF1BFBDE")],
    [(0x18FEF800, "FFFFFFFF003DFFFF")],
    [(0x18FEF831, "FFFFFFFFFFFFFFFF")],
    [(0x0CF00400, "FFFFFF8A03FFFFFF")],
    [(0x0CF00400, "21B7B7402700F4B7")],
    [(0x18F00503, "FBE8037C44204420")],
    [(0x18F00503, "FBE803FB50205020")],
    [(0x18FEEE00, "864C202FFFFF49FF")],
    [(0x18FEF100, "0024030000000000")],
    [(0x18DAF110, "03410D3255555555")],
    [(0x7E8, "04410C1AF8000000")],
    [(0x7E8, "03410D3200000000")],
    [(0x7E8, "1014490201314D38"), (0x7E8, "2147444D3941584B"), (0x7E8, "2250303432373838")],
    [(0x7E9, "1010621234000102"), (0x7E9, "2103040506070809"), (0x7E9, "220A0B6E00000000")],
    [(0x7E9, "1010621234000102"), (0x7E9, "2103040506070809"), (0x7E9, "220A0BFF00000000")],
    [(0x7E9, "0462ABCD01000000")],
    [(0x7E9, "0462ABCD0F000000")],
    [(0x7E9, "037F2278AAAAAAAA")],
    [(0x7E9, "037F2231AAAAAAAA")],
    [(0x7E9, "037F2221AAAAAAAA")],
]
_EDGES = (0x00, 0x0F, 0x10, 0x20, 0x21, 0x30, 0x7F, 0x80, 0xFA, 0xFB, 0xFD, 0xFE, 0xFF)
_IDS = sorted({can_id for sequence in _MEANT for can_id, _ in sequence})


class ViolationError(AssertionError):
    """A reading that must not be."""


def random_frames(count: int, seed: int) -> Iterator[can.Message]:
    """Yield frames: half of them as they were meant, in their order, the rest damaged or random."""
    chance = random.Random(seed)
    sequences = iter(lambda: chance.choice(_MEANT), None)
    meant = itertools.chain.from_iterable(sequences)
    for _ in range(count):
        can_id, text = next(meant)
        data, kind = bytearray.fromhex(text), {}
        fate = chance.random()
        if fate < 0.1:
            can_id = chance.choice(_IDS) if chance.random() < 0.5 else chance.getrandbits(29)
            data = bytearray(chance.randbytes(chance.randrange(9)))
        elif fate < 0.5:
            can_id, data = _damaged(chance, can_id, data)
        elif fate < 0.55:
            flag = chance.choice(("is_error_frame", "is_remote_frame", "is_fd", "is_extended_id"))
            kind = {flag: flag != "is_extended_id" or can_id < 0x800}
        frame = {"is_extended_id": can_id > 0x7FF} | kind
        if frame.get("is_remote_frame"):
            data = bytearray()
        yield can.Message(arbitration_id=can_id, data=data, **frame)


def _damaged(chance: random.Random, can_id: int, data: bytearray) -> tuple[int, bytearray]:
    for _ in range(chance.randrange(1, 4)):
        way = chance.randrange(5)
        if way == 0 and data:
            data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
        elif way == 1 and data:
            # often where a broadcast has its highest byte
            place = chance.choice((3, 4, 5, chance.randrange(8)))
            data[min(place, len(data) - 1)] = chance.choice(_EDGES)
        elif way == 2:
            data = data[: chance.randrange(9)]
        elif way == 3:
            can_id ^= 1 << chance.randrange(11 if can_id < 0x800 else 29)
        else:
            data[chance.randrange(len(data) + 1) :] = b"\xff" * (8 - len(data) // 2)
            data = data[:8]
    return can_id, data


def check(reading: Reading, frame: can.Message | None) -> None:
    """Raise :class:`ViolationError` for a reading that its bytes do not bear out.

    :param frame: the frame that carried it; ``None`` where only the value can be judged.
    """
    if reading.quality is not Quality.GOOD:
        if reading.number is not None or reading.range_name is not None:
            raise ViolationError(f"usable although {reading.quality}: {reading}")
        return
    if isinstance(reading.value, str):
        if reading.value not in ("P", "R", "N", "D"):
            raise ViolationError(f"no range: {reading}")
    else:
        low, high = _LIMITS[reading.signal]
        if reading.value is None or not low <= reading.value <= high:
            raise ViolationError(f"impossible: {reading}")
        from_uds = reading.source.startswith("uds")
        if from_uds and reading.value in {raw * SCALE + OFFSET for raw in NO_VALUE}:
            raise ViolationError(f"its bytes say that there is no value: {reading}")
    if frame is not None and reading.source.startswith("j1939"):
        _check_broadcast(reading, frame)


def _check_broadcast(reading: Reading, frame: can.Message) -> None:
    place = {"177": 5, "190": 4, "523": 3}[reading.source.split()[2]]
    top = frame.data[place]
    if top > 0xFA and not (place == 3 and top == 0xFB and reading.value == "P"):
        raise ViolationError(f"its bytes say that there is no value: {reading}, {frame}")
    if frame.is_error_frame or frame.is_remote_frame or not frame.is_extended_id or frame.is_fd:
        raise ViolationError(f"no such frame carries a value: {reading}, {frame}")


class Feed:
    """What the live path needs of a bus; keeps what it sends only to look at it."""

    def __init__(self) -> None:
        self.waiting: list[can.Message] = []

    def recv(self, timeout: float | None = None) -> can.Message | None:
        return self.waiting.pop() if self.waiting else None

    def send(self, message: can.Message, timeout: float | None = None) -> None:
        data = bytes(message.data)
        reads = (data[0], data[1]) in ((2, 0x01), (2, 0x09), (3, 0x22))
        if not reads and data[0] >> 4 != 3:  # ISO 15765-2: 3 is flow control
            raise ViolationError(f"sent: {message}")


@dataclass
class Tally:
    """What came of a run."""

    frames: int = 0
    sent: int = 0
    readings: Counter[str] = field(default_factory=Counter)


def run(count: int, seed: int) -> Tally:
    """Put frames through the passive decoders, the live path and the discovery aid.

    :raises ViolationError: for the first reading that must not be; any other error is a
        fault as well.
    """
    tally = Tally()
    passive = {"truck": FrameDecoder(TRUCK), "car": FrameDecoder(CAR)}
    feeds = Feed(), Feed()
    lives = [
        BusSource(feed, signals)  # type: ignore[arg-type] # what it needs of a bus
        for feed, signals in zip(feeds, (TRUCK, CAR), strict=True)
    ]
    survey = Survey()
    pump_every = 8
    for tally.frames, frame in enumerate(random_frames(count, seed), 1):
        t = tally.frames * 0.004
        for name, decoder in passive.items():
            for reading in decoder.decode(t, frame):
                check(reading, frame)
                tally.readings[f"{name} {reading.signal} {reading.quality}"] += 1
        survey.take_frame(t, frame)
        for feed in feeds:
            feed.waiting.insert(0, frame)
        if tally.frames % pump_every:
            continue
        for live in lives:
            for reading in live.pump(t):
                check(reading, None)
                tally.readings[f"live {reading.signal} {reading.quality}"] += 1
            if live.lost:
                raise ViolationError(live.lost)
    survey.ranking()
    tally.sent = sum(live.sent for live in lives)
    return tally
