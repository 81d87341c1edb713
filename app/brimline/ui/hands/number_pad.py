"""A pad of digits for gloved hands, on the page under the field that it types into.

It is part of its form and pushes down what stands below; nothing is covered, and nothing waits for
it to be closed. Its keys leave the keyboard in the field, so that both may be used in turn.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import cast

from PySide6.QtCore import QEvent, QPoint, QRectF, Qt, QTimer
from PySide6.QtGui import (
    QFocusEvent,
    QHideEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QFormLayout,
    QFrame,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QSizePolicy,
)

from brimline.translation import marked, tr
from brimline.ui.tokens import Space

RELEASE_MS = 40
"""How often it is looked whether a mouse button is up again before the pad goes."""

KEY_PX = 40
"""Width of the key in a field that opens the pad; it is as high as the field."""

_DIGITS = (("7", "8", "9"), ("4", "5", "6"), ("1", "2", "3"))

_SIGN, _MARK = "±", "."
_BACK, _ENTER, _CLOSE = marked("Back"), marked("Enter"), marked("Close")
_SPOKEN = {_SIGN: marked("Change the sign"), _MARK: marked("Decimal mark"),
           _BACK: marked("Take the last figure away")}  # fmt: skip


class PadField(QLineEdit):
    """A field that has a pad: a press on it or on its key opens it, as do F4 and Alt+Down."""

    def __init__(self) -> None:
        super().__init__()
        self.pad: NumberPad | None = None
        self.pad_key = _PadKey(self)
        self.setTextMargins(0, 0, KEY_PX, 0)

    @property
    def symbol(self) -> str:
        """The unit that a bare number is taken in."""
        raise NotImplementedError

    def open_pad(self) -> None:
        """Show the pad under this field, instead of under another one."""
        holder = self.parentWidget()
        layout = None if holder is None else holder.layout()
        if self.pad is not None or not isinstance(layout, QFormLayout):
            return
        for other in self.window().findChildren(NumberPad):
            other.field.close_pad()
        row = cast("tuple[int, object]", layout.getWidgetPosition(self))[0]
        self.pad = NumberPad(self)
        layout.insertRow(row + 1, self.pad)
        self.pad.show()
        QApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest)  # the page grows at once
        self.pad.come_into_sight()

    def close_pad(self) -> None:
        """Take the pad away."""
        pad, self.pad = self.pad, None
        if pad is not None:
            pad.hide()
            holder = pad.parentWidget()
            layout = None if holder is None else holder.layout()
            if isinstance(layout, QFormLayout):
                layout.takeRow(pad)
            pad.deleteLater()

    def toggle_pad(self) -> None:
        """Open the pad, or close it."""
        if self.pad is None:
            self.setFocus(Qt.FocusReason.MouseFocusReason)
            self.open_pad()
        else:
            self.close_pad()

    def send(self) -> None:
        """Do what Enter does; the pad goes along to the next field, or goes."""
        self.returnPressed.emit()
        at = QApplication.focusWidget()
        if at is self:
            self.close_pad()
        elif isinstance(at, PadField):
            at.open_pad()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """A press opens the pad."""
        super().mousePressEvent(event)
        if event.button() is Qt.MouseButton.LeftButton:
            self.open_pad()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """F4 and Alt+Down open and close the pad, Escape closes it; all others are typed."""
        alt_down = (
            event.key() == Qt.Key.Key_Down and event.modifiers() & Qt.KeyboardModifier.AltModifier
        )
        if event.key() == Qt.Key.Key_F4 or alt_down:
            self.toggle_pad()
        elif event.key() == Qt.Key.Key_Escape and self.pad is not None:
            self.close_pad()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """The pad goes with the keyboard, but not for another window or a menu."""
        super().focusOutEvent(event)
        stays = (Qt.FocusReason.ActiveWindowFocusReason, Qt.FocusReason.PopupFocusReason)
        if self.pad is not None and event.reason() not in stays:
            self.pad.leave()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """A page that is left has no pad any more."""
        super().hideEvent(event)
        self.close_pad()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """The key stays at the end of the field."""
        super().resizeEvent(event)
        self.pad_key.setGeometry(self.width() - KEY_PX, 0, KEY_PX, self.height())


class NumberPad(QFrame):
    """The keys, with what they type into and its unit above them."""

    def __init__(self, field: PadField) -> None:
        super().__init__()
        self.field = field
        self.setFocusProxy(field)  # else a press would give the keyboard to what lies below
        self.setProperty("role", "panel")
        self.keys: dict[str, QPushButton] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(Space.SMALL, Space.SMALL, Space.SMALL, Space.SMALL)
        grid.setSpacing(Space.TIGHT)
        self.unit = QLabel(tr("In {unit}", unit=field.symbol) if field.symbol else "")
        self.unit.setProperty("role", "heading")
        grid.addWidget(self.unit, 0, 0, 1, 2)
        self._add(grid, _CLOSE, (0, 2, 1, 2), field.close_pad)
        for row, digits in enumerate(_DIGITS, start=1):
            for at, digit in enumerate(digits):
                self._add(grid, digit, (row, at, 1, 1), partial(field.insert, digit))
        self._add(grid, "0", (4, 0, 1, 2), lambda: field.insert("0"))
        self._add(grid, _MARK, (4, 2, 1, 1), lambda: field.insert(_MARK))
        self._add(grid, _BACK, (1, 3, 1, 1), field.backspace)
        self._add(grid, _SIGN, (2, 3, 1, 1), self._change_sign)
        self._add(grid, _ENTER, (3, 3, 2, 1), field.send)
        self.keys[_ENTER].setProperty("role", "next")

    def _add(
        self,
        grid: QGridLayout,
        text: str,
        place: tuple[int, int, int, int],
        pressed: Callable[[], object],
    ) -> None:
        key = QPushButton(tr(text) if text in (_BACK, _ENTER, _CLOSE) else text)
        if text != _CLOSE:
            key.setProperty("tap", "main")
        key.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        key.setAutoRepeat(text == _BACK)
        if text in _SPOKEN:
            key.setAccessibleName(tr(_SPOKEN[text]))
        if place[2] > 1:
            key.setSizePolicy(QSizePolicy.Policy.Minimum, QSizePolicy.Policy.Expanding)
        key.clicked.connect(lambda _checked=False: pressed())
        grid.addWidget(key, *place)
        self.keys[text] = key

    def _change_sign(self) -> None:
        """Change the sign of the number; where the cursor stands does not matter."""
        typed, at = self.field.text(), self.field.cursorPosition()
        minus = typed.startswith("-")
        self.field.setText(typed[1:] if minus else f"-{typed}")
        self.field.setCursorPosition(max(0, at - 1 if minus else at + 1))

    def come_into_sight(self) -> None:
        """Scroll the page so that the field and all keys are seen."""
        parent = self.parentWidget()
        while parent is not None:
            if isinstance(parent, QScrollArea):
                parent.ensureWidgetVisible(self, 0, Space.SMALL)
                parent.ensureWidgetVisible(self.field, 0, Space.SMALL)
            parent = parent.parentWidget()

    def leave(self) -> None:
        """Go, but not while a mouse button is down: what is being pressed would move away."""
        if QApplication.mouseButtons() is not Qt.MouseButton.NoButton:
            QTimer.singleShot(RELEASE_MS, self, self.leave)
        elif not self.field.hasFocus():
            self.field.close_pad()


class _PadKey(QAbstractButton):
    """The key in a field that opens its pad: nine keys of our own drawing."""

    def __init__(self, field: PadField) -> None:
        super().__init__(field)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # by keyboard the field itself opens it
        self.setCursor(Qt.CursorShape.ArrowCursor)
        self.setAccessibleName(tr("Number pad"))
        self.setToolTip(tr("Number pad (F4)"))
        self.clicked.connect(lambda _checked=False: field.toggle_pad())

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the keys."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.palette().placeholderText().color())
        middle = self.rect().center() - QPoint(8, 8)
        for at in range(9):
            painter.drawRoundedRect(
                QRectF(middle.x() + at % 3 * 6, middle.y() + at // 3 * 6, 4, 4), 1, 1
            )
        painter.end()
