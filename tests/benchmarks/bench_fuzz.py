"""The long run of the fuzz test: ``start.py bench fuzz -- --count 1000000``.

The suite runs the same with a few thousand frames (``tests/signals/test_fuzz.py``).
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from signal_fuzz import run

SHARE = 50_000  # frames behind one seed, so that a fault is found again soon


def main() -> int:
    """Run in shares with seeds of their own; a fault ends it with the seed that shows it."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--count", type=int, default=100_000, help="frames in all")
    parser.add_argument("--seed", type=int, default=1, help="of the first share")
    chosen = parser.parse_args()
    begin, done, readings, sent = time.perf_counter(), 0, 0, 0
    good: dict[str, int] = {}
    for share, start in enumerate(range(0, chosen.count, SHARE)):
        seed = chosen.seed + share
        try:
            tally = run(min(SHARE, chosen.count - start), seed)
        except Exception:  # whatever it is, the seed that shows it is told; then it goes its way
            print(f"found with --seed {seed} --count {SHARE}")
            raise
        done, sent = done + tally.frames, sent + tally.sent
        readings += tally.readings.total()
        for name, number in tally.readings.items():
            good[name] = good.get(name, 0) + number
    seconds = time.perf_counter() - begin
    print(f"{done:,} frames in {seconds:.0f} s: {readings:,} readings, {sent:,} frames sent; sound")
    for name, number in sorted(good.items()):
        print(f"  {name}: {number:,}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
