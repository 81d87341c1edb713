"""Kill the program in mid-check, again and again, and count what is lost: nothing may be.

Run by ``start.py crash-test --count N``; the suite runs a few rounds of the same.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from contextlib import nullcontext
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from crash_play import CrashTest, Tally, launch, verified
from warm_launcher import warm_launcher

A_FOLDER = 50
"""So many rounds on one data folder, then a new one."""

MOST_LOST_S = 1.0
"""No reading that is older than that may be lost, s."""


def main() -> int:
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--count", type=int, default=100, metavar="N", help="rounds (100)")
    words.add_argument(
        "--warm", action="store_true", help="copy a warm process for each run, which is quicker"
    )
    words.add_argument("--seed", type=int, default=None, metavar="N", help="to repeat a run")
    chosen = words.parse_args()
    seed = int(time.time()) if chosen.seed is None else chosen.seed
    print(f"seed {seed}")
    total, left = Tally(), chosen.count
    while left > 0:
        rounds = min(left, A_FOLDER)
        with (
            tempfile.TemporaryDirectory(prefix="brimline-crash-") as folder,
            warm_launcher() if chosen.warm else nullcontext(launch) as launcher,
        ):
            test = CrashTest(launcher, Path(folder), seed + left)
            for _ in test.run(rounds):
                pass
            _add(total, test.tally)
            if complaint := verified(Path(folder)):
                total.faults.append(f"verify: {complaint}")
        left -= rounds
        print(total.sentence(), flush=True)
    for fault in total.faults:
        print(f"FAULT {fault}")
    sound = not total.faults and not total.events_lost and total.oldest_lost_s <= MOST_LOST_S
    print("All as it must be." if sound else "NOT as it must be.")
    return 0 if sound else 1


def _add(total: Tally, more: Tally) -> None:
    for name in ("rounds", "killed", "in_mid_check", "resumed", "acknowledged", "events_lost",
                 "readings_lost"):  # fmt: skip
        setattr(total, name, getattr(total, name) + getattr(more, name))
    total.oldest_lost_s = max(total.oldest_lost_s, more.oldest_lost_s)
    total.faults += more.faults


if __name__ == "__main__":
    raise SystemExit(main())
