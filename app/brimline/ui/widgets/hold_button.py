"""A button that does something only once it was held down for a while.

For what nobody should say by a slip of the hand. Mouse, finger, and Space or Enter hold it alike;
a key that repeats by itself is one press. A bar grows while it is held, and words beside the bar
say what is to be done, so that nobody has to guess from the colour.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import ClassVar

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QHideEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QTouchEvent,
)
from PySide6.QtWidgets import QPushButton, QSizePolicy

from brimline.ui.hands.held_key import CAUTION_S, HeldKey
from brimline.ui.hands.letting_go import LettingGo
from brimline.ui.tokens import Space

TICK_MS = 30
BAR_PX = 10
_UNDER = Space.SMALL  # between the bar and the edge of the button

_KEYS = (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter)


class HoldButton(QPushButton):
    """Emits ``done`` once it was held for its time, while it still is.

    :param words: what it says at rest; ``going``: while it is held; ``early``: once it was let go
        too early, until it is pressed again. It has room for the longest of them.
    :param clock: in s, monotonic.
    """

    done = Signal()
    _TOUCHES: ClassVar = {
        QEvent.Type.TouchBegin, QEvent.Type.TouchUpdate, QEvent.Type.TouchEnd,
        QEvent.Type.TouchCancel,
    }  # fmt: skip

    def __init__(
        self,
        words: str,
        going: str,
        early: str,
        clock: Callable[[], float] = time.monotonic,
        hold_s: float = CAUTION_S,
    ) -> None:
        super().__init__(words)
        self._words, self._going, self._early = words, going, early
        self.clock, self._hold_s = clock, hold_s
        self._held = HeldKey(bounce_s=0.0)
        self._key: int | None = None
        self._letting_go = LettingGo(self, self._gone)
        self._timer = QTimer(self)
        self._timer.setInterval(TICK_MS)
        self._timer.timeout.connect(self.tick)
        self.setProperty("role", "next")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAutoDefault(False)  # a default button is clicked by Enter, held or not
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAttribute(Qt.WidgetAttribute.WA_AcceptTouchEvents)

    @property
    def part(self) -> float:
        """How much of its time it has been held, 0 to 1."""
        held = self._held.held_s(self.clock())
        return 0.0 if held is None else min(1.0, held / self._hold_s)

    def tick(self) -> None:
        """Look how long it has been held."""
        if self._held.held_s(self.clock()) is None:
            return
        self.update()
        if self.part >= 1.0:
            self._rest(self._words)
            self.done.emit()

    def _begin(self) -> None:
        if self.isEnabled() and self._held.down(self.clock()):
            self.setDown(True)
            self.setText(self._going)
            self._timer.start()

    def _let_go(self) -> None:
        """The last moment counts, whenever the timer comes."""
        self.tick()
        if self._held.held_s(self.clock()) is not None:
            self._rest(self._early)

    def _rest(self, words: str) -> None:
        self._held.end(self.clock())
        self._timer.stop()
        self._key = None
        self.setDown(False)
        self.setText(words)
        self.update()

    # ── mouse, finger, keys ──────────────────────────────────────────────────

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Begin."""
        if event.button() is Qt.MouseButton.LeftButton:
            self._begin()
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Beside the button it is not held."""
        if not self.rect().contains(event.position().toPoint()):
            self._let_go()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """End."""
        if event.button() is Qt.MouseButton.LeftButton:
            self._let_go()
        event.accept()

    def event(self, event: QEvent) -> bool:
        """Take fingers by ourselves: what some systems make of a finger that rests is no press."""
        if event.type() not in self._TOUCHES or not isinstance(event, QTouchEvent):
            return super().event(event)
        inside = any(self.rect().contains(at.position().toPoint()) for at in event.points())
        if event.type() is QEvent.Type.TouchBegin:
            self.setFocus(Qt.FocusReason.MouseFocusReason)
            self._begin()
        elif event.type() is not QEvent.Type.TouchUpdate or not inside:
            self._let_go()
        event.accept()
        return True

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Begin with Space or Enter; other keys go their way."""
        if event.key() not in _KEYS:
            super().keyPressEvent(event)
            return
        if not self._letting_go.repeats(event) and self._key is None:
            self._begin()
            self._key = event.key()
        event.accept()

    def keyReleaseEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """End, once it is the key itself that goes up."""
        if event.key() not in _KEYS:
            super().keyReleaseEvent(event)
            return
        if not event.isAutoRepeat():
            self._letting_go.up(event)
        event.accept()

    def _gone(self, key: int) -> None:
        if key == self._key:
            self._let_go()
            self._key = None

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """What goes up elsewhere is not heard here: it counts as let go."""
        self._let_go()
        super().focusOutEvent(event)

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Nobody holds what is not there; it comes back at rest."""
        super().hideEvent(event)
        self._rest(self._words)

    # ── how it looks ─────────────────────────────────────────────────────────

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for the longest of its words, and for the bar under them."""
        hint, metrics = super().sizeHint(), self.fontMetrics()
        widest = max(map(metrics.horizontalAdvance, (self._words, self._going, self._early)))
        more = widest - metrics.horizontalAdvance(self.text())
        return hint + QSize(max(0, more), BAR_PX + 2 * _UNDER)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the same: no word is cut."""
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the bar under the words: its frame at all times, filled as far as it was held."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ink = self.palette().buttonText().color()
        top = self.height() - BAR_PX - _UNDER
        bar = QRectF(Space.LARGE, top, self.width() - 2 * Space.LARGE, BAR_PX)
        painter.setPen(QPen(ink, 1.5))
        painter.drawRoundedRect(bar, BAR_PX / 2, BAR_PX / 2)
        if self.part > 0:
            bar.setWidth(bar.width() * self.part)
            painter.setBrush(ink)
            painter.drawRoundedRect(bar, BAR_PX / 2, BAR_PX / 2)
        painter.end()
