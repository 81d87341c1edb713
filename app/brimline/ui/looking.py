"""Waits, with the first screen painted, until what the records hold can be shown at once."""

from __future__ import annotations

import time
from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QTimer, Signal
from PySide6.QtWidgets import QWidget

from brimline.translation import marked, tr
from brimline.ui.poller import Poller
from brimline.ui.ports.ready import ReadyHandle, ReadyState

LOOKING = marked("Looking at the records…")

LOOK_MS = 20
"""How often it is asked whether they are known."""

UNPAINTED_MS = 1000
"""A window that nobody sees yet looks at them all the same, after so long."""


class Looking(QObject):
    """Has the records looked at aside, the first time once the window has been painted.

    ``known`` comes whenever they have been.

    :param tell: is told in a sentence that it is under way; an empty one: it no longer is.
    """

    known = Signal()

    def __init__(self, window: QWidget, tell: Callable[[str], None]) -> None:
        super().__init__(window)
        self._window, self._tell = window, tell
        self._poller = Poller[ReadyState](time.monotonic, self._take, self, every_ms=LOOK_MS)
        self._ready: Callable[[], ReadyHandle] | None = None
        self._then: Callable[[], None] = lambda: None
        self.is_busy = False
        self._is_painted = False
        self._unseen = QTimer(self)
        self._unseen.setSingleShot(True)
        self._unseen.setInterval(UNPAINTED_MS)
        self._unseen.timeout.connect(self._look)

    def begin(self, ready: Callable[[], ReadyHandle] | None, then: Callable[[], None]) -> None:
        """Do something once the records are known: at once, where nothing has to be waited for.

        :param ready: begins to get ready what is asked of them; ``None`` where everything is.
        """
        self._then = then
        if self.is_busy and ready is self._ready:
            return
        self.cancel()
        self._ready, self.is_busy = ready, True
        if ready is None or self._is_painted:
            self._look()
            return
        self._tell(tr(LOOKING))
        self._window.installEventFilter(self)
        self._unseen.start()

    def cancel(self) -> None:
        """Wait for nothing any more."""
        self.is_busy = False
        self._unseen.stop()
        self._window.removeEventFilter(self)
        self._poller.cancel()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Begin behind the first painting of the window, in which all of it is painted."""
        if event.type() is QEvent.Type.Paint and not self._is_painted:
            self._is_painted = True
            QTimer.singleShot(0, self._look)
        return super().eventFilter(watched, event)

    def _look(self) -> None:
        if not self.is_busy or self._poller.is_busy:
            return
        self._is_painted = True
        self._unseen.stop()
        self._window.removeEventFilter(self)
        if self._ready is None:
            self._take(ReadyState(True))
        else:
            self._poller.begin(self._ready())

    def _take(self, state: ReadyState) -> None:
        self._tell("" if state.done else tr(LOOKING))
        if state.done:
            self.is_busy = False
            self._then()
            self.known.emit()
