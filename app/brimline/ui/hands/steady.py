"""Takes no press for a button that has only just come to where the hand was going.

An alarm takes its room at once, and a page turns as soon as its stage is done: whoever was about to
press would meet another button there. Such a press does nothing, and is made again on purpose.
"""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QTimer, Signal
from PySide6.QtGui import QPointerEvent, QWindow
from PySide6.QtWidgets import QAbstractButton, QScrollArea, QWidget

from brimline.translation import tr

STEADY_S = 0.3
"""A button must have been under the hand for so long, in s, before a press on it counts (our
choice): a hand that is on its way does not turn back sooner."""

LOOK_MS = 100
"""How often it is looked where buttons are."""

SAID_S = 6.0
"""For how long, in s, it is said why a press did nothing (our choice)."""

_PRESSES = (
    QEvent.Type.MouseButtonPress,
    QEvent.Type.MouseButtonDblClick,
    QEvent.Type.TouchBegin,
)

Places = dict[QAbstractButton, QRect]


class Steady(QObject):
    """Watches the buttons of a screen while it is up.

    What a person scrolls has not come by itself, and may be pressed at once. ``dropped`` carries
    why a press did nothing, in one sentence; ``over`` the same one once it has been said long
    enough.

    :param clock: in s, monotonic.
    """

    dropped = Signal(str)
    over = Signal(str)

    def __init__(self, screen: QWidget, clock: Callable[[], float] = time.monotonic) -> None:
        super().__init__(screen)
        self.clock = clock
        self._screen = screen
        self._looks: deque[tuple[float, Places]] = deque()
        self._said, self._said_until = "", 0.0
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
        """Take what a person scrolls in an area for what was moved on purpose.

        What Qt scrolls by itself, because a page got shorter or another field has the keyboard,
        comes under the hand like anything else.
        """
        bar = area.verticalScrollBar()
        bar.actionTriggered.connect(lambda _action: self._scrolled(area))

    def _scrolled(self, area: QScrollArea) -> None:
        """Move what is known of an area's own buttons as far as it is about to be scrolled."""
        bar = area.verticalScrollBar()
        to = min(max(bar.sliderPosition(), bar.minimum()), bar.maximum())
        up = bar.value() - to
        for _seen, places in self._looks:
            for button in places:
                if area.isAncestorOf(button):
                    places[button] = places[button].translated(0, up)

    def look(self) -> None:
        """Look where the buttons are; keep no more than is needed."""
        now = self.clock()
        if self._said and now >= self._said_until:
            said, self._said = self._said, ""
            self.over.emit(said)
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
        """Keep a press from the window that does not count, and say so."""
        if event.type() not in _PRESSES or not isinstance(event, QPointerEvent):
            return False
        if event.pointCount() == 0 or self.counts(event.point(0).position().toPoint()):
            return False
        self._said, self._said_until = tr("This is new: look, then press."), self.clock() + SAID_S
        self.dropped.emit(self._said)
        return True
