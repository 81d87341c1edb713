"""A clock that moves when told to, and a disk that refuses for a while."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from typing import Any

from sqlalchemy import event

from brimline.procedure.events import Event
from brimline.records.database import Database
from brimline.records.repository import Repository


class Clock:
    """A monotonic clock that moves when it is told to."""

    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now


@contextmanager
def pragma_on_each_use(database: Database, on: str, off: str) -> Iterator[None]:
    """Make SQLite itself refuse for a while."""

    def set_it(connection: Any, *_: object) -> None:
        connection.execute(on)

    event.listen(database.engine, "checkout", set_it)
    try:
        yield
    finally:
        event.remove(database.engine, "checkout", set_it)
        with database.reading() as session:
            session.connection().exec_driver_sql(off)


def disk_refuses(database: Database) -> AbstractContextManager[None]:
    return pragma_on_each_use(database, "PRAGMA query_only=ON", "PRAGMA query_only=OFF")


def disk_full(database: Database) -> AbstractContextManager[None]:
    most = 1_073_741_823
    return pragma_on_each_use(database, "PRAGMA max_page_count=1", f"PRAGMA max_page_count={most}")


def on_disk(database: Database, number: int = 1) -> list[Event]:
    return list(Repository(database).load(str(number)).events)
