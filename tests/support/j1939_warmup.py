"""A synthetic J1939 warm-up for the tests; it is invented, and shipped nowhere.

Two masses: the fluid, heated by the idling converter, and the case around it, which loses heat to
the air. Over that lies the jitter that recordings of real trucks showed: standard deviation
0.2–0.4 °C, single steps up to 1.03 °C even at idle. Once a second the transmission (source address
03) broadcasts temperature and range, the engine (00) its speed, and another sender (31) the same
parameter group with every byte FF, as seen in recordings of trucks.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import can

TRANSMISSION, ENGINE, OTHER = 0x03, 0x00, 0x31
TRF1, EEC1, ETC2 = 0x18FEF800, 0x0CF00400, 0x18F00500  # identifiers without a source address

# Edge frames seen in real recordings; origin in tests/data/README.md.
BENCH_WITHOUT_SENSOR = (0x18FEF803, bytes.fromhex("FFFFFFFFDF1BFBDE"))  # −50.03 °C
TEST_TRAFFIC = (0x18FEF800, bytes.fromhex("FFFFFFFF003DFFFF"))  # 215.00 °C
OTHER_SENDER = (0x18FEF831, bytes.fromhex("FFFFFFFFFFFFFFFF"))  # not available

PARK = 0xFB  # SPN 523: 251 is park

LARGEST_STEP = 33  # raw counts of 1/32 °C: 1.03 °C
JITTER = 0.3  # °C, standard deviation


def temperatures(
    seconds: int, *, start: float = 20.0, seed: int = 1, heat: float = 4000.0
) -> list[float]:
    """Return the broadcast temperature in °C for each second, on the grid of 1/32 °C.

    :param heat: what the idling converter puts into the fluid, in W.
    """
    chance = random.Random(seed)
    fluid = case = air = start
    shown: list[float] = []
    last = round((start + 273) * 32)
    for _ in range(seconds):
        # the heat goes into 16 kJ/K of fluid; 200 W/K to 30 kJ/K of case; 30 W/K to the air
        fluid, case = (
            fluid + (heat - 200 * (fluid - case)) / 16000,
            case + (200 * (fluid - case) - 30 * (case - air)) / 30000,
        )
        raw = round((fluid + chance.gauss(0, JITTER) + 273) * 32)
        last = min(max(raw, last - LARGEST_STEP), last + LARGEST_STEP)
        shown.append(last / 32 - 273)
    return shown


def frames(
    celsius: Iterable[float],
    *,
    epoch: float = 0.0,
    gear: Callable[[int], int] = lambda _second: PARK,
) -> Iterator[can.Message]:
    """Yield the frames of a warm-up, four each second, beginning at ``epoch`` (s).

    :param gear: raw value of SPN 523 in each second.
    """
    for second, value in enumerate(celsius):
        t = epoch + second
        raw = round((value + 273) * 32)
        fluid = b"\xff" * 4 + raw.to_bytes(2, "little") + b"\xff" * 2
        speed = b"\xff" * 3 + (650 * 8).to_bytes(2, "little") + b"\xff" * 3
        yield frame(t, TRF1 | TRANSMISSION, fluid)
        yield frame(t + 0.01, *OTHER_SENDER)
        yield frame(t + 0.02, EEC1 | ENGINE, speed)
        yield frame(
            t + 0.03,
            ETC2 | TRANSMISSION,
            bytes([PARK, 0xFF, 0xFF, gear(second), 0xFF, 0xFF, 0xFF, 0xFF]),
        )


def frame(t: float, can_id: int, data: bytes) -> can.Message:
    """Return one 29-bit frame."""
    return can.Message(timestamp=t, arbitration_id=can_id, is_extended_id=True, data=data)


def write(path: Path, messages: Iterable[can.Message]) -> Path:
    """Write frames with python-can's writer for the file's suffix; return the path."""
    writer = {".log": can.CanutilsLogWriter, ".asc": can.ASCWriter, ".blf": can.BLFWriter}
    with writer[path.suffix](path) as file:
        for message in messages:
            file.on_message_received(message)
    return path
