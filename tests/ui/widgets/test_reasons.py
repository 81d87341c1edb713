"""Reasons as sentences: locked ones first, rows whole and kept, and how many more there are."""

from __future__ import annotations

import pytest
from label_fit import clipped_texts, out_of_sight
from live_play import LivePlay
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QPushButton
from pytestqt.qtbot import QtBot

from brimline.procedure import gates
from brimline.procedure.reasons import Code, Reason
from brimline.ui.tokens import Palette
from brimline.ui.widgets.marks import Mark, Shape
from brimline.ui.widgets.reasons import ReasonList, ReasonRow
from brimline.units import METRIC, US
from brimline.wording import sentence

BELOW = Reason(Code.BELOW_BAND, value=50.0, limit=65.0)
TOO_HOT = Reason(Code.TOO_HOT_FOR_PLUG, value=108.0, limit=105.0)
ORDER = Reason(Code.PLUG_IN_FIRST)
CHOCKS = Reason(Code.ITEM_OPEN, "wheels_chocked")
HEADING, NONE = "What stands against it", "The plug may come out."


@pytest.fixture
def reasons(qtbot: QtBot, palette: Palette) -> ReasonList:
    shown = ReasonList(METRIC, HEADING, NONE)
    qtbot.addWidget(shown)
    shown.resize(420, 400)
    shown.show()
    return shown


def rows(shown: ReasonList) -> list[ReasonRow]:
    return list(shown._rows.values())


def said(shown: ReasonList) -> list[str]:
    """The visible texts under the heading, from top to bottom."""
    QApplication.processEvents()
    labels = [each for each in shown._body.findChildren(QLabel) if each.text() and each.isVisible()]
    labels.sort(key=lambda each: each.mapTo(shown, each.rect().topLeft()).y())
    return [each.text() for each in labels]


def never(reason: Reason) -> str:
    return f"{sentence(reason, METRIC)} Cannot be overridden."


def test_an_open_gate_says_so(reasons: ReasonList) -> None:
    assert said(reasons) == [NONE]
    reasons.show_reasons((BELOW,))
    assert said(reasons) == [sentence(BELOW, METRIC)]
    reasons.show_reasons(())
    assert said(reasons) == [NONE]
    assert not reasons.more.isVisible()


def test_locked_reasons_come_first_and_cannot_be_overridden(reasons: ReasonList) -> None:
    reasons.show_reasons((BELOW, TOO_HOT, ORDER))
    assert said(reasons) == [never(TOO_HOT), sentence(BELOW, METRIC), sentence(ORDER, METRIC)]
    buttons = [len(row.findChildren(QPushButton)) for row in rows(reasons)]
    assert buttons == [0, 1, 0]  # there is nothing to override in an order of steps
    marks = [mark.shape for row in rows(reasons) for mark in row.findChildren(Mark)]
    assert marks == [Shape.LOCK, Shape.DOT, Shape.DOT]


def test_items_on_which_lives_hang_are_locked(reasons: ReasonList) -> None:
    for item in gates.NEVER_OVERRIDDEN_ITEMS:
        reasons.show_reasons((Reason(Code.ITEM_OPEN, item.value),))
        assert said(reasons)[0].endswith("Cannot be overridden.")
        assert not rows(reasons)[0].findChildren(QPushButton)


def test_override_is_asked_for_the_reason_as_it_stands(reasons: ReasonList, qtbot: QtBot) -> None:
    reasons.show_reasons((BELOW, CHOCKS))
    later = Reason(Code.BELOW_BAND, value=58.0, limit=65.0)
    reasons.show_reasons((later, CHOCKS))
    button = rows(reasons)[0].findChild(QPushButton)
    assert button is not None
    with qtbot.waitSignal(reasons.override_asked) as signal:
        qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert signal.args == [later]


def test_numbers_change_in_place(reasons: ReasonList) -> None:
    reasons.show_reasons((BELOW, TOO_HOT))
    before = rows(reasons)
    reasons.show_reasons((Reason(Code.BELOW_BAND, value=51.0, limit=65.0), TOO_HOT))
    assert rows(reasons) == before
    assert "51.0 °C" in said(reasons)[1]
    reasons.set_units(US)
    assert rows(reasons) == before
    assert "123.8 °F" in said(reasons)[1]


def test_rows_stay_while_their_reason_stands(reasons: ReasonList, qtbot: QtBot) -> None:
    reasons.show_reasons((BELOW, CHOCKS))
    below, chocks = rows(reasons)
    chocks.findChildren(QPushButton)[0].setFocus()
    reasons.show_reasons((CHOCKS, TOO_HOT))
    hot, kept = rows(reasons)
    assert kept is chocks
    assert kept.findChildren(QPushButton)[0].hasFocus()
    assert said(reasons)[0] == never(TOO_HOT)
    assert not below.isVisible()
    qtbot.waitUntil(lambda: len(reasons.findChildren(ReasonRow)) == 2)
    assert hot.isVisible()


@pytest.mark.parametrize("height", [130, 300, 2000])
@pytest.mark.parametrize("wide", [320, 420, 800])
def test_every_reason_of_a_fresh_check_is_whole_or_counted(
    reasons: ReasonList, live: LivePlay, wide: int, height: int
) -> None:
    against = live.snapshot().against_plug
    assert len(against) > 10
    reasons.show_reasons(against)
    reasons.resize(wide, height)
    QApplication.processEvents()
    shown = len(reasons.in_sight)
    assert shown >= 1
    assert out_of_sight(reasons) == []
    assert clipped_texts(reasons) == []
    hidden = len(against) - shown
    assert reasons.more.isVisible() is (hidden > 0)
    assert not hidden or reasons.more.text() == f"{hidden} more"
    assert hidden == 0 or height < 2000


@pytest.mark.parametrize("by_key", [False, True])
def test_all_are_seen_page_by_page_by_mouse_and_by_key(
    reasons: ReasonList, live: LivePlay, qtbot: QtBot, by_key: bool
) -> None:
    asked: list[bool] = []
    reasons.widened.connect(asked.append)
    reasons.show_reasons(live.snapshot().against_plug)
    reasons.activateWindow()
    qtbot.waitUntil(reasons.isActiveWindow)

    def press(button: QPushButton) -> None:
        if by_key:
            button.setFocus()
            QTest.keyClick(button, Qt.Key.Key_Space)
        else:
            QTest.mouseClick(button, Qt.MouseButton.LeftButton)
        QApplication.processEvents()

    first = reasons.in_sight
    press(reasons.more)
    assert asked == [True]
    assert reasons.in_sight == first  # its window has not given it more room here
    seen = list(first)
    for _ in range(len(rows(reasons))):
        if reasons.more.text() == "From the top":
            break
        press(reasons.more)
        assert not set(seen) & set(reasons.in_sight)
        assert clipped_texts(reasons) == []
        seen += reasons.in_sight
    assert seen == rows(reasons)
    press(reasons.more)
    assert reasons.in_sight == first
    press(reasons.narrow)
    assert asked == [True, False]
    assert not reasons.narrow.isVisible()


def test_where_all_fit_again_the_keyboard_goes_to_no_other_button(
    reasons: ReasonList, live: LivePlay
) -> None:
    reasons.show_reasons(live.snapshot().against_plug)
    reasons.activateWindow()
    reasons.more.setFocus()
    reasons.show_reasons((BELOW,))
    assert not reasons.more.isVisible()
    assert not any(button.hasFocus() for button in reasons.findChildren(QPushButton))


def test_feeding_makes_nothing_new(reasons: ReasonList, live: LivePlay) -> None:
    live.in_air()
    reasons.show_reasons(live.snapshot().against_plug)
    before = rows(reasons)
    assert before
    for _ in range(50):
        live.drive(1, 40, 40)
        reasons.show_reasons(live.snapshot().against_plug)
    assert rows(reasons) == before
