"""Pictures of the window: for tests and tools."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QEvent, QEventLoop
from PySide6.QtWidgets import QApplication

from brimline.config import Settings
from brimline.errors import ReportError
from brimline.translation import tr
from brimline.ui.main_window import MainWindow
from brimline.ui.samples.keeping import damaged
from brimline.ui.screens.recovery import WORD, RecoveryScreen
from brimline.ui.screens.settings import SettingsScreen
from brimline.ui.tokens import PALETTES, Palette


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
    for palette in PALETTES.values()  # changing it costs more than changing the size
    for width, height in ((1280, 800), (1920, 1080), (3840, 2160))
)

EVERY_SIZE = tuple(look for look in EVERY_LOOK if look.palette is EVERY_LOOK[0].palette)
"""For whoever looks at nothing but the room for words: palettes differ in colours alone."""


def picture(window: MainWindow, look: Look, path: Path) -> None:
    """Take a picture of the window in a look.

    :raises ReportError: the picture cannot be written.
    """
    window.resize(look.width, look.height)
    window.set_palette(look.palette)
    settle()
    if not window.grab().save(str(path)):
        raise ReportError(tr("The picture {path} cannot be written.", path=path))


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


def picture_settings(window: MainWindow, looks: Sequence[Look], out: Path) -> list[Path]:
    """Picture the questions of the first start and the settings; nothing is saved.

    :raises ReportError: a picture cannot be written.
    """
    screens = window.settings
    if screens is None:
        return []
    done: list[Path] = []

    def snap(name: str) -> None:
        for look in looks:
            done.append(out / f"{name}_{look.name}.png")
            picture(window, look, done[-1])

    screens.show_first(Settings())
    snap("00-first-start")
    window.show_settings()
    snap("00-settings")
    if isinstance(screens.screen, SettingsScreen):
        screens.screen.leave.click()
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
    records.show_recovery(damaged())
    snap("00-recovery")
    if isinstance(records.screen, RecoveryScreen):
        records.screen.copies.go.click()
        snap("00-recovery-under-way")
    records.show_recovery(damaged())
    if isinstance(records.screen, RecoveryScreen):
        records.screen.word.setText(tr(WORD))
        records.screen.anew.click()
        snap("00-recovery-done")
        records.screen.go_on.click()
    return done


def put_away(window: MainWindow) -> None:
    """Close a window and let go of all of it at once: a later one would be dressed with it."""
    window.end_check()
    window.close()
    window.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def settle() -> None:
    """Let everything that waits be laid out and drawn."""
    for _ in range(3):
        QApplication.processEvents(QEventLoop.ProcessEventsFlag.AllEvents, 50)
