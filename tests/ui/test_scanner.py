"""A scan goes where it belongs, whichever field has the keyboard, and a typist goes unharmed."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot
from test_check_in_window import window_play
from window_play import WindowPlay

from brimline.ui.screens.check.identify_page import IdentifyPage

VIN = "1M8GDM9AXKP042788"  # the example that NHTSA gives for the check digit (from memory)
SCANNER_MS, TYPIST_MS = 5, 180


class Keys:
    """Strikes keys with the times that a window system would give them."""

    def __init__(self) -> None:
        self.now = 1_000

    def strike(self, text: str, pause: int, *, repeats: bool = False) -> None:
        for sign in text:
            self.now += pause
            target = QApplication.focusWidget()
            assert target is not None
            key = {"\r": Qt.Key.Key_Return, "\t": Qt.Key.Key_Tab}.get(sign)
            code = key if key is not None else Qt.Key(ord(sign.upper()))
            for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
                event = QKeyEvent(kind, code, Qt.KeyboardModifier.NoModifier, sign, repeats)
                event.setTimestamp(self.now)
                QApplication.sendEvent(target, event)


@pytest.fixture
def play(qtbot: QtBot) -> Iterator[WindowPlay]:
    with window_play("K5", "", keyboard=True) as made:
        made.model.step()
        QApplication.processEvents()
        assert isinstance(made.page, IdentifyPage)
        yield made


def fields(page: IdentifyPage) -> dict[str, QWidget]:
    return {
        "vin": page.vin, "order": page.work_order, "plate": page.plate, "odometer": page.odometer,
        "variant": page.variant, "complaint": page.complaint, "tick": page.drained,
    }  # fmt: skip


@pytest.mark.parametrize("end", ["\r", "\t"])
@pytest.mark.parametrize(
    "where", ["vin", "order", "plate", "odometer", "variant", "complaint", "tick"]
)
def test_a_scan_goes_into_the_vin_from_anywhere(play: WindowPlay, where: str, end: str) -> None:
    page = play.page
    page.work_order.setText("HL-1")
    page.complaint.setPlainText("late")
    page.vin.setText("before")
    at = fields(page)[where]
    at.setFocus()
    Keys().strike("I" + VIN + end, SCANNER_MS)
    assert page.vin.text() == VIN  # without the import sign
    assert page.scan_words.text() == f"VIN {VIN} was scanned."
    assert page.scan_words.isVisible()
    assert (page.work_order.text(), page.plate.text()) == ("HL-1", "")
    assert (page.odometer.text(), page.complaint.toPlainText()) == ("", "late")
    assert (page.variant.currentIndex(), page.drained.isChecked()) == (0, False)
    assert at.hasFocus()
    assert play.model.state.vehicle is None  # and nothing was sent


def test_with_the_keyboard_outside_of_the_page_too(play: WindowPlay) -> None:
    assert play.window.check is not None
    play.window.check.hand_over.setFocus()
    Keys().strike(VIN + "\r", SCANNER_MS)
    assert play.page.vin.text() == VIN


@pytest.mark.parametrize(
    ("code", "why"),
    [
        (VIN[:-1], "has 16 characters"),
        (VIN[:8] + "0" + VIN[9:], "its check digit"),
        (VIN[:16] + "O", "contains “O”"),
    ],
)
def test_a_bad_scan_says_what_is_wrong_and_keeps_the_old(
    play: WindowPlay, code: str, why: str
) -> None:
    page = play.page
    page.vin.setText(VIN)
    page.vin.setFocus()
    Keys().strike(code + "\r", SCANNER_MS)
    assert page.vin.text() == VIN
    assert page.scan_words.text().startswith("The scan was not taken. ")
    assert why in page.scan_words.text()
    assert page.scan_words.property("role") == "bad"


def test_what_a_person_types_stays_where_it_was_typed(play: WindowPlay) -> None:
    page = play.page
    page.plate.setFocus()
    Keys().strike(VIN + "\r", TYPIST_MS)
    assert (page.plate.text(), page.vin.text()) == (VIN, "")
    assert page.odometer.hasFocus()  # Enter has led on
    assert page.scan_words.isHidden()


def test_a_key_held_down_is_no_scan(play: WindowPlay) -> None:
    page, keys = play.page, Keys()
    page.plate.setFocus()
    keys.strike("A", TYPIST_MS)
    keys.strike("A" * 30, 30, repeats=True)
    keys.strike("\t", 20)
    assert (page.plate.text(), page.vin.text()) == ("A" * 31, "")


def test_a_scan_at_home_is_looked_for(play: WindowPlay) -> None:
    play.abort()
    bar = play.window.home.finished.bar
    bar.text.setText("typed before")
    bar.text.setFocus()
    QApplication.processEvents()
    asked: list[str] = []
    bar._wanted = lambda: asked.append(bar.order().text)
    keys = Keys()
    keys.strike("I" + VIN + "\t", SCANNER_MS)
    assert asked == [VIN]
    assert bar.text.selectedText() == VIN
    keys.strike("HL-20410-7" + "\r", SCANNER_MS)  # an order's bar code, instead of the former
    assert asked[-1] == "HL-20410-7"
    other = play.window.home.vehicle.technician
    other.clear()
    other.setFocus()
    keys.strike(VIN, SCANNER_MS)
    assert other.text() == VIN
