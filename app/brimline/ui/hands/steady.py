"""Takes no press for a button that has only just come to where the hand was going.

An alarm takes its room at once, and a page turns as soon as its stage is done: whoever was about to
press would meet another button there. Such a press does nothing, and is made again on purpose.
"""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QTimer
from PySide6.QtGui import QPointerEvent, QWindow
from PySide6.QtWidgets import QAbstractButton, QScrollArea, QWidget

STEADY_S = 0.3
"""A button must have been under the hand for so long, in s, before a press on it counts (our
choice): a hand that is on its way does not turn back sooner."""

LOOK_MS = 100
"""How often it is looked where buttons are."""

_PRESSES = (
    QEvent.Type.MouseButtonPress,
    QEvent.Type.MouseButtonDblClick,
    QEvent.Type.TouchBegin,
)

Places = dict[QAbstractButton, QRect]


class Steady(QObject):
    """Watches the buttons of a screen while it is up.

    What a person scrolls has not come by itself, and may be pressed at once.

    :param clock: in s, monotonic.
    """

    def __init__(self, screen: QWidget, clock: Callable[[], float] = time.monotonic) -> None:
        super().__init__(screen)
        self.clock = clock
        self._screen = screen
        self._looks: deque[tuple[float, Places]] = deque()
        self._window: QWindow | None = None
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_MS)
        self._timer.timeout.connect(self.look)

    def begin(self) -> None:
        """Watch from now on: the screen is up."""
        self.end()
        self._window = self._screen.window().windowHandle()
        if self._window is not None:
            self._window.installEventFilter(self)
        self._timer.start()
        self.look()

    def end(self) -> None:
        """Watch no longer."""
        self._timer.stop()
        self._looks.clear()
        if self._window is not None:
            self._window.removeEventFilter(self)
            self._window = None

    def allow_scrolling(self, area: QScrollArea) -> None:
        """Take what moves by scrolling an area for what a person has moved."""
        area.verticalScrollBar().valueChanged.connect(lambda _value: self._scrolled())

    def _scrolled(self) -> None:
        if self._window is not None:
            self._looks.clear()
            self._looks.append((self.clock() - STEADY_S, self._places()))

    def look(self) -> None:
        """Look where the buttons are; keep no more than is needed."""
        now = self.clock()
        self._looks.append((now, self._places()))
        while len(self._looks) > 1 and self._looks[1][0] <= now - STEADY_S:
            self._looks.popleft()

    def _places(self) -> Places:
        window = self._screen.window()
        return {
            button: QRect(button.mapTo(window, QPoint()), button.size())
            for button in self._screen.findChildren(QAbstractButton)
            if button.isVisible()
        }

    def counts(self, at: QPoint) -> bool:
        """Return whether a press counts.

        :param at: in the window's coordinates.
        """
        hit = self._screen.window().childAt(at)
        if not isinstance(hit, QAbstractButton) or not self._screen.isAncestorOf(hit):
            return True
        since = self.clock() - STEADY_S
        known = [places for seen, places in self._looks if seen <= since]
        place = known[-1].get(hit) if known else None
        return place is not None and place.contains(at)

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Keep a press from the window that does not count."""
        if event.type() not in _PRESSES or not isinstance(event, QPointerEvent):
            return False
        return event.pointCount() > 0 and not self.counts(event.point(0).position().toPoint())
