"""Tells a key that was let go from one that repeats itself because it is held.

Some window systems send a release and a press for each repeat, with nothing to tell them from two
presses but that they come at once (X11 where Qt does not see the pair together).
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer
from PySide6.QtGui import QKeyEvent

REPEAT_MS = 40
"""A press that comes so soon after its release is a repeat, in ms (our choice): both come at once,
and no finger or foot is that quick."""


class LettingGo:
    """Reports each release of a key once it is sure to be one.

    :param gone: is called when a key was let go.
    """

    def __init__(self, owner: QObject, gone: Callable[[int], None]) -> None:
        self._gone, self._key = gone, 0
        self._timer = QTimer(owner)
        self._timer.setSingleShot(True)
        self._timer.setInterval(REPEAT_MS)
        self._timer.timeout.connect(self._sure)

    def up(self, event: QKeyEvent) -> None:
        """A key went up. Without a time it was no window system that said so: at once."""
        self._finish()
        self._key = event.key()
        if event.timestamp():
            self._timer.start()
        else:
            self._sure()

    def repeats(self, event: QKeyEvent) -> bool:
        """A key went down; return whether it only repeats itself."""
        if event.isAutoRepeat():
            return True
        again = self._timer.isActive() and event.key() == self._key
        if again:
            self._timer.stop()
        else:
            self._finish()
        return again

    def _finish(self) -> None:
        if self._timer.isActive():
            self._timer.stop()
            self._sure()

    def _sure(self) -> None:
        self._gone(self._key)
