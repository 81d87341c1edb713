"""Bring a database file to the revision that this program knows.

The revision is read with plain ``sqlite3``; Alembic is imported only when there is something to
do, because importing it takes longer than opening the database. A migration is one transaction.
A database that holds records is copied first, and the copy is put back if anything fails.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy.pool import NullPool

from brimline import paths
from brimline.errors import DamagedError, StoreError
from brimline.records import backup
from brimline.records.engine import MIGRATION, for_writing, plain_connection, sqlite_engine
from brimline.records.failures import plain_words, refusal
from brimline.translation import tr

if TYPE_CHECKING:
    from alembic.config import Config

HEAD = "0003"
"""The revision that this program reads and writes; the newest in ``migrations/versions``."""

_MAGIC = b"SQLite format 3\x00"  # https://www.sqlite.org/fileformat.html, section 1.3


def stored_revision(path: Path) -> str | None:
    """Return the revision that a database file is at, ``None`` for a missing or empty one.

    :raises StoreError: it is not a database, is damaged, cannot be opened, or belongs to another
        program.
    """
    if not _begins_like_a_database(path):
        return None
    with plain_words(path), closing(plain_connection(path)) as connection:
        names = {name for (name,) in connection.execute("SELECT name FROM sqlite_master")}
        if "alembic_version" in names:
            row = connection.execute("SELECT version_num FROM alembic_version").fetchone()
            return None if row is None else str(row[0])
    if names:
        raise DamagedError(
            tr("{path} is a database of another program", path=path),
            detail=f"no alembic_version among {sorted(names)}",
        )
    return None


def is_current(path: Path) -> bool:
    """Return whether a database file is at the revision of this program.

    :raises StoreError: as :func:`stored_revision` does.
    """
    return stored_revision(path) == HEAD


def is_known(revision: str) -> bool:
    """Return whether this program can read a revision, or bring it up to its own."""
    return revision == HEAD or revision in _revisions(paths.migrations())


def upgrade(
    path: Path, *, scripts: Path | None = None, tell: Callable[[str], None] = lambda _sentence: None
) -> Path | None:
    """Make the database, or bring it up to date; the caller keeps every other program away.

    :param scripts: folder of the migrations; the ones that travel with the program by default.
    :param tell: is told in a sentence before an upgrade that may take long.
    :returns: the copy made of a database that held records, else ``None``.
    :raises StoreError: it was written by a newer program, or the upgrade failed; then the
        database is as it was, and the sentence names the copy.
    """
    # Importing Alembic takes some 85 ms, opening a current database 4: only where it is needed.
    from alembic import command  # noqa: PLC0415

    scripts = scripts or paths.migrations()
    config = configuration(scripts)
    revisions = _revisions(scripts)
    revision = stored_revision(path)
    if revision is not None and revision not in revisions:
        raise StoreError(
            tr(
                "The database {path} was written by a newer Brimline; update this one first.",
                path=path,
            ),
            detail=f"revision {revision} is not among the migrations",
        )
    copy = None
    if revision is not None and _holds_records(path):
        tell(
            tr(
                "Bringing the records up to this version of Brimline; {path} is copied first. "
                "With many records this takes minutes.",
                path=path,
            )
        )
        copy = _copy(path, before=revisions[0])
    try:
        run(path, config, lambda: command.upgrade(config, "head"))
    except Exception as error:  # a migration is a script and may raise anything
        raise _put_back(path, copy, error) from error
    return copy


def configuration(scripts: Path) -> Config:
    """Return Alembic's settings for a folder of migrations."""
    from alembic.config import Config  # noqa: PLC0415 - as in upgrade

    config = Config()
    # Alembic fills in %(names)s here, so that a % in a path must be doubled.
    config.set_main_option("script_location", str(scripts).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    return config


def run(path: Path, config: Config, step: Callable[[], None]) -> None:
    """Run one command of Alembic on the database in one transaction, foreign keys not watched.

    :raises StoreError: it left a row behind that points nowhere.
    :raises Exception: whatever the migration raised; nothing of it is kept.
    """
    engine = for_writing(sqlite_engine(path, MIGRATION, pool=NullPool))
    try:
        with engine.begin() as connection:
            config.attributes["connection"] = connection
            step()
            orphans = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
            if orphans:
                raise StoreError(
                    tr("The database {path} does not hold together after its upgrade.", path=path),
                    detail=f"{len(orphans)} orphans, first {tuple(orphans[0])}",
                )
    finally:
        config.attributes.pop("connection", None)
        engine.dispose()


def _revisions(scripts: Path) -> list[str]:
    """Return every revision that a folder of migrations knows, the newest first."""
    from alembic.script import ScriptDirectory  # noqa: PLC0415 - as in upgrade

    directory = ScriptDirectory.from_config(configuration(scripts))
    return [script.revision for script in directory.walk_revisions()]


def _begins_like_a_database(path: Path) -> bool:
    """Return False for a missing or empty file. SQLite would write over a file of a few bytes."""
    try:
        with path.open("rb") as file:
            start = file.read(len(_MAGIC))
    except FileNotFoundError:
        return False
    except OSError as error:
        raise refusal(sqlite3.SQLITE_CANTOPEN, path, repr(error)) from error
    if start and start != _MAGIC:
        raise refusal(sqlite3.SQLITE_NOTADB, path, f"begins with {start!r}")
    return bool(start)


def _holds_records(path: Path) -> bool:
    with plain_words(path), closing(plain_connection(path)) as connection:
        tables = connection.execute(
            "SELECT name FROM sqlite_master WHERE type = 'table'"
            " AND name NOT LIKE 'sqlite%' AND name <> 'alembic_version'"
        ).fetchall()
        return any(
            connection.execute(f'SELECT EXISTS (SELECT 1 FROM "{name}")').fetchone()[0]
            for (name,) in tables
        )


def _copy(path: Path, *, before: str) -> Path:
    try:
        with plain_words(path):
            return backup.back_up(path, before=before)
    except (StoreError, OSError) as error:
        detail = error.detail if isinstance(error, StoreError) else repr(error)
        raise StoreError(
            tr(
                "The database {path} must be upgraded, but no copy of it can be made beside it; "
                "free some space or make the folder writable.",
                path=path,
            ),
            detail=detail,
        ) from error


def _put_back(path: Path, copy: Path | None, error: Exception) -> StoreError:
    """Restore the copy and return what to tell; the rollback alone already kept most of it."""
    detail = repr(error) + (f" {error.detail}" if isinstance(error, StoreError) else "")
    if copy is None:
        return StoreError(tr("The database {path} could not be set up.", path=path), detail=detail)
    try:
        with plain_words(path):
            backup.restore(copy, path)
    except StoreError as second:
        return StoreError(
            tr(
                "The database {path} could not be brought up to this version of Brimline nor put "
                "back as it was; put the copy {copy} in its place.",
                path=path,
                copy=copy,
            ),
            detail=f"{detail}; then {second.detail}",
        )
    return StoreError(
        tr(
            "The database {path} could not be brought up to this version of Brimline and is as it "
            "was; a copy of it is {copy}.",
            path=path,
            copy=copy,
        ),
        detail=detail,
    )
