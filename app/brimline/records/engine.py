"""How this program talks to SQLite: the one module whose SQL no other database would take.

Python's driver opens transactions by itself, late and not for every statement. That is switched
off; ``BEGIN`` is sent where SQLAlchemy begins, so that a migration is one real transaction.
"""

from __future__ import annotations

import sqlite3
from pathlib import Path

from sqlalchemy import URL, Connection, Engine, Pool, create_engine, event

BUSY_MS = 2000
"""How long a statement waits for another program's lock, in ms. From experience, no source."""

_IMMEDIATE = "brimline_immediate"

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
        for pragma in pragmas:
            connection.execute(pragma)

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        immediate = connection.get_execution_options().get(_IMMEDIATE, False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if immediate else "BEGIN")

    return engine


def for_writing(engine: Engine) -> Engine:
    """Return the same engine with transactions that take the write lock at once.

    A transaction that reads first and writes later could otherwise find itself overtaken.
    """
    return engine.execution_options(**{_IMMEDIATE: True})


def plain_connection(path: Path) -> sqlite3.Connection:
    """Open an existing file without SQLAlchemy; it is never created.

    :raises sqlite3.Error: the file cannot be opened.
    """
    return sqlite3.connect(
        f"{path.as_uri()}?mode=rw", uri=True, timeout=BUSY_MS / 1000, isolation_level=None
    )
