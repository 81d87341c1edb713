"""How a person reaches what is in the window: by keyboard alone, or by mouse alone."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QWindow
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QCheckBox,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QScrollArea,
    QWidget,
)

from brimline.ui.hands.held_key import CAUTION_S
from brimline.ui.hands.steady import LOOK_MS, STEADY_S
from brimline.ui.main_window import MainWindow
from brimline.ui.widgets.hold_button import HoldButton
from brimline.ui.widgets.word_tiles import WordTiles


class MadeTime:
    """A clock that stands until it is told to go."""

    def __init__(self) -> None:
        self.now = 0.0

    def __call__(self) -> float:
        return self.now


class Hands:
    """How a person reaches widgets: ``keyboard`` never touches the mouse, nor the other way."""

    def __init__(self, window: MainWindow, *, keyboard: bool) -> None:
        self._window = window
        self._keyboard = keyboard

    def press(self, target: QAbstractButton) -> None:
        """Press a button."""
        assert target.isEnabled(), target.text()
        if self._keyboard:
            self._reach(target)
            QTest.keyClick(target, Qt.Key.Key_Space)
        else:
            self._click(target)
        QApplication.processEvents()

    def hold(self, target: HoldButton) -> None:
        """Hold a button down until it has done what it does, and let go."""
        clock = MadeTime()
        clock.now, target.clock = target.clock(), clock
        if self._keyboard:
            self._reach(target)
            QTest.keyPress(target, Qt.Key.Key_Space)
        else:
            place = self._aim(target)
            QTest.mousePress(self._of_system(), Qt.MouseButton.LeftButton, pos=place)
        clock.now += CAUTION_S
        target.tick()
        if self._keyboard:
            QTest.keyRelease(QApplication.focusWidget() or self._window, Qt.Key.Key_Space)
        else:
            QTest.mouseRelease(self._of_system(), Qt.MouseButton.LeftButton, pos=place)
        QApplication.processEvents()

    def type(self, target: QLineEdit | QPlainTextEdit, text: str) -> None:
        """Put a text into a field."""
        self._reach(target) if self._keyboard else self._click(target)
        if target.property("text") or isinstance(target, QPlainTextEdit):
            QTest.keyClick(target, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
            QTest.keyClick(target, Qt.Key.Key_Delete)
        QTest.keyClicks(target, text)

    def choose(self, target: QComboBox, value: object) -> None:
        """Choose an entry by its data."""
        self._reach(target) if self._keyboard else self._click_closed(target)
        wanted = target.findData(value)
        for _ in range(target.count()):
            if target.currentIndex() == wanted:
                return
            down = target.currentIndex() < wanted
            QTest.keyClick(target, Qt.Key.Key_Down if down else Qt.Key.Key_Up)
        assert target.currentIndex() == wanted

    def pick(self, target: WordTiles[Any], word: object) -> None:
        """Choose a tile: by the tabulator to the question, by arrows to the answer."""
        tile = target.tiles[word]
        if tile.isChecked():
            return
        if self._keyboard:
            self._reach_one_of(list(target.tiles.values()))
            self._arrow_to(tile)
            QTest.keyClick(tile, Qt.Key.Key_Space)
        else:
            self._click(tile)
        assert target.choice == word

    def _arrow_to(self, tile: QWidget) -> None:
        for key in 20 * [Qt.Key.Key_Down] + 20 * [Qt.Key.Key_Up]:
            at = QApplication.focusWidget()
            if at is tile:
                return
            assert at is not None
            across = at.y() == tile.y()
            sideways = Qt.Key.Key_Right if at.x() < tile.x() else Qt.Key.Key_Left
            QTest.keyClick(at, sideways if across else key)
        assert QApplication.focusWidget() is tile

    def _reach_one_of(self, targets: list[Any]) -> None:
        for _ in range(120):
            if QApplication.focusWidget() in targets:
                return
            QTest.keyClick(QApplication.focusWidget() or self._window, Qt.Key.Key_Tab)
        raise AssertionError(f"none of {targets} is reached by the tabulator key")

    def tick(self, target: QCheckBox, on: bool) -> None:
        """Set a check box."""
        if target.isChecked() is on:
            return
        if self._keyboard:
            self._reach(target)
            QTest.keyClick(target, Qt.Key.Key_Space)
        else:
            self._click(target, QPoint(12, target.height() // 2))
        assert target.isChecked() is on

    def _reach(self, target: QWidget) -> None:
        self._reach_one_of([target])

    def _click(self, target: QWidget, at: QPoint | None = None) -> None:
        QTest.mouseClick(self._of_system(), Qt.MouseButton.LeftButton, pos=self._aim(target, at))
        QApplication.processEvents()

    def _of_system(self) -> QWindow:
        """The window as the window system has it: a press goes the way of a person's."""
        window = self._window.windowHandle()
        assert window is not None
        return window

    def _aim(self, target: QWidget, at: QPoint | None = None) -> QPoint:
        """Look for a widget until it stands still under the hand, and return where, in the window.

        :param at: in the widget; its middle, unless told.
        """
        for _ in range(4):  # what a page shows may change while it is scrolled: look again
            self._scroll_to(target)
            place = at or target.rect().center()
            hit = self._window.childAt(target.mapTo(self._window, place))
            if hit is target:
                break
        assert hit is not None, target
        assert hit is target or target.isAncestorOf(hit), f"{target} lies under {hit}"
        self.look()
        return target.mapTo(self._window, place)

    def look(self) -> None:
        """Take the time that a person takes before a press, by a clock of its own."""
        check = self._window.check
        if check is None or not check.isVisible():
            return
        steady = check.steady
        if not isinstance(steady.clock, MadeTime):
            made = MadeTime()
            made.now, steady.clock = steady.clock(), made
        for _ in range(round(STEADY_S * 1000 / LOOK_MS) + 2):
            steady.clock.now += LOOK_MS / 1000
            steady.look()

    def _click_closed(self, target: QComboBox) -> None:
        """A list that opens is closed again; the wheel's keys then choose."""
        self._scroll_to(target)
        target.setFocus(Qt.FocusReason.MouseFocusReason)

    def _scroll_to(self, target: QWidget) -> None:
        parent = target.parentWidget()
        while parent is not None:
            if isinstance(parent, QScrollArea):
                QApplication.processEvents()
                parent.ensureWidgetVisible(target)
            parent = parent.parentWidget()
        QApplication.processEvents()
