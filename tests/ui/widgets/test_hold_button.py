"""A button that is held: mouse, finger and keys, let go too early, and keys that repeat."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from label_fit import clipped_texts
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QKeyEvent, QPointingDevice
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot
from window_hands import MadeTime

from brimline.ui.hands.held_key import CAUTION_S
from brimline.ui.tokens import Palette
from brimline.ui.touch import Touch
from brimline.ui.widgets.hold_button import HoldButton

REST, GOING, EARLY = "Hold: I have read this", "Keep holding…", "Too short: hold it longer"


class Held:
    """A button in a window, a made clock, and how often it has done what it does."""

    def __init__(self, qtbot: QtBot) -> None:
        self.clock = MadeTime()
        self.window = QWidget()
        qtbot.addWidget(self.window)
        self.button = HoldButton(REST, GOING, EARLY, self.clock)
        self.other = QLineEdit()
        column = QVBoxLayout(self.window)
        column.addWidget(self.button)
        column.addWidget(self.other)
        self.window.show()
        self.window.activateWindow()
        self.button.setFocus()
        QApplication.processEvents()
        self.times = 0
        self.button.done.connect(self._count)

    def _count(self) -> None:
        self.times += 1

    def wait(self, seconds: float) -> None:
        self.clock.now += seconds
        self.button.tick()


@pytest.fixture
def held(qtbot: QtBot, palette: Palette) -> Held:
    return Held(qtbot)


def mouse(held: Held, *, down: bool) -> None:
    what = QTest.mousePress if down else QTest.mouseRelease
    what(held.button, Qt.MouseButton.LeftButton)


def space(held: Held, *, down: bool) -> None:
    (QTest.keyPress if down else QTest.keyRelease)(held.button, Qt.Key.Key_Space)


def enter(held: Held, *, down: bool) -> None:
    (QTest.keyPress if down else QTest.keyRelease)(held.button, Qt.Key.Key_Return)


_screen: list[QPointingDevice] = []


def finger(held: Held, *, down: bool) -> None:
    if not _screen:
        _screen.append(QTest.createTouchDevice())
    touch = QTest.touchEvent(held.button, _screen[0], False)
    (touch.press if down else touch.release)(0, QPoint(20, 20), held.button)
    touch.commit()
    QApplication.processEvents()


WAYS = pytest.mark.parametrize("way", [mouse, space, enter, finger], ids=lambda way: way.__name__)


@WAYS
def test_it_is_done_once_after_its_time_while_it_is_held(
    held: Held, way: Callable[..., None]
) -> None:
    way(held, down=True)
    assert held.button.text() == GOING
    held.wait(CAUTION_S - 0.01)
    assert held.times == 0
    assert held.button.part == pytest.approx(0.993, abs=0.001)
    held.wait(0.01)
    assert held.times == 1
    held.wait(5.0)
    way(held, down=False)
    assert held.times == 1
    assert (held.button.text(), held.button.part) == (REST, 0.0)


@WAYS
def test_let_go_too_early_it_says_so_and_begins_anew(held: Held, way: Callable[..., None]) -> None:
    way(held, down=True)
    held.wait(CAUTION_S - 0.1)
    way(held, down=False)
    assert (held.times, held.button.text(), held.button.part) == (0, EARLY, 0.0)
    held.wait(0.3)  # at once again, which is no bounce here
    way(held, down=True)
    held.wait(CAUTION_S - 0.1)
    assert held.times == 0
    held.wait(0.11)
    assert held.times == 1
    way(held, down=False)


@pytest.mark.parametrize("key", [Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter])
def test_a_key_that_repeats_is_one_press(held: Held, key: Qt.Key) -> None:
    QTest.keyPress(held.button, key)
    for _ in range(40):  # some systems send both ends of every repetition
        held.wait(0.03)
        for kind in (QEvent.Type.KeyRelease, QEvent.Type.KeyPress):
            none = Qt.KeyboardModifier.NoModifier
            QApplication.sendEvent(held.button, QKeyEvent(kind, key, none, "", True))
    assert held.times == 0
    held.wait(CAUTION_S - 40 * 0.03)
    assert held.times == 1
    for _ in range(20):
        QApplication.sendEvent(
            held.button,
            QKeyEvent(QEvent.Type.KeyPress, key, Qt.KeyboardModifier.NoModifier, "", True),
        )
        held.wait(CAUTION_S)
    assert held.times == 1


def test_taps_and_other_keys_do_nothing(held: Held) -> None:
    for _ in range(5):
        QTest.mouseClick(held.button, Qt.MouseButton.LeftButton)
        QTest.keyClick(held.button, Qt.Key.Key_Space)
        QTest.keyClick(held.button, Qt.Key.Key_Return)
        held.button.click()
        held.wait(0.2)
    QTest.mousePress(held.button, Qt.MouseButton.RightButton)
    held.wait(CAUTION_S)
    QTest.mouseRelease(held.button, Qt.MouseButton.RightButton)
    QTest.keyPress(held.button, Qt.Key.Key_A)
    held.wait(CAUTION_S)
    assert held.times == 0


def test_what_is_not_over_it_or_has_gone_elsewhere_is_let_go(held: Held) -> None:
    mouse(held, down=True)
    held.wait(0.5)
    QTest.mouseMove(held.button, QPoint(-40, -40))
    assert held.button.text() == EARLY
    held.wait(CAUTION_S)
    space(held, down=True)
    held.wait(0.5)
    held.other.setFocus()
    assert held.button.text() == EARLY
    held.wait(CAUTION_S)
    held.button.setFocus()
    mouse(held, down=True)
    held.button.hide()
    held.wait(CAUTION_S)
    assert held.times == 0
    held.button.show()
    assert held.button.text() == REST
    mouse(held, down=False)


def test_the_bar_grows_and_no_word_is_cut(held: Held) -> None:
    """Its frame stands at all times; ink in it counts, whatever the colours."""

    def ink() -> int:
        shown = held.button.grab().toImage()
        y = shown.height() - 13
        colours = [shown.pixelColor(x, y).name() for x in range(20, shown.width() - 20)]
        return sum(colour == ink_colour for colour in colours)

    ink_colour = held.button.palette().buttonText().color().name()
    assert held.button.height() >= Touch(59).side
    at_rest = ink()
    mouse(held, down=True)
    seen = [at_rest]
    for _ in range(2):
        held.wait(CAUTION_S / 3)
        seen.append(ink())
    assert seen[0] < seen[1] < seen[2]
    mouse(held, down=False)
    for words in (REST, GOING, EARLY):
        held.button.setText(words)
        held.window.resize(held.window.minimumSizeHint())
        QApplication.processEvents()
        assert clipped_texts(held.window) == []
