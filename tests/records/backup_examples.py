"""Databases with a few finished checks, and backups of them."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from record_examples import opened, outcome, reading, tap, wall

from brimline.records import backup, copies, disk, recovery, retention, soundness, tail
from brimline.records.backup_log import BackupLog
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.records.repository import Repository

AT = datetime(2031, 5, 6, 14, 0, tzinfo=UTC)


def add_checks(path: Path, *numbers: int, finish: bool = True) -> None:
    """Add a check for each number, its readings and taps with it."""
    with Database.open(path, writer=True) as database:
        journal = Journal(database)
        for number in numbers:
            check_id = f"{number:032x}"
            journal.begin(opened(check_id), wall(0))
            for t in range(1, 40):
                journal.append(reading(t) if t % 3 else tap(t), wall(t))
            journal.flush()
            if finish:
                Repository(database).finish(check_id, outcome(), wall(50))


def numbers_in(path: Path) -> list[int]:
    """The checks that a database file holds, in order."""
    with closing(sqlite3.connect(path)) as connection:
        found = connection.execute("SELECT check_id FROM checks ORDER BY number").fetchall()
    return [int(check_id, 16) for (check_id,) in found]


def plan(database: Path, folder: Path, *, keep: int = 10) -> copies.Plan:
    """A backup into a folder that is there."""
    folder.mkdir(parents=True, exist_ok=True)
    return copies.Plan(database, folder, keep)


def later(minutes: float) -> datetime:
    """So many minutes after the first backup."""
    return AT + timedelta(minutes=minutes)


def names(folder: Path) -> list[str]:
    """What lies in a folder."""
    return sorted(path.name for path in folder.iterdir())


def spoil(path: Path, start: int, length: int = 4096) -> None:
    """Write rubbish into a file."""
    content = bytearray(path.read_bytes())
    content[start : start + length] = b"\xa5" * length
    path.write_bytes(content)


class Stopped(BaseException):
    """The computer has stopped."""


STEPS: tuple[tuple[Any, str], ...] = (
    (BackupLog, "keep"), (copies, "copy_attached"), (recovery, "copy_attached"),
    (backup, "target_connection"), (disk, "sync"), (soundness, "sound"), (copies, "_copy_tail"),
    (disk, "put_bytes"), (Path, "rename"), (Path, "replace"), (Path, "unlink"),
    (disk, "sync_folder"), (retention, "surplus"), (tail, "note_restored"),
)  # fmt: skip
"""Whatever changes a file in making a backup or in restoring one, and what lies between."""


def stop_before(step: int, patch: pytest.MonkeyPatch) -> list[str]:
    """Let the computer stop before its n-th step: that and all later ones do nothing any more.

    Clearing up is what a dead computer does least. The steps gone through are returned.
    """
    gone: list[str] = []

    def deadly(real: Any, name: str) -> Any:
        def call(*args: Any, **more: Any) -> Any:
            if len(gone) >= step:
                raise Stopped()  # called: a process that is killed in earnest ends here
            gone.append(name)
            return real(*args, **more)

        return call

    for owner, name in STEPS:
        patch.setattr(owner, name, deadly(getattr(owner, name), name))
    return gone


KILLED = """
import datetime, os, pathlib, sys
sys.path.insert(0, sys.argv[1])
import backup_examples, pytest
backup_examples.Stopped = lambda: os._exit(9)
backup_examples.stop_before(int(sys.argv[2]), pytest.MonkeyPatch())
now = datetime.datetime.now(datetime.UTC)
"""
"""Begins a program that is killed in earnest; its arguments follow in ``sys.argv[3:]``."""


def kill(program: str, step: int, *arguments: object) -> int:
    """Run a program that kills itself before a step; return its exit code."""
    words = [str(word) for word in (Path(__file__).parent, step, *arguments)]
    return subprocess.run([sys.executable, "-c", KILLED + program, *words], check=False).returncode
