"""Putting a backup in the place of the database, or an empty one, and losing nothing by it.

What is there is never deleted or written over: it is moved aside under a name that says when. The
new file is whole and on the disk before the first name changes; from then on a note beside the
database says how to finish. So a computer that stops at any moment leaves either the old database
or, once :func:`settle` has been through, the new one.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from pydantic import AwareDatetime, BaseModel, ValidationError

from brimline.errors import BrimlineError, DamagedError, StoreError
from brimline.records import backup, chain, disk, migrate, soundness, tail
from brimline.records.attached import copy_attached
from brimline.records.backup_log import BackupLog
from brimline.records.database import Database, kept_away, writer_mark
from brimline.records.engine import snapshot
from brimline.records.failures import DAMAGE
from brimline.records.watch import UNWATCHED, Watch
from brimline.translation import marked, tr

REPLACED = "replaced"
_NOTE = ".restore"
_FRESH = ".restoring"


class _Note(BaseModel):
    """How to finish what was begun: all names are of the database's own folder."""

    at: AwareDatetime
    aside: str


@dataclass(frozen=True)
class Restored:
    """What was put in the place of the database.

    :param contents: what it holds; ``None`` where it was begun anew.
    :param aside: where the former database lies; ``None`` where there was none.
    :param missing: attachments that are neither here nor with the backup, by their SHA-256.
    :param broken: what is wrong with its seals, in a sentence, else empty. That is no reason to
        refuse it: it may be the best there is, and nothing was lost by it.
    """

    contents: soundness.Contents | None
    aside: Path | None
    missing: tuple[str, ...] = ()
    broken: str = ""


def require(database: Path) -> None:
    """Refuse to go on where the database is not what it was; finish what was begun before.

    It costs some 2 ms on a database that is well, whatever its size. What lies deeper in it is
    found by whoever reads there, and by every backup.

    :raises DamagedError: it is damaged, no database of this program, or gone though there were
        records before.
    :raises StoreError: it cannot be opened, or an unfinished restoring cannot be finished.
    """
    settle(database)
    if migrate.stored_revision(database) is not None:
        return
    trace = _trace_of_records(database)
    if trace:
        empty = marked("The database {database} is empty, though there were records in it")
        gone = marked("The database {database} is gone, though there were records in it")
        raise DamagedError(
            tr(empty if database.exists() else gone, database=database),
            detail=f"told by {trace}",
        )


def restore(copy: Path, database: Path, now: datetime, watch: Watch = UNWATCHED) -> Restored:
    """Check a copy and put it in the place of the database, which is moved aside.

    :param copy: a backup, a copy made before an upgrade, or a database that was moved aside.
    :param now: wall-clock time, aware of its zone.
    :raises StoreError: the copy is damaged, newer than this program or unreadable; a check is
        running; or the disk refuses. Then the database is as it was.
    :raises GivenUpError: it was given up; likewise.
    """
    database, copy = database.absolute(), copy.absolute()
    soundness.readable(copy)
    fresh = _fresh(database)
    with kept_away(database), _disk_words(database):
        _finish(database)
        _discard(fresh)
        try:
            missing = _bring(copy, fresh, watch)
            contents = soundness.examine(fresh, watch, named=copy)
            watch.step(tr("putting it in place"), 1.0)
        except BaseException:
            _discard(fresh)
            raise
        aside = _swap(database, now)
    settle(database)
    return Restored(contents, aside, missing, _broken(database, watch))


def _broken(database: Path, watch: Watch) -> str:
    watch.tell(tr("looking at every seal"), 0.0)
    try:
        with Database.open(database, writer=False) as opened:
            first = chain.verify(opened).first
    except BrimlineError as error:  # it is in place all the same
        return error.sentence
    return "" if first is None else first.sentence


def _bring(copy: Path, fresh: Path, watch: Watch) -> tuple[str, ...]:
    """Copy a copy and its attachments; return those that cannot be had."""
    try:
        with closing(soundness.connection_to(copy)) as source, snapshot(source):
            missing = copy_attached(source, copy.parent, fresh.parent, watch)
            backup.copy_out(source, fresh, watch)
    except sqlite3.Error as error:
        if getattr(error, "sqlite_errorcode", 0) & 0xFF in DAMAGE:
            raise StoreError(
                tr("{copy} is damaged; take another copy.", copy=copy), detail=repr(error)
            ) from error
        raise
    return missing


def start_empty(database: Path, now: datetime) -> Restored:
    """Begin with an empty database; what is there is moved aside.

    :raises StoreError: a check is running, or the disk refuses; then the database is as it was.
    """
    database = database.absolute()
    fresh = _fresh(database)
    with kept_away(database), _disk_words(database):
        _finish(database)
        _discard(fresh)
        migrate.upgrade(fresh)
        disk.sync(fresh)
        aside = _swap(database, now)
    settle(database)
    return Restored(None, aside)


def settle(database: Path) -> None:
    """Finish what :func:`restore` or :func:`start_empty` had begun when the computer stopped.

    :raises StoreError: a check is running, the disk refuses, or the database cannot be opened.
    """
    note = _note(database)
    if note is None:
        return
    with kept_away(database), _disk_words(database):
        _finish(database)
    with Database.open(database, writer=False) as opened:
        tail.note_restored(opened, at=note.at)
    with _disk_words(database):
        writer_mark(database).unlink(missing_ok=True)  # it told of the former one
        BackupLog.of(database).model_copy(update={"failure": None}).keep(database)
        _note_file(database).unlink(missing_ok=True)


def _swap(database: Path, now: datetime) -> Path | None:
    """Write down what is to be done, and do it; a disk that refuses leaves all as it was."""
    stem = f"{database.stem}-{REPLACED}-{backup.stamp(now)}"
    aside = backup.free_name(database.parent, stem, database.suffix)
    had = database.exists()
    disk.put(_note_file(database), _Note(at=now, aside=aside.name).model_dump_json() + "\n")
    try:
        _finish(database)
    except OSError:
        _undo(database, aside)
        raise
    return aside if had else None


def _finish(database: Path) -> None:
    """Take every step of the note that is not taken yet; to be called under the lock."""
    note = _note(database)
    if note is None:
        return
    fresh, aside = _fresh(database), database.with_name(note.aside)
    if fresh.exists():  # once it has the database's name, the log beside that is its own
        for old, put_aside in zip(_parts(database), _parts(aside), strict=True):
            if old.exists():
                old.rename(put_aside)
        fresh.rename(database)
    disk.sync_folder(database.parent)


def _undo(database: Path, aside: Path) -> None:
    """Give the parts their names back; where even that is refused, the next start finishes."""
    if not _fresh(database).exists():
        return
    for old, put_aside in zip(_parts(database), _parts(aside), strict=True):
        if put_aside.exists():
            put_aside.rename(old)
    _note_file(database).unlink()


def _parts(database: Path) -> list[Path]:
    """The files of one database: its pages, its log, and the log's index."""
    return [database.with_name(database.name + part) for part in ("", "-wal", "-shm")]


def _discard(fresh: Path) -> None:
    for part in _parts(fresh):
        backup.discard(part)


def _note(database: Path) -> _Note | None:
    try:
        return _Note.model_validate_json(_note_file(database).read_bytes())
    except FileNotFoundError:
        return None
    except (OSError, ValidationError) as error:
        raise StoreError(
            tr(
                "The file {note_file} says how to finish restoring, and cannot be read: move it "
                "away and restore anew.",
                note_file=_note_file(database),
            ),
            detail=repr(error),
        ) from error


def _note_file(database: Path) -> Path:
    return database.with_name(database.name + _NOTE)


def _fresh(database: Path) -> Path:
    return database.with_name(database.name + _FRESH)


def _trace_of_records(database: Path) -> str:
    """Return the name of a file that would not be there had there never been a record."""
    traces = [tail.tail_file(database), database.with_name(database.name + "-wal")]
    traces += database.parent.glob(f"{database.stem}-before-*{database.suffix}")
    traces += database.parent.glob(f"{database.stem}-{REPLACED}-*{database.suffix}")
    found = next((trace.name for trace in traces if trace.exists()), "")
    return found or ("backups" if BackupLog.of(database).made else "")


@contextmanager
def _disk_words(database: Path) -> Iterator[None]:
    """Raise whatever the disk with the database refuses in one sentence."""
    try:
        yield
    except BrimlineError:
        raise
    except (OSError, sqlite3.Error) as error:
        raise StoreError(
            tr(
                "The folder {parent} refuses, so nothing was replaced: see that it has room, "
                "that this user may write there, and that no other program has the database open.",
                parent=database.parent,
            ),
            detail=repr(error),
        ) from error
