"""What the disk and SQLite say, turned into the one sentence that a person reads."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy.exc import DatabaseError, IntegrityError, ProgrammingError

from brimline.errors import DamagedError, StoreError
from brimline.translation import marked, tr

# Primary result codes, https://www.sqlite.org/rescode.html
_SENTENCES = {
    sqlite3.SQLITE_FULL: marked(
        "The disk with the database {path} is full; free some space on it."
    ),
    sqlite3.SQLITE_BUSY: marked(
        "The database {path} is in use by another program; close that first."
    ),
    sqlite3.SQLITE_LOCKED: marked(
        "The database {path} is in use by another program; close that first."
    ),
    sqlite3.SQLITE_IOERR: marked(
        "The disk with the database {path} reports an error; check the disk."
    ),
    sqlite3.SQLITE_READONLY: marked(
        "The database {path} cannot be written; check that you may write the file and its folder."
    ),
    sqlite3.SQLITE_CANTOPEN: marked(
        "The database {path} cannot be opened; check that you may write the file and its folder."
    ),
}
_OTHERWISE = marked("The database {path} cannot be used as it is: put a backup in its place.")

DAMAGE = {
    sqlite3.SQLITE_NOTADB: marked("{path} is not a Brimline database"),
    sqlite3.SQLITE_CORRUPT: marked("The database {path} is damaged"),
}
"""What is said of result codes that no waiting and no free space mends."""

SENTENCES = (*_SENTENCES.values(), _OTHERWISE, *DAMAGE.values())
"""All of them, for who kept one."""


def printable(typed: str) -> str:
    """Return what a person typed, fit to stand in a sentence: control characters become ``?``."""
    return "".join(c if c.isprintable() else "?" for c in typed)


def refusal(code: int, path: Path, detail: str) -> StoreError:
    """Return the sentence for a result code of SQLite."""
    primary = code & 0xFF
    if primary in DAMAGE:
        return DamagedError(tr(DAMAGE[primary], path=path), detail=detail)
    return StoreError(tr(_SENTENCES.get(primary, _OTHERWISE), path=path), detail=detail)


def store_error(error: sqlite3.Error, path: Path) -> StoreError:
    """Turn an error of SQLite into the sentence for it; the original goes into the detail."""
    # Errors that Python's sqlite3 raises by itself carry no code, such as text that is not UTF-8.
    code = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR)
    name = getattr(error, "sqlite_errorname", type(error).__name__)
    return refusal(code, path, f"{name}: {error}")


@contextmanager
def plain_words(path: Path) -> Iterator[None]:
    """Raise every refusal of the database ``path`` as a :class:`StoreError`.

    A broken constraint or wrong SQL is a fault of the program and passes through as it is.
    """
    try:
        yield
    except (IntegrityError, ProgrammingError):
        raise
    except DatabaseError as error:
        if not isinstance(error.orig, sqlite3.Error):
            raise
        raise store_error(error.orig, path) from error
    except sqlite3.Error as error:
        raise store_error(error, path) from error
