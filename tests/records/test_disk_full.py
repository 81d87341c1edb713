"""A disk that is really full: the system itself refuses to let the database's files grow."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from record_examples import opened, outcome, reading, tap, wall

from brimline.errors import StoreError
from brimline.procedure.events import Event
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.records.repository import Repository

resource = pytest.importorskip("resource", reason="limits of file size are those of POSIX here")


@contextmanager
def no_file_grows_beyond(size: int) -> Iterator[None]:
    """The same refusal that a full disk gives, for every file of this process."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)


def log_of(path: Path) -> Path:
    return path.with_name(path.name + "-wal")


def written_until_refused(journal: Journal, entries: list[Event]) -> None:
    for n in range(1, 400):
        entries.append(tap(n) if n % 2 else reading(n))
        journal.append(entries[-1], wall(n))
    assert journal.error is not None


def test_a_check_goes_on_without_a_disk_and_is_written_later(database: Database) -> None:
    journal = Journal(database)
    entries: list[Event] = [opened("full")]
    journal.begin(entries[0], wall(0))  # type: ignore[arg-type]
    with no_file_grows_beyond(log_of(database.path).stat().st_size + 64 * 1024):
        written_until_refused(journal, entries)
        assert journal.error is not None
        assert "The disk with the database" in journal.error.sentence
        assert 0 < journal.unsaved < len(entries)
        with pytest.raises(StoreError, match="The disk with the database"):
            journal.flush()
        # What had been acknowledged before is there, and the database is sound.
        with closing(sqlite3.connect(database.path)) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        on_disk = list(Repository(database).load("full").events)
        assert on_disk == entries[: len(on_disk)]
        assert len(on_disk) + journal.unsaved == len(entries)
    journal.flush()
    assert (journal.error, journal.unsaved) == (None, 0)
    assert list(Repository(database).load("full").events) == entries


def test_a_check_that_cannot_be_sealed_stays_open_and_whole(database: Database) -> None:
    journal = Journal(database)
    entries: list[Event] = [opened("full")]
    journal.begin(entries[0], wall(0))  # type: ignore[arg-type]
    for n in range(1, 40):
        entries.append(reading(n))
        journal.append(entries[-1], wall(n))
    journal.flush()
    repository = Repository(database)
    with (
        no_file_grows_beyond(log_of(database.path).stat().st_size),
        pytest.raises(StoreError, match="The disk with the database"),
    ):
        repository.finish("full", outcome(), wall(50))
    assert [header.check_id for header in repository.open_checks()] == ["full"]
    assert list(repository.load("full").events) == entries
    repository.finish("full", outcome(), wall(60))
    assert repository.is_intact("full")
