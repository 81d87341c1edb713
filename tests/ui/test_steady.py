"""A button that has only just come under the hand takes no press; one that stood there does."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot
from window_hands import MadeTime

from brimline.ui import theme
from brimline.ui.forms import scrolled
from brimline.ui.hands.steady import LOOK_MS, SAID_S, STEADY_S, Steady
from brimline.ui.samples.capture import settle
from brimline.ui.tokens import LIGHT

LOOK_S = LOOK_MS / 1000


class Bay(QWidget):
    """An alarm that may come above two buttons, which stand above what is scrolled."""

    def __init__(self) -> None:
        super().__init__()
        self.pressed: list[str] = []
        self.alarm = QLabel("Engine stopped")
        self.alarm.setFixedHeight(60)
        self.upper, self.lower = self._button("upper"), self._button("lower")
        self.deep = self._button("deep")
        tall = QWidget()
        tall.setFixedHeight(600)
        self.area: QScrollArea = scrolled(tall, self.deep)
        column = QVBoxLayout(self)
        column.setSpacing(0)
        for made in (self.alarm, self.upper, self.lower):
            column.addWidget(made)
        column.addWidget(self.area, 1)
        self.alarm.hide()
        self.resize(300, 400)
        self.clock = MadeTime()
        self.steady = Steady(self, self.clock)
        self.steady.allow_scrolling(self.area)

    def _button(self, name: str) -> QPushButton:
        made = QPushButton(name)
        made.clicked.connect(lambda: self.pressed.append(name))
        return made

    def wait(self, seconds: float) -> None:
        """Let time pass, and the buttons be looked at as they are meanwhile."""
        for _ in range(round(seconds / LOOK_S)):
            self.clock.now += LOOK_S
            self.steady.look()

    def middle(self, button: QPushButton) -> QPoint:
        return button.mapTo(self, button.rect().center())

    def roll(self, by: int) -> None:
        """Turn the wheel over what is scrolled, in eighths of a degree: a notch is 120."""
        at = self.area.mapTo(self, self.area.rect().center())
        QTest.wheelEvent(self.windowHandle(), at, QPoint(0, by))
        settle()

    def roll_to_the_end(self) -> None:
        """Turn the wheel on and on, and further than there is anything."""
        bar = self.area.verticalScrollBar()
        for _ in range(50):
            self.roll(-1200)
        assert bar.value() == bar.maximum() > 0

    def press(self, at: QPoint) -> list[str]:
        """Press as the window system does, and return what was pressed by it."""
        before = len(self.pressed)
        QTest.mouseClick(self.windowHandle(), Qt.MouseButton.LeftButton, pos=at)
        settle()
        return self.pressed[before:]


@pytest.fixture
def bay(qtbot: QtBot, qapp: QApplication) -> Iterator[Bay]:
    theme.apply(qapp, LIGHT)
    made = Bay()
    qtbot.addWidget(made)
    made.show()
    settle()
    made.steady.begin()
    made.steady._timer.stop()  # looks come by the clock that is made
    made.wait(1.0)
    yield made
    made.steady.end()


def test_a_press_meant_for_what_stood_there_before_an_alarm_does_not_count(bay: Bay) -> None:
    lower = bay.middle(bay.lower)
    assert bay.press(lower) == ["lower"]
    bay.alarm.show()
    settle()
    assert bay.childAt(lower) is bay.upper  # which has moved under the hand
    bay.wait(STEADY_S - LOOK_S)
    assert bay.press(lower) == []
    bay.wait(2 * LOOK_S)
    assert bay.press(lower) == ["upper"]


def test_a_button_that_is_still_under_the_hand_counts_at_once(bay: Bay) -> None:
    edge = bay.upper.mapTo(bay, QPoint(20, bay.upper.height() - 5))
    bay.alarm.setFixedHeight(20)
    bay.alarm.show()
    settle()
    assert bay.childAt(edge) is bay.upper
    assert bay.press(edge) == ["upper"]


def test_a_button_that_takes_the_place_of_another_waits_too(bay: Bay) -> None:
    at = bay.middle(bay.upper)
    bay.upper.hide()
    settle()
    assert bay.childAt(at) is bay.lower
    assert bay.press(at) == []
    assert bay.press(at) == []  # nor by the second press of a double click
    bay.wait(STEADY_S + LOOK_S)
    assert bay.press(at) == ["lower"]


def test_what_a_person_scrolls_to_is_pressed_at_once(bay: Bay) -> None:
    bar = bay.area.verticalScrollBar()
    bay.roll(-120)
    assert 0 < bar.value() < bar.maximum()
    bay.roll_to_the_end()
    deep = bay.middle(bay.deep)
    assert bay.press(deep) == ["deep"]
    bay.alarm.show()
    settle()
    assert bay.childAt(deep) is not bay.deep  # an alarm moves it all the same
    assert bay.press(bay.middle(bay.lower)) == []


@pytest.mark.parametrize("way", ["shorter", "by the program"])
def test_what_is_scrolled_by_nobody_waits(bay: Bay, way: str) -> None:
    """Qt scrolls by itself, too: where a page gets shorter, and to what has the keyboard."""
    bar = bay.area.verticalScrollBar()
    bay.roll_to_the_end()
    if way == "by the program":
        bar.setValue(bar.maximum() - 40)
    bay.wait(1.0)
    before, value = bay.middle(bay.deep), bar.value()
    if way == "shorter":
        bay.area.setWidgetResizable(False)
        inside = bay.area.widget()
        inside.resize(inside.width(), inside.height() - 100)
        bay.deep.move(bay.deep.x(), bay.deep.y() - 130)
    else:
        bar.setValue(bar.maximum())
    settle()
    assert bar.value() != value
    now = bay.middle(bay.deep)
    assert abs(now.y() - before.y()) > bay.deep.height() / 2
    assert bay.childAt(now) is bay.deep
    assert bay.press(now) == []
    bay.wait(STEADY_S + LOOK_S)
    assert bay.press(now) == ["deep"]


def test_scrolling_one_area_says_nothing_of_what_is_outside_it(bay: Bay) -> None:
    at = bay.middle(bay.upper)
    bay.upper.hide()
    settle()
    bay.roll(-120)
    assert bay.childAt(at) is bay.lower
    assert bay.press(at) == []


def test_a_press_that_does_nothing_is_answered(bay: Bay) -> None:
    said: list[str] = []
    over: list[str] = []
    bay.steady.dropped.connect(said.append)
    bay.steady.over.connect(over.append)
    at = bay.middle(bay.upper)
    assert bay.press(at) == ["upper"]
    assert said == []
    bay.upper.hide()
    settle()
    assert bay.press(at) == []
    assert said == ["This is new: look, then press."]
    bay.wait(SAID_S - LOOK_S)
    assert over == []
    bay.wait(2 * LOOK_S)
    assert over == said
    bay.wait(SAID_S + LOOK_S)
    assert over == said


def test_no_more_looks_are_kept_than_are_needed(bay: Bay) -> None:
    bay.wait(60.0)
    assert len(bay.steady._looks) <= STEADY_S / LOOK_S + 2


def test_a_screen_that_has_only_just_come_takes_no_press(bay: Bay) -> None:
    bay.steady.begin()
    bay.steady._timer.stop()
    assert bay.press(bay.middle(bay.upper)) == []
    bay.steady.end()
    assert bay.press(bay.middle(bay.upper)) == ["upper"]
