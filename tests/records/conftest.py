"""A database in a folder whose name tries path handling, and a way to be an ordinary user."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from backup_examples import AT, add_checks, plan

from brimline.records import copies
from brimline.records.database import Database


@pytest.fixture
def database_path(tmp_path: Path) -> Path:
    return tmp_path / "a%b ü" / "brimline.sqlite"


@pytest.fixture
def database(database_path: Path) -> Iterator[Database]:
    with Database.open(database_path, writer=True) as opened:
        yield opened


@pytest.fixture
def ordinary_folder() -> Iterator[Path]:
    """A folder of a user for whom permissions count."""
    if os.name != "posix":
        pytest.skip("permissions are those of POSIX here")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        root = os.geteuid() == 0
        if root:
            os.chown(
                folder, 65534, 65534
            )  # root may write anywhere; this is the customary "nobody"
            os.seteuid(65534)
        try:
            yield folder
        finally:
            if root:
                os.seteuid(0)
            folder.chmod(0o755)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Where backups go; it is not there yet."""
    return tmp_path / "share ü %" / "bay 2"


@pytest.fixture
def filled(database_path: Path) -> Path:
    """A database with two finished checks."""
    add_checks(database_path, 1, 2)
    return database_path


@pytest.fixture
def copy(filled: Path, folder: Path) -> Path:
    """A backup of two checks; the database has a third one since."""
    made = copies.make(plan(filled, folder), AT)
    add_checks(filled, 3)
    return made.backup.path
