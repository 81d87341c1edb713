"""How fast the chain of seals is looked at, and in how much memory.

Checks of half an hour at four signals and 2 readings a second, one in ten of them amended. A few
are packed and finished as a shop's are; the others are copies of their rows under other numbers,
each sealed behind the one before. A tenth of them is verified, then all of them; the memory held
meanwhile is bounded, however many there are.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
import tracemalloc
from datetime import timedelta
from pathlib import Path

from bench_traces import CASES, OPENED_AT, drive, finish, lines
from sqlalchemy import insert, literal, select
from sqlalchemy.orm import Session

from brimline.records.amendments import amend
from brimline.records.chain import verify
from brimline.records.chain_tip import next_link
from brimline.records.database import Database
from brimline.records.model import Amendable
from brimline.records.schema import CheckRow, JournalRow, TraceRow
from brimline.records.stored import seal_of
from brimline.records.tail import note_restored

DRIVES = 3
MOST_HELD = 3_000_000
"""Bytes: a few hundred rows of a chain and one whole record."""


def copied(session: Session, number: int) -> None:
    """Put a copy of one of the first records behind the end of the chain."""
    origin = session.get_one(CheckRow, f"{number % DRIVES:032x}")
    check_id = f"{number:032x}"
    names = [column.key for column in CheckRow.__table__.columns]
    fields = {name: getattr(origin, name) for name in names}
    row = CheckRow(**fields | {"check_id": check_id, "number": number + 1})
    row.finished_at = row.seal_number = None  # the file guards what is finished
    session.add(row)
    session.flush()
    for table in (JournalRow, TraceRow):
        others = [column for column in table.__table__.columns if column.key != "check_id"]
        rows = select(literal(check_id), *others).where(table.check_id == origin.check_id)
        into = ["check_id", *(column.key for column in others)]
        session.execute(insert(table).from_select(into, rows))
    row.finished_at = origin.finished_at
    row.previous_seal, row.seal_number = next_link(session, row.bay)
    row.seal = seal_of(session, row)
    session.flush()


def fill(path: Path, first: int, last: int) -> None:
    """Fill a database with records up to a number."""
    with Database.open(path, writer=True) as database:
        if first == 0:
            drives = [lines(drive(CASES["live"], seed)) for seed in range(DRIVES)]
            finish(database, drives, range(DRIVES))
        with database.writing() as session:
            for number in range(max(first, DRIVES), last):
                copied(session, number)
        note_restored(database, at=OPENED_AT + timedelta(days=1))
        for number in range(first, last, 10):
            amend(
                database, f"{number:032x}", field=Amendable.NOTE, value="Rang again.",
                author="M. Reed", reason="for the next time", at=OPENED_AT + timedelta(days=1),
            )  # fmt: skip


def look(path: Path, expected: int) -> int:
    """Print how long verifying takes; returns the most bytes that it held."""
    with Database.open(path, writer=False) as database:
        began, used = time.perf_counter(), time.process_time()
        found = verify(database)
        wall, cpu = time.perf_counter() - began, time.process_time() - used
        assert found.intact, found.first
        assert found.checks == expected
        tracemalloc.start()
        verify(database)
        _, most = tracemalloc.get_traced_memory()
        tracemalloc.stop()
    print(
        f"  {found.checks:,} checks and {found.amendments:,} amendments, "
        f"{path.stat().st_size / 1e6:,.0f} MB: {wall:.1f} s gone by, {cpu:.1f} s of CPU, "
        f"{found.checks / cpu:,.0f} checks a second of CPU; at most {most / 1e6:.1f} MB held"
    )
    return most


def main() -> int:
    """Print all figures; return 1 if too much memory was held."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--count", type=int, default=2000, help="checks, at least 100")
    count = max(100, parser.parse_args().count)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "brimline.sqlite"
        fill(path, 0, count // 10)
        look(path, count // 10)
        fill(path, count // 10, count)
        held = look(path, count)
    bounded = held <= MOST_HELD
    print("memory is bounded" if bounded else f"BEYOND the {MOST_HELD / 1e6:g} MB allowed")
    return 0 if bounded else 1


if __name__ == "__main__":
    sys.exit(main())
