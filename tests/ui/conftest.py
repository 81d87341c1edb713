"""A window with somebody who keeps the records, and a record with its backup."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot
from records_in_window import Opens, windows

from brimline.cli import main


@pytest.fixture
def share(tmp_path: Path) -> Path:
    """Where backups go."""
    return tmp_path / "share"


@pytest.fixture
def record(tmp_path: Path, share: Path) -> None:
    """One record, and a backup of it."""
    out = str(tmp_path / "out")
    main(["replay", "family-car-curve", "--script", "abort", "--headless", "--out", out])
    main(["backup", "--to", str(share), "--save"])


@pytest.fixture
def opens(qtbot: QtBot) -> Iterator[Opens]:
    """Open the real window with somebody who keeps the records; the real one by default."""
    with windows() as open_it:
        yield open_it
