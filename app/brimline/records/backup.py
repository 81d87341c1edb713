"""Whole copies of a database, by SQLite's own means: a copy of the file would miss its log."""

from __future__ import annotations

import itertools
import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from brimline.records import disk
from brimline.records.engine import plain_connection, size_of, target_connection
from brimline.records.watch import UNWATCHED, Watch
from brimline.translation import tr

_STEP_PAGES = 1024  # 4 MiB where a page has 4 KiB: some 100 ms even on a slow share


def back_up(path: Path, *, before: str) -> Path:
    """Copy a database to ``NAME-before-REVISION-STAMP.sqlite`` beside it and return that path.

    The stamp is when the database was last written, UTC: it says what state the copy holds.

    :raises sqlite3.Error: it cannot be read or the copy cannot be written.
    :raises OSError: likewise.
    """
    copy = free_name(path.parent, f"{path.stem}-before-{before}-{stamp(_last_written(path))}")
    with closing(plain_connection(path)) as source:
        copy_out(source, copy)
    return copy


def copy_out(source: sqlite3.Connection, copy: Path, watch: Watch = UNWATCHED) -> None:
    """Write what a connection sees into a new file, and force it onto the disk.

    In small steps, between which it can be given up. The caller begins a
    :func:`~.engine.snapshot` where others may write meanwhile: else the copy begins anew each time.

    :raises sqlite3.Error: the database cannot be read or the copy not written; nothing of it is
        left, if that can be.
    :raises OSError: likewise.
    :raises GivenUpError: likewise.
    """
    whole = size_of(source)
    try:
        with closing(target_connection(copy)) as target:
            source.backup(
                target,
                pages=_STEP_PAGES,
                progress=lambda _, left, pages: watch.step(
                    tr("copying {size:,.0f} MB", size=whole / 1e6), 1 - left / max(1, pages)
                ),
            )
        disk.sync(copy)
    except BaseException:
        discard(copy)  # half a copy is worse than none
        raise


def restore(copy: Path, path: Path) -> None:
    """Put the content of a copy back into the database, in one transaction of SQLite.

    :raises sqlite3.Error: the copy cannot be read or the database not written.
    """
    with closing(plain_connection(copy)) as source, closing(plain_connection(path)) as target:
        source.backup(target)


def discard(file: Path) -> None:
    """Remove half a copy; one that cannot be reached now is removed another time."""
    try:
        file.unlink(missing_ok=True)
    except OSError:
        return


def stamp(moment: datetime) -> str:
    """Write a time as it stands in a file's name, UTC."""
    return moment.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")


def free_name(folder: Path, stem: str, suffix: str = ".sqlite") -> Path:
    """Return a path that is not taken yet: the name itself, or one with a number behind it."""
    stems = itertools.chain([stem], (f"{stem}-{number}" for number in itertools.count(2)))
    candidates = (folder / f"{each}{suffix}" for each in stems)
    return next(candidate for candidate in candidates if not candidate.exists())


def _last_written(path: Path) -> datetime:
    log = path.with_name(path.name + "-wal")
    seconds = max(file.stat().st_mtime for file in (path, log) if file.exists())
    return datetime.fromtimestamp(seconds, tz=UTC)
