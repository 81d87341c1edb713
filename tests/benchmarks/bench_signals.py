"""What a full bus costs: decoding a saturated 500 kbit/s bus, beside a loop that looks at ids.

A J1939 bus of many groups and senders at 4,000 frames a second is written to a temporary log. Then,
in turns and several times over, the same file goes through

* a bare ``for message in can.LogReader(...)`` that looks its identifier up in a set,
* a replay: what a check takes readings from,
* the live path: ``BusSource.pump`` ten times a second, on a bus that hands over the log's frames.

Medians of CPU time and their ratios to the bare loop are printed, all from one run, because the
machine may be shared and noisy. At most 1.5 times the loop is allowed.

Then a check's length of eight hours goes through the live path with a clock of its own, and memory
is compared after the first hour and at the end. The bus carries every mapped frame and a hundredth
of the others, with a saturated second every ten minutes; ``--full`` saturates it throughout, which
takes some minutes.
"""

from __future__ import annotations

import argparse
import itertools
import random
import statistics
import sys
import tempfile
import time
import tracemalloc
from collections.abc import Callable, Iterator
from pathlib import Path

import can

from brimline.signals.live import BusSource
from brimline.signals.quality import QualityAssessor
from brimline.signals.replay import RecordingSource
from brimline.specsheet.signal_map import J1939Signal, ObdSignal, SignalMap

FRAMES_A_SECOND = 4000
PUMPS_A_SECOND = 10
SECONDS = 10
ROUNDS = 5
MOST = 1.5
HOURS = 8
MOST_GROWTH = 64 * 1024  # bytes: far below one byte a reading over seven hours

TRUCK = SignalMap(
    fluid_temperature=J1939Signal(kind="j1939", spn=177, source_address=0x03),
    engine_speed=J1939Signal(kind="j1939", spn=190, source_address=0x00),
    range=J1939Signal(kind="j1939", spn=523, source_address=0x03),
    vehicle_speed=ObdSignal(kind="obd", pid=0x0D, response_id=0x18DAF100),
)
MAPPED_IDS = {0x18FEF803, 0x0CF00400, 0x18F00503, 0x18DAF100}

# Identifier and period in ms of what trucks send, from memory; then what fills the bus up: makers'
# own groups (FFxx) of many senders.
_KNOWN = [
    (0x0CF00400, 10), (0x0CF00300, 50), (0x18F00503, 100), (0x0CF00203, 10), (0x0C000003, 10),
    (0x18F0010B, 100), (0x18FEBF0B, 100), (0x0CFE6E0B, 20), (0x18F0090B, 10), (0x18FEF100, 100),
    (0x18FEF117, 100), (0x18FEF127, 100), (0x18F00010, 100), (0x18F0000F, 100), (0x18FEEE00, 1000),
    (0x18FEEF00, 500), (0x18FEF200, 100), (0x18FEF500, 1000), (0x18FEF600, 500), (0x18FEF700, 1000),
    (0x18FEF803, 1000), (0x18FEF831, 1000), (0x18FEDF00, 250), (0x18FEE500, 1000),
    (0x18FEE900, 1000), (0x18FEC117, 1000), (0x18FEE617, 1000), (0x18FECA03, 1000),
    (0x18FECA00, 1000), (0x18EAFFF9, 500), (0x18DA00F1, 500), (0x18DAF100, 500),
]  # fmt: skip
_SENDERS = (0x00, 0x03, 0x0B, 0x0F, 0x10, 0x17, 0x21, 0x27, 0x31, 0x3D, 0x4A, 0xE8)


def traffic() -> list[tuple[float, int]]:
    """Return one second of a full bus: time in s and identifier, in order of time."""
    slots = [(each * period / 1000, can_id) for can_id, period in _KNOWN
             for each in range(1000 // period)]  # fmt: skip
    fillers = itertools.product(range(0xFF00, 0xFF80), _SENDERS)
    while len(slots) < FRAMES_A_SECOND:
        group, sender = next(fillers)
        can_id = 0x18000000 | group << 8 | sender
        slots += [(each * 0.02, can_id) for each in range(50)]
    return sorted(slots)[:FRAMES_A_SECOND]


def frames(seconds: int) -> Iterator[can.Message]:
    """Yield a warm-up on a full bus, one frame every quarter of a millisecond."""
    chance = random.Random(1)
    plan = traffic()
    for second in range(seconds):
        fluid = round((30 + second / 60 + 273) * 32).to_bytes(2, "little")
        fixed = {
            0x18FEF803: b"\xff" * 4 + fluid + b"\xff" * 2,
            0x18FEF831: b"\xff" * 8,
            0x0CF00400: b"\xff" * 3 + (650 * 8).to_bytes(2, "little") + b"\xff" * 3,
            0x18F00503: bytes.fromhex("fbe803fb50205020"),
            0x18DAF100: bytes.fromhex("03410d0055555555"),
        }
        for place, (_, can_id) in enumerate(plan):
            yield can.Message(
                timestamp=second + place / FRAMES_A_SECOND,
                arbitration_id=can_id,
                is_extended_id=True,
                data=fixed.get(can_id) or chance.randbytes(8),
            )


class Feed:
    """As much of a bus as the live path asks for: frames come until the next pause."""

    def __init__(self, source: Iterator[can.Message]) -> None:
        self._source = source
        self._waiting: Iterator[can.Message] = iter(())
        self.sent = 0

    def release(self, count: int) -> None:
        self._waiting = itertools.islice(self._source, count)

    def recv(self, timeout: float | None = None) -> can.Message | None:
        return next(self._waiting, None)

    def send(self, _message: can.Message, timeout: float | None = None) -> None:
        self.sent += 1


def bare(log: Path) -> int:
    """Read every frame and look its identifier up."""
    with can.LogReader(log) as reader:
        return sum(1 for message in reader if message.arbitration_id in MAPPED_IDS)


def live(log: Path) -> int:
    """Let the live path take the log's frames, ten times a second of its time."""
    count = 0
    with can.LogReader(log) as reader:
        feed = Feed(iter(reader))
        source = BusSource(feed, TRUCK)  # type: ignore[arg-type] # what it needs of a bus
        for tick in range(SECONDS * PUMPS_A_SECOND):
            feed.release(FRAMES_A_SECOND // PUMPS_A_SECOND)
            count += len(source.pump(tick / PUMPS_A_SECOND))
    return count


def compare(log: Path) -> bool:
    """Print medians and ratios for one log; say whether all are within what is allowed."""
    source = RecordingSource(log, TRUCK)
    works: dict[str, Callable[[], int]] = {
        "bare loop": lambda: bare(log),
        "replay": lambda: sum(1 for _ in source.readings()),
        "live": lambda: live(log),
    }
    times: dict[str, list[float]] = {name: [] for name in works}
    for _ in range(ROUNDS):
        for name, work in works.items():
            start = time.process_time()
            assert work()
            times[name].append(time.process_time() - start)
    number = SECONDS * FRAMES_A_SECOND
    base = statistics.median(times["bare loop"])
    sound = True
    for name, each in times.items():
        middle = statistics.median(each)
        ratio = statistics.median(a / b for a, b in zip(each, times["bare loop"], strict=True))
        print(
            f"{log.suffix} {name}: {middle * 1e6 / number:.2f} µs of CPU a frame, "
            f"{middle / base:.2f} x the loop (median of the rounds' ratios {ratio:.2f})"
        )
        sound &= ratio <= MOST
    return sound


def long_check(*, full: bool) -> bool:
    """Feed eight hours as fast as they go; say whether memory stays as it is."""
    second = list(frames(1))
    wanted = [each for each in second if each.arbitration_id in MAPPED_IDS]
    others = [each for each in second if each.arbitration_id not in MAPPED_IDS]
    thin = second if full else sorted(wanted + others[::100], key=lambda each: each.timestamp)
    seconds = [second if at % 600 == 0 else thin for at in range(HOURS * 3600)]
    begin = time.process_time()
    tracemalloc.start()
    feed = Feed(itertools.chain.from_iterable(seconds))
    source = BusSource(feed, TRUCK)  # type: ignore[arg-type] # what it needs of a bus
    assess = QualityAssessor().assess
    count = after_an_hour = 0
    for at, now in enumerate(seconds):
        for tick in range(PUMPS_A_SECOND):
            share = len(now) // PUMPS_A_SECOND
            feed.release(share if tick else len(now) - share * (PUMPS_A_SECOND - 1))
            for reading in source.pump(at + tick / PUMPS_A_SECOND):
                assess(reading)
                count += 1
        if at == 3600:
            after_an_hour, _ = tracemalloc.get_traced_memory()
    at_the_end, _ = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    grown, cpu = at_the_end - after_an_hour, time.process_time() - begin
    number = sum(map(len, seconds))
    print(
        f"{HOURS} h: {number:,} frames, {count:,} readings in {cpu:.0f} s of CPU; memory "
        f"{after_an_hour / 1024:.0f} KiB after an hour, {grown / 1024:+.1f} KiB since"
    )
    return grown <= MOST_GROWTH


def main() -> int:
    """Print all figures; return 1 if one is beyond what is allowed."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--full", action="store_true", help="eight hours of a full bus")
    full = parser.parse_args().full
    sound = True
    with tempfile.TemporaryDirectory() as folder:
        for suffix, writer in ((".log", can.CanutilsLogWriter), (".blf", can.BLFWriter)):
            log = Path(folder) / f"full{suffix}"
            with writer(log) as file:
                for message in frames(SECONDS):
                    file.on_message_received(message)
            sound &= compare(log)
    sound &= long_check(full=full)
    print("within bounds" if sound else f"BEYOND what is allowed ({MOST} x, {MOST_GROWTH} bytes)")
    return 0 if sound else 1


if __name__ == "__main__":
    sys.exit(main())
