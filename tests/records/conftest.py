"""A database in a folder whose name tries path handling, and a way to be an ordinary user."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

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
