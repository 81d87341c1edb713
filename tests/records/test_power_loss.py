"""Power lost in mid-write: the log cut anywhere still opens to a beginning of what was written.

SQLite's log is cut at the end of each frame and at many bytes between, as a disk may leave it
(file format: https://www.sqlite.org/fileformat.html, section 4). What then opens must be sound, and
its journal exactly the first so many entries, ending where a transaction ended.
"""

from __future__ import annotations

import random
import shutil
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing
from pathlib import Path

import pytest
from record_examples import opened, outcome, reading, tap, wall

from brimline.procedure.events import Event
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.records.repository import Repository

WAL_HEADER, FRAME_HEADER = 32, 24
OTHER_CUTS = 150


class Taken:
    """A database as the power left it: the file and its log, copied while it was open."""

    def __init__(self, path: Path, kept: Path) -> None:
        self.database = kept / "taken.sqlite"
        shutil.copyfile(path, self.database)
        self.log = path.with_name(path.name + "-wal").read_bytes()

    def page_size(self) -> int:
        return int.from_bytes(self.log[8:12], "big")

    def frame_ends(self) -> Iterator[int]:
        step = FRAME_HEADER + self.page_size()
        yield from range(WAL_HEADER, len(self.log) + 1, step)

    def cut_at(self, length: int, into: Path) -> Path:
        """Return a copy of the database with so many bytes of the log."""
        path = into / "cut.sqlite"
        for old in into.glob("cut.sqlite*"):
            old.unlink()
        shutil.copyfile(self.database, path)
        path.with_name(path.name + "-wal").write_bytes(self.log[:length])
        return path


def write(database: Database) -> tuple[list[Event], set[int]]:
    """Write entries as a check does; return them, and how many there were after each commit."""
    journal = Journal(database)
    entries: list[Event] = [opened("power")]
    journal.begin(entries[0], wall(0))  # type: ignore[arg-type]
    after = {0, 1}
    for n in range(1, 60):
        entries.append(tap(n) if n % 4 == 0 else reading(n))
        journal.append(entries[-1], wall(n))
        if journal.unsaved == 0:
            after.add(len(entries))
    journal.flush()
    after.add(len(entries))
    return entries, after


@pytest.fixture
def taken(database: Database, tmp_path: Path) -> tuple[Taken, list[Event], set[int]]:
    with closing(sqlite3.connect(database.path, isolation_level=None)) as connection:
        # From here on everything is in the log alone.
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        connection.execute("PRAGMA wal_autocheckpoint=0")
        entries, after = write(database)
        return Taken(database.path, tmp_path), entries, after


def cuts(taken: Taken) -> Sequence[int]:
    chance = random.Random(20310506)
    between = (chance.randrange(len(taken.log)) for _ in range(OTHER_CUTS))
    return sorted({0, *taken.frame_ends(), *between})


def found(path: Path) -> list[Event]:
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
    with Database.open(path, writer=True) as database:
        repository = Repository(database)
        if not repository.open_checks():
            return []
        return list(repository.load("power").events)


def test_a_log_cut_anywhere_opens_to_a_beginning_of_what_was_written(
    taken: tuple[Taken, list[Event], set[int]], tmp_path: Path
) -> None:
    at_power_loss, entries, after = taken
    ends = list(at_power_loss.frame_ends())
    assert ends[-1] == len(at_power_loss.log)
    lengths = []
    for cut in cuts(at_power_loss):
        events = found(at_power_loss.cut_at(cut, tmp_path))
        assert events == entries[: len(events)]
        assert len(events) in after
        lengths.append(len(events))
    assert lengths == sorted(lengths)  # a longer log never holds less
    assert (lengths[0], lengths[-1]) == (0, len(entries))
    assert len(set(lengths)) > 10


def test_bytes_that_the_disk_wrote_wrongly_end_the_log_there(
    taken: tuple[Taken, list[Event], set[int]], tmp_path: Path
) -> None:
    at_power_loss, entries, after = taken
    chance = random.Random(7)
    for _ in range(60):
        path = at_power_loss.cut_at(len(at_power_loss.log), tmp_path)
        log = bytearray(at_power_loss.log)
        place = chance.randrange(WAL_HEADER, len(log))
        log[place] ^= 1 << chance.randrange(8)
        path.with_name(path.name + "-wal").write_bytes(log)
        events = found(path)
        assert events == entries[: len(events)]
        assert len(events) in after
        frame = (place - WAL_HEADER) // (FRAME_HEADER + at_power_loss.page_size())
        untouched = at_power_loss.cut_at(list(at_power_loss.frame_ends())[frame], tmp_path)
        assert len(events) >= len(found(untouched))


def test_a_finishing_that_was_cut_off_is_all_or_nothing(database: Database, tmp_path: Path) -> None:
    with closing(sqlite3.connect(database.path, isolation_level=None)) as connection:
        entries, _ = write(database)
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        Repository(database).finish("power", outcome(), wall(100))
        taken = Taken(database.path, tmp_path)
    states = set()
    for cut in cuts(taken):
        path = taken.cut_at(cut, tmp_path)
        with closing(sqlite3.connect(path)) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        with Database.open(path, writer=True) as again:
            repository = Repository(again)
            record = repository.load("power")
            assert list(record.events) == entries
            finished = record.header.finished_at is not None
            assert not finished or repository.is_intact("power")
            states.add(finished)
    assert states == {False, True}
