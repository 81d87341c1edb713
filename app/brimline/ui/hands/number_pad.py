"""A pad of digits for gloved hands, in one place beside the forms whose fields it types into.

It stands where its window has laid it out, whichever field it serves: no form changes by it,
nothing is covered, and its own keys stay where they are from field to field. They leave the
keyboard in the field, so that both may be used in turn.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QEvent, QPoint, QRectF, QSize, Qt, QTimer, Signal
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
    QFrame,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QWidget,
)

from brimline.translation import marked, tr
from brimline.ui.tokens import Space

RELEASE_MS = 40
"""How often it is looked whether a mouse button is up again before the pad goes."""

KEY_PX = 40
"""Width of the key in a field that opens the pad; it is as high as the field."""

_DIGITS = (("7", "8", "9"), ("4", "5", "6"), ("1", "2", "3"))

_SIGN, _MARK = "±", "."
_BACK, _ENTER, _CLOSE = marked("Delete"), marked("Enter"), marked("Close")
_SPOKEN = {_SIGN: marked("Change the sign"), _MARK: marked("Decimal mark"),
           _BACK: marked("Take the last figure away")}  # fmt: skip
_WIDE = (_BACK, _CLOSE)


def _nowhere() -> QWidget | None:
    """Return that Enter leads nowhere, as long as nobody has said otherwise."""
    return None


class PadField(QLineEdit):
    """A field that has a pad: a press on it or on its key opens it, as do F4 and Alt+Down."""

    def __init__(self) -> None:
        super().__init__()
        self.onward: Callable[[], QWidget | None] = _nowhere
        """Returns where Enter leads: the next field, or the button that it presses."""
        self.pad_key = _PadKey(self)
        self.setTextMargins(0, 0, KEY_PX, 0)

    @property
    def symbol(self) -> str:
        """The unit that a bare number is taken in; empty where it has none."""
        return ""

    @property
    def pad(self) -> NumberPad | None:
        """The pad, while it types into this field."""
        near = self._near()
        return near if near is not None and near.field is self else None

    def _near(self) -> NumberPad | None:
        """Return the pad that is nearest to this field, whatever it types into."""
        holder = self.parentWidget()
        while holder is not None:
            found: NumberPad | None = holder.findChild(NumberPad)
            if found is not None:
                return found
            holder = holder.parentWidget()
        return None

    def open_pad(self) -> None:
        """Let the pad type into this field, instead of into another one."""
        near = self._near()
        if near is not None and near.field is not self:
            near.serve(self)
            self._come_into_sight()

    def close_pad(self) -> None:
        """Take the pad away."""
        pad = self.pad
        if pad is not None:
            pad.rest()

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

    def onward_words(self) -> str:
        """Return what Enter does from here."""
        leads = self.onward()
        if isinstance(leads, QAbstractButton):
            return leads.text()
        return tr(_ENTER) if leads is None else tr("Next field")

    def _come_into_sight(self) -> None:
        """Scroll to this field where it is out of sight, and nowhere else."""
        QApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest)  # the pad stands at once
        parent = self.parentWidget()
        while parent is not None:
            if isinstance(parent, QScrollArea):
                parent.ensureWidgetVisible(self, 0, Space.SMALL)
            parent = parent.parentWidget()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """A press opens the pad once it is over: nothing changes under the finger."""
        super().mouseReleaseEvent(event)
        if event.button() is Qt.MouseButton.LeftButton and self.hasFocus():
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
        pad = self.pad
        if pad is not None and event.reason() not in stays:
            pad.leave()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """A page that is left has no pad any more."""
        super().hideEvent(event)
        self.close_pad()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """The key stays at the end of the field."""
        super().resizeEvent(event)
        self.pad_key.setGeometry(self.width() - KEY_PX, 0, KEY_PX, self.height())


class NumberPad(QFrame):
    """The keys, with what they type into and its unit above them; hidden while it serves nobody.

    ``opened`` comes with every field that it begins to serve. What Enter does is written on it.
    """

    opened = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.field: PadField | None = None
        self.setProperty("role", "panel")
        self.keys: dict[str, QPushButton] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(Space.SMALL, Space.TIGHT, Space.SMALL, Space.SMALL)
        grid.setSpacing(Space.TIGHT)
        self.name = QLabel()
        self.name.setProperty("role", "heading")
        self.name.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        grid.addWidget(self.name, 0, 0, 1, 6)
        for row, digits in enumerate(_DIGITS, start=1):
            for at, digit in enumerate(digits):
                self._add(grid, digit, (row, at, 1, 1), partial(self._insert, digit))
        self._add(grid, _SIGN, (1, 3, 1, 1), self._change_sign)
        self._add(grid, _MARK, (2, 3, 1, 1), partial(self._insert, _MARK))
        self._add(grid, "0", (3, 3, 1, 1), partial(self._insert, "0"))
        self._add(grid, _BACK, (1, 4, 1, 1), self._take_away)
        self._add(grid, _CLOSE, (1, 5, 1, 1), self.rest)
        self._add(grid, _ENTER, (2, 4, 2, 2), self._send)
        self.keys[_ENTER].setProperty("role", "next")
        self.hide()

    def _add(
        self,
        grid: QGridLayout,
        text: str,
        place: tuple[int, int, int, int],
        pressed: Callable[[], object],
    ) -> None:
        key = _Key(tr(text) if text in (*_WIDE, _ENTER) else text, times=2 if place[1] > 3 else 1)
        key.setProperty("tap", "main")
        key.setAutoRepeat(text == _BACK)
        if text in _SPOKEN:
            key.setAccessibleName(tr(_SPOKEN[text]))
        if place[2] > 1:
            key.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Expanding)
        key.clicked.connect(lambda _checked=False: pressed())
        grid.addWidget(key, *place)
        self.keys[text] = key

    def serve(self, field: PadField) -> None:
        """Type into a field from now on, and stand there for it."""
        self.field = field
        self.setFocusProxy(field)  # else a press would give the keyboard to what lies below
        name, unit = field.accessibleName(), field.symbol
        self.name.setText(tr("{name}, in {unit}", name=name, unit=unit) if unit else name)
        self.keys[_ENTER].setText(field.onward_words())
        self.show()
        self.opened.emit()

    def rest(self) -> None:
        """Type into no field any more."""
        self.field = None
        self.hide()

    def _insert(self, figure: str) -> None:
        if self.field is not None:
            self.field.insert(figure)

    def _take_away(self) -> None:
        if self.field is not None:
            self.field.backspace()

    def _send(self) -> None:
        if self.field is not None:
            self.field.send()

    def _change_sign(self) -> None:
        """Change the sign of the number; where the cursor stands does not matter."""
        if self.field is None:
            return
        typed, at = self.field.text(), self.field.cursorPosition()
        minus = typed.startswith("-")
        self.field.setText(typed[1:] if minus else f"-{typed}")
        self.field.setCursorPosition(max(0, at - 1 if minus else at + 1))

    def leave(self) -> None:
        """Go, but not while a mouse button is down: what is being pressed would move away."""
        if QApplication.mouseButtons() is not Qt.MouseButton.NoButton:
            QTimer.singleShot(RELEASE_MS, self, self.leave)
        elif self.field is not None and not self.field.hasFocus():
            self.rest()


class _Key(QPushButton):
    """A key that is no narrower than it is high; what stands on it moves no other key.

    :param times: how many widths of a figure's key it would like.
    """

    def __init__(self, text: str, times: int) -> None:
        super().__init__(text)
        self._times = times
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return a size that its words have no part in."""
        high = super().sizeHint().height()
        return QSize(round(1.15 * self._times * high), high)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the least size."""
        high = super().minimumSizeHint().height()
        return QSize(round(1.15 * self._times * high) if self._times > 1 else high, high)


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
