"""Let go of widgets that were told to go, and find those that nobody told."""

from __future__ import annotations

import gc

from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QApplication, QMenu, QWidget
from shiboken6 import Shiboken


def let_go() -> None:
    """Delete what waits to be deleted; Qt's own loop, which would do it, does not run in a test."""
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def standing() -> dict[int, QWidget]:
    """Return the windows that are alive, by where they lie in memory.

    Menus are not counted, because those of a chart have no parent, nor is what only a cycle of
    Python's still holds.
    """
    let_go()
    if _windows():
        gc.collect()
        let_go()
    return _windows()


def _windows() -> dict[int, QWidget]:
    return {
        int(Shiboken.getCppPointer(one)[0]): one
        for one in QApplication.topLevelWidgets()
        if not isinstance(one, QMenu)
    }


def buttons_down() -> bool:
    """Tell whether a mouse button that was pressed was never let go of."""
    return QApplication.mouseButtons() is not Qt.MouseButton.NoButton
