"""How this program talks to SQLite: the one module whose SQL no other database would take.

Python's driver opens transactions by itself, late and not for every statement. That is switched
off; ``BEGIN`` is sent where SQLAlchemy begins, so that a migration is one real transaction.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path, PurePath

from sqlalchemy import URL, Connection, Engine, Pool, create_engine, event

from brimline.records.keys import free_text
from brimline.records.watch import Watch

BUSY_MS = 2000
"""How long a statement waits for another program's lock, in ms. From experience, no source."""

_IMMEDIATE = "brimline_immediate"
_MOST_FAULTS = 10
_OFTEN = 20_000  # steps of SQLite's machine between two looks at whether to go on: some ms

_SHARED = (f"PRAGMA busy_timeout={BUSY_MS}",)
WRITER = (
    *_SHARED,
    "PRAGMA journal_mode=WAL",  # readers go on while a check is being written
    "PRAGMA synchronous=FULL",  # a commit is on the disk before it returns
    "PRAGMA foreign_keys=ON",
)
READER = (*_SHARED, "PRAGMA foreign_keys=ON", "PRAGMA query_only=ON")
# A table that is recreated takes its children's rows along while foreign keys are watched, and
# the switch does nothing inside a transaction: it is thrown here, before BEGIN.
# The same recreation renames the new table; SQLite would refuse, because the other table's triggers
# ask for one of that name in the meantime, unless it is told not to look into them.
MIGRATION = (*WRITER[:-1], "PRAGMA foreign_keys=OFF", "PRAGMA legacy_alter_table=ON")


def sqlite_engine(
    path: Path, pragmas: tuple[str, ...], *, pool: type[Pool] | None = None
) -> Engine:
    """Make an engine whose every connection has had the pragmas."""
    url = URL.create("sqlite", database=str(path))
    engine = create_engine(url, poolclass=pool)

    @event.listens_for(engine, "connect")
    def prepare(connection: sqlite3.Connection, _record: object) -> None:
        connection.isolation_level = None
        # SQLite's own knows no letters but those of ASCII.
        connection.create_function("lower", 1, _lower, deterministic=True)
        for pragma in pragmas:
            connection.execute(pragma)

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        immediate = connection.get_execution_options().get(_IMMEDIATE, False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if immediate else "BEGIN")

    return engine


def _lower(value: str | bytes | float | None) -> str | bytes | float | None:
    return free_text(value) if isinstance(value, str) else value


def for_writing(engine: Engine) -> Engine:
    """Return the same engine with transactions that take the write lock at once.

    A transaction that reads first and writes later could otherwise find itself overtaken.
    """
    return engine.execution_options(**{_IMMEDIATE: True})


def plain_connection(path: Path) -> sqlite3.Connection:
    """Open an existing file without SQLAlchemy; it is never created.

    :raises sqlite3.Error: the file cannot be opened.
    """
    return _connect(path, "mode=rw")


def still_connection(path: Path) -> sqlite3.Connection:
    """Open a file that nobody writes to, for reading, without a lock and without a trace beside it.

    A share may know no locks, and a disk may be write-protected. Frames of a write-ahead log that
    lies beside the file are not seen.

    :raises sqlite3.Error: the file cannot be opened.
    """
    return _connect(path, "immutable=1")


def target_connection(path: Path) -> sqlite3.Connection:
    """Open a new file for a whole copy of a database; it is worth nothing before that is whole.

    Hence no locks, which a share may not know, no journal, and nothing is forced onto the disk:
    whoever copied does that once, at the end.

    :raises sqlite3.Error: the file cannot be made.
    """
    connection = _connect(path, "nolock=1")
    for pragma in ("PRAGMA journal_mode=OFF", "PRAGMA synchronous=OFF"):
        connection.execute(pragma)
    return connection


@contextmanager
def snapshot(connection: sqlite3.Connection) -> Iterator[None]:
    """Let a connection see one state of the database, whatever others write meanwhile."""
    connection.execute("BEGIN")
    try:
        connection.execute("SELECT count(*) FROM sqlite_master").fetchone()  # begins here
        yield
    finally:
        if connection.in_transaction:  # a grave error has ended it already
            connection.execute("ROLLBACK")


@contextmanager
def interruptible(connection: sqlite3.Connection, watch: Watch) -> Iterator[None]:
    """Let a connection's long statements end with an error as soon as they are to be given up."""
    connection.set_progress_handler(watch.stop, _OFTEN)
    try:
        yield
    finally:
        connection.set_progress_handler(None, 0)


def size_of(connection: sqlite3.Connection) -> int:
    """Return the bytes that a whole copy takes."""
    (pages,) = connection.execute("PRAGMA page_count").fetchone()
    (bytes_,) = connection.execute("PRAGMA page_size").fetchone()
    return int(pages) * int(bytes_)


def faults_of(connection: sqlite3.Connection, *, thorough: bool = True) -> tuple[str, ...]:
    """Return what SQLite finds wrong with a whole database: pages, indexes, rows without parents.

    :param thorough: without it indexes are not compared with their tables, nor rows with their
        parents; it takes about half as long.
    :raises sqlite3.Error: it is worse than that.
    """
    check = "integrity_check" if thorough else "quick_check"
    found = [str(text) for (text,) in connection.execute(f"PRAGMA {check}({_MOST_FAULTS})")]
    faults = [] if found == ["ok"] else found
    if thorough:
        orphans = connection.execute("PRAGMA foreign_key_check").fetchmany(_MOST_FAULTS)
        faults += [f"row {row} of {table} has no parent in {of}" for table, row, of, _ in orphans]
    return tuple(faults)


def _connect(path: Path, how: str) -> sqlite3.Connection:
    return sqlite3.connect(
        f"{sqlite_uri(path)}?{how}", uri=True, timeout=BUSY_MS / 1000, isolation_level=None
    )


def sqlite_uri(path: PurePath) -> str:
    """Return the address of a file as SQLite takes it.

    A share's would name the server where SQLite allows no name (https://www.sqlite.org/uri.html,
    section 3.1): there it goes into the path.
    """
    uri = path.as_uri()
    return uri if uri.startswith("file:///") else f"file://{uri.removeprefix('file:')}"
