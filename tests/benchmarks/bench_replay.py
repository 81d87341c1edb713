"""What decoding and judging a recording cost, against a bare loop over the same frames.

Prints medians over several rounds of one run, and their ratios to the bare loop; the machine is
shared and noisy, so single times mean little.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from datetime import UTC, datetime

import can

from brimline.paths import resources
from brimline.procedure import reducer
from brimline.procedure.events import CheckOpened, Origin
from brimline.signals.library import open_source
from brimline.signals.quality import QualityAssessor
from brimline.specsheet.reader import read_sheet

LOG = resources() / "recordings" / "family-car-drive.log"
SHEET = read_sheet(resources() / "sheets" / "family-car-demo.toml")
ROUNDS = 7


def bare() -> int:
    """Read every frame and look at its identifier."""
    with can.LogReader(LOG) as reader:
        return sum(message.arbitration_id == 0x7E8 for message in reader)


def decoded() -> int:
    """Decode and judge every reading."""
    assess = QualityAssessor().assess
    return sum(1 for reading in SOURCE.readings() if assess(reading))


def reduced() -> int:
    """Decode, judge and reduce every reading."""
    assess = QualityAssessor().assess
    opened = CheckOpened(
        check_id="bench", opened_at=datetime(2026, 1, 1, tzinfo=UTC), origin=Origin.REPLAY,
        sheet=SHEET, duty="normal", measured=tuple(SOURCE.declared), source="bench",
        technician="nobody", shop="nowhere", program="0", procedure=1,
    )  # fmt: skip
    state, count = reducer.open_check(opened), 0
    for reading in SOURCE.readings():
        state, _ = reducer.reduce(state, assess(reading))
        count += 1
    return count


SOURCE = open_source(LOG, SHEET.signals, sheet_id=SHEET.id)


def median_seconds(work: Callable[[], int]) -> tuple[float, int]:
    """Return the median time of a few rounds, and what was counted."""
    times, count = [], 0
    for _ in range(ROUNDS):
        start = time.perf_counter()
        count = work()
        times.append(time.perf_counter() - start)
    return statistics.median(times), count


def main() -> None:
    """Print the medians and their ratios to the bare loop."""
    base, frames = median_seconds(bare)
    print(f"bare loop over {frames} frames: {base * 1e6 / frames:.1f} µs a frame")
    for name, work in (("decoded and judged", decoded), ("reduced besides", reduced)):
        seconds, count = median_seconds(work)
        print(f"{name}: {seconds * 1e6 / count:.1f} µs a reading, {seconds / base:.2f} x the loop")


if __name__ == "__main__":
    main()
