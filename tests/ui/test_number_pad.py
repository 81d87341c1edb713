"""The pad beside a form, and Enter that sends a form: by hand and by keyboard."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from label_fit import clipped_texts
from PySide6.QtCore import QEvent, QRect, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QHBoxLayout, QPushButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from brimline.ui import theme
from brimline.ui.forms import QuantityField, TextBox, button, enter_sends, form, scrolled
from brimline.ui.hands.number_pad import NumberPad
from brimline.ui.samples.capture import settle
from brimline.ui.tokens import LIGHT, TOUCH
from brimline.units import METRIC, US, Dimension


class Sheet(QWidget):
    """Two quantities and what sends them, as narrow as a page of a check; the pad beside them."""

    def __init__(self) -> None:
        super().__init__()
        self.sent: list[tuple[float | None, float | None]] = []
        self.amount = QuantityField(Dimension.VOLUME, METRIC, 0.2)
        self.shelf = QuantityField(Dimension.TEMPERATURE, US, 21)
        self.send = button("Send", self._send)
        enter_sends(self.send, self.amount, self.shelf)
        rows = form(("Pumped in", self.amount), ("Its temperature", self.shelf))
        self.pad = NumberPad()
        beside = QVBoxLayout()
        beside.addStretch(1)
        beside.addWidget(self.pad)
        row = QHBoxLayout(self)
        page = scrolled(rows, self.send)
        page.setFixedWidth(400)
        row.addWidget(page)
        row.addLayout(beside, 1)
        self.resize(1010, 480)

    def _send(self) -> None:
        self.sent.append((self.amount.quantity(), self.shelf.quantity()))


@pytest.fixture
def sheet(qtbot: QtBot, qapp: QApplication) -> Iterator[Sheet]:
    theme.apply(qapp, LIGHT)
    made = Sheet()
    qtbot.addWidget(made)
    made.show()
    made.activateWindow()
    QApplication.processEvents()
    yield made
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def click(target: QWidget) -> None:
    QTest.mouseClick(target, Qt.MouseButton.LeftButton)


def places(sheet: Sheet) -> list[QRect]:
    """Return where everything of the form is in its window."""
    settle()
    parts = (sheet.amount, sheet.shelf, sheet.send)
    return [QRect(part.mapTo(sheet, part.rect().topLeft()), part.size()) for part in parts]


def key_places(sheet: Sheet) -> dict[str, QRect]:
    """Return where the keys of the pad are in the window."""
    settle()
    return {
        text: QRect(key.mapTo(sheet, key.rect().topLeft()), key.size())
        for text, key in sheet.pad.keys.items()
    }


def press(field: QuantityField, keys: str) -> None:
    """Press keys of the pad in turn: digits, “.”, “±”, “<” for Delete, “=” for Enter."""
    for key in keys:
        assert field.pad is not None
        click(field.pad.keys[{"<": "Delete", "=": "Enter"}.get(key, key)])


def test_a_whole_form_by_the_pad_alone(sheet: Sheet) -> None:
    click(sheet.amount)
    press(sheet.amount, "0.358<=")
    assert sheet.amount.text() == "0.35"
    assert sheet.shelf.hasFocus()
    assert sheet.amount.pad is None
    press(sheet.shelf, "14±=")  # the pad has gone along
    assert sheet.sent == [(0.35, pytest.approx((-14 - 32) / 1.8))]
    assert sheet.shelf.pad is None
    assert sheet.pad.isHidden()


def test_field_and_unit_that_a_number_is_taken_in_are_shown(sheet: Sheet) -> None:
    sheet.shelf.open_pad()
    assert sheet.pad.name.text() == "Its temperature, in °F"


def test_nothing_in_the_form_moves_by_the_pad_and_no_key_from_field_to_field(sheet: Sheet) -> None:
    before = places(sheet)
    click(sheet.amount)
    assert sheet.pad.isVisible()
    assert places(sheet) == before
    keys = key_places(sheet)
    press(sheet.amount, "1=")
    assert sheet.shelf.pad is not None
    assert places(sheet) == before
    assert key_places(sheet) == keys
    click(sheet.pad.keys["Close"])
    assert sheet.pad.isHidden()
    assert places(sheet) == before


def test_enter_says_what_it_will_do(sheet: Sheet) -> None:
    enter = sheet.pad.keys["Enter"]
    click(sheet.amount)
    assert enter.text() == "Next field"
    press(sheet.amount, "=")
    assert enter.text() == "Send"
    sheet.shelf.close_pad()
    sheet.send.setEnabled(False)
    click(sheet.shelf)
    assert enter.text() == "Enter"
    press(sheet.shelf, "=")
    assert sheet.sent == []
    assert sheet.pad.isHidden()


def test_the_pad_waits_until_the_finger_that_opens_it_is_up(sheet: Sheet) -> None:
    QTest.mousePress(sheet.amount, Qt.MouseButton.LeftButton)
    assert sheet.pad.isHidden()
    QTest.mouseRelease(sheet.amount, Qt.MouseButton.LeftButton)
    assert sheet.amount.pad is sheet.pad


def test_the_key_in_the_field_opens_and_closes_it(sheet: Sheet) -> None:
    click(sheet.amount.pad_key)
    assert sheet.amount.pad is not None
    assert sheet.amount.hasFocus()
    click(sheet.amount.pad_key)
    assert sheet.amount.pad is None
    click(sheet.amount.pad_key)
    press(sheet.amount, "7")
    assert sheet.amount.pad is not None
    click(sheet.amount.pad.keys["Close"])
    assert sheet.amount.pad is None
    assert sheet.amount.text() == "7"


@pytest.mark.parametrize(
    "opens", [(Qt.Key.Key_F4, Qt.KeyboardModifier.NoModifier),
              (Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)],
)  # fmt: skip
def test_keyboard_and_pad_in_turn(sheet: Sheet, opens: tuple[Qt.Key, Qt.KeyboardModifier]) -> None:
    sheet.amount.setFocus()
    QTest.keyClick(sheet.amount, *opens)
    press(sheet.amount, "1.")
    QTest.keyClicks(sheet.amount, "25")
    press(sheet.amount, "±±<")
    assert sheet.amount.text() == "1.2"
    QTest.keyClick(sheet.amount, Qt.Key.Key_Escape)
    assert sheet.amount.pad is None
    QTest.keyClick(sheet.amount, Qt.Key.Key_Tab)
    assert sheet.shelf.hasFocus()  # the key in the field is in nobody's way
    assert sheet.shelf.pad is None


def test_what_is_pressed_does_not_move_away_under_the_finger(sheet: Sheet, qtbot: QtBot) -> None:
    click(sheet.amount)
    settle()
    where = sheet.send.mapTo(sheet, sheet.send.rect().center())
    QTest.mousePress(sheet.send, Qt.MouseButton.LeftButton)
    QTest.qWait(100)
    assert sheet.send.mapTo(sheet, sheet.send.rect().center()) == where
    assert sheet.amount.pad is not None
    QTest.mouseRelease(sheet.send, Qt.MouseButton.LeftButton)
    assert len(sheet.sent) == 1
    qtbot.waitUntil(lambda: sheet.amount.pad is None)


def test_the_pad_goes_with_its_page(sheet: Sheet) -> None:
    click(sheet.amount)
    sheet.hide()
    assert sheet.amount.pad is None


def test_keys_are_big_and_in_sight_and_nothing_is_cut(sheet: Sheet, qtbot: QtBot) -> None:
    click(sheet.amount)
    pad = sheet.amount.pad
    assert pad is not None

    def in_sight() -> bool:
        return all(key.visibleRegion().boundingRect() == key.rect() for key in pad.keys.values())

    qtbot.waitUntil(in_sight)
    assert sheet.amount.visibleRegion().boundingRect().height() == sheet.amount.height()
    assert min(min(k.height(), k.width()) for k in pad.keys.values()) >= TOUCH
    assert QApplication.activeModalWidget() is None
    assert not pad.isWindow()
    assert clipped_texts(sheet) == []


def test_enter_by_keyboard_leads_on_and_sends(sheet: Sheet) -> None:
    sheet.amount.setFocus()
    QTest.keyClicks(sheet.amount, "0.2")
    QTest.keyClick(sheet.amount, Qt.Key.Key_Return)
    assert sheet.sent == []
    assert sheet.shelf.hasFocus()
    QTest.keyClick(sheet.shelf, Qt.Key.Key_Enter)
    assert sheet.sent == [(0.2, None)]


def test_enter_passes_over_what_is_hidden_and_presses_nothing_that_is_off(sheet: Sheet) -> None:
    sheet.shelf.hide()
    sheet.send.setEnabled(False)
    sheet.amount.setFocus()
    QTest.keyClick(sheet.amount, Qt.Key.Key_Return)
    assert sheet.sent == []
    sheet.send.setEnabled(True)
    QTest.keyClick(sheet.amount, Qt.Key.Key_Return)
    assert sheet.sent == [(None, None)]


def test_enter_ends_a_field_of_several_lines(qtbot: QtBot) -> None:
    box, pressed = TextBox(), []
    send = QPushButton("Send")
    send.clicked.connect(lambda: pressed.append(box.toPlainText()))
    holder = form(("Complaint", box), ("", send))
    qtbot.addWidget(holder)
    enter_sends(send, box)
    holder.show()
    QTest.keyClicks(box, "late")
    QTest.keyClick(box, Qt.Key.Key_Return, Qt.KeyboardModifier.ShiftModifier)
    QTest.keyClicks(box, "cold")
    QTest.keyClick(box, Qt.Key.Key_Return)
    assert pressed == ["late\ncold"]
