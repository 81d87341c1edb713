"""Looking at a database file without working on it: what it holds, and whether it is sound."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from brimline.errors import DamagedError, StoreError
from brimline.records import migrate
from brimline.records.database import is_written, writer_mark
from brimline.records.engine import (
    faults_of,
    interruptible,
    plain_connection,
    size_of,
    still_connection,
)
from brimline.records.failures import plain_words, printable, refusal
from brimline.records.watch import UNWATCHED, Watch
from brimline.translation import counted, marked, tr


@dataclass(frozen=True)
class Contents:
    """What a database holds.

    :param revision: of its tables.
    :param newest: number of its newest record, 0 where it has none; numbers have no gap.
    :param newest_at: when that was opened, UTC.
    """

    revision: str
    newest: int
    newest_at: datetime | None

    @property
    def words(self) -> str:
        """What it holds, for people: “412 records, the newest of 2031-05-06”."""
        if self.newest_at is None:
            return tr("no records")
        return counted(
            self.newest,
            marked("{count:,} record, the newest of {day:%Y-%m-%d}"),
            marked("{count:,} records, the newest of {day:%Y-%m-%d}"),
            day=self.newest_at,
        )


def glance(path: Path) -> Contents:
    """Return what a copy of a database holds, without judging whether all of it is sound.

    Nothing is changed, and the log of one that was moved aside is not read.

    :raises StoreError: it cannot be read, or is no database of this program, in one sentence.
    """
    with _own_sentence(path, path), closing(still_connection(path)) as connection:
        found = contents_of(connection, path)
        if path.stat().st_size < size_of(connection):  # SQLite reads the rest of a page as zeros
            raise DamagedError(tr("{path} is damaged", path=path), detail="shorter than it says")
        return found


def examine(path: Path, watch: Watch = UNWATCHED, *, named: Path | None = None) -> Contents:
    """Return what a copy of a database holds once every page of it is known to be sound.

    :param named: the file that people know it by, where this is a copy of that.
    :raises StoreError: as :func:`readable`, or it is damaged.
    :raises GivenUpError: it was given up.
    """
    named = named or path
    with _own_sentence(path, named), closing(connection_to(path)) as connection:
        found = contents_of(connection, named)
        faults = sound(connection, watch, thorough=True)
    if faults:
        raise StoreError(
            tr("{named} is damaged; take another copy.", named=named), detail="; ".join(faults)
        )
    return found


def readable(path: Path) -> Contents:
    """Return what a copy of a database holds, if this program can read it at all.

    :raises StoreError: as :func:`glance`, or a newer program wrote it.
    """
    found = glance(path)
    if not migrate.is_known(found.revision):
        raise StoreError(
            tr("{path} was written by a newer Brimline; update this one first.", path=path),
            detail=f"revision {found.revision}",
        )
    return found


def is_doubtful(database: Path) -> bool:
    """Return whether a writer ended without closing the database, and nobody looked since."""
    return writer_mark(database).exists() and not is_written(database)


def look_through(database: Path, watch: Watch = UNWATCHED) -> None:
    """Look through the whole database after an unclean end; it takes as long as reading it.

    The mark that the writer left behind goes once the database is known to be sound. What SQLite
    promises after a loss of power, it promises for disks that have written what they say that they
    have; not all do.

    :raises DamagedError: it is damaged.
    :raises StoreError: it cannot be read.
    :raises GivenUpError: it was given up; the mark stays.
    """
    mark = writer_mark(database)
    with plain_words(database), closing(plain_connection(database)) as connection:
        faults = sound(connection, watch, thorough=False)
    if faults:
        raise refusal(sqlite3.SQLITE_CORRUPT, database, "; ".join(faults))
    mark.unlink(missing_ok=True)


def sound(connection: sqlite3.Connection, watch: Watch, *, thorough: bool) -> tuple[str, ...]:
    """Return what SQLite finds wrong with a whole database; takes long where it is large.

    :raises sqlite3.Error: it is worse than that.
    :raises GivenUpError: it was given up.
    """
    doing = tr("checking every page")
    watch.step(doing)
    try:
        with interruptible(connection, watch):
            return faults_of(connection, thorough=thorough)
    except sqlite3.OperationalError:
        watch.step(doing)  # it may have been interrupted by ourselves
        raise


def connection_to(path: Path) -> sqlite3.Connection:
    """Open a copy for reading: one that lies still, or one that was moved aside with its log.

    :raises sqlite3.Error: it cannot be opened.
    """
    log = path.with_name(path.name + "-wal")
    return plain_connection(path) if log.exists() else still_connection(path)


def contents_of(connection: sqlite3.Connection, path: Path) -> Contents:
    """Return what the database holds that a connection sees.

    :raises StoreError: it is no database of this program, or damaged.
    :raises sqlite3.Error: it cannot be read.
    """
    names = {name for (name,) in connection.execute("SELECT name FROM sqlite_master")}
    revision = None
    if {"alembic_version", "checks"} <= names:
        (revision,) = connection.execute("SELECT max(version_num) FROM alembic_version").fetchone()
    if revision is None:
        raise StoreError(
            tr("{path} is no Brimline database; take another copy.", path=path),
            detail=f"has {sorted(names)}",
        )
    newest = connection.execute(
        "SELECT number, opened_at FROM checks ORDER BY number DESC LIMIT 1"
    ).fetchone()
    if newest is None:
        return Contents(str(revision), 0, None)
    try:
        return Contents(str(revision), int(newest[0]), datetime.fromisoformat(newest[1]))
    except (TypeError, ValueError) as error:
        raise DamagedError(tr("{path} is damaged", path=path), detail=repr(error)) from error


@contextmanager
def _own_sentence(path: Path, named: Path) -> Iterator[None]:
    """Say of a copy what is wrong with it; the sentences for the database itself do not fit."""
    try:
        if not path.is_file():
            raise StoreError(tr("There is no file {named}.", named=printable(str(named))))
        yield
    except DamagedError as error:
        raise StoreError(
            tr("{named} is damaged; take another copy.", named=named), detail=error.detail
        ) from error
    except sqlite3.Error as error:
        raise StoreError(
            tr("{named} is damaged or no database; take another copy.", named=named),
            detail=repr(error),
        ) from error
    except OSError as error:
        raise StoreError(
            tr("{named} cannot be read: {why}.", named=named, why=error.strerror or error),
            detail=repr(error),
        ) from error
