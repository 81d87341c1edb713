"""A window with somebody who keeps the records, and a record with its backup."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from records_in_window import Opens, windows
from widgets_left import buttons_down, standing

from brimline import paths
from brimline.cli import main
from brimline.ui import language


@pytest.fixture(autouse=True)
def _nothing_left(qapp: QApplication) -> Iterator[None]:
    """No window and no pressed button is left for the next test, which would dress it again."""
    before = standing().keys()
    yield
    assert not [one for at, one in standing().items() if at not in before]
    assert not buttons_down()


@pytest.fixture(params=["en", "es"])
def tongue(request: pytest.FixtureRequest, qapp: QApplication) -> Iterator[str]:
    """The window in either language, and in English again afterwards."""
    folder = paths.resources() / "translations"
    assert language.use(qapp, request.param, folder) == ""
    yield request.param
    language.use(qapp, language.ENGLISH, folder)


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
