"""Write taps and readings for ever, saying on standard output what has been acknowledged.

Run by test_crash.py in a process of its own and killed by it.
"""

from __future__ import annotations

import itertools
import sys
from pathlib import Path

from record_examples import opened, reading, tap, wall

from brimline.records.database import Database
from brimline.records.journal import Journal


def main() -> None:
    check_id = sys.argv[2]
    with Database.open(Path(sys.argv[1]), writer=True) as database:
        journal = Journal(database)
        journal.begin(opened(check_id), wall(0))
        for n in itertools.count(1):
            is_tap = n % 3 == 0
            journal.append(tap(n) if is_tap else reading(n), wall(n))
            if is_tap:
                sys.stdout.write(f"{n}\n")
                sys.stdout.flush()


main()
