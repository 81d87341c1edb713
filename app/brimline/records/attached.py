"""Attachments beside a database and beside its backups: files named by their own SHA-256."""

from __future__ import annotations

import hashlib
import json
import re
import sqlite3
from collections.abc import Collection
from contextlib import suppress
from pathlib import Path

from brimline.records import disk
from brimline.records.watch import Watch
from brimline.translation import marked, tr

FOLDER = "attachments"

_AMENDED = "SELECT value FROM amendments WHERE field = 'attachment'"
# Written so that the journal, the largest table by far, is read of open checks alone.
_OPEN = (
    "SELECT payload FROM journal WHERE kind = 'attachment_kept'"
    " AND check_id IN (SELECT check_id FROM checks WHERE finished_at IS NULL)"
)
_DAMAGED = (ValueError, KeyError, TypeError, AttributeError)
_NAME = re.compile(r"[0-9a-f]{64}")


def place(root: Path, sha256: str) -> Path:
    """Return where an attachment lies under the folder of a database, or of its backups."""
    return root / FOLDER / sha256[:2] / sha256


def file_fault(root: Path, sha256: str) -> str:
    """Return what is wrong with an attachment's file, as a sentence ends; empty where nothing is.

    :param root: folder of the database.
    """
    if not _NAME.fullmatch(sha256):  # a hand put it there; the system must not be asked for it
        return marked("has a name that no kept file bears")
    try:
        with place(root, sha256).open("rb") as file:
            found = hashlib.file_digest(file, "sha256").hexdigest()
    except FileNotFoundError:
        return marked("is missing")
    except OSError:
        return marked("cannot be read")
    return "" if found == sha256 else "is not the file that was kept"


def copy_attached(
    connection: sqlite3.Connection, out_of: Path, into: Path, watch: Watch
) -> tuple[str, ...]:
    """Copy the attachments that a database names and that are not in the other folder yet.

    Each is copied only if it is what its name says; what is there already is never written over,
    unless it is another file than its name says.

    :param out_of: folder of the database, or of a backup; ``into`` likewise.
    :returns: the names of those that cannot be had: missing, damaged or unreadable.
    :raises OSError: the other folder cannot be written.
    :raises GivenUpError: it was given up.
    """
    named = named_in(connection)
    missing = []
    for done, (sha256, size) in enumerate(sorted(named.items())):
        watch.step(tr("copying attachments"), done / len(named))
        if not _NAME.fullmatch(sha256):
            missing.append(sha256)
            continue
        target = place(into, sha256)
        if target.is_file() and target.stat().st_size == size and not file_fault(into, sha256):
            continue
        if not _copied(place(out_of, sha256), into, sha256):
            missing.append(sha256)
    return tuple(missing)


def named_in(connection: sqlite3.Connection) -> dict[str, int]:
    """Return every attachment that a database names, its SHA-256 with its size in bytes.

    Besides those of finished checks, these are the ones that came with amendments, and those of
    checks that are open and name them in their journal alone.

    :raises sqlite3.Error: the database cannot be read.
    """
    tables = connection.execute("SELECT name FROM sqlite_master WHERE name = 'attachments'")
    if tables.fetchone() is None:  # an older revision
        return {}
    named = dict(
        connection.execute("SELECT sha256, max(size) FROM attachments GROUP BY sha256").fetchall()
    )
    for query, read in ((_AMENDED, _amended), (_OPEN, _entered)):
        for (text,) in connection.execute(query):
            with suppress(*_DAMAGED):  # whoever reads the record is told
                sha256, size = read(text)
                named.setdefault(sha256, size)
    return named


def _amended(value: str) -> tuple[str, int]:
    sha256, size, _ = value.split(" ", 2)
    return sha256, int(size)


def _entered(payload: str) -> tuple[str, int]:
    event = json.loads(payload)
    return str(event["sha256"]), int(event["size"])


def unnamed(root: Path, named: Collection[str]) -> tuple[int, int]:
    """Return how many files in the folder of attachments nothing names, and their bytes in all.

    One is left where a computer stopped between the keeping of a file and the entry of it.

    :param root: folder of the database.
    :raises OSError: the folder cannot be read.
    """
    count = size = 0
    for file in (root / FOLDER).glob("*/*"):
        if file.name not in named and file.is_file():
            count, size = count + 1, size + file.stat().st_size
    return count, size


def _copied(source: Path, into: Path, sha256: str) -> bool:
    try:
        content = source.read_bytes()
    except OSError:
        return False
    if hashlib.sha256(content).hexdigest() != sha256:
        return False
    target = place(into, sha256)
    disk.make_folder(target.parent, into)
    disk.put_bytes(target, content)
    return True
