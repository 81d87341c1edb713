"""Catches what a barcode scanner types, whichever field has the keyboard."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QPlainTextEdit, QWidget
from shiboken6 import Shiboken

from brimline.ui.hands.burst import Burst

_CHANGES = (
    Qt.KeyboardModifier.ControlModifier
    | Qt.KeyboardModifier.AltModifier
    | Qt.KeyboardModifier.MetaModifier
)

_ENDS = {int(Qt.Key.Key_Tab): "\t", int(Qt.Key.Key_Return): "\r", int(Qt.Key.Key_Enter): "\r"}


class Scanner(QObject):
    """Watches whatever has the keyboard while a page is up, and tells of codes.

    Letters are shown as they come, because nobody knows yet whose they are; what had the keyboard
    gets back what it held before, once they turn out to be a code. Times are those at which the
    keys were struck, so that a window that was busy takes no typist for a scanner.

    :param page: what must be seen, and has the keyboard in it where ``within`` is set.
    :param scanned: is called with each code.
    """

    def __init__(
        self, page: QWidget, scanned: Callable[[str], None], *, within: bool = False
    ) -> None:
        super().__init__(page)
        self._page, self._scanned, self._within = page, scanned, within
        self._burst = Burst()
        self._watched: QWidget | None = None
        self._give_back: Callable[[], None] = _nothing
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._follow)
            self._follow(None, QApplication.focusWidget())

    def _follow(self, _before: QWidget | None, now: QWidget | None) -> None:
        if self._watched is not None and self._watched is not now:
            if Shiboken.isValid(self._watched):  # the keyboard leaves a field that is being deleted
                self._watched.removeEventFilter(self)
            self._watched = None
            self._burst.drop()
        if now is not None and self._watched is None:
            self._watched = now
            now.installEventFilter(self)
            now.destroyed.connect(self._forget)

    def _forget(self) -> None:
        self._watched = None

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Look at keys; swallow the one that ends a code."""
        if event.type() is not QEvent.Type.KeyPress or not isinstance(event, QKeyEvent):
            return False
        if not isinstance(watched, QWidget) or not self._applies(watched):
            return False
        text = _ENDS.get(event.key(), event.text())
        if not text:
            return False  # Shift for a capital letter
        if event.isAutoRepeat() or event.modifiers() & _CHANGES:
            self._burst.drop()
            return False
        code = self._burst.key(text, event.timestamp() / 1000 or None)
        if code is None:
            if self._burst.is_new:
                self._give_back = _held(watched)
            return False
        self._give_back()
        self._scanned(code)
        return True

    def _applies(self, watched: QWidget) -> bool:
        if not self._page.isVisible():
            return False
        if self._within:
            return watched is self._page or self._page.isAncestorOf(watched)
        return watched.window() is self._page.window()


def _held(widget: QWidget) -> Callable[[], None]:
    """Return what gives a widget back what it holds now."""
    if isinstance(widget, QComboBox) and widget.isEditable():
        editor = widget.lineEdit()
        return _nothing if editor is None else _held(editor)
    if isinstance(widget, QComboBox):
        chosen = widget.currentIndex()
        return lambda: widget.setCurrentIndex(chosen)
    if isinstance(widget, QLineEdit):
        line, at = widget.text(), widget.cursorPosition()

        def put_back() -> None:
            widget.setText(line)
            widget.setCursorPosition(at)

        return put_back
    if isinstance(widget, QPlainTextEdit):
        text, cursor = widget.toPlainText(), widget.textCursor()
        place = cursor.position()

        def put_text_back() -> None:
            widget.setPlainText(text)
            cursor.setPosition(place)
            widget.setTextCursor(cursor)

        return put_text_back
    return _nothing


def _nothing() -> None:
    """There is nothing to give back."""
