"""Whole copies of a database, by SQLite's own means: a copy of the file would miss its log."""

from __future__ import annotations

import itertools
import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from brimline.records.engine import plain_connection


def back_up(path: Path, *, before: str) -> Path:
    """Copy a database to ``NAME-before-REVISION-STAMP.sqlite`` beside it and return that path.

    The stamp is when the database was last written, UTC: it says what state the copy holds.

    :raises sqlite3.Error: it cannot be read or the copy cannot be written.
    :raises OSError: likewise.
    """
    copy = _free_name(path, f"{path.stem}-before-{before}-{_last_written(path)}")
    try:
        with closing(plain_connection(path)) as source, closing(sqlite3.connect(copy)) as target:
            source.backup(target)
    except BaseException:
        copy.unlink(missing_ok=True)  # half a copy is worse than none
        raise
    return copy


def restore(copy: Path, path: Path) -> None:
    """Put the content of a copy back into the database, in one transaction of SQLite.

    :raises sqlite3.Error: the copy cannot be read or the database not written.
    """
    with closing(plain_connection(copy)) as source, closing(plain_connection(path)) as target:
        source.backup(target)


def _last_written(path: Path) -> str:
    log = path.with_name(path.name + "-wal")
    seconds = max(file.stat().st_mtime for file in (path, log) if file.exists())
    return datetime.fromtimestamp(seconds, tz=UTC).strftime("%Y%m%dT%H%M%SZ")


def _free_name(path: Path, stem: str) -> Path:
    names = itertools.chain([stem], (f"{stem}-{number}" for number in itertools.count(2)))
    candidates = (path.with_name(name + path.suffix) for name in names)
    return next(candidate for candidate in candidates if not candidate.exists())
