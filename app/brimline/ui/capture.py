"""The application object, and pictures of the window: for the program's start, tests and tools."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QEventLoop
from PySide6.QtWidgets import QApplication

from brimline.errors import ReportError
from brimline.ui.main_window import MainWindow, open_window
from brimline.ui.sample_keeping import DAMAGED
from brimline.ui.screens.recovery import WORD, RecoveryScreen
from brimline.ui.services import DemoOrder, Services
from brimline.ui.tokens import LIGHT, PALETTES, Palette


@dataclass(frozen=True)
class Look:
    """A size (px) and a palette to take pictures in."""

    width: int
    height: int
    palette: Palette

    @property
    def name(self) -> str:
        """As it stands in a picture's file name."""
        return f"{self.width}x{self.height}-{self.palette.name}"


EVERY_LOOK = tuple(
    Look(width, height, palette)
    for width, height in ((1280, 800), (1920, 1080))
    for palette in PALETTES.values()
)


def application(*, offscreen: bool) -> QApplication:
    """Return the one application object, made on the first call."""
    if offscreen:
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    existing = QApplication.instance()
    if isinstance(existing, QApplication):
        return existing
    app = QApplication(sys.argv[:1])
    app.setApplicationName("Brimline")
    return app


def show(services: Services, order: DemoOrder | None) -> int:
    """Open the window, begin a demonstration where one is ordered, and run until it is closed."""
    app = application(offscreen=False)
    window = open_window(app, services, LIGHT)
    window.resize(1280, 800)
    window.show()
    if order is not None:
        window.when_home(lambda: window.begin_demo(order))
    try:
        return app.exec()
    finally:
        if services.keeping is not None:
            services.keeping.close()


def picture(window: MainWindow, look: Look, path: Path) -> None:
    """Take a picture of the window in a look.

    :raises ReportError: the picture cannot be written.
    """
    window.resize(look.width, look.height)
    window.set_palette(look.palette)
    settle()
    if not window.grab().save(str(path)):
        raise ReportError(f"The picture {path} cannot be written.")


def picture_bus(window: MainWindow, looks: Sequence[Look], out: Path) -> list[Path]:
    """Picture the screens of the vehicle's bus, which no check may be under way for.

    :raises ReportError: a picture cannot be written.
    """
    done: list[Path] = []

    def snap(name: str) -> None:
        for look in looks:
            done.append(out / f"{name}_{look.name}.png")
            picture(window, look, done[-1])

    window.show_connection()
    if window.connection is None:
        return done
    snap("00-connection")
    window.connection.try_it()
    snap("00-connection-tried")
    window.connection.find_button.click()
    snap("00-discovery")
    if window.discovery is not None:
        window.discovery.leave.click()
    if window.connection is not None:
        window.connection.leave.click()
    return done


def picture_records(window: MainWindow, looks: Sequence[Look], out: Path) -> list[Path]:
    """Picture the screens about the records' file, which no check may be under way for.

    :raises ReportError: a picture cannot be written.
    """
    done: list[Path] = []
    records = window.records
    if records is None:
        return done

    def snap(name: str) -> None:
        for look in looks:
            done.append(out / f"{name}_{look.name}.png")
            picture(window, look, done[-1])

    window.show_backups()
    snap("00-backups")
    records.show_recovery(DAMAGED)
    snap("00-recovery")
    if isinstance(records.screen, RecoveryScreen):
        records.screen.copies.go.click()
        snap("00-recovery-under-way")
    records.show_recovery(DAMAGED)
    if isinstance(records.screen, RecoveryScreen):
        records.screen.word.setText(WORD)
        records.screen.anew.click()
        snap("00-recovery-done")
        records.screen.go_on.click()
    return done


def settle() -> None:
    """Let everything that waits be laid out and drawn."""
    for _ in range(3):
        QApplication.processEvents(QEventLoop.ProcessEventsFlag.AllEvents, 50)
