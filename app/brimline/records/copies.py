"""Backups in a folder, on another disk or a share that may vanish at any moment.

A backup is one file, ``brimline-YYYYMMDDTHHMMSSZ.sqlite``: the whole database as it was at that
time (UTC). It has that name only once it is whole, checked and on the disk; before, it ends in
``.part``. Beside it, under the same name, lies the chain's tail of that time. The folder
``attachments`` there serves all backups: it is added to, and nothing is ever taken out of it.
"""

from __future__ import annotations

import re
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from filelock import FileLock, Timeout

from brimline.errors import BrimlineError, DamagedError, StoreError
from brimline.records import backup, disk, retention, soundness, tail
from brimline.records.attached import copy_attached
from brimline.records.backup_log import Backup, BackupLog, Failure
from brimline.records.engine import plain_connection, size_of, snapshot
from brimline.records.failures import DAMAGE, SENTENCES, plain_words
from brimline.records.watch import UNWATCHED, Watch
from brimline.translation import english, marked, tr

PREFIX = "brimline-"
PART = ".part"
TAIL = ".chain-tail.json"
_NAME = re.compile(rf"{PREFIX}(\d{{8}}T\d{{6}}Z)(-\d+)?\.sqlite")
_SPARE = 1.02  # a little more than the copy takes, for the folder's own needs

_SAME_DISK = marked(
    "{folder} is the folder with the records themselves: choose one on another disk or a share."
)
_NOT_THERE = marked("The backup folder {folder} is not there: connect its disk or share.")
_NONE_OF_OURS = marked(
    "The backup folder {folder} holds none of the backups made into it: connect its "
    "disk or share, or choose another folder."
)
_NO_ROOM = marked(
    "The backup folder {folder} has {free:,.0f} MB free and a backup takes "
    "{needed:,.0f} MB: free some space there."
)
_UNSOUND = marked(
    "The database is sound, but its copy in the backup folder {folder} is not: that "
    "disk or share is not to be trusted."
)
_DAMAGED = marked(
    "The database {database} is damaged, so that its backup was not kept, but older ones are"
)
_NO_WRITING = marked("The folder {parent} cannot be written, so no backup is made.")
_FULL = marked("The backup folder {folder} is full: free some space there.")
_AWAY = marked("The backup folder {folder} went away: connect its disk or share.")
_REFUSES = marked(
    "The backup folder {folder} cannot be written: see that this user may write there."
)
FAILURES = (
    _SAME_DISK, _NOT_THERE, _NONE_OF_OURS, _NO_ROOM, _UNSOUND, _DAMAGED, _NO_WRITING,
    _FULL, _AWAY, _REFUSES, *SENTENCES,
)  # fmt: skip
"""What the log of backups may say of a failure, each with its fields."""


@dataclass(frozen=True)
class Plan:
    """What is backed up, and how.

    :param database: the file; attachments lie in a folder beside it.
    :param folder: where backups go. One that is not there, or that has lost all backups made
        into it, is a share that is not connected: what was written in its place would lie on the
        wrong disk.
    :param keep: how many of the newest are kept in any case, 1 or more.
    :param make_folder: a person has just named it: it is made, if nothing was backed up there yet.
    """

    database: Path
    folder: Path
    keep: int
    make_folder: bool = False


@dataclass(frozen=True)
class Made:
    """A backup that was made, checked and kept.

    :param removed: how many older ones were removed, because newer ones stand for them.
    :param missing: attachments that are not where they should be, by their SHA-256.
    """

    backup: Backup
    contents: soundness.Contents
    removed: int
    missing: tuple[str, ...] = ()


def make(plan: Plan, now: datetime, watch: Watch = UNWATCHED) -> Made:
    """Make a backup; it only reads the database, whoever else has it open.

    :param now: wall-clock time, aware of its zone.
    :raises StoreError: nothing came of it, in one sentence, which is kept in the log too.
    :raises GivenUpError: it was given up; nothing of it is left.
    """
    with _alone(plan.database):
        log = _swept(BackupLog.of(plan.database))
        try:
            with _folder_words(plan.folder):
                return _make(plan, log, now, watch)
        except BaseException as error:
            changes = {"failure": _failure(error, now)} if isinstance(error, StoreError) else {}
            _keep(_swept(BackupLog.of(plan.database)), plan.database, **changes)
            raise


def _failure(error: StoreError, now: datetime) -> Failure:
    if isinstance(error, DamagedError):
        return Failure(at=now, sentence=english(error.what), damaged=True)
    return Failure(at=now, sentence=english(error.sentence))


def _make(plan: Plan, log: BackupLog, now: datetime, watch: Watch) -> Made:
    _require_folder(plan, log)
    final = backup.free_name(plan.folder, f"{PREFIX}{backup.stamp(now)}")
    part = final.with_name(final.name + PART)
    _keep(log, plan.database, begun=(*log.begun, part))
    with plain_words(plan.database), closing(plain_connection(plan.database)) as source:
        with snapshot(source):
            contents = soundness.contents_of(source, plan.database)
            _require_room(plan.folder, size_of(source))
            missing = copy_attached(source, plan.database.parent, plan.folder, watch)
            _copy(source, part, plan, watch)
        _check(part, source, contents, plan, watch)
    _copy_tail(plan.database, final)
    part.rename(final)
    disk.sync_folder(plan.folder)
    made = Backup(
        folder=plan.folder, name=final.name, at=now.astimezone(UTC), newest=contents.newest
    )
    whole = log.model_copy(update={"made": (*log.made, made), "begun": (), "failure": None})
    thinned, removed = _thin(whole, plan)
    thinned.keep(plan.database)
    return Made(made, contents, removed, missing)


def _require_folder(plan: Plan, log: BackupLog) -> None:
    if plan.folder.resolve() == plan.database.parent.resolve():
        raise StoreError(
            tr(
                _SAME_DISK,
                folder=plan.folder,
            )
        )
    known = log.in_folder(plan.folder)
    if plan.make_folder and not known:
        plan.folder.mkdir(parents=True, exist_ok=True)
    elif not plan.folder.is_dir():
        raise StoreError(
            tr(
                _NOT_THERE,
                folder=plan.folder,
            )
        )
    elif known and not any(each.path.exists() for each in known):
        raise StoreError(
            tr(
                _NONE_OF_OURS,
                folder=plan.folder,
            )
        )


def _require_room(folder: Path, needed: int) -> None:
    free = shutil.disk_usage(folder).free
    if free < needed * _SPARE:
        raise StoreError(
            tr(
                _NO_ROOM,
                folder=folder,
                free=free / 1e6,
                needed=needed / 1e6,
            )
        )


def _copy(source: sqlite3.Connection, part: Path, plan: Plan, watch: Watch) -> None:
    try:
        backup.copy_out(source, part, watch)
    except sqlite3.Error as error:
        if _is_damage(error):
            raise
        full = _code(error) == sqlite3.SQLITE_FULL
        raise _cannot_write(plan.folder, full, repr(error)) from error


def _check(
    part: Path,
    source: sqlite3.Connection,
    expected: soundness.Contents,
    plan: Plan,
    watch: Watch,
) -> None:
    """A copy counts once it is known to be sound; one that is not may show what the database is."""
    try:
        with closing(soundness.connection_to(part)) as copy:
            found: soundness.Contents | None = soundness.contents_of(copy, part)
            faults = soundness.sound(copy, watch, thorough=True)
    except (sqlite3.Error, StoreError) as error:
        if isinstance(error, sqlite3.Error) and not _is_damage(error):
            raise _cannot_write(plan.folder, False, repr(error)) from error
        found, faults = None, (repr(error),)
    if found == expected and not faults:
        return
    detail = f"{found} instead of {expected}; {'; '.join(faults)}"
    if not soundness.sound(source, watch, thorough=True):
        raise StoreError(
            tr(
                _UNSOUND,
                folder=plan.folder,
            ),
            detail=detail,
        )
    raise DamagedError(
        tr(
            _DAMAGED,
            database=plan.database,
        ),
        detail=detail,
    )


def _code(error: sqlite3.Error) -> int:
    return getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR) & 0xFF


def _is_damage(error: sqlite3.Error) -> bool:
    return _code(error) in DAMAGE


def _copy_tail(database: Path, final: Path) -> None:
    noted = tail.tail_file(database)
    if noted.exists():
        disk.put(final.with_suffix(TAIL), noted.read_text("utf-8"))


def _thin(log: BackupLog, plan: Plan) -> tuple[BackupLog, int]:
    """Remove what newer backups stand for; only what this bay has made, and never the new one."""
    here, new = log.in_folder(plan.folder), log.made[-1]
    superfluous = retention.surplus([each.at for each in here], keep=plan.keep)
    gone = []
    for each in here:
        if each.at in superfluous and each is not new and is_backup_name(each.name):
            try:
                each.path.with_suffix(TAIL).unlink(missing_ok=True)
                each.path.unlink(missing_ok=True)
            except OSError:
                continue  # another time
            gone.append(each)
    left = tuple(each for each in log.made if each not in gone)
    return log.model_copy(update={"made": left}), len(gone)


def is_backup_name(name: str) -> bool:
    """Return whether a file of this name may be a whole backup."""
    return _NAME.fullmatch(name) is not None


@contextmanager
def _alone(database: Path) -> Iterator[None]:
    """One backup at a time: the window and the command line may both want one."""
    lock = FileLock(database.with_name("backups.lock"), thread_local=False)
    try:
        lock.acquire(timeout=0)
    except Timeout as error:
        raise StoreError(tr("A backup is being made already."), detail=str(error)) from error
    except OSError as error:
        raise StoreError(
            tr(
                _NO_WRITING,
                parent=database.parent,
            ),
            detail=repr(error),
        ) from error
    try:
        yield
    finally:
        lock.release()


def _swept(log: BackupLog) -> BackupLog:
    """Remove half copies that earlier attempts left; those out of reach stay on the list."""
    for part in log.begun:
        backup.discard(part)
    left = tuple(part for part in log.begun if part.exists() or not part.parent.is_dir())
    return log.model_copy(update={"begun": left})


def _keep(log: BackupLog, database: Path, **changes: object) -> None:
    """Write the log down; a disk that refuses is told by whoever has more to lose."""
    try:
        log.model_copy(update=changes).keep(database)
    except OSError:
        return


@contextmanager
def _folder_words(folder: Path) -> Iterator[None]:
    """Raise whatever the folder refuses in one sentence."""
    try:
        yield
    except BrimlineError:
        raise
    except OSError as error:
        raise _cannot_write(folder, error.errno in disk.FULL, repr(error)) from error


def _cannot_write(folder: Path, full: bool, detail: str) -> StoreError:
    if full:
        said = _FULL
    elif not folder.is_dir():
        said = _AWAY
    else:
        said = _REFUSES
    return StoreError(tr(said, folder=folder), detail=detail)
